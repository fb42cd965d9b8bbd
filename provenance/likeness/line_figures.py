"""Figures drawn in lines that stand among text: diagrams, maps, line blocks.

A figure is told by lines that run farther than letters reach, and are no rule, no frame and no table. Every threshold
here is common practice, no source; they were chosen on made pages.
"""

import cv2
import numpy as np

from provenance.likeness.rectangles import Rectangle, join_near
from provenance.likeness.small_page import MOST_NOISE, Marks, SmallPage

_LONG, _ROUND_A_PAGE = 0.05, 0.85
_NEAR = 0.012
_LEAST_SHARE, _LEAST_SIDE = 0.04, 0.08
_MOST_WORDS = 0.35


def find_figures(page: SmallPage) -> tuple[Rectangle, ...]:
    """Find the figures on a page, the largest first; what within photographs looks like them is found too."""
    if page.noise > MOST_NOISE:
        return ()
    rows, columns = page.shape
    ink = page.ink
    pieces = _pieces(ink & ~page.words)
    drawn = [each for each in pieces if each.wide >= _LONG * columns and each.high >= _LONG * rows]
    near = _NEAR * rows
    around = join_near((each for each in drawn if not _is_round_page(each, page.shape)), near)
    found = [each for each in around if _is_large(each, page.shape) and _is_drawn(each, ink, page.words)]
    return tuple(sorted(found, key=lambda each: (-each.area, each)))


def _pieces(ink: Marks) -> list[Rectangle]:
    thick = cv2.dilate(ink.astype(np.uint8), np.ones((3, 3), np.uint8))
    _, _, facts, _ = cv2.connectedComponentsWithStats(thick)
    return [Rectangle(left, top, left + wide, top + high) for left, top, wide, high, _ in facts[1:].tolist()]


def _is_round_page(piece: Rectangle, shape: tuple[int, int]) -> bool:
    return piece.high >= _ROUND_A_PAGE * shape[0] and piece.wide >= _ROUND_A_PAGE * shape[1]


def _is_large(figure: Rectangle, shape: tuple[int, int]) -> bool:
    rows, columns = shape
    is_wide = figure.wide >= _LEAST_SIDE * columns and figure.high >= _LEAST_SIDE * rows
    return is_wide and figure.area >= _LEAST_SHARE * rows * columns


def _is_drawn(figure: Rectangle, ink: Marks, words: Marks) -> bool:
    """Whether the ink within is mostly no word: in a table or a box of text it is."""
    inside = ink[figure.inside]
    return bool((inside & words[figure.inside]).sum() <= _MOST_WORDS * inside.sum())
