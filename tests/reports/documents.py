"""Documents with everything that can stand in one."""

from functools import cache
from io import BytesIO

from PIL import Image, ImageDraw

from provenance.reports.document import (
    Block,
    Boxed,
    Column,
    Document,
    Entry,
    Figure,
    Heading,
    Listing,
    Paragraph,
    Picture,
    Quotation,
    Run,
    Table,
    Terms,
    Together,
    words,
)

DRAWING = """<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 320 120" width="320" height="120" role="img">
<title>Lens of the headlamp</title>
<defs><pattern id="h" width="6" height="6" patternUnits="userSpaceOnUse"><path d="M0 6L6 0" stroke="#1d1d1b"/></pattern>
</defs>
<rect x="10" y="10" width="140" height="60" fill="url(#h)" stroke="#1d1d1b"/>
<circle cx="240" cy="60" r="40" fill="none" stroke="#1d1d1b" stroke-dasharray="4 3"/>
<text x="10" y="100" font-family="Arimo, Helvetica, Arial, sans-serif" font-size="16">Lens, 7 in, 1934</text>
</svg>
"""


def a_document(*blocks: Block, **fields: object) -> Document:
    """A document with these blocks below its title."""
    defaults: dict[str, object] = {"title": "Headlamp", "running": "A modern re-creation · Railcar No. 9"}
    return Document(blocks=(Heading(text="Headlamp", level=1), *blocks), **{**defaults, **fields})  # type: ignore[arg-type]  # fields by name


def a_drawing(says: str = "A rectangle with hatching beside a dashed circle") -> Picture:
    """A drawing of 80 by 30 mm."""
    return Picture(data=DRAWING.encode(), media_type="image/svg+xml", says=says, width=80, height=30)


@cache
def jpeg() -> bytes:
    """A photograph of 400 by 300 points."""
    image = Image.new("RGB", (400, 300), "#b8b2a4")
    ImageDraw.Draw(image).ellipse((100, 50, 300, 250), fill="#3d4a52")
    stream = BytesIO()
    image.save(stream, "JPEG", quality=85)
    return stream.getvalue()


def a_photograph(says: str = "The lamp seen from the front") -> Picture:
    """A photograph of 100 by 75 mm."""
    return Picture(data=jpeg(), media_type="image/jpeg", says=says, width=100, height=75)


def a_whole_document(**fields: object) -> Document:
    """A document with every block and every manner of words."""
    return a_document(
        Boxed(name="Asbestos", text="May be present in the lagging. Stop, and ask the safety officer."),
        Paragraph(
            words=(
                Run(text="Made from the "),
                Run(text="Handbook", slanted=True),
                Run(text=" of "),
                Run(text="1933", strong=True),
                Run(text=" "),
                Run(text="[2, page 14]", to="source-2"),
                Run(text=", called "),
                Run(text="Scheinwerfer", language="de", slanted=True),
                Run(text=" there; see "),
                Run(text="What to make", to="to-make"),
                Run(text="."),
            )
        ),
        Heading(text="What to make", level=2, anchor="to-make"),
        Terms(
            pairs=(
                ("Bore", (Run(text="7 in", strong=True), Run(text=", between 6.9 in and 7.1 in "))),
                ("Finish", (Run(text="black, "), Run(text="[1]", to="source-1"))),
            )
        ),
        Heading(text="What was seen", level=3),
        Quotation(text="Die Lampe ist schwarz.\n  Der Ring ist blank.\n\nZweiter Absatz.", language="de"),
        Listing(entries=(Entry(words=words("by number")), Entry(words=words("by likeness")))),
        Listing(entries=(Entry(words=words("measure")), Entry(words=words("drill"))), numbered=True),
        Table(
            caption="Readings of the bore",
            columns=(Column(heading="Where"), Column(heading="Value", figures=True), Column(heading="Note", share=2)),
            rows=(("Handbook", "7.0", ""), ("Photograph", "6.9", "a | b")),
        ),
        Heading(text="Pictures", level=2),
        Figure(picture=a_drawing(), caption=words("The lens as drawn.")),
        Together(
            blocks=(
                Heading(text="As photographed", level=3),
                Paragraph(words=words("In June 1934."), small=True),
                Figure(
                    picture=a_photograph(), caption=(Run(text="The lamp of No. 9 "), Run(text="[2]", to="source-2"))
                ),
            )
        ),
        Heading(text="Sources", level=2),
        Listing(
            entries=(
                Entry(words=words("Tamlin Works. Drawing 4471."), anchor="source-1"),
                Entry(words=(Run(text="Handbook", slanted=True), Run(text=". Tamlin Works, 1933.")), anchor="source-2"),
            ),
            numbered=True,
        ),
        **fields,
    )
