"""The works drawing of the head lamp bracket in two issues: ink on tracing cloth, printed, folded and scanned."""

from dataclasses import dataclass

import numpy as np
from PIL import Image, ImageDraw, ImageFont

from sample.faces import Faces
from sample.film import blurred, cloudy

SIZE = (2560, 1810)
_RAIL = 1440
_FOOT = 250
_HEADSTOCK = 690


@dataclass(frozen=True, slots=True, kw_only=True)
class Issue:
    """What differs from one issue to the next.

    Attributes:
        letter: of the issue.
        date: as lettered in the title block.
        cars: for which it holds.
        height: of the lamp above the rail, in feet.
        lettered: the same as it is lettered.
        parts: rows of the list of parts, columns parted by `|`.
        history: rows of the table of issues.
        electric: the flat electric lamp; else the acetylene lantern.
        seed: of the noise.
    """

    letter: str
    date: str
    cars: str
    height: float
    lettered: str
    parts: tuple[str, ...]
    history: tuple[str, ...]
    electric: bool
    seed: int


ISSUE_B = Issue(
    letter="B",
    date="11-3-30",
    cars="CARS Nos. 1 TO 8",
    height=3 + 1 / 12,
    lettered="3 ft 1 in",
    parts=("H-201|HEAD LAMP, ACETYLENE|2", "H-202|GENERATOR|2", "H-203|BRACKET, M.S.|2"),
    history=("A|4-2-27|FIRST ISSUE", "B|11-3-30|GENERATOR LOWERED 1 IN"),
    electric=False,
    seed=309212,
)
ISSUE_C = Issue(
    letter="C",
    date="18-11-32",
    cars="CARS Nos. 9 TO 11",
    height=3 + 4.5 / 12,
    lettered="3 ft 4 1/2 in",
    parts=("H-204|HEAD LAMP, ELECTRIC 12 V.|2", "H-205|BRACKET, M.S.|2", "H-225|CLIP FOR CONDUIT|4"),
    history=(
        "A|4-2-27|FIRST ISSUE",
        "B|11-3-30|GENERATOR LOWERED 1 IN",
        "C|18-11-32|ELECTRIC LAMP, BRACKET RAISED 3 1/2 IN",
    ),
    electric=True,
    seed=309213,
)


def works_drawing(issue: Issue, faces: Faces) -> Image.Image:
    """Draw, print and scan one issue of drawing 30921."""
    sheet = Image.new("L", SIZE, 255)
    pen = ImageDraw.Draw(sheet)
    pen.rectangle((50, 50, SIZE[0] - 50, SIZE[1] - 50), outline=0, width=5)
    _side_view(pen, issue, faces)
    _end_view(pen, issue, faces)
    _title_block(pen, issue, faces)
    _tables(pen, issue, faces)
    return _scanned(sheet, issue.seed)


def _face(faces: Faces, size: float) -> ImageFont.FreeTypeFont:
    return faces.find("drawing", size)


def _lettered(
    pen: ImageDraw.ImageDraw, spot: tuple[float, float], text: str, face: ImageFont.FreeTypeFont, anchor: str = "ls"
) -> None:
    pen.text(spot, text, 0, font=face, anchor=anchor)


def _centre_line(pen: ImageDraw.ImageDraw, start: tuple[float, float], end: tuple[float, float]) -> None:
    length = float(np.hypot(end[0] - start[0], end[1] - start[1]))
    along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    at = 0.0
    while at < length:
        for begin, stop in ((0, 34), (42, 48)):
            a, b = at + begin, min(at + stop, length)
            pen.line(
                (start[0] + along[0] * a, start[1] + along[1] * a, start[0] + along[0] * b, start[1] + along[1] * b),
                fill=0,
                width=2,
            )
        at += 56


def _arrow(pen: ImageDraw.ImageDraw, tip: tuple[float, float], toward: tuple[float, float]) -> None:
    dx, dy = toward[0] - tip[0], toward[1] - tip[1]
    length = float(np.hypot(dx, dy))
    dx, dy = dx / length, dy / length
    base = (tip[0] + dx * 24, tip[1] + dy * 24)
    pen.polygon([tip, (base[0] - dy * 6, base[1] + dx * 6), (base[0] + dy * 6, base[1] - dx * 6)], fill=0)


