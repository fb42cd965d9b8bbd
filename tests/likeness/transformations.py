"""What happens to a picture between two archives: rescans, crops, reprints, tracings, photographs of photographs.

Each transformation knows where every pixel of the base went, so that what a comparison finds can be held against it.
All are seeded. How strong they are is common practice, no source.
"""

import io
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import cos, radians, sin, sqrt

import cv2
import numpy as np
import numpy.typing as npt
from likeness.page_makers import (
    Area,
    Tones,
    as_numbers,
    as_picture,
    as_tones,
    clouds,
    face,
    scrawl,
    set_line,
    set_lines,
    table_top,
    words,
)
from PIL import Image, ImageDraw

from provenance.likeness.values import Form
from provenance.records.readings import Box

Homography = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Transformed:
    """A picture made from another.

    Attributes:
        picture: in grey.
        homography: 3 by 3: takes x, y, 1 in pixels of the base to pixels of this picture (corners of pixels count, so
            that a picture w wide reaches from 0 to w).
        form: how the second has to be taken to match the first.
        words: the places of the words set round the picture, in percent; empty where it stands alone.
    """

    picture: Image.Image
    homography: Homography
    form: Form = Form.PLAIN
    words: tuple[Box, ...] = ()

    @property
    def is_page(self) -> bool:
        """Whether the picture is only a part of a page with print on it."""
        return bool(self.words)


Transformation = Callable[[Image.Image, int], Transformed]


def _scaled(across: float, down: float) -> Homography:
    return np.diag([across, down, 1.0])


def _shifted(across: float, down: float) -> Homography:
    return np.array([[1, 0, across], [0, 1, down], [0, 0, 1]], dtype=np.float64)


def _jpeg(picture: Image.Image, quality: int) -> Image.Image:
    made = io.BytesIO()
    picture.save(made, "JPEG", quality=quality)
    return Image.open(made).convert("L")


def _scan(tones: Tones, random: np.random.Generator, *, noise: float = 2.5, quality: int = 85) -> Image.Image:
    """What a scanner gives of light and dark: a little noise, kept as a JPEG."""
    return _jpeg(as_picture(tones + random.normal(0, noise, tones.shape)), quality)


def _resized(tones: Tones, size: tuple[int, int]) -> Tones:
    shrinks = size[0] < tones.shape[1]
    way = cv2.INTER_AREA if shrinks else cv2.INTER_CUBIC
    return as_numbers(cv2.resize(tones, size, interpolation=way))


def _warped(tones: Tones, way: Homography, size: tuple[int, int], behind: float) -> Tones:
    # OpenCV takes whole numbers for the middles of pixels; here they are their corners.
    middle = _shifted(-0.5, -0.5) @ way @ _shifted(0.5, 0.5)
    return as_numbers(cv2.warpPerspective(tones, middle, size, flags=cv2.INTER_AREA, borderValue=behind))


def _rescan(picture: Image.Image, seed: int, factor: float) -> Transformed:
    random = np.random.default_rng(seed)
    size = max(1, round(picture.width * factor)), max(1, round(picture.height * factor))
    tones = as_numbers(cv2.GaussianBlur(_resized(as_tones(picture), size), (0, 0), 0.5 * max(1.0, factor)))
    way = _scaled(size[0] / picture.width, size[1] / picture.height)
    return Transformed(picture=_scan(tones, random), homography=way)


def _crop(picture: Image.Image, seed: int, keep: float) -> Transformed:
    """Keep so much of the area, in the shape of the whole, from a chance place."""
    random = np.random.default_rng(seed)
    width, height = round(picture.width * sqrt(keep)), round(picture.height * sqrt(keep))
    left = int(random.integers(0, picture.width - width + 1))
    top = int(random.integers(0, picture.height - height + 1))
    kept = picture.crop((left, top, left + width, top + height))
    return Transformed(picture=_scan(as_tones(kept), random), homography=_shifted(-left, -top))


def _toned(picture: Image.Image, seed: int, change: Callable[[Tones, np.random.Generator], Tones]) -> Transformed:
    random = np.random.default_rng(seed)
    changed = change(as_tones(picture), random)
    return Transformed(picture=_scan(changed, random), homography=np.eye(3))


def _faded(tones: Tones, random: np.random.Generator) -> Tones:
    """A third of the contrast left, bleached unevenly."""
    height, width = tones.shape
    bleached = 0.36 - 0.12 * clouds(height, width, max(height, width) / 2, random)
    return as_numbers(228 - (255 - tones) * bleached)


def _hardened(tones: Tones, _random: np.random.Generator) -> Tones:
    """As a copying machine: nearly black and white, about the middle tone of the picture."""
    middle = float(np.median(tones)) * 0.5 + 64
    return as_numbers(255 / (1 + np.exp(-(tones - middle) / 16)))


