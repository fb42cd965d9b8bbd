"""Regions of a page that are filled with tones: photographs and what was printed from them.

Lines of text are taken off by the lightest (on dark paper the darkest) level nearby: between letters, and between the
strokes of one, there is paper. What is left beside the paper is tone. Every threshold here is common practice, no
source; they were chosen on made pages.
"""

from dataclasses import dataclass

import cv2
import numpy as np

from provenance.likeness.rectangles import Rectangle, join_near
from provenance.likeness.small_page import MOST_NOISE, Levels, Marks, SmallPage

LEAST_SHARE = 0.03
"""A smaller region, as a share of the page, is none: looked for a little smaller than wanted, since edges may pale."""

LEAST_SIDE = 0.06
"""A region is at least so wide and high, as a share of the page."""

_SOFT, _STROKE = 1.5, 9
_WEAK, _WEAK_OVER_NOISE = 10.0, 3.0
_STRONG, _STRONG_OVER_NOISE, _LEAST_STRONG = 16.0, 4.5, 0.05
_THIN, _HOLES = 11, 9
_SPECK, _NEAR = 0.002, 0.008
_FILLED, _WELL_FILLED, _QUITE_FILLED, _CLEARLY_OFF = 0.3, 0.6, 0.9, 12.0
_CONTRAST = 24.0
_END_TO_END, _SHADOW, _EVEN = 0.95, 0.25, 8.0
_ROUND, _HARDLY = 0.012, 0.1
_BESIDE_EDGE, _LEAST_BESIDE, _ALONG_EDGE, _STRAIGHT_SIDES = 0.05, 4, 0.5, 3


@dataclass(frozen=True, slots=True, kw_only=True)
class ToneRegion:
    """A region of tone.

    Attributes:
        place: the rectangle round it.
        is_apart: whether at least three of its sides are straight, as those of a photograph are, or bare paper lies
            all round it; what merely stands out within a larger picture mostly has neither.
    """

    place: Rectangle
    is_apart: bool


def find_tones(page: SmallPage) -> tuple[ToneRegion, ...]:
    """Find the regions of tone, the largest first.

    A stain, a shadow or a sheet of another grey is told from a picture by its contrast; a pale picture from a stain
    by its straight edges; the shadow at the fold of a book by its lying along an edge from end to end. Where the paper
    is as uneven as a picture, there is none to be seen: nothing is found.
    """
    if page.noise > MOST_NOISE:
        return ()
    soft = _without_words(page)
    off = _off_paper(page, soft)
    weak = _solid(off > max(_WEAK, _WEAK_OVER_NOISE * page.noise))
    strong = off > max(_STRONG, _STRONG_OVER_NOISE * page.noise)
    pieces = _pieces(weak, strong)
    large = (each for each in join_near(pieces, _NEAR * page.shape[0]) if _is_large(each, page.shape))
    weak &= ~page.words
    found = [each for each in large if _is_picture(each, soft, off, weak) and not _is_shadow(each, soft)]
    found.sort(key=lambda each: (-each.area, each))
    return tuple(ToneRegion(place=each, is_apart=_is_apart(each, weak)) for each in found)


def _is_large(region: Rectangle, shape: tuple[int, int]) -> bool:
    high, wide = region.high / shape[0], region.wide / shape[1]
    return high * wide >= LEAST_SHARE and min(high, wide) >= LEAST_SIDE


def _is_shadow(region: Rectangle, soft: Levels) -> bool:
    """Whether a region lies along an edge of the page from end to end, and is even along it: the fold of a book."""
    high, wide = region.high / soft.shape[0], region.wide / soft.shape[1]
    if min(high, wide) > _SHADOW or max(high, wide) < _END_TO_END:
        return False
    return float(soft[region.inside].mean(axis=1 if high > wide else 0).std()) < _EVEN


def _without_words(page: SmallPage) -> Levels:
    """Give the page with paper in place of words, and halftone dots run together."""
    levels = np.where(page.words | page.strips, page.paper, page.levels)
    return np.asarray(cv2.GaussianBlur(levels, (0, 0), _SOFT), dtype=np.float32)


def _off_paper(page: SmallPage, soft: Levels) -> Levels:
    """Tell how far each point is from the paper, strokes taken off; and where it is beyond the paper, as no ink is."""
    square = np.ones((_STROKE, _STROKE), dtype=np.uint8)
    plain = cv2.morphologyEx(soft, cv2.MORPH_OPEN if page.is_dark else cv2.MORPH_CLOSE, square)
    beyond = page.paper - soft if page.is_dark else soft - page.paper
    off = np.maximum(np.abs(plain - page.paper), cv2.GaussianBlur(np.maximum(beyond, 0), (0, 0), 2 * _SOFT))
    return np.asarray(off, dtype=np.float32)


def _solid(marks: Marks) -> Marks:
    """Take off what is thin, and close small holes."""
    opened = cv2.morphologyEx(marks.astype(np.uint8), cv2.MORPH_OPEN, np.ones((_THIN, _THIN), np.uint8))
    return cv2.morphologyEx(opened, cv2.MORPH_CLOSE, np.ones((_HOLES, _HOLES), np.uint8)) > 0


def _pieces(weak: Marks, strong: Marks) -> list[Rectangle]:
    """Give the pieces that hang together, but for specks, and for what is faint everywhere."""
    count, numbers, facts, _ = cv2.connectedComponentsWithStats(weak.astype(np.uint8))
    strength = np.bincount(numbers[strong], minlength=count)
    return [
        Rectangle(left, top, left + wide, top + high)
        for number, (left, top, wide, high, area) in enumerate(facts.tolist())
        if number and area > _SPECK * weak.size and strength[number] > _LEAST_STRONG * area
    ]


def _is_picture(region: Rectangle, soft: Levels, off: Levels, weak: Marks) -> bool:
    marks = weak[region.inside]
    filled = float(marks.mean())
    if filled < _FILLED or (filled < _WELL_FILLED and not _is_apart(region, weak)):
        return False
    darkest, lightest = np.percentile(soft[region.inside][marks], (5, 95))
    if lightest - darkest >= _CONTRAST:
        return True
    return filled >= _QUITE_FILLED and float(np.median(off[region.inside][marks])) >= _CLEARLY_OFF


def _is_apart(region: Rectangle, weak: Marks) -> bool:
    return _is_straight(weak[region.inside]) or _is_bare_round(region, weak)


def _is_bare_round(region: Rectangle, weak: Marks) -> bool:
    """Whether there is hardly anything but paper round a region, which touches no edge of the page."""
    more = max(_LEAST_BESIDE, round(_ROUND * len(weak)))
    left, top, right, bottom = region
    if min(left, top, weak.shape[1] - right, weak.shape[0] - bottom) < more:
        return False
    wide = Rectangle(left - more, top - more, right + more, bottom + more)
    around = int(weak[wide.inside].sum()) - int(weak[region.inside].sum())
    return around <= _HARDLY * (wide.area - region.area)


def _is_straight(marks: Marks) -> bool:
    straight = 0
    for turned in (marks, marks[::-1], marks.T, marks.T[::-1]):
        deep = max(_LEAST_BESIDE, round(_BESIDE_EDGE * len(turned)))
        straight += float(turned[:deep].any(axis=0).mean()) >= _ALONG_EDGE
    return straight >= _STRAIGHT_SIDES
