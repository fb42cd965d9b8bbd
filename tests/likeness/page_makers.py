"""What stands round a picture: lines of print, captions, pen strokes, wood and cloth behind a print."""

import math
from functools import cache

import cv2
import numpy as np
import numpy.typing as npt
from PIL import Image, ImageDraw, ImageFont

Tones = npt.NDArray[np.float32]
"""Light and dark, 0 black to 255 white; height by width."""

Area = tuple[float, float, float, float]
"""Left, top, right and bottom, in pixels."""

_PROSE = """
the of and to in with from under over between after before each both upper lower inner outer bracket lamp frame bolt
stud rivet door panel roof seat axle spring buffer cab pillar floor plate steel brass oak ash canvas painted fitted
measured drawing sheet issue works order number batch third second first was were not found as shown at shop foreman
reported that oil tank leaking joint packing renewed glass window cut wide high thick left right
"""
_WORDS = _PROSE.split()


@cache
def face(size: int) -> ImageFont.FreeTypeFont:
    """The face that comes with Pillow, so many pixels high."""
    found = ImageFont.load_default(size)
    if not isinstance(found, ImageFont.FreeTypeFont):  # Pillow without FreeType has only a bitmap face
        raise TypeError("Pillow was built without FreeType")
    return found


def words(random: np.random.Generator, count: int) -> str:
    return " ".join(_WORDS[at] for at in random.integers(0, len(_WORDS), count))


def set_line(pen: ImageDraw.ImageDraw, at: tuple[float, float], line: str, size: int, ink: int) -> list[Area]:
    """Set one line from its upper left corner; the places of its words."""
    pen.text(at, line, fill=ink, font=face(size))
    places, across = [], at[0]
    for word in line.split():
        places.append((across, at[1], across + _wide(word, size), at[1] + size))
        across += _wide(f"{word} ", size)
    return places


@cache
def _wide(text: str, size: int) -> float:
    return face(size).getlength(text)


def set_lines(pen: ImageDraw.ImageDraw, area: Area, size: int, random: np.random.Generator) -> list[Area]:
    """Fill an area with lines of print; the places of the words."""
    left, top, right, bottom = area
    places = []
    for down in range(round(top), round(bottom) - size, round(size * 1.45)):
        line, wide = [words(random, 1)], 0.0
        while (wide := wide + _wide(f"{line[-1]} ", size)) < right - left:
            line.append(words(random, 1))
        places += set_line(pen, (left, down), " ".join(line[:-1]), size, int(random.integers(20, 50)))
    return places


def scrawl(
    pen: ImageDraw.ImageDraw,
    start: tuple[float, float],
    wide: float,
    tall: float,
    *,
    ink: tuple[int, int],
    random: np.random.Generator,
) -> None:
    """Write a line like handwriting, `wide` pixels long: loops that lean, in an `ink` of that tone and width."""
    at, (left, base) = 0.0, start
    while at < wide:
        letters = int(random.integers(3, 9))
        phase = np.linspace(0, letters * 2 * math.pi, letters * 14)
        rise = np.repeat(random.choice([0.45, 0.5, 0.55, 1.0, 1.1], letters), 14)
        loop = np.repeat(random.uniform(0.1, 0.4, letters), 14)
        across = left + at + phase / (2 * math.pi) * tall * 0.55 + loop * tall * np.sin(phase)
        up = base - tall * rise * (0.5 - 0.5 * np.cos(phase)) + random.normal(0, tall * 0.02, phase.size)
        lean = (base - up) * 0.3
        pen.line([(float(x), float(y)) for x, y in zip(across + lean, up, strict=True)], fill=ink[0], width=ink[1])
        at += letters * tall * 0.55 + tall * float(random.uniform(0.5, 0.9))


def clouds(height: int, width: int, scale: float, random: np.random.Generator) -> Tones:
    """Smooth unevenness from 0 to 1, with patches about `scale` pixels wide."""
    rows, columns = max(2, round(height / scale) + 2), max(2, round(width / scale) + 2)
    coarse = random.random((rows, columns)).astype(np.float32)
    grown: Tones = np.clip(cv2.resize(coarse, (width, height), interpolation=cv2.INTER_CUBIC), 0, 1)
    return grown


def table_top(height: int, width: int, random: np.random.Generator) -> Tones:
    """A wooden table: grain along its length, a few joints between boards."""
    stretched = clouds(height, width * 8, 10, random)
    grain = cv2.resize(stretched, (width, height), interpolation=cv2.INTER_AREA)
    wood = 70 + 60 * grain + 50 * clouds(height, width, 160, random)
    for board in range(0, height, max(60, height // 5)):
        wood[board : board + 3] *= 0.5
    return as_numbers(wood)


def as_picture(tones: npt.NDArray[np.floating]) -> Image.Image:
    return Image.fromarray(np.clip(np.rint(tones), 0, 255).astype(np.uint8))


def as_tones(picture: Image.Image) -> Tones:
    return np.asarray(picture.convert("L"), dtype=np.float32)


def as_numbers(values: npt.ArrayLike) -> Tones:
    """The same numbers (of a picture too, or of another kind) as 32-bit floats."""
    return np.asarray(values, dtype=np.float32)