def _stained(tones: Tones, random: np.random.Generator) -> Tones:
    """Sepia seen in grey (the whites fallen, the blacks brown), with rings where cups or damp stood."""
    height, width = tones.shape
    aged = 42 + tones * 0.68
    rows, columns = np.mgrid[0:height, 0:width].astype(np.float32)
    for _ in range(3):
        radius = min(height, width) * random.uniform(0.12, 0.25)
        away = np.hypot(columns - random.uniform(0, width), rows - random.uniform(0, height))
        away += (clouds(height, width, radius / 2, random) - 0.5) * radius * 0.4
        inside = np.clip((radius - away) / 6, 0, 1)
        rim = np.exp(-(((away - radius) / (radius * 0.05)) ** 2))
        aged *= 1 - 0.22 * inside - 0.35 * rim
    spots = random.random((height, width)) < 0.0004
    aged[cv2.dilate(spots.astype(np.uint8), np.ones((3, 3), np.uint8)) > 0] *= 0.7
    return aged


def screened(tones: Tones, pitch: float, angle: float = 45.0) -> Tones:
    """Black dots on white, as large as the tone is dark, so many pixels apart; the ink spreads a little."""
    rows, columns = np.mgrid[0 : tones.shape[0], 0 : tones.shape[1]].astype(np.float32)
    turn = radians(angle)
    along = (columns * cos(turn) + rows * sin(turn)) * (2 * np.pi / pitch)
    beside = (rows * cos(turn) - columns * sin(turn)) * (2 * np.pi / pitch)
    threshold = 127.5 + 63 * (np.cos(along) + np.cos(beside))
    dots = np.clip((tones - threshold) * 0.08 + 0.5, 0, 1) * 205 + 30
    return as_numbers(cv2.GaussianBlur(dots.astype(np.float32), (0, 0), 0.6))


def _halftone(picture: Image.Image, seed: int) -> Transformed:
    """Printed four inches wide with a screen of 70 lines to the inch, scanned at 250 dots to the inch."""
    random = np.random.default_rng(seed)
    factor = 1000 / max(picture.size)
    size = round(picture.width * factor), round(picture.height * factor)
    dots = screened(_resized(as_tones(picture), size), 250 / 70)
    return Transformed(
        picture=_scan(dots, random), homography=_scaled(size[0] / picture.width, size[1] / picture.height)
    )


def _kept_as_jpeg(picture: Image.Image, _seed: int, quality: int) -> Transformed:
    return Transformed(picture=_jpeg(picture, quality), homography=np.eye(3))


def turning(size: tuple[int, int], degrees: float) -> tuple[Homography, tuple[int, int]]:
    """The way of a picture turned clockwise about its middle, and the size of the sheet that holds all of it."""
    width, height = size
    turn = radians(degrees)
    wide = abs(width * cos(turn)) + abs(height * sin(turn))
    tall = abs(width * sin(turn)) + abs(height * cos(turn))
    about = np.array([[cos(turn), -sin(turn), 0], [sin(turn), cos(turn), 0], [0, 0, 1]])
    sheet = round(wide), round(tall)
    return _shifted(sheet[0] / 2, sheet[1] / 2) @ about @ _shifted(-width / 2, -height / 2), sheet


def _turned(picture: Image.Image, seed: int, degrees: float) -> Transformed:
    random = np.random.default_rng(seed)
    way, sheet = turning(picture.size, degrees)
    tones = _warped(as_tones(picture), way, sheet, 246)
    return Transformed(picture=_scan(tones, random), homography=way)


def _mirrored(picture: Image.Image, seed: int) -> Transformed:
    random = np.random.default_rng(seed)
    flipped = picture.transpose(Image.Transpose.FLIP_LEFT_RIGHT)
    way = _shifted(picture.width, 0) @ _scaled(-1, 1)
    return Transformed(picture=_scan(as_tones(flipped), random), homography=way, form=Form.MIRRORED)


def _negated(tones: Tones) -> Tones:
    """As a plate: light and dark change places, the middle tones bend as film does."""
    return as_numbers(250 * (1 - tones / 255) ** 0.8)


def _negative(picture: Image.Image, seed: int) -> Transformed:
    random = np.random.default_rng(seed)
    return Transformed(picture=_scan(_negated(as_tones(picture)), random), homography=np.eye(3), form=Form.NEGATIVE)


def _mirrored_negative(picture: Image.Image, seed: int) -> Transformed:
    """A plate scanned from its glass side."""
    random = np.random.default_rng(seed)
    mirrored = _mirrored(picture, seed)
    negative = _scan(_negated(as_tones(mirrored.picture)), random)
    return Transformed(picture=negative, homography=mirrored.homography, form=Form.MIRRORED_NEGATIVE)


