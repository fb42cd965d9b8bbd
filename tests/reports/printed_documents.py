"""Documents for the tests of what is printed, with defaults so that only what matters shows."""

from provenance.reports.document import Block, Column, Document, Figure, Heading, Paragraph, Picture, Table, words

SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}">'
    '<rect x="0" y="0" width="{width}" height="{height}" fill="none" stroke="black" stroke-width="2"/>'
    '<text x="4" y="14" font-family="Arimo, Helvetica, Arial, sans-serif" font-size="9">{text}</text></svg>'
)


def a_document(
    *blocks: Block, title: str = "The headlamp bracket", running: str = "Made for the workshop", **kept: object
) -> Document:
    """A document with the heading that every one begins with."""
    first = Heading(text=title, level=1, anchor="top")
    return Document(title=title, running=running, blocks=(first, *blocks), **kept)  # type: ignore[arg-type]  # fields by name


def a_paragraph(text: str = "The bracket was riveted to the plate.") -> Paragraph:
    """A paragraph of plain words."""
    return Paragraph(words=words(text))


def a_table(rows: int, *, columns: int = 3, caption: str = "What was found") -> Table:
    """A table of which every cell says where it stands."""
    return Table(
        caption=caption,
        columns=tuple(Column(heading=f"Column {column}", figures=column == 1) for column in range(columns)),
        rows=tuple(tuple(f"r{row}c{column}" for column in range(columns)) for row in range(rows)),
    )


def a_figure(text: str = "lamp", *, width: float = 80, height: float = 40, caption: str = "The lamp.") -> Figure:
    """A drawing with a frame round it and some words in it."""
    drawing = SVG.format(width=width, height=height, text=text)
    picture = Picture(
        data=drawing.encode(), media_type="image/svg+xml", says="A lamp in a frame", width=width, height=height
    )
    return Figure(picture=picture, caption=words(caption))
