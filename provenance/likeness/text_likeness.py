"""Whether a text comes back in others: runs of letters in common, extended to aligned spans, then judged."""

from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np
import numpy.typing as npt

from provenance.likeness.alignment import BEYOND_ONE, BEYOND_OTHER, Alignment, Stretch, align, window_scores
from provenance.likeness.letters import GRAM, WINDOW, Codes, fold
from provenance.likeness.shared_runs import BAND, RARE_FAMILIES, Runs, shared_runs
from provenance.likeness.text_holdings import Holdings, Numbers
from provenance.likeness.values import Likeness, TextMatch

TEXT_METHOD: Final = f"letter runs 1, {GRAM} letters, window {WINDOW}, rare in {RARE_FAMILIES}"
COPY_LETTERS: Final = 150
POSSIBLE_LETTERS: Final = 80
LEAST_SCORE: Final = 30
_ROUGH: Final = 44
_SHIFTED: Final = 3
_ROUGHLY_ENOUGH: Final = 46
_HALF: Final = 60
_SLACK: Final = 8
_BEYOND_ENDS: Final = 160
_SPLIT_AT: Final = 240
_PIECE: Final = 2_000
_LEAST_SPAN: Final = 24

Flags = npt.NDArray[np.bool_]


def find_matches(
    holdings: Holdings, number: int, family_of: Callable[[str], str], without: Collection[str]
) -> tuple[TextMatch, ...]:
    """In which other texts the text of a number, or a part of it, stands; best first, then by key."""
    codes = holdings.letters(number)
    if len(codes) < POSSIBLE_LETTERS:
        return ()

    def family(text: int) -> str:
        return family_of(holdings.keys[text])

    runs = shared_runs(holdings, number, family)
    runs = _checked(holdings, number, runs)
    is_common = _common(runs, len(codes), family, family(number))
    left = np.concatenate(([0], np.cumsum(~is_common)))
    near = left[np.minimum(runs.end + _HALF, len(codes))] - left[np.maximum(runs.begin - _HALF, 0)]
    skipped = np.array([holdings.keys[text] in without for text in runs.text.tolist()], dtype=np.bool_)
    runs = runs.only((near >= _LEAST_SPAN) & ~skipped)
    found = _judge_all(holdings, number, runs, is_common)
    return tuple(sorted(found, key=lambda match: (-match.score, match.key)))


def _checked(holdings: Holdings, number: int, runs: Runs) -> Runs:
    """The runs that stand in a neighbourhood that agrees as copies do."""
    runs = runs.only(_roughly_agreeing(holdings, number, runs))
    middle = (runs.begin + runs.end) // 2 - _HALF
    ones = holdings.windows(np.full(len(runs), number), middle, 2 * _HALF, BEYOND_ONE)
    others = holdings.windows(runs.text, middle + runs.low - _SLACK, 2 * _HALF + BAND + 2 * _SLACK, BEYOND_OTHER)
    return runs.only(window_scores(ones, others) >= LEAST_SCORE)


def _roughly_agreeing(holdings: Holdings, number: int, runs: Runs) -> Flags:
    """Which runs have about their first gram many letters that stand in the other text too, give or take a few places.

    Quick, and so the first to be looked at: it leaves one run of twenty that is there by chance.
    """
    begin = runs.begin - _ROUGH
    ones = holdings.windows(np.full(len(runs), number), begin, 2 * _ROUGH, BEYOND_ONE)
    others = holdings.windows(runs.text, begin + runs.first - _SHIFTED, 2 * (_ROUGH + _SHIFTED), BEYOND_OTHER)
    agrees = np.zeros(ones.shape, dtype=np.bool_)
    for shift in range(2 * _SHIFTED + 1):
        agrees |= ones == others[:, shift : shift + 2 * _ROUGH]
    return np.asarray(agrees.sum(axis=1) >= _ROUGHLY_ENOUGH)


def _common(runs: Runs, letters: int, family: Callable[[int], str], own: str) -> Flags:
    """Which letters stand in stretches that more than a few families have."""
    texts, which = np.unique(runs.text, return_inverse=True)
    names: dict[str, int] = {own: 0}
    families = np.array([names.setdefault(family(text), len(names)) for text in texts.tolist()], dtype=np.int64)
    edges = np.zeros((len(names), letters + 1), dtype=np.int64)
    if len(runs):
        np.add.at(edges, (families[which], runs.begin), 1)
        np.add.at(edges, (families[which], runs.end), -1)
    in_family = np.cumsum(edges, axis=1)[1:, :letters] > 0
    common: Flags = in_family.sum(axis=0) > RARE_FAMILIES
    return common


