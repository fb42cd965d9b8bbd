"""Originals made for tests from known text: PDFs born digital, scanned, mixed, turned, cropped, locked; pictures."""

from collections.abc import Sequence
from pathlib import Path

from PIL import Image, ImageDraw, ImageFont
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

A4 = (595.0, 842.0)
LINES = (
    "The lamp bracket is bolted to the headstock with four studs of 10 mm,",
    "as drawing H-204 of the works shows it. Each stud was painted black",
    "before it left the shop, and the nuts were drilled for a split pin.",
    "Cars 9 to 11 carry the bracket lower by the width of the buffer beam.",
)
"""Four lines of known text."""


def picture_of(lines: Sequence[str] = LINES, *, size: tuple[int, int] = (1654, 2339), letters: int = 36) -> Image.Image:
    """Draw lines of text as a scanned sheet: A4 at 200 dpi."""
    image = Image.new("L", size, 246)
    draw, font = ImageDraw.Draw(image), ImageFont.load_default(letters)
    for number, line in enumerate(lines):
        draw.text((size[0] // 10, size[1] // 10 + 2 * letters * number), line, fill=30, font=font)
    return image


def canvas(path: Path, size: tuple[float, float] = A4) -> Canvas:
    """Begin a PDF; the same bytes for the same pages."""
    return Canvas(str(path), pagesize=size, invariant=1)


def write_lines(page: Canvas, lines: Sequence[str] = LINES, *, left: float = 60, top: float = 760) -> None:
    """Write lines of text as text."""
    for number, line in enumerate(lines):
        page.drawString(left, top - 18 * number, line)


def draw_scan(page: Canvas, image: Image.Image, place: tuple[float, float, float, float] = (0, 0, *A4)) -> None:
    """Draw a picture on the page: left, bottom, width, height in points."""
    page.drawImage(ImageReader(image), *place)


def born_digital(path: Path, pages: int = 2) -> Path:
    """Write a PDF of pages of text."""
    sheet = canvas(path)
    for number in range(1, pages + 1):
        write_lines(sheet, [f"Page {number}", *LINES])
        sheet.showPage()
    sheet.save()
    return path


def image_only(path: Path, image: Image.Image | None = None) -> Path:
    """Write a PDF of one scanned page."""
    sheet = canvas(path)
    draw_scan(sheet, image or picture_of())
    sheet.showPage()
    sheet.save()
    return path