def _bordered(picture: Image.Image, seed: int) -> Transformed:
    """Mounted on card, with a line of caption below."""
    random = np.random.default_rng(seed)
    margin, size = round(max(picture.size) * 0.07), max(12, round(picture.width * 0.04))
    mount = Image.new("L", (picture.width + 2 * margin, picture.height + 2 * margin + 3 * size), 236)
    mount.paste(picture, (margin, margin))
    pen = ImageDraw.Draw(mount)
    pen.rectangle((margin - 3, margin - 3, margin + picture.width + 2, margin + picture.height + 2), outline=60)
    caption = f"Fig. {random.integers(1, 99)}. {words(random, 5)}"
    pen.text((margin, margin + picture.height + size), caption, fill=35, font=face(size))
    return Transformed(picture=_scan(as_tones(mount), random), homography=_shifted(margin, margin))


def _written_over(picture: Image.Image, seed: int) -> Transformed:
    """Notes in ink and in white pencil across it, and an arrow."""
    random = np.random.default_rng(seed)
    written = picture.copy()
    pen = ImageDraw.Draw(written)
    width, height = picture.size
    tall, thick = height * 0.06, max(2, round(min(width, height) / 180))
    for down in np.linspace(0.15, 0.9, 5):
        tone = int(random.choice([15, 245]))
        start = width * random.uniform(0.03, 0.2), height * down + random.uniform(-5, 5)
        scrawl(pen, start, width * random.uniform(0.35, 0.7), tall, ink=(tone, thick), random=random)
    tip = width * random.uniform(0.3, 0.7), height * random.uniform(0.3, 0.7)
    pen.line([(width * 0.9, height * 0.1), tip], fill=15, width=thick * 2)
    pen.ellipse((tip[0] - tall, tip[1] - tall, tip[0] + tall, tip[1] + tall), outline=15, width=thick)
    return Transformed(picture=_scan(as_tones(written), random), homography=np.eye(3))


def _from_corners(size: tuple[int, int], corners: npt.NDArray[np.float32]) -> Homography:
    width, height = size
    start = np.array([[0, 0], [width, 0], [width, height], [0, height]], dtype=np.float32)
    return np.asarray(cv2.getPerspectiveTransform(start, corners), dtype=np.float64)


def _photographed(picture: Image.Image, seed: int) -> Transformed:
    """The print on a table, taken aslant with a telephone: uneven light, its shadow, noise, a little out of focus."""
    random = np.random.default_rng(seed)
    width, height = picture.size
    sheet = round(width * 1.35), round(height * 1.35)
    square = np.array([[0, 0], [1, 0], [1, 1], [0, 1]], dtype=np.float32)
    nudged = (square + 0.175 + random.uniform(-0.075, 0.075, (4, 2))) / 1.35
    corners = (nudged * np.array(sheet)).astype(np.float32)
    way = _from_corners(picture.size, corners)
    print_there = _warped(np.full((height, width), 1.0, np.float32), way, sheet, 0)
    view = table_top(sheet[1], sheet[0], random)
    shadow = cv2.GaussianBlur(np.roll(print_there, (6, 6), (0, 1)), (0, 0), 5)
    view = view * (1 - 0.5 * shadow) * (1 - print_there) + _warped(as_tones(picture), way, sheet, 0) * 0.92
    view = as_numbers(cv2.GaussianBlur(view, (0, 0), 0.8))
    rows, columns = np.mgrid[0 : sheet[1], 0 : sheet[0]].astype(np.float32)
    slope = random.uniform(-1, 1, 2)
    lit = 0.85 + 0.3 * (slope[0] * (columns / sheet[0] - 0.5) + slope[1] * (rows / sheet[1] - 0.5))
    glare = np.exp(-(((columns / sheet[0] - random.random()) ** 2) + (rows / sheet[1] - random.random()) ** 2) / 0.02)
    return Transformed(picture=_scan(as_numbers(view * lit + 55 * glare), random, noise=6, quality=75), homography=way)