@dataclass(frozen=True, slots=True, eq=False)
class _Piece:
    """A stretch of one pair of texts, with the place where it begins in each."""

    text: int
    one: int
    other: int
    stretch: Stretch


def _judge_all(holdings: Holdings, number: int, runs: Runs, is_common: Flags) -> Iterator[TextMatch]:
    codes = holdings.letters(number)
    pieces: list[_Piece] = []
    for text in np.unique(runs.text).tolist():
        pieces.extend(_pieces(codes, holdings.letters(text), text, runs.only(runs.text == text)))
    found: dict[int, list[tuple[_Piece, Alignment]]] = {}
    for piece, alignment in zip(pieces, align([piece.stretch for piece in pieces], LEAST_SCORE), strict=True):
        if alignment.score >= LEAST_SCORE:
            found.setdefault(piece.text, []).append((piece, alignment))
    for text, aligned in found.items():
        match = _judged(holdings, number, text, aligned, is_common)
        if match is not None:
            yield match


def _pieces(codes: Codes, other: Codes, text: int, runs: Runs) -> Iterator[_Piece]:
    """The stretches in which the runs of one text lie, each as far as its neighbourhood goes."""
    order = np.argsort(runs.low)
    groups = np.split(order, np.flatnonzero(np.diff(runs.low[order]) > 2 * BAND) + 1)
    for group in groups:
        yield from _along(codes, other, text, runs.only(group))


def _along(codes: Codes, other: Codes, text: int, runs: Runs) -> Iterator[_Piece]:
    order = np.argsort(runs.begin)
    begins, ends = runs.begin[order], np.maximum.accumulate(runs.end[order])
    firsts = [0, *(np.flatnonzero(begins[1:] - ends[:-1] > _SPLIT_AT) + 1).tolist(), len(order)]
    for first, after in pairwise(firsts):
        begin = max(0, int(begins[first]) - _BEYOND_ENDS)
        end = min(len(codes), int(ends[after - 1]) + _BEYOND_ENDS)
        low = runs.low[order[first:after]]
        for start in range(begin, end, _PIECE):
            yield _piece(codes, other, text, (start, min(end, start + _PIECE)), (int(low.min()), int(low.max())))


def _piece(codes: Codes, other: Codes, text: int, rows: tuple[int, int], low: tuple[int, int]) -> _Piece:
    least, most = low[0] - BAND, low[1] + 2 * BAND
    begin = max(0, rows[0] + least)
    end = max(begin, min(len(other), rows[1] + most))
    shift = rows[0] - begin
    stretch = Stretch(codes[rows[0] : rows[1]], other[begin:end], least + shift, most + shift)
    return _Piece(text, rows[0], begin, stretch)


def _judged(
    holdings: Holdings, number: int, text: int, aligned: list[tuple[_Piece, Alignment]], is_common: Flags
) -> TextMatch | None:
    ones, others = _pairs(aligned, len(is_common), len(holdings.letters(text)))
    counted = ~is_common[ones]
    letters = int(counted.sum())
    if letters < POSSIBLE_LETTERS:
        return None
    one, other = fold(holdings.text(number)), fold(holdings.text(text))
    equal = int((one.codes[ones] == other.codes[others])[counted].sum())
    return TextMatch(
        key=holdings.keys[text],
        likeness=Likeness.COPY if letters >= COPY_LETTERS else Likeness.POSSIBLE,
        score=equal / (equal + COPY_LETTERS),
        letters=letters,
        alike=equal / letters,
        one=(int(one.at[ones.min()]), int(one.at[ones.max()]) + 1),
        other=(int(other.at[others.min()]), int(other.at[others.max()]) + 1),
        errors=(),
        why=f"{letters} letters in a row agree but for {letters - equal}",
    )


def _pairs(aligned: list[tuple[_Piece, Alignment]], most: int, most_other: int) -> tuple[Numbers, Numbers]:
    """The pairs of letters of all spans, best span first; a letter that has a counterpart gets no second one."""
    is_free, is_other_free = np.ones(most, dtype=np.bool_), np.ones(most_other, dtype=np.bool_)
    kept: list[tuple[Numbers, Numbers]] = []
    for piece, alignment in sorted(aligned, key=lambda pair: -pair[1].score):
        one, other = alignment.one + piece.one, alignment.other + piece.other
        free = is_free[one] & is_other_free[other]
        one, other = one[free], other[free]
        if len(one) < _LEAST_SPAN:
            continue
        is_free[one], is_other_free[other] = False, False
        kept.append((one, other))
    none = np.zeros(0, dtype=np.int64)
    return np.concatenate([none, *(one for one, _ in kept)]), np.concatenate([none, *(other for _, other in kept)])
