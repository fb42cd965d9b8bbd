"""Documents written as HTML, DOCX and Markdown: 30 pages with 12 pictures, and 10,000 rows."""

from collections.abc import Callable, Iterator
from pathlib import Path

from bench.figures import Figure, seconds
from reports.documents import DRAWING, a_document, a_photograph

from provenance.reports.document import (
    Block,
    Column,
    Document,
    Entry,
    Heading,
    Listing,
    Paragraph,
    Picture,
    Run,
    Table,
    Together,
    words,
)
from provenance.reports.document import Figure as Shown
from provenance.reports.document_docx import document_docx
from provenance.reports.document_html import document_html
from provenance.reports.document_markdown import document_markdown

_PAGES, _PICTURES, _ROWS = 30, 12, 10_000
_TEXT = "The bracket was measured on the piece that was dug up at the works, and it stands between the two rivets. " * 6
_WRITERS: tuple[tuple[str, Callable[[Document], object]], ...] = (
    ("HTML", document_html),
    ("DOCX", document_docx),
    ("Markdown", document_markdown),
)


def measure(_folder: Path) -> Iterator[Figure]:
    """Write each in each format; no drawing is the same as another."""
    document, register = _thirty_pages(), _register()
    for name, write in _WRITERS:
        spent = seconds(lambda write=write: write(document), times=3)  # type: ignore[misc]  # bound at once
        yield Figure(name=f"{_PAGES} pages with {_PICTURES} pictures as {name}", value=spent, unit="s", promised=1.0)
    spent = seconds(lambda: document_html(register))
    yield Figure(name=f"a register of {_ROWS:,} rows as HTML", value=spent, unit="s", promised=2.0)
    spent = seconds(lambda: document_docx(register))
    yield Figure(name=f"a register of {_ROWS:,} rows as DOCX", value=spent, unit="s")


def _thirty_pages() -> Document:
    blocks: list[Block] = []
    for page in range(_PAGES):
        cited = (Run(text=_TEXT), Run(text="[2, page 1]", to="source-2"))
        columns = tuple(Column(heading=heading) for heading in "abcd")
        blocks += [
            Heading(text=f"Part {page}", level=2, anchor=f"part-of-{page}"),
            *[Paragraph(words=cited)] * 4,
            Table(caption="Readings", columns=columns, rows=(("Handbook", "1", "2", "3"),) * 6),
        ]
        if page < _PICTURES:
            blocks.append(Together(blocks=(Shown(picture=_picture(page), caption=words("As seen.")),)))
    sources = tuple(Entry(words=words(_TEXT[:200]), anchor=f"source-{number}") for number in range(1, 80))
    return a_document(*blocks, Listing(entries=sources, numbered=True))


def _picture(number: int) -> Picture:
    if number % 2:
        return a_photograph()
    drawing = DRAWING.replace("1934", str(1934 + number)).encode()
    return Picture(data=drawing, media_type="image/svg+xml", says="a lens", width=160, height=60)


def _register() -> Document:
    columns = tuple(Column(heading=heading) for heading in ("No.", "Title", "Holder", "Made", "Kind", "Rights", "Note"))
    rows = tuple(
        (
            f"S{number}",
            f"Title of “{number}”",
            "Holder in Orrin",
            "1934",
            "photograph",
            "in copyright",
            "some words more",
        )
        for number in range(_ROWS)
    )
    return a_document(Table(caption="The register", columns=columns, rows=rows), lying=True)