def _dimension(
    pen: ImageDraw.ImageDraw, x: float, ends: tuple[float, float], text: str, face: ImageFont.FreeTypeFont
) -> None:
    top, bottom = ends
    middle = (top + bottom) / 2
    pen.line((x, top, x, middle - 34), fill=0, width=2)
    pen.line((x, middle + 34, x, bottom), fill=0, width=2)
    _arrow(pen, (x, top), (x, bottom))
    _arrow(pen, (x, bottom), (x, top))
    _lettered(pen, (x, middle), text, face, "mm")


def _hatched(pen: ImageDraw.ImageDraw, area: tuple[float, float, float, float]) -> None:
    left, top, right, bottom = area
    pen.rectangle(area, outline=0, width=4)
    for start in np.arange(left - (bottom - top), right, 16):
        a, b = max(start, left), min(start + (bottom - top), right)
        if b > a:
            pen.line((a, bottom - (a - start), b, bottom - (b - start)), fill=0, width=1)


def _side_view(pen: ImageDraw.ImageDraw, issue: Issue, faces: Faces) -> None:
    """The headstock in section, the bracket and the lamp, with the height from the rail."""
    face, small = _face(faces, 42), _face(faces, 30)
    lamp = _RAIL - issue.height * _FOOT
    left = 900
    pen.line((300, _RAIL, 1400, _RAIL), fill=0, width=4)
    _lettered(pen, (1150, _RAIL + 42), "TOP OF RAIL", small)
    _hatched(pen, (left, _RAIL - 2.25 * _FOOT, left + 70, _RAIL - 1.3 * _FOOT))
    _lettered(pen, (left + 180, _RAIL - 1.55 * _FOOT), "HEADSTOCK", small)
    pen.rectangle((left - 40, lamp - 210, left + 26, _RAIL - 2.25 * _FOOT), outline=0, width=4)
    _lettered(pen, (left - 10, lamp - 226), "END PANEL", small, "ms")
    pen.line((left + 26, lamp + 135, left + 160, lamp + 135, left + 160, lamp + 90), fill=0, width=12, joint="curve")
    pen.line((left + 26, lamp + 230, left + 100, lamp + 145), fill=0, width=8)
    if issue.electric:
        pen.polygon(
            [
                (left + 70, lamp - 40),
                (left + 110, lamp - 90),
                (left + 190, lamp - 104),
                (left + 190, lamp + 104),
                (left + 110, lamp + 90),
                (left + 70, lamp + 40),
            ],
            outline=0,
            fill=255,
            width=4,
        )
        pen.rectangle((left + 190, lamp - 118, left + 214, lamp + 118), outline=0, fill=255, width=4)
    else:
        pen.rectangle((left + 76, lamp - 95, left + 206, lamp + 95), outline=0, fill=255, width=4)
        pen.polygon(
            [(left + 76, lamp - 95), (left + 116, lamp - 150), (left + 166, lamp - 150), (left + 206, lamp - 95)],
            outline=0,
            fill=255,
            width=4,
        )
        pen.rectangle((left + 122, lamp - 210, left + 160, lamp - 150), outline=0, fill=255, width=4)
        pen.rectangle((left + 84, lamp + 160, left + 150, lamp + 330), outline=0, fill=255, width=4)
    _centre_line(pen, (430, lamp), (1260, lamp))
    _dimension(pen, 520, (lamp, _RAIL), issue.lettered, face)
    _lettered(pen, (560, lamp - 18), "CENTRE OF LAMP", small)
    _lettered(pen, (500, 1560), "SIDE VIEW", face)


