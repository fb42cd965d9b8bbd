"""By how much the lines of a page lean, seen from its picture alone, before anything is read.

Lines of text that lie level make the sums of ink along the rows of a picture go up and down sharply; lines that lean
wash them out. The lean is the angle at which the squared differences of neighbouring sums, taken along that angle, are
greatest: W. Postl, "Detection of linear oblique structures and skew scan in digitized documents", Proc. 8th Int. Conf.
on Pattern Recognition, Paris 1986, p. 687-689. Rows are not turned but sheared: the picture is cut into upright strips,
each of which is moved up or down.
"""

from dataclasses import dataclass, replace
from math import radians, tan

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageFilter

_LONG_SIDE = 1200
_SURROUNDINGS = 12
_PAPER_NOISE, _DARKEST = 12, 60
_STRIP = 16
_REACH, _COARSE, _FINE = 8.0, 0.4, 0.1
_LEAST_SHARPNESS = 3.0
_LEAST_EDGES = 8.0
_SAME_LEAN = 0.25

Levels = NDArray[np.float32]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lean:
    """How the lines of a page lean.

    Attributes:
        degrees: to the left (the right-hand end of a line stands higher) above zero, to the right below.
        sharpness: how many times better this angle fits than those around it; 1 where all fit alike.
        edges: how many upper and lower edges of lines fit, about; a single long line of a drawing has two.
        fit: how well the angle fits; to be compared within one picture only.
    """

    degrees: float
    sharpness: float
    edges: float
    fit: float

    @property
    def is_sharp(self) -> bool:
        """Whether this angle fits clearly better than any other."""
        return self.sharpness >= _LEAST_SHARPNESS

    @property
    def is_of_lines(self) -> bool:
        """Whether so many lines lean so that they may be lines of text."""
        return self.is_sharp and self.edges >= _LEAST_EDGES


@dataclass(frozen=True, slots=True, kw_only=True)
class Lay:
    """How a page lies, as its picture shows.

    Attributes:
        along: the lean of lines that run along the picture.
        across: the lean of lines that run up or down it, measured likewise.
    """

    along: Lean
    across: Lean

    def seen(self, *, across: bool) -> float | None:
        """Give the lean of the lines that run along the picture, or across it, in degrees; None where it is not sure.

        One long line of a photograph or a drawing says nothing of how the page lies. Many lines do; so do few that
        stand square to one another, such as the edges of the sheet.
        """
        one, other = (self.across, self.along) if across else (self.along, self.across)
        is_square = other.sharpness >= _LEAST_SHARPNESS / 2 and abs(one.degrees - other.degrees) <= _SAME_LEAN
        return one.degrees if one.is_of_lines or (one.is_sharp and is_square) else None


def see_lay(image: Image.Image) -> Lay:
    """See how the lines of a page lie.

    Angles up to 8 degrees are tried (common practice, no source), to a tenth of a degree. Measured: print, typescript,
    lists and drawings are over 10 times as sharp at their lean as elsewhere, with 10 edges and more; photographs are
    mostly under 3, or have 2 or 3 edges.

    Args:
        image: grey, of any size.
    """
    ink = _ink(image)
    across = _lean(np.ascontiguousarray(ink.T))
    return Lay(
        along=_lean(ink),
        across=replace(across, degrees=0.0 - across.degrees),  # it was seen as in a mirror
    )


def busiest_band(image: Image.Image, share: float) -> tuple[int, int]:
    """Give the upper and lower edge, in pixels, of the band of a page in which ink and paper change most often.

    Args:
        image: grey, with lines that lie level.
        share: of the page's height that the band has.
    """
    changes = np.abs(np.diff(_ink(image).sum(axis=1), append=0.0))
    high = max(1, round(len(changes) * share))
    top = int(np.argmax(np.convolve(changes, np.ones(high), mode="valid")))
    scale = image.height / len(changes)
    return round(top * scale), min(image.height, round((top + high) * scale))


def reduction(image: Image.Image) -> int:
    """Give by how much a picture is made smaller to have about 1200 points along its longer side; 1 for not at all."""
    return max(1, round(max(image.size) / _LONG_SIDE))


def darkness(image: Image.Image, share: int) -> Levels:
    """Give how much darker each point is than what is around it, on a reduced picture.

    Shadows, stains and dark margins go; what is below zero is paper and its noise.

    Args:
        image: grey, of any size.
        share: by how much it is made smaller, 1 and more.
    """
    small = image.reduce(share) if share > 1 else image
    around = np.asarray(small.filter(ImageFilter.BoxBlur(_SURROUNDINGS)), dtype=np.float32)
    return around - np.asarray(small, dtype=np.float32) - _PAPER_NOISE


def _ink(image: Image.Image) -> Levels:
    """Give how much darker each point is than what is around it, on a reduced picture.

    What is very dark counts no more than print, or a ruled frame would outweigh a page of pale typing.
    """
    return np.clip(darkness(image, reduction(image)), 0, _DARKEST - _PAPER_NOISE)


def _lean(ink: Levels) -> Lean:
    strips = _strips(ink)
    coarse = np.arange(-_REACH, _REACH + _COARSE / 2, _COARSE)
    fits = [_fit(_differences(strips, degrees)) for degrees in coarse]
    best = coarse[int(np.argmax(fits))]
    fine = np.arange(best - _COARSE + _FINE, best + _COARSE - _FINE / 2, _FINE)
    degrees = max(map(float, fine), key=lambda degrees: _fit(_differences(strips, degrees)))
    squares = _differences(strips, degrees) ** 2
    usual, total = float(np.median(fits)), float(squares.sum())
    if usual == 0 or total == 0:
        return Lean(degrees=0.0, sharpness=1.0, edges=0.0, fit=0.0)
    return Lean(
        degrees=round(degrees, 1) + 0.0,
        sharpness=total / usual,
        edges=total**2 / float((squares**2).sum()),
        fit=total,
    )


def _strips(ink: Levels) -> Levels:
    """Sum the ink of each row over upright strips; a row of the answer is a strip."""
    count = ink.shape[1] // _STRIP
    whole = ink[:, : count * _STRIP]
    return np.ascontiguousarray(whole.reshape(ink.shape[0], count, _STRIP).sum(axis=2).T)


def _differences(strips: Levels, degrees: float) -> Levels:
    """Sum the strips along lines that lean so much, and give the differences of neighbouring sums."""
    count, rows = strips.shape
    middle = (count - 1) / 2
    moved = [round((number - middle) * _STRIP * tan(radians(degrees))) for number in range(count)]
    room = max(map(abs, moved), default=0)
    sums = np.zeros(rows + 2 * room, dtype=np.float32)
    for strip, down in zip(strips, moved, strict=True):
        sums[room + down : room + down + rows] += strip
    return np.diff(sums)


def _fit(differences: Levels) -> float:
    return float(np.dot(differences, differences))
