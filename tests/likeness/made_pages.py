"""Pages laid out for tests: lines of print, photographs and drawings, each with the place where it was put."""

from collections.abc import Iterator
from functools import cache
from itertools import cycle
from pathlib import Path

import numpy as np
import skimage
from likeness.page_makers import face
from PIL import Image, ImageDraw, ImageFilter

from provenance.records.readings import Box

A4_AT_150 = (1240, 1754)
Place = tuple[int, int, int, int]
"""Left, top, right, bottom in pixels."""

_PACKAGE = Path(skimage.__file__).parent / "data"
_TEXT = """
the lamp bracket is bolted to the headstock with four studs of ten millimetres and was painted black before it left the
shop each nut was drilled for a split pin and the cars of the third batch carry it lower by the width of the beam
"""


@cache
def photograph(name: str) -> Image.Image:
    """One of the photographs in the wheel of scikit-image, in grey."""
    with Image.open(_PACKAGE / name) as opened:
        return opened.convert("L")


class MadePage:
    """A sheet of paper that is filled."""

    def __init__(self, size: tuple[int, int] = A4_AT_150, paper: int = 238) -> None:
        self.image = Image.new("L", size, paper)
        self.pen = ImageDraw.Draw(self.image)
        self.words: list[Box] = []

    def box(self, place: Place) -> Box:
        """A place in percent of the page."""
        across, down = 100 / self.image.width, 100 / self.image.height
        left, top, right, bottom = place
        return Box(left * across, top * down, (right - left) * across, (bottom - top) * down)

    def write(self, place: Place, size: int = 22, ink: int = 40) -> None:
        """Fill a place with lines of print; each word is remembered as read."""
        left, top, right, bottom = place
        text = cycle(_TEXT.split())
        for down in range(top, bottom - size, round(size * 1.5)):
            for word, edges in _line(text, left, right, down, size):
                self.pen.text((edges[0], down), word, fill=ink, font=face(size))
                self.words.append(self.box(edges))

    def put(self, picture: Image.Image, place: Place) -> Box:
        """Paste a picture, cut to fit; its box."""
        self.image.paste(fitted(picture, (place[2] - place[0], place[3] - place[1])), place[:2])
        return self.box(place)

    def aged(self, seed: int = 1, noise: float = 2.5, shade: float = 0.1) -> "MadePage":
        """Noise of a scanner, and paper that darkens from left to right."""
        levels = np.asarray(self.image, dtype=np.float64)
        levels *= 1 - shade * np.linspace(0, 1, levels.shape[1])
        levels += np.random.default_rng(seed).normal(0, noise, levels.shape)
        self.image = Image.fromarray(np.clip(levels, 0, 255).astype(np.uint8))
        self.pen = ImageDraw.Draw(self.image)
        return self

    def stain(self, place: Place, darker: float = 0.85) -> None:
        """A round stain with soft edges."""
        mark = Image.new("L", self.image.size, 0)
        ImageDraw.Draw(mark).ellipse(place, fill=255)
        darkened = self.image.point(lambda level: int(level * darker))
        self.image.paste(darkened, mask=mark.filter(ImageFilter.GaussianBlur(8)))


def _line(text: Iterator[str], left: int, right: int, down: int, size: int) -> Iterator[tuple[str, Place]]:
    at = left
    while True:
        word = next(text)
        end = at + round(face(size).getlength(word))
        if end > right:
            return
        yield word, (at, down + size // 5, end, down + round(size * 1.2))
        at = end + size // 3


def fitted(picture: Image.Image, size: tuple[int, int]) -> Image.Image:
    """A picture made to fill a size, what is over cut off."""
    share = max(size[0] / picture.width, size[1] / picture.height)
    large = picture.resize((max(size[0], round(picture.width * share)), max(size[1], round(picture.height * share))))
    return large.crop((0, 0, *size))


def alike(one: Box, other: Box) -> float:
    """The area that two boxes have in common, as a share of the area of both together."""
    across = min(one.x + one.w, other.x + other.w) - max(one.x, other.x)
    down = min(one.y + one.h, other.y + other.h) - max(one.y, other.y)
    common = max(0.0, across) * max(0.0, down)
    return common / (one.w * one.h + other.w * other.h - common)
