"""Local alignment of stretches of two texts: the best scoring run of letters that answer one another.

Smith and Waterman, "Identification of common molecular subsequences", Journal of Molecular Biology 147, 1981, with a
cost for each letter that has no counterpart, within a band of diagonals; many stretches are aligned side by side.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from provenance.likeness.letters import Codes

EQUAL = 1
"""What a pair of equal letters adds to the score."""
UNEQUAL = -1
"""What a pair of unequal letters adds."""
GAP = -1
"""What a letter without a counterpart adds."""
BEYOND_ONE = 0xFFFE
BEYOND_OTHER = 0xFFFF
"""No letters, so that they are equal to none, nor to one another: what stands beyond the ends of a text."""
_MOST_CELLS = 6_000_000

Scores = npt.NDArray[np.int16]


@dataclass(frozen=True, slots=True, eq=False)
class Stretch:
    """Two pieces of text to be aligned.

    Attributes:
        one: letters of the first, at most 10,000.
        other: letters of the second.
        low: the least diagonal looked at: place in `other` less place in `one`.
        high: the greatest one.
    """

    one: Codes
    other: Codes
    low: int
    high: int


@dataclass(frozen=True, slots=True, eq=False)
class Alignment:
    """The best local alignment of a stretch.

    Attributes:
        score: the sum of what its pairs and its letters without counterpart add; 0 where no letters are equal.
        one: places in the first piece, each paired with
        other: the place in the second; in order, letters without counterpart left out.
    """

    score: int
    one: npt.NDArray[np.int64]
    other: npt.NDArray[np.int64]


def whole(one: Codes, other: Codes) -> Stretch:
    """Two pieces to be aligned without a band."""
    return Stretch(one, other, -max(0, len(one) - 1), max(0, len(other) - 1))


def align(stretches: Sequence[Stretch], least: int = 1) -> list[Alignment]:
    """Align each stretch, as many side by side as memory allows.

    Args:
        stretches: any number.
        least: the pairs of an alignment with a lower score are not told.
    """
    found: dict[int, Alignment] = {}
    for batch in _batches(stretches):
        picked = [stretches[n] for n in batch]
        pairs = _pair_scores(picked)
        found.update(zip(batch, _trace_all(pairs, _fill(pairs), picked, least), strict=True))
    return [found[n] for n in range(len(stretches))]


def window_scores(ones: Codes, others: Codes) -> npt.NDArray[np.int16]:
    """The score of the best local alignment in each of many small windows of one size.

    Args:
        ones: windows of the first texts, one a row, n letters each; `BEYOND_ONE` where there is none.
        others: windows of the second texts, n + wide letters each; `BEYOND_OTHER` where there is none. The diagonals
            looked at are 0 to `wide` - 1.
    """
    deep, wide = ones.shape[1], others.shape[1] - ones.shape[1]
    ones, others = np.ascontiguousarray(ones.T), np.ascontiguousarray(others.T)
    slope = np.broadcast_to(_slope(wide)[:, None], (wide, ones.shape[1]))
    above, here, best = slope.copy(), slope.copy(), slope.copy()
    down = np.empty((wide - 1, ones.shape[1]), dtype=np.int16)
    for row in range(deep):
        np.multiply(others[row : row + wide] == ones[row], np.int16(EQUAL - UNEQUAL), out=here)
        np.add(here, np.int16(UNEQUAL), out=here)
        np.add(here, above, out=here)
        np.add(above[1:], np.int16(2 * GAP), out=down)
        np.maximum(here[:-1], down, out=here[:-1])
        np.maximum(here, slope, out=here)
        np.maximum.accumulate(here, axis=0, out=here)
        np.maximum(best, here, out=best)
        above, here = here, above
    scores: npt.NDArray[np.int16] = (best - slope).max(axis=0, initial=0)
    return scores


def _batches(stretches: Sequence[Stretch]) -> list[list[int]]:
    order = sorted(range(len(stretches)), key=lambda n: (len(stretches[n].one), stretches[n].high - stretches[n].low))
    batches: list[list[int]] = []
    wide = 0
    for n in order:
        stretch = stretches[n]
        wide_with = max(wide, stretch.high - stretch.low + 1)
        if batches and (len(batches[-1]) + 1) * len(stretch.one) * wide_with <= _MOST_CELLS:
            batches[-1].append(n)
            wide = wide_with
        else:
            batches.append([n])
            wide = stretch.high - stretch.low + 1
    return batches


def _slope(wide: int) -> Scores:
    return np.arange(wide, dtype=np.int16) * np.int16(-GAP)


def _pair_scores(stretches: Sequence[Stretch]) -> Scores:
    """What each pair of letters adds: by letter of the first, stretch and diagonal."""
    deep = max(len(stretch.one) for stretch in stretches)
    wide = max(stretch.high - stretch.low + 1 for stretch in stretches)
    ones = np.full((len(stretches), deep), BEYOND_ONE, dtype=np.uint16)
    others = np.full((len(stretches), deep + wide), BEYOND_OTHER, dtype=np.uint16)
    for n, stretch in enumerate(stretches):
        ones[n, : len(stretch.one)] = stretch.one
        begin, end = max(0, stretch.low), min(len(stretch.other), stretch.low + deep + wide)
        if begin < end:
            others[n, begin - stretch.low : end - stretch.low] = stretch.other[begin:end]
    windows = np.lib.stride_tricks.sliding_window_view(others, wide, axis=1)[:, :deep]
    equal = windows.transpose(1, 0, 2) == ones.T[:, :, None]
    return np.where(equal, np.int16(EQUAL), np.int16(UNEQUAL))


def _fill(pairs: Scores) -> Scores:
    """The best score that ends at each cell, plus the slope of its diagonal; first comes a row before all letters.

    With the slope added, a letter of the second without counterpart costs nothing from one cell to the next: the best
    of a row is a running maximum.
    """
    deep, count, wide = pairs.shape
    slope = np.broadcast_to(_slope(wide), (count, wide))
    filled = np.empty((deep + 1, count, wide), dtype=np.int16)
    filled[0] = slope
    down = np.empty((count, max(0, wide - 1)), dtype=np.int16)
    for row in range(deep):
        above, here = filled[row], filled[row + 1]
        np.add(above, pairs[row], out=here)
        np.add(above[:, 1:], np.int16(2 * GAP), out=down)
        np.maximum(here[:, :-1], down, out=here[:, :-1])
        np.maximum(here, slope, out=here)
        np.maximum.accumulate(here, axis=1, out=here)
    return filled


def _trace_all(pairs: Scores, filled: Scores, stretches: Sequence[Stretch], least: int) -> list[Alignment]:
    return [_trace(pairs[:, n], filled[:, n], stretch.low, least) for n, stretch in enumerate(stretches)]


def _trace(pairs: Scores, filled: Scores, low: int, least: int) -> Alignment:
    best = filled - _slope(filled.shape[1])
    row, diagonal = (int(place) for place in np.unravel_index(int(np.argmax(best)), best.shape))
    score = int(best[row, diagonal])
    runs: list[tuple[int, int, int]] = []  # first row, row after the last, diagonal
    while score >= least and best[row, diagonal] > 0:
        run = _run_up(pairs, filled, best, row, diagonal)
        if run:
            runs.append((row - run, row, diagonal))
            row -= run
        elif diagonal and filled[row, diagonal] == filled[row, diagonal - 1]:
            diagonal -= 1
        else:
            row, diagonal = row - 1, diagonal + 1
    runs.reverse()
    one = np.concatenate([np.arange(first, after) for first, after, _ in runs] or [np.zeros(0, dtype=np.int64)])
    other = np.concatenate([np.arange(f, a) + d + low for f, a, d in runs] or [np.zeros(0, dtype=np.int64)])
    return Alignment(score, one, other)


def _run_up(pairs: Scores, filled: Scores, best: Scores, row: int, diagonal: int) -> int:
    """How many pairs in a row lead to a cell along its diagonal."""
    column = filled[: row + 1, diagonal]
    led = (column[1:] == column[:-1] + pairs[:row, diagonal]) & (best[1 : row + 1, diagonal] > 0)
    unled = np.flatnonzero(~led)
    return row - (int(unled[-1]) + 1 if len(unled) else 0)
