"""The maker's handbook as a scan: twelve image-only pages, and the true text beside them."""

import numpy as np
from PIL import Image, ImageDraw, ImageFont

from sample.ageing import Wear, scanned
from sample.faces import Faces
from sample.handbook_text import PAGES
from sample.setting import Style, set_page

_PLATE = 8
_PARTS = (9, 10)
_OF_PARTS = (0.0, 0.16)
_OF_CONTENTS = (0.0, 0.18, 0.6)
_POINTS = (
    (225, 930, "1 Axleboxes, hinged lids"),
    (560, 930, "2 Spring pins"),
    (840, 930, "3 Chain"),
    (225, 560, "4 Brake shaft"),
    (560, 540, "5 Gear lever"),
    (840, 560, "6 Fan"),
)


def handbook(faces: Faces) -> tuple[tuple[Image.Image, ...], tuple[str, ...]]:
    """Print, age and scan the handbook.

    Returns:
        The pages in order, and the text of each.
    """
    set_pages = [set_page(blocks, _style(faces, number)) for number, blocks in enumerate(PAGES)]
    set_pages[_PLATE] = _plate(faces)
    pages = [page for page, _ in set_pages]
    made = []
    for number, page in enumerate(pages):
        random = np.random.default_rng((1933, 12, number))
        leaf = number + 1 if number % 2 == 0 else number - 1
        made.append(scanned(page, pages[leaf], _wear(number, random), random))
    return tuple(made), tuple(text for _, text in set_pages)


def _style(faces: Faces, number: int) -> Style:
    columns = _OF_PARTS if number in _PARTS else _OF_CONTENTS
    return Style(faces=faces, roman="book", bold="book-bold", points=12.5, columns=columns)


def _wear(number: int, random: np.random.Generator) -> Wear:
    return Wear(
        skew=float(random.uniform(-0.9, 0.9)),
        softness=float(random.uniform(0.95, 1.15)),
        spread=float(random.uniform(0.5, 0.68)),
        noise=float(random.uniform(6, 10)),
        stains=int(random.integers(1, 4)),
        through=float(random.uniform(0.06, 0.12)),
        # Numbers in the shade of the gutter are read as a column of their own, so the lists lay flat on the glass.
        shade=0.3 if number in _PARTS or number % 2 else 0.42,
        paper=float(random.uniform(0.8, 0.88)),
        ink=float(random.uniform(0.16, 0.26)),
    )


def _plate(faces: Faces) -> tuple[Image.Image, str]:
    """Draw the oiling diagram in line: the car from the side with numbered points."""
    page = Image.new("L", (1100, 1700), 255)
    pen = ImageDraw.Draw(page)
    plain, italic = faces.find("book", 29), faces.find("book-italic", 27)
    _centred(pen, "Plate I.", 170, faces.find("book", 25))
    _centred(pen, "OILING DIAGRAM.", 235, faces.find("book-bold", 36))
    pen.rounded_rectangle((150, 610, 950, 830), 26, outline=0, width=4)
    for left in range(190, 900, 120):
        pen.rectangle((left, 640, left + 88, 715), outline=0, width=3)
    pen.line((150, 745, 950, 745), fill=0, width=2)
    pen.line((170, 850, 930, 850), fill=0, width=4)
    for centre in (310, 790):
        pen.ellipse((centre - 42, 830, centre + 42, 914), outline=0, width=4)
        pen.rectangle((centre - 20, 852, centre + 20, 890), outline=0, width=3)
    pen.line((120, 915, 980, 915), fill=0, width=5)
    targets = ((310, 871), (350, 850), (720, 890), (230, 850), (880, 745), (935, 790))
    for number, ((x, y, _), target) in enumerate(zip(_POINTS, targets, strict=True), 1):
        start = (x, y + 60) if y > 700 else (x, y)
        pen.line((*start, *target), fill=0, width=2)
        pen.ellipse((start[0] - 24, start[1] - 24, start[0] + 24, start[1] + 24), fill=255, outline=0, width=3)
        pen.text(start, str(number), 0, font=plain, anchor="mm")
    lines = [text for _, _, text in _POINTS]
    for number, line in enumerate(lines):
        pen.text((250, 1130 + number * 50), line, 0, font=plain, anchor="ls")
    note = "Points 1 to 3 every second day, 4 to 6 each Monday."
    _centred(pen, note, 1490, italic)
    return page, "\n".join(["Plate I.", "OILING DIAGRAM.", "4 5 6", "1 2 3", *lines, note]) + "\n"


def _centred(pen: ImageDraw.ImageDraw, text: str, down: int, face: ImageFont.FreeTypeFont) -> None:
    pen.text((550, down), text, 0, font=face, anchor="ms")