def _page_with(
    tones: Tones, random: np.random.Generator, *, caption: str, wide: int = 1240
) -> tuple[Image.Image, tuple[int, int], list[Area]]:
    """A page (A4 at 150 dots to the inch when 1240 wide) with a picture between its lines; where it and words stand."""
    tall, size, margin = round(wide * 1.414), round(wide / 62), round(wide * 0.1)
    rows, columns = tones.shape
    page = Image.new("L", (wide, tall), 242)
    pen = ImageDraw.Draw(page)
    left = margin + int(random.integers(0, wide - 2 * margin - columns + 1))
    top = margin + round((tall - 2 * margin - rows) * random.uniform(0.25, 0.65))
    set_words = set_lines(pen, (margin, margin, wide - margin, top - size), size, random)
    page.paste(as_picture(tones), (left, top))
    if caption:
        set_words += set_line(pen, (left, top + rows + size // 2), caption, round(size * 0.85), 40)
    set_words += set_lines(pen, (margin, top + rows + size * 3, wide - margin, tall - margin), size, random)
    for start, end in ((margin, left - size), (left + columns + size, wide - margin)):
        if end - start > 9 * size:  # a narrow column beside the picture
            set_words += set_lines(pen, (start, top, end, top + rows), size, random)
    return page, (left, top), set_words


def _as_boxes(places: list[Area], way: Homography, sheet: tuple[int, int]) -> tuple[Box, ...]:
    """Places of words on a page, taken to where they are on its scan, in percent of that."""
    found = []
    for left, top, right, bottom in places:
        corners = np.array([[[left, top], [right, top], [right, bottom], [left, bottom]]])
        spots = cv2.perspectiveTransform(corners, way)[0] / np.array(sheet) * 100
        (x, y), (far_x, far_y) = np.clip(spots.min(axis=0), 0, 100), np.clip(spots.max(axis=0), 0, 100)
        found.append(Box(float(x), float(y), float(far_x - x), float(far_y - y)))
    return tuple(found)


def _fitted(picture: Image.Image, wide: float, tall: float) -> tuple[int, int]:
    factor = min(wide / picture.width, tall / picture.height)
    return round(picture.width * factor), round(picture.height * factor)


def _inset(picture: Image.Image, seed: int) -> Transformed:
    """Pasted on a page of a newsletter, between its lines, and scanned at 150 dots to the inch."""
    random = np.random.default_rng(seed)
    size = _fitted(picture, 1240 * random.uniform(0.4, 0.62), 1240 * 0.6)
    page, (left, top), places = _page_with(_resized(as_tones(picture), size), random, caption="")
    way = _shifted(left, top) @ _scaled(size[0] / picture.width, size[1] / picture.height)
    scan = _scan(as_tones(page), random)
    return Transformed(picture=scan, homography=way, words=_as_boxes(places, np.eye(3), scan.size))


def _book_print(picture: Image.Image, seed: int) -> Transformed:
    """Printed in a book with a screen of 85 lines to the inch; scanned at 150 dots, a little aslant, dark at a fold."""
    random = np.random.default_rng(seed)
    size = _fitted(picture, 1240 * random.uniform(0.5, 0.75), 1240 * 0.7)
    fine = _resized(as_tones(picture), (2 * size[0], 2 * size[1]))
    dots = _resized(screened(fine, 300 / 85), size)
    caption = f"Plate {random.integers(1, 60)}. {words(random, 6)}"
    page, (left, top), places = _page_with(dots, random, caption=caption)
    lean, sheet = turning(page.size, random.uniform(-1.0, 1.0))
    tones = _warped(as_tones(page), lean, sheet, 235)
    tones *= 1 - 0.45 * np.exp(-np.arange(sheet[0], dtype=np.float32) / 45)
    way = lean @ _shifted(left, top) @ _scaled(size[0] / picture.width, size[1] / picture.height)
    scan = _scan(tones, random, noise=4, quality=80)
    return Transformed(picture=scan, homography=way, words=_as_boxes(places, lean, sheet))


TRANSFORMATIONS: Mapping[str, Transformation] = {
    "rescan at half": lambda picture, seed: _rescan(picture, seed, 0.5),
    "rescan at 1.7 times": lambda picture, seed: _rescan(picture, seed, 1.7),
    "crop keeping 90 %": lambda picture, seed: _crop(picture, seed, 0.9),
    "crop keeping 75 %": lambda picture, seed: _crop(picture, seed, 0.75),
    "crop keeping 50 %": lambda picture, seed: _crop(picture, seed, 0.5),
    "fading": lambda picture, seed: _toned(picture, seed, _faded),
    "hard contrast": lambda picture, seed: _toned(picture, seed, _hardened),
    "sepia and stain": lambda picture, seed: _toned(picture, seed, _stained),
    "halftone": _halftone,
    "JPEG at quality 30": lambda picture, seed: _kept_as_jpeg(picture, seed, 30),
    "JPEG at quality 10": lambda picture, seed: _kept_as_jpeg(picture, seed, 10),
    "turn of 2 degrees": lambda picture, seed: _turned(picture, seed, 2),
    "turn of 5 degrees": lambda picture, seed: _turned(picture, seed, 5),
    "quarter turn": lambda picture, seed: _turned(picture, seed, 90),
    "mirror": _mirrored,
    "negative": _negative,
    "mirrored negative": _mirrored_negative,
    "border with caption": _bordered,
    "handwriting over it": _written_over,
    "phone photograph": _photographed,
    "inset on a page": _inset,
    "book print": _book_print,
}
"""By name: takes a picture in grey and a seed."""