def _end_view(pen: ImageDraw.ImageDraw, issue: Issue, faces: Faces) -> None:
    """Half of the end of the car, with the spread of the lamps."""
    face, small = _face(faces, 42), _face(faces, 30)
    lamp = _RAIL - issue.height * _FOOT
    middle = 1500
    pen.line((middle - 60, _RAIL, 2280, _RAIL), fill=0, width=4)
    pen.rectangle((middle, _RAIL - 2.25 * _FOOT, middle + 690, _RAIL - 1.3 * _FOOT), outline=0, width=4)
    pen.line((middle + 740, 300, middle + 740, _RAIL - 2.25 * _FOOT, middle, _RAIL - 2.25 * _FOOT), fill=0, width=4)
    _centre_line(pen, (middle, 250), (middle, _RAIL + 60))
    _lettered(pen, (middle + 12, 280), "C.L. OF CAR", small)
    for reach in (118, 92):
        pen.ellipse((middle + 480 - reach, lamp - reach, middle + 480 + reach, lamp + reach), outline=0, width=4)
    _centre_line(pen, (middle + 480, lamp - 190), (middle + 480, lamp + 220))
    level = 380
    pen.line((middle, level, middle + 150, level), fill=0, width=2)
    pen.line((middle + 330, level, middle + 480, level), fill=0, width=2)
    pen.line((middle + 480, level - 30, middle + 480, lamp - 200), fill=0, width=1)
    _arrow(pen, (middle, level), (middle + 400, level))
    _arrow(pen, (middle + 480, level), (middle, level))
    _lettered(pen, (middle + 240, level), "2 ft 0 in", face, "mm")
    _lettered(pen, (middle - 40, 1560), "HALF END VIEW", face)
    pen.line((middle + 480, lamp + 118, middle + 480, lamp + 150), fill=0, width=12)
    pen.line((middle + 430, lamp + 150, middle + 530, lamp + 150), fill=0, width=8)


def _title_block(pen: ImageDraw.ImageDraw, issue: Issue, faces: Faces) -> None:
    left, top, right, bottom = 1790, 1490, SIZE[0] - 50, SIZE[1] - 50
    pen.rectangle((left, top, right, bottom), fill=255, outline=0, width=4)
    for down in (60, 130, 200):
        pen.line((left, top + down, right, top + down), fill=0, width=2)
    _lettered(pen, (left + 20, top + 45), "ORRINSHAW & TEBB LTD.  STOVERTON", _face(faces, 36))
    _lettered(pen, (left + 20, top + 110), "HEAD LAMP BRACKET", _face(faces, 44))
    _lettered(pen, (left + 20, top + 180), f"{issue.cars}     SCALE 1/8", _face(faces, 34))
    _lettered(pen, (left + 20, top + 250), f"DRG. No. 30921    ISSUE {issue.letter}", _face(faces, 42))
    pen.line((left + 530, top + 200, left + 530, bottom), fill=0, width=2)
    _lettered(pen, (left + 545, top + 245), issue.date, _face(faces, 36))


def _tables(pen: ImageDraw.ImageDraw, issue: Issue, faces: Faces) -> None:
    face = _face(faces, 30)
    for heads, rows, top in (
        (("ISSUE", "DATE", "ALTERATION"), issue.history, 90),
        (("PART No.", "DESCRIPTION", "OFF"), issue.parts, 330),
    ):
        columns = (90, 200, 350) if heads[0] == "ISSUE" else (90, 240, 640)
        for number, cells in enumerate((heads, *(tuple(row.split("|")) for row in rows))):
            down = top + 46 * number
            pen.line((80, down + 12, 980 if heads[0] == "ISSUE" else 720, down + 12), fill=0, width=1)
            for x, cell in zip(columns, cells, strict=True):
                _lettered(pen, (x + 4, down), cell, face)


def _scanned(sheet: Image.Image, seed: int) -> Image.Image:
    """Print on paper, fold, scan, and keep sixteen tones."""
    random = np.random.default_rng(seed)
    size = (SIZE[1], SIZE[0])
    ink = blurred(1 - np.asarray(sheet, dtype=np.float64) / 255, 0.8)
    ink *= 0.88 + 0.3 * (cloudy(size, 60, random) - 0.5)
    paper = 0.915 + 0.07 * (cloudy(size, 140, random) - 0.5)
    across = np.linspace(0, 1, size[1])[None, :]
    for fold in (0.25, 0.5, 0.75):
        paper = paper - 0.13 * np.exp(-(((across - fold) / 0.0009) ** 2))
    tones = np.clip(paper * (1 - ink) + 0.2 * ink + 0.018 * random.standard_normal(size), 0, 1)
    picture = Image.fromarray((np.round(tones * 15) * 17).astype(np.uint8))
    return picture.rotate(0.25, Image.Resampling.NEAREST, fillcolor=170).quantize(
        16, method=Image.Quantize.MEDIANCUT, dither=Image.Dither.NONE
    )
