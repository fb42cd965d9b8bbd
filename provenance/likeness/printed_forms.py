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
_TELLING_RUN: Final = 4
_APART: Final = 60
_LEAST_ENTRY: Final = 5
_MOST_ENTRY: Final = 200
_LEAST_ENTRIES: Final = 2
_LEAST_FIGURES: Final = 2
_AGREES_BESIDE: Final = 0.95


def beside_letterheads(codes: tuple[Codes, Codes], one: Numbers, other: Numbers) -> npt.NDArray[np.bool_]:
    """Which of the aligned letters of two texts are not of a letterhead: all of them where there is none.

    A letter has at its head the name of its office, the date, and who is greeted how; and how it ends at its foot. So
    what two texts have in common at the head of both, or at the foot of both, is taken for that; unless it goes on
    until it makes up half of the shorter text.

    Args:
        codes: the letters of the two texts.
        one: places of the aligned letters in the first text.
        other: places of their counterparts in the second.
    """
    order = np.argsort(one, kind="stable")
    equal = codes[0][one[order]] == codes[1][other[order]]
    sure = order[_in_runs(equal, one[order], other[order], _TELLING_RUN)]
    chains = np.split(sure, np.flatnonzero((np.diff(one[sure]) > _APART) | (np.diff(other[sure]) > _APART)) + 1)
    lengths = len(codes[0]), len(codes[1])
    heads = [len(chain) > 0 and _is_letterhead(one[chain], other[chain], lengths) for chain in chains]
    if not any(heads):
        return np.ones(len(one), dtype=np.bool_)
    kept = np.zeros(len(one), dtype=np.bool_)
    for chain, is_head in zip(chains, heads, strict=True):
        if not is_head and len(chain):
            kept |= (one >= one[chain].min()) & (one <= one[chain].max())
    return kept


def _is_letterhead(one: Numbers, other: Numbers, lengths: tuple[int, int]) -> bool:
    if 2 * (one.max() - one.min() + 1) >= min(lengths):
        return False
    at_head = one.min() <= _NEAR_EDGE and other.min() <= _NEAR_EDGE
    at_foot = lengths[0] - one.max() <= _NEAR_EDGE and lengths[1] - other.max() <= _NEAR_EDGE
    return bool(at_head or at_foot)


def is_filled_in(codes: tuple[Codes, Codes], one: Numbers, other: Numbers) -> bool:
    """Whether two texts are one form with other entries: what is printed agrees, and entries and figures do not.

    Misreadings change a letter here and there. An entry is other words in the place of words: a stretch of five letters
    and more on both sides of which not half agree, between stretches that do. A copy may have one such place; a form
    has two and more, and among them figures that differ. Where so much is misread that not 95 letters of a hundred
    agree beside such places, they are nothing to go by.

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
    sure = _in_runs(equal, one, other, _SURE_RUN)
    ones, others = one[sure], other[sure]
    wide, wide_other = np.diff(ones) - 1, np.diff(others) - 1
    is_long = (wide >= _LEAST_ENTRY) & (wide_other >= _LEAST_ENTRY) & (np.maximum(wide, wide_other) <= _MOST_ENTRY)
    agreeing = np.diff(np.searchsorted(one[equal], ones)) - 1
    entries = is_long & (2 * agreeing < np.maximum(wide, wide_other))
    if int(entries.sum()) < _LEAST_ENTRIES:
        return False
    begins, ends = np.searchsorted(one, ones[:-1][entries], "right"), np.searchsorted(one, ones[1:][entries])
    is_entry = np.zeros(len(one) + 1, dtype=np.int64)
    np.add.at(is_entry, begins, 1)
    np.add.at(is_entry, ends, -1)
    return bool(equal[np.cumsum(is_entry)[:-1] == 0].mean() >= _AGREES_BESIDE)


def _are_figures(codes: Codes) -> npt.NDArray[np.bool_]:
    return (codes >= ord("0")) & (codes <= ord("9"))


def _in_runs(equal: npt.NDArray[np.bool_], one: Numbers, other: Numbers, least: int) -> npt.NDArray[np.bool_]:
    """Which pairs of letters agree together with the pairs beside them, `least` in a row and more."""
    goes_on = (np.diff(one) == 1) & (np.diff(other) == 1) & equal[1:] & equal[:-1]
    starts = np.concatenate(([True], ~goes_on))
    run = np.cumsum(starts) - 1
    long: npt.NDArray[np.bool_] = equal & (np.bincount(run)[run] >= least)
    return long
