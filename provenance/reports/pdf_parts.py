"""A long document in parts, each of which is set by itself, so that none takes much memory."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from io import BytesIO

from pikepdf import Dictionary, Name, ObjectStreamMode, Pdf, String
from pikepdf import open as read_pdf

from provenance.reports.document import Block, Document, Figure, Heading, Picture, Table, flat
from provenance.reports.document_settled import settled
from provenance.reports.document_values import anchors_in, values_of
from provenance.reports.pdf_pages import set_pages
from provenance.reports.printed_texts import texts_in
from provenance.reports.typefaces import Faces
from provenance.reports.typesetting import forget

MOST = 8_000.0
"""How much a part holds: a text counts one, and one more for each hundred characters; pictures count by their bytes.

Measured: 190 MB to set it.
"""

_CHARACTERS = 100
_BYTES, _UNPACKED = {"image/svg+xml": 20_000, "image/jpeg": 15_000}, 1_800  # of a picture, for one
_HEADING_LEVEL = 2  # a part begins with one, or with a row of a table


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A part of a document.

    Attributes:
        document: of its blocks alone.
        number: from 1.
        is_whole: whether it is all of the document.
        continues: whether its first block is a table that goes on from the part before.
        far: of each anchor of the whole document, that of the heading that it stands below: by its heading alone is a
            place led to from another part.
        typefaces: folders of further typefaces.
    """

    document: Document
    number: int
    is_whole: bool
    continues: bool
    far: Mapping[str, str]
    typefaces: tuple[str, ...]


def pdf_parts(document: Document, typefaces: Sequence[str] = (), *, most: float = MOST) -> tuple[Part, ...]:
    """Cut a document into parts; one that is not long is one part.

    Args:
        document: what is printed.
        typefaces: folders of further typefaces.
        most: how much a part holds, as of `MOST`; a document of half as much again is left whole.
    """
    ready = settled(document)
    is_long = sum(map(_weight, ready.blocks)) > 1.5 * most
    groups = list(_groups(ready.blocks, most)) if is_long else [_Group(blocks=ready.blocks)]
    far = _headings_above(ready) if is_long else {}
    return tuple(
        Part(
            document=replace(ready, blocks=group.blocks),
            number=number,
            is_whole=len(groups) == 1,
            continues=group.continues,
            far=far,
            typefaces=tuple(typefaces),
        )
        for number, group in enumerate(groups, start=1)
    )


def _headings_above(document: Document) -> dict[str, str]:
    """The anchor of the nearest heading at or above each anchor that has one of its own."""
    found: dict[str, str] = {}
    heading = ""
    for block in flat(document.blocks):
        heading = block.anchor if isinstance(block, Heading) and block.anchor else heading
        found |= {anchor: heading for anchor in anchors_in(block) if anchor and heading}
    return found


def _weight(block: Block) -> float:
    pictures = (each.picture for each in flat((block,)) if isinstance(each, Figure))
    return sum(map(_weight_of_text, texts_in(block))) + sum(map(_weight_of_picture, pictures))


def _weight_of_picture(picture: Picture) -> float:
    """What it takes in memory: a drawing little beside its words, a JPEG itself, others unpacked as well."""
    return len(picture.data) / _BYTES.get(picture.media_type, _UNPACKED)


def _weight_of_text(text: str) -> float:
    return 1 + len(text) / _CHARACTERS


@dataclass(frozen=True, slots=True, kw_only=True)
class _Group:
    """The blocks of one part, and whether the first is a table that goes on."""

    blocks: tuple[Block, ...]
    continues: bool = False


def _groups(blocks: Sequence[Block], most: float) -> Iterator[_Group]:
    group: list[Block] = []
    held = 0.0
    continues = False
    for block in blocks:
        is_place = isinstance(block, Heading) and block.level == _HEADING_LEVEL
        if group and (held >= 2 * most or (held >= most and is_place)):
            yield _Group(blocks=tuple(group), continues=continues)
            group, held, continues = [], 0.0, False
        *before, last = _cut(block, most - held, most) if isinstance(block, Table) else [block]
        for piece in before:
            yield _Group(blocks=(*group, piece), continues=continues)
            group, held, continues = [], 0.0, True
        group.append(last)
        held += _weight(last)
    yield _Group(blocks=tuple(group), continues=continues)


def _cut(table: Table, room: float, most: float) -> list[Table]:
    """A table in pieces, of which the first has as much room as is left; those that go on have no caption."""
    starts, held = [0], most - room
    for number, row in enumerate(table.rows):
        weight = sum(map(_weight_of_text, row))
        if held + weight > most and number > starts[-1]:
            starts.append(number)
            held = 0.0
        held += weight
    ends = [*starts[1:], len(table.rows)]
    return [
        replace(table, rows=table.rows[start:end], caption="" if start else table.caption)
        for start, end in zip(starts, ends, strict=True)
    ]


def set_part(part: Part) -> bytes:
    """Set a part; one that is not the whole has no headers and footers yet, and names of its own for its cells."""
    faces = Faces(part.typefaces)
    values = values_of(part.document, faces.families, far=part.far, is_part=not part.is_whole)
    made = set_pages(values, faces, is_universal=part.number == 1 and _steps_down(part.document))
    if part.is_whole:
        return made
    forget(faces.fonts)
    return _trimmed(made, part.number)


def _steps_down(document: Document) -> bool:
    """Whether headings begin with level 1 and leave none out on the way down, as the standard asks."""
    levels = [block.level for block in flat(document.blocks) if isinstance(block, Heading)]
    return all(level <= above + 1 for above, level in zip([0, *levels], levels, strict=False))


def _trimmed(made: bytes, number: int) -> bytes:
    """The part with names of its own for its cells, and its tags made small: there are as many as cells."""
    with read_pdf(BytesIO(made)) as pdf:
        for each in pdf.objects:
            if isinstance(each, Dictionary) and each.get("/Type") == "/StructElem":
                _trim(each, number)
        names = pdf.Root.StructTreeRoot.get("/IDTree", Dictionary(Names=[])).Names
        for place in range(0, len(names), 2):
            names[place] = String(f"{number}-{names[place]}")
        return packed(pdf)


def _trim(element: Dictionary, number: int) -> None:
    """Cells need not name the headings above them, for each heading says that it holds for its column."""
    del element["/Type"]  # optional (ISO 32000-1, table 323)
    if element.S == Name.TD and "/A" in element:
        del element["/A"]
    if "/ID" in element:
        element.ID = String(f"{number}-{element.ID}")


def packed(pdf: Pdf) -> bytes:
    """The bytes of a PDF, the same each time."""
    out = BytesIO()
    pdf.save(out, object_stream_mode=ObjectStreamMode.generate, deterministic_id=True)
    return out.getvalue()
