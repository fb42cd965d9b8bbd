"""PDF files written by hand, so that the same pages give the same bytes: scanned pages and pages of real text."""

import io
from collections.abc import Sequence
from dataclasses import dataclass

from PIL import Image

_FACES = ("Helvetica", "Helvetica-Bold", "Times-Roman", "Times-Italic")


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """A line of text on a page.

    Attributes:
        left: from the left edge, in points.
        up: of the baseline from the lower edge, in points.
        text: what is written.
        face: one of the four faces, counted from 0: plain, bold, serif, serif italic.
        size: in points.
    """

    left: float
    up: float
    text: str
    face: int = 0
    size: float = 10.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One page.

    Attributes:
        size: width and height in points.
        words: lines of text.
        rules: straight lines: from left, from up, to left, to up.
        scan: JPEG bytes that fill the page; None for a page of text alone.
    """

    size: tuple[float, float]
    words: Sequence[Words] = ()
    rules: Sequence[tuple[float, float, float, float]] = ()
    scan: bytes | None = None


def write_pdf(pages: Sequence[Page], title: str, made: str) -> bytes:
    """Write a document.

    Args:
        pages: in order.
        title: goes into the document's properties.
        made: its date as PDF writes it, such as D:20190815120000Z.
    """
    kids = " ".join(f"{7 + 3 * number} 0 R" for number in range(len(pages)))
    parts = [
        b"<< /Type /Catalog /Pages 2 0 R >>",
        f"<< /Type /Pages /Kids [{kids}] /Count {len(pages)} >>".encode(),
        *(
            f"<< /Type /Font /Subtype /Type1 /BaseFont /{face} /Encoding /WinAnsiEncoding >>".encode()
            for face in _FACES
        ),
    ]
    for number, page in enumerate(pages):
        parts += _page(page, 7 + 3 * number)
    parts.append(f"<< /Title ({_escaped(title)}) /CreationDate ({made}) /ModDate ({made}) >>".encode("cp1252"))
    return _file(parts)


def _page(page: Page, number: int) -> list[bytes]:
    width, height = page.size
    fonts = " ".join(f"/F{face} {3 + face} 0 R" for face in range(len(_FACES)))
    pictures = f"/XObject << /Scan {number + 2} 0 R >>" if page.scan else ""
    head = (
        f"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 {width:g} {height:g}] /Contents {number + 1} 0 R "
        f"/Resources << /Font << {fonts} >> {pictures} >> >>"
    )
    commands = [f"q {width:g} 0 0 {height:g} 0 0 cm /Scan Do Q"] if page.scan else []
    commands += [f"0.6 w {a:g} {b:g} m {c:g} {d:g} l S" for a, b, c, d in page.rules]
    commands += [
        f"BT /F{word.face} {word.size:g} Tf {word.left:g} {word.up:g} Td ({_escaped(word.text)}) Tj ET"
        for word in page.words
    ]
    return [head.encode(), _stream(b"", "\n".join(commands).encode("cp1252")), _picture(page.scan)]


def _picture(scan: bytes | None) -> bytes:
    if scan is None:
        return b"null"
    with Image.open(io.BytesIO(scan)) as picture:
        colour = "DeviceGray" if picture.mode == "L" else "DeviceRGB"
        head = (
            f"/Type /XObject /Subtype /Image /Width {picture.width} /Height {picture.height} /ColorSpace /{colour} "
            "/BitsPerComponent 8 /Filter /DCTDecode"
        )
    return _stream(head.encode(), scan)


def _stream(head: bytes, body: bytes) -> bytes:
    return b"<< %s /Length %d >>\nstream\n%s\nendstream" % (head, len(body), body)


def _escaped(text: str) -> str:
    return text.replace("\\", "\\\\").replace("(", "\\(").replace(")", "\\)")


def _file(parts: Sequence[bytes]) -> bytes:
    made = bytearray(b"%PDF-1.4\n%\xe2\xe3\xcf\xd3\n")
    starts = []
    for number, part in enumerate(parts, 1):
        starts.append(len(made))
        made += b"%d 0 obj\n%s\nendobj\n" % (number, part)
    table = len(made)
    made += b"xref\n0 %d\n0000000000 65535 f \n" % (len(parts) + 1)
    for start in starts:
        made += b"%010d 00000 n \n" % start
    made += b"trailer\n<< /Size %d /Root 1 0 R /Info %d 0 R >>\nstartxref\n%d\n%%%%EOF\n" % (
        len(parts) + 1,
        len(parts),
        table,
    )
    return bytes(made)
