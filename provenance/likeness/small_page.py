"""A page made small, and told apart into paper, words and what else is on it: how parts of it are found.

Every threshold here is common practice, no source; they were chosen on made pages.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image

from provenance.likeness.rectangles import rectangle_of
from provenance.records.readings import Box

Levels = NDArray[np.float32]
Marks = NDArray[np.bool_]

LOOKED_AT = 1000
"""Points along the longer side of the page as it is looked at."""

CELL = 8
"""Points along the side of the squares of which paper is told."""

DARK_PAPER = 110
"""Paper below this level is dark, and what is written on it light, as in an album."""

MOST_NOISE = 8.0
"""Where paper is more uneven than this, it is none: the whole page is a picture, and no part can be told from it."""

_AT_EDGE, _EDGE_COUNTS = 0.07, 10.0
_SMOOTH, _SMOOTH_SHARE = 6.0, 40
_NEAR_PEAK, _NEAR_PAPER, _MOST_SHADED = 22.0, 14.0, 50.0
_FEWEST_CELLS = 30
_LARGEST_LETTERS = 6.0
_GROWN = 0.35
_STRIP, _STRIP_FULL, _STRIP_OFF = 0.12, 0.85, 18.0
_STRIP_GAP, _STRIP_SOFT = 3, 4
_FRAME, _FRAME_INK = 0.85, 0.03
_LEAST_INK, _INK_OVER_NOISE = 40.0, 5.0


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class SmallPage:
    """A page made small.

    Attributes:
        levels: of grey, 0 to 255.
        paper: the level that the paper has at each point, or would have.
        is_bare: where nothing but paper was seen.
        words: where words were read, a little grown.
        ink: where something is written, drawn or printed beyond doubt, rules round the page left out.
        strips: where the page is dark along an edge from end to end: what a scanner sees beyond the page.
        noise: by how much bare paper mostly differs from its level.
    """

    levels: Levels
    paper: Levels
    is_bare: Marks
    words: Marks
    ink: Marks
    strips: Marks
    noise: float

    @property
    def shape(self) -> tuple[int, int]:
        """Rows and columns."""
        return self.levels.shape[0], self.levels.shape[1]

    @property
    def is_dark(self) -> bool:
        """Whether the paper is dark."""
        return float(np.median(self.paper)) < DARK_PAPER


def make_small(page: Image.Image, words: Sequence[Box] = ()) -> SmallPage:
    """Make a page small, and tell its paper and its words.

    Args:
        page: upright as delivered, in grey.
        words: the places of the words that were read on it, in percent of the page.
    """
    levels = _shrunk(page)
    paper, is_bare = _paper_of(levels)
    off = np.abs(levels - paper)
    noise = float(np.median(off[is_bare])) if is_bare.any() else float(np.median(off))
    strips = _strips(cv2.blur(off, (3, 3)) > max(_STRIP_OFF, _INK_OVER_NOISE * noise))
    return SmallPage(
        levels=levels,
        paper=paper,
        is_bare=is_bare,
        words=_mark(words, levels.shape),
        ink=_without_frame((off > max(_LEAST_INK, _INK_OVER_NOISE * noise)) & ~strips),
        strips=strips,
        noise=noise,
    )


def _shrunk(page: Image.Image) -> Levels:
    share = LOOKED_AT / max(page.size)
    grey = page if page.mode == "L" else page.convert("L")
    if share < 1:
        size = max(1, round(page.width * share)), max(1, round(page.height * share))
        grey = grey.resize(size, Image.Resampling.BOX, reducing_gap=2.0)
    return np.asarray(grey, dtype=np.float32)


def _paper_of(levels: Levels) -> tuple[Levels, Marks]:
    """Tell the paper: the level that most smooth cells have, those at the edges of the page above all.

    The level is let go up or down over the page as lamps and the bend of a book make it: a surface of the second order.

    Returns:
        Its level at each point, and where it is bare.
    """
    down, across = levels.shape[0] // CELL, levels.shape[1] // CELL
    if min(down, across) < 2:
        return np.full_like(levels, float(np.median(levels))), np.ones(levels.shape, dtype=np.bool_)
    cells = levels[: down * CELL, : across * CELL].reshape(down, CELL, across, CELL)
    middle = cells.mean(axis=(1, 3), dtype=np.float64)
    spread = np.sqrt(np.maximum(np.square(cells).mean(axis=(1, 3), dtype=np.float64) - middle**2, 0))
    is_smooth = spread <= max(_SMOOTH, float(np.percentile(spread, _SMOOTH_SHARE)))
    surface = _surface(middle, is_smooth)
    is_paper = is_smooth & (np.abs(middle - surface) < _NEAR_PAPER)
    size = levels.shape[1], levels.shape[0]
    bare: Marks = cv2.resize(is_paper.astype(np.uint8), size, interpolation=cv2.INTER_NEAREST) > 0
    paper: Levels = np.asarray(cv2.resize(surface, size, interpolation=cv2.INTER_LINEAR), dtype=np.float32)
    return paper, bare


def _surface(middle: NDArray[np.floating], is_smooth: Marks) -> NDArray[np.float64]:
    """Fit a surface of the second order to the cells that are paper."""
    peak = _peak(middle, is_smooth)
    down, across = middle.shape
    y, x = np.mgrid[0:down, 0:across]
    x, y = x / across - 0.5, y / down - 0.5
    terms = np.stack([np.ones_like(x), x, y, x * y, x * x, y * y], axis=-1)
    surface, near = np.full(middle.shape, float(peak)), _NEAR_PEAK
    for _ in range(4):
        is_paper = is_smooth & (np.abs(middle - surface) < near)
        if is_paper.sum() < _FEWEST_CELLS:
            break
        known = terms[is_paper]
        factors = np.linalg.lstsq(known.T @ known, known.T @ middle[is_paper], rcond=None)[0]
        surface, near = np.clip(terms @ factors, peak - _MOST_SHADED, peak + _MOST_SHADED), _NEAR_PAPER
    return surface


def _peak(middle: NDArray[np.floating], is_smooth: Marks) -> int:
    """Give the level that the most smooth cells have; each at the edges of the page counts several times."""
    edge = max(2, round(_AT_EDGE * min(middle.shape)))
    counts = np.full(middle.shape, _EDGE_COUNTS)
    counts[edge:-edge, edge:-edge] = 1.0
    levels = np.bincount(middle[is_smooth].astype(np.int64), weights=counts[is_smooth], minlength=256)
    return int(cv2.GaussianBlur(levels.reshape(1, -1), (0, 0), 4).argmax())


def _mark(words: Sequence[Box], shape: tuple[int, ...]) -> Marks:
    """Mark the places of words; what is as large as a picture is no word, but a frame or a picture taken for one."""
    marks = np.zeros(shape, dtype=np.bool_)
    for word in words:
        if min(word.w, word.h) <= _LARGEST_LETTERS:
            more = _GROWN * min(word.h * shape[0], word.w * shape[1]) / 100
            marks[rectangle_of(word, shape, more).inside] = True
    return marks


def _without_frame(ink: Marks) -> Marks:
    """Take off the rules that run round a page: they say nothing of what is on it."""
    _, numbers, facts, _ = cv2.connectedComponentsWithStats(ink.astype(np.uint8), connectivity=8)
    least, thin = _FRAME * np.array(ink.shape), _FRAME_INK * ink.size
    is_frame = (facts[:, cv2.CC_STAT_HEIGHT] >= least[0]) & (facts[:, cv2.CC_STAT_WIDTH] >= least[1])
    is_frame &= facts[:, cv2.CC_STAT_AREA] <= thin
    is_frame[0] = False
    without: Marks = ink & ~is_frame[numbers]
    return without


def _strips(is_off: Marks) -> Marks:
    """Mark what is not paper along an edge of the page from end to end, a few percent deep at most."""
    marks = np.zeros_like(is_off)
    for marked, off in ((marks, is_off), (marks.T, is_off.T)):
        full = off.mean(axis=0) > _STRIP_FULL
        deep = _depth(full)
        marked[:, : deep + _STRIP_SOFT if deep else 0] = True
        deep = _depth(full[::-1])
        marked[:, off.shape[1] - (deep + _STRIP_SOFT if deep else 0) :] = True
    return marks


def _depth(is_full: Marks) -> int:
    """Give how many columns from the first on a strip has; 0 for no strip, and for one without an end."""
    limit, deep = int(_STRIP * len(is_full)), 0
    for number, full in enumerate(is_full[: limit + _STRIP_GAP + 1].tolist()):
        if full:
            deep = number + 1
        elif number - deep >= _STRIP_GAP:
            break
    return deep if deep <= limit else 0
