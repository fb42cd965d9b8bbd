"""A printed document as a value: what stands in it and in what order, before any format.

Dossiers, briefs, appendices and registers are composed as such a value, and each format is written from it: so all say
the same. Texts of others stand in it as they came; whoever writes a format makes them harmless.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeAlias


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """Some words in one manner.

    Attributes:
        text: as it came.
        strong: whether they stand out.
        slanted: whether they are set in italics, such as the title of a work.
        to: the anchor in this document that they lead to; empty for none.
        language: a BCP 47 tag where it is not the document's; empty for that.
    """

    text: str
    strong: bool = False
    slanted: bool = False
    to: str = ""
    language: str = ""


Words: TypeAlias = tuple[Run, ...]
"""What a sentence is made of; they follow one another without a space between them."""


def words(text: str) -> Words:
    """Some plain words."""
    return (Run(text=text),)


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """A heading, which is a bookmark too.

    Attributes:
        level: 1 for the title, which comes first and once; then 2 to 4, none left out on the way down.
        anchor: by which it is led to; unique in the document, of letters, digits and hyphens; empty for none.
    """

    text: str
    level: int
    anchor: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Paragraph:
    """A paragraph.

    Attributes:
        words: not empty.
        small: whether it is set smaller, as what is said beside the matter.
        anchor: as of a heading.
    """

    words: Words
    small: bool = False
    anchor: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Boxed:
    """What must not be missed, in a frame: a caution.

    Attributes:
        name: the first word, such as the hazard.
        text: what is said of it.
    """

    name: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Quotation:
    """What stands in a source, letter for letter; it may run over several pages.

    Attributes:
        text: line breaks count.
        language: a BCP 47 tag; empty where that is not known.
    """

    text: str
    language: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """An entry of a list.

    Attributes:
        words: not empty.
        anchor: as of a heading.
    """

    words: Words
    anchor: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Listing:
    """A list; its entries are numbered from 1, or not numbered."""

    entries: tuple[Entry, ...]
    numbered: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """Words with what is said of each: definitions, or what to make with its figures."""

    pairs: tuple[tuple[str, Words], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column of a table.

    Attributes:
        heading: not empty.
        share: of the width, beside the shares of the others.
        figures: whether it holds figures, which stand at the right.
    """

    heading: str
    share: float = 1.0
    figures: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table; its headings stand on each page again.

    Attributes:
        caption: what it is a table of.
        columns: at least one.
        rows: one text a column; an empty one is an empty cell. There may be ten thousand.
    """

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A picture.

    Attributes:
        data: of the file; of an SVG its text in UTF-8.
        media_type: `image/svg+xml`, `image/png` or `image/jpeg`.
        says: what it shows, for who cannot see it; not empty.
        width: in millimetres, as it is printed at most.
        height: in millimetres, likewise; the two have the picture's own proportions.
    """

    data: bytes
    media_type: str
    says: str
    width: float
    height: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A picture with its caption below it; the two stay together."""

    picture: Picture
    caption: Words


@dataclass(frozen=True, slots=True, kw_only=True)
class Together:
    """What stays together on a page where it has room on one; no heading stands in it but its first."""

    blocks: "tuple[Block, ...]"


Block: TypeAlias = Heading | Paragraph | Boxed | Quotation | Listing | Terms | Table | Figure | Together


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """A whole document.

    Attributes:
        title: for the window and the file; the heading of level 1 may say more.
        running: what stands on every page, beside its number.
        draft: whether every page is marked as a draft; `running` says it too.
        blocks: the first is the heading of level 1.
        language: a BCP 47 tag.
        lying: whether the pages lie on their side, for wide tables.
    """

    title: str
    running: str
    blocks: tuple[Block, ...]
    draft: bool = False
    language: str = "en"
    lying: bool = False


def flat(blocks: "tuple[Block, ...]") -> Iterator[Block]:
    """All blocks in order, those that stay together one by one."""
    for block in blocks:
        if isinstance(block, Together):
            yield from flat(block.blocks)
        else:
            yield block
