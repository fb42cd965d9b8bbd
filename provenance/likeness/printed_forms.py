"""What two papers share because they are of one make, and not because one was copied: letterheads, and filled-in forms.

Common practice, no source; the limits were chosen on letters and cards made for the tests.
"""

from typing import Final

import numpy as np
import numpy.typing as npt

from provenance.likeness.letters import Codes
from provenance.likeness.text_holdings import Numbers

_NEAR_EDGE: Final = 60
_SURE_RUN: Final = 3
_LEAST_ENTRY: Final = 5
_MOST_ENTRY: Final = 200
_LEAST_ENTRIES: Final = 2
_LEAST_FIGURES: Final = 2


def is_letterhead(one: Numbers, other: Numbers, lengths: tuple[int, int]) -> bool:
    """Whether aligned letters only stand at the head of both texts, or at the foot of both.

    There a letter has the name of its office, the date, and who is greeted how. What makes up half of the shorter text
    and more is no letterhead.

    Args:
        one: places of the aligned letters in the first text.
        other: places of their counterparts in the second.
        lengths: of the two texts, in letters.
    """
    if 2 * len(one) >= min(lengths):
        return False
    at_head = one.min() <= _NEAR_EDGE and other.min() <= _NEAR_EDGE
    at_foot = lengths[0] - one.max() <= _NEAR_EDGE and lengths[1] - other.max() <= _NEAR_EDGE
    return bool(at_head or at_foot)


def is_filled_in(codes: tuple[Codes, Codes], one: Numbers, other: Numbers) -> bool:
    """Whether two texts are one form with other entries: what is printed agrees, and entries and figures do not.

    Misreadings change a letter here and there. An entry is other words in the place of words: a stretch of five letters
    and more on both sides of which not half agree, between stretches that do. A copy may have one such place; a form
    has two and more, and among them figures that differ.

    Args:
        codes: the letters of the two texts.
        one: places of the aligned letters in the first text.
        other: places of their counterparts in the second.
    """
    order = np.argsort(one, kind="stable")
    one, other = one[order], other[order]
    equal = codes[0][one] == codes[1][other]
    figures = _are_figures(codes[0][one]) & _are_figures(codes[1][other])
    if int((figures & ~equal).sum()) < _LEAST_FIGURES:
        return False
    sure = _in_runs(equal, one, other)
    ones, others = one[sure], other[sure]
    wide, wide_other = np.diff(ones) - 1, np.diff(others) - 1
    is_long = (wide >= _LEAST_ENTRY) & (wide_other >= _LEAST_ENTRY) & (np.maximum(wide, wide_other) <= _MOST_ENTRY)
    agreeing = np.diff(np.searchsorted(one[equal], ones)) - 1
    entries = is_long & (2 * agreeing < np.maximum(wide, wide_other))
    return int(entries.sum()) >= _LEAST_ENTRIES


def _are_figures(codes: Codes) -> npt.NDArray[np.bool_]:
    return (codes >= ord("0")) & (codes <= ord("9"))


def _in_runs(equal: npt.NDArray[np.bool_], one: Numbers, other: Numbers) -> npt.NDArray[np.bool_]:
    """Which pairs of letters agree together with the pairs beside them, so that they are hardly there by chance."""
    goes_on = (np.diff(one) == 1) & (np.diff(other) == 1) & equal[1:] & equal[:-1]
    starts = np.concatenate(([True], ~goes_on))
    run = np.cumsum(starts) - 1
    long: npt.NDArray[np.bool_] = equal & (np.bincount(run)[run] >= _SURE_RUN)
    return long
