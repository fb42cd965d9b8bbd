"""A document as one self-contained page: no script, nothing fetched, to be read on a screen or printed on A4."""

from base64 import b64encode
from collections.abc import Callable
from functools import cache
from itertools import count

from jinja2 import Environment

from provenance.reports.document import Block, Document, Heading, Listing, Paragraph, Picture, Table, flat
from provenance.reports.document_settled import name_of_box, settled
from provenance.reports.fit_text import is_turned_language, runs_from_the_right, shown, shown_lines, stretches
from provenance.reports.templating import environment

MEDIA_TYPES = frozenset({"image/svg+xml", "image/png", "image/jpeg"})
POINTS_PER_MILLIMETRE = 96 / 25.4  # CSS Values and Units 3, section 6.2: an inch is 96 of its pixels


def document_html(document: Document) -> str:
    """Write the whole page; the same document gives the same page.

    Whatever stands in the document is text on the page, never markup. Its headings, the entries and paragraphs with an
    anchor, and the captions of tables can be led to.

    Raises:
        ValueError: a picture is of a type that a document does not hold.
    """
    ready = settled(document)
    classes = [name for name, holds in (("draft", ready.draft), ("lying", ready.lying)) if holds]
    return (
        _environment()
        .get_template("document.html.jinja")
        .render(
            document=ready,
            classes=" ".join(classes),
            turned=is_turned_language(ready.language),
            next_name=_names(ready),
            is_page=True,
            deeper=0,
        )
    )


def document_body_html(document: Document, *, deeper: int = 1) -> str:
    """Write what stands on the page, to be shown within another page; nothing has a style of its own.

    Args:
        document: what is shown.
        deeper: by how many levels its headings are moved down, 1 or 2: below that under which it stands.

    Raises:
        ValueError: a picture is of a type that a document does not hold.
    """
    ready = settled(document)
    template = _environment().get_template("document_body.html.jinja")
    return template.render(document=ready, next_name=_names(ready), is_page=False, deeper=deeper)


def style_sheet() -> str:
    """The style of every page, for the screen and for A4."""
    return _environment().get_template("document.css").render()


@cache
def _environment() -> Environment:
    return environment(
        {
            "address": _address,
            "from_the_right": runs_from_the_right,
            "kind": _kind,
            "least": _least,
            "lines": shown_lines,
            "name_of_box": name_of_box,
            "parted": _parted,
            "points": _points,
            "shown": shown,
            "widths": _widths,
        }
    )


def _kind(block: Block) -> str:
    return type(block).__name__


def _parted(text: str) -> tuple[tuple[str, bool], ...]:
    return tuple(stretches(shown(text)))


def _points(millimetres: float) -> int:
    """A length in the pixels of CSS, at least one."""
    return max(1, round(millimetres * POINTS_PER_MILLIMETRE))


def _widths(table: Table) -> tuple[str, ...]:
    """What each column has of the width, in hundredths with two decimals."""
    whole = sum(column.share for column in table.columns)
    return tuple(f"{100 * column.share / whole:.2f}" for column in table.columns)


def _least(table: Table) -> str:
    """How wide a table is at least on a narrow screen: so that its narrowest column holds a word, within reason."""
    whole, narrowest = sum(column.share for column in table.columns), min(column.share for column in table.columns)
    return f"{min(6.5 * whole / narrowest, 12.0 * len(table.columns)):.1f}"


def _address(picture: Picture) -> str:
    """The picture itself, as the address where it is found."""
    if picture.media_type not in MEDIA_TYPES:
        raise ValueError(f"no picture of a document is of the type {picture.media_type!r}")
    return f"data:{picture.media_type};base64,{b64encode(picture.data).decode('ascii')}"


def _names(document: Document) -> Callable[[str], str]:
    """Gives names that no anchor of the document has: `part-1`, `part-2` and so on."""
    taken = set()
    for block in flat(document.blocks):
        if isinstance(block, Heading | Paragraph):
            taken.add(block.anchor.lower())
        elif isinstance(block, Listing):
            taken |= {entry.anchor.lower() for entry in block.entries}
    numbers = count(1)

    def next_name(kind: str) -> str:
        return next(name for number in numbers if (name := f"{kind}-{number}") not in taken)

    return next_name
