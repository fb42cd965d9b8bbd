"""Whether a text comes back in others: runs of letters in common, extended to aligned spans, then judged."""

from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np
import numpy.typing as npt

from provenance.likeness.alignment import BEYOND_ONE, BEYOND_OTHER, Stretch, align, window_scores
from provenance.likeness.letters import GRAM, WINDOW, Codes, fold
from provenance.likeness.printed_forms import beside_letterheads, is_filled_in
from provenance.likeness.repetitive import equal_texts, is_repetitive
from provenance.likeness.shared_errors import Paired, shared_errors
from provenance.likeness.shared_runs import BAND, RARE_FAMILIES, Runs, shared_runs
from provenance.likeness.text_holdings import Holdings, Numbers
from provenance.likeness.values import Likeness, SharedError, TextMatch

TEXT_METHOD: Final = f"letter runs 1, {GRAM} letters, window {WINDOW}, rare in {RARE_FAMILIES}"
"""The name and version of the method: what another one kept is not read."""
COPY_LETTERS: Final = 150
"""So many letters that answer one another, and are not common, are a copy: our own choice, by the benchmark `texts`."""
POSSIBLE_LETTERS: Final = 80
"""So many may be one; fewer are a turn of speech."""
POSSIBLE_SCORE: Final = 40
"""What the letters counted have to score besides, or lists of the same few words would be alike."""
LEAST_SCORE: Final = 30
"""A span that scores less is not looked at: about the longest that two texts have in common by chance."""
_LEAST_PAIRS: Final = 24
_ROUGH: Final = 88
_SHIFTED: Final = 3
_ROUGHLY_ENOUGH: Final = 46
_HALF: Final = 60
_SLACK: Final = 8
_BEYOND_ENDS: Final = 160
_SPLIT_AT: Final = 240
_PIECE: Final = 2_000
_APART: Final = 60
_QUOTED: Final = 3

Flags = npt.NDArray[np.bool_]


def find_matches(
    holdings: Holdings, number: int, family_of: Callable[[str], str], without: Collection[str]
) -> tuple[TextMatch, ...]:
    """In which other texts the text of a number, or a part of it, stands; best first, then by key."""
    codes = holdings.letters(number)
    if len(codes) < POSSIBLE_LETTERS:
        return ()

    families = _Families(holdings, number, family_of)
    if is_repetitive(holdings.text(number)):
        return tuple(equal_texts(holdings, number, families.of, without))
    runs = _checked(holdings, number, shared_runs(holdings, number, families.of))
    covered = [(int(t), int(b), int(e)) for t, b, e in zip(runs.text, runs.begin, runs.end, strict=True)]
    left = np.concatenate(([0], np.cumsum(~families.common(covered))))
    near = left[np.minimum(runs.end + _HALF, len(codes))] - left[np.maximum(runs.begin - _HALF, 0)]
    skipped = np.array([holdings.keys[text] in without for text in runs.text.tolist()], dtype=np.bool_)
    spans = _align(holdings, number, runs.only((near >= _LEAST_PAIRS) & ~skipped))
    covered += [(span.text, int(span.one[0]), int(span.one[-1]) + 1) for span in spans]
    is_common = families.common(covered)
    texts = sorted({span.text for span in spans})
    judged = (_judged(families, [span for span in spans if span.text == text], is_common) for text in texts)
    return tuple(sorted((match for match in judged if match), key=lambda match: (-match.score, match.key)))


class _Families:
    """The families of copies that texts belong to, as seen from one text; each is asked for once."""

    def __init__(self, holdings: Holdings, number: int, family_of: Callable[[str], str]) -> None:
        """See from the text of a number."""
        self.holdings = holdings
        self.number = number
        self._family_of = family_of
        self._known: dict[int, str] = {}

    def of(self, number: int) -> str:
        """The family of a text."""
        if number not in self._known:
            self._known[number] = self._family_of(self.holdings.keys[number])
        return self._known[number]

    def common(self, covered: Iterable[tuple[int, int, int]]) -> Flags:
        """Which letters of the text stand in more than a few other families.

        Args:
            covered: texts, each with the first letter that it has in common with this one, and the letter after the
                last.
        """
        letters = int(self.holdings.lengths[self.number])
        edges: dict[str, npt.NDArray[np.int64]] = {}
        for text, begin, end in set(covered):
            edge = edges.setdefault(self.of(text), np.zeros(letters + 1, dtype=np.int64))
            edge[begin] += 1
            edge[end] -= 1
        edges.pop(self.of(self.number), None)
        depth = np.zeros(letters, dtype=np.int64)
        for edge in edges.values():
            depth += np.cumsum(edge[:letters]) > 0
        common: Flags = depth > RARE_FAMILIES
        return common


def _checked(holdings: Holdings, number: int, runs: Runs) -> Runs:
    """The runs that stand in a neighbourhood that agrees as copies do."""
    runs = runs.only(_roughly_agreeing(holdings, number, runs))
    begin = _neighbourhood(holdings, number, runs, 2 * _HALF)
    ones = holdings.windows(np.full(len(runs), number), begin, 2 * _HALF, BEYOND_ONE)
    others = holdings.windows(runs.text, begin + runs.low - _SLACK, 2 * _HALF + BAND + 2 * _SLACK, BEYOND_OTHER)
    return runs.only(window_scores(ones, others) >= LEAST_SCORE)


def _roughly_agreeing(holdings: Holdings, number: int, runs: Runs) -> Flags:
    """Which runs are long, or have about them many letters that stand in the other text too, give or take a few places.

    Quick, and so the first to be looked at: it leaves one run of twenty that is there by chance.
    """
    begin = _neighbourhood(holdings, number, runs, _ROUGH)
    ones = holdings.windows(np.full(len(runs), number), begin, _ROUGH, BEYOND_ONE)
    others = holdings.windows(runs.text, begin + runs.first - _SHIFTED, _ROUGH + 2 * _SHIFTED, BEYOND_OTHER)
    agrees = np.zeros(ones.shape, dtype=np.bool_)
    for shift in range(2 * _SHIFTED + 1):
        agrees |= ones == others[:, shift : shift + _ROUGH]
    return np.asarray((agrees.sum(axis=1) >= _ROUGHLY_ENOUGH) | (runs.end - runs.begin >= _ROUGH))


def _neighbourhood(holdings: Holdings, number: int, runs: Runs, wide: int) -> Numbers:
    """Where in the asked text a window of some letters about the middle of each run begins.

    It is moved so that it lies within both texts, if they are long enough.
    """
    least = np.maximum(0, -runs.first)
    most = np.minimum(holdings.lengths[number], holdings.lengths[runs.text] - runs.first) - wide
    begin: Numbers = np.minimum(np.maximum((runs.begin + runs.end - wide) // 2, least), np.maximum(least, most))
    return begin


@dataclass(frozen=True, slots=True, eq=False)
class _Piece:
    """A stretch of one pair of texts, with the place where it begins in each."""

    text: int
    one: int
    other: int
    stretch: Stretch


@dataclass(frozen=True, slots=True, eq=False)
class _Span:
    """An aligned span: places of letters of the asked text, each paired with one of the other; no letter has two."""

    text: int
    one: Numbers
    other: Numbers
    score: int


def _align(holdings: Holdings, number: int, runs: Runs) -> list[_Span]:
    """Align the asked text with all others about their runs."""
    codes = holdings.letters(number)
    pieces: list[_Piece] = []
    for text in np.unique(runs.text).tolist():
        pieces.extend(_pieces(codes, holdings.letters(text), text, runs.only(runs.text == text)))
    found: dict[int, list[_Span]] = {}
    for piece, alignment in zip(pieces, align([piece.stretch for piece in pieces], LEAST_SCORE), strict=True):
        if alignment.score >= LEAST_SCORE:
            span = _Span(piece.text, alignment.one + piece.one, alignment.other + piece.other, alignment.score)
            found.setdefault(piece.text, []).append(span)
    return [span for text, spans in found.items() for span in _apart(spans, len(codes), int(holdings.lengths[text]))]


def _apart(spans: list[_Span], letters: int, other_letters: int) -> Iterator[_Span]:
    """The spans of one pair of texts, best first, less what a better one has already."""
    is_free, is_other_free = np.ones(letters, dtype=np.bool_), np.ones(other_letters, dtype=np.bool_)
    for span in sorted(spans, key=lambda span: -span.score):
        free = is_free[span.one] & is_other_free[span.other]
        one, other = span.one[free], span.other[free]
        if len(one) >= _LEAST_PAIRS:
            is_free[one], is_other_free[other] = False, False
            yield _Span(span.text, one, other, span.score * len(one) // len(free))


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


def _judged(families: _Families, spans: list[_Span], is_common: Flags) -> TextMatch | None:
    """What the spans of one pair of texts come to; None where they are too little, or letterhead or form alone."""
    holdings, text = families.holdings, spans[0].text
    letters_of = holdings.letters(families.number), holdings.letters(text)
    ones, others = np.concatenate([span.one for span in spans]), np.concatenate([span.other for span in spans])
    if is_filled_in(letters_of, ones, others):
        return None
    own = beside_letterheads(letters_of, ones, others)
    ends = np.cumsum([len(span.one) for span in spans])[:-1]
    counted = [~is_common[span.one] & kept for span, kept in zip(spans, np.split(own, ends), strict=True)]
    letters = sum(int(flags.sum()) for flags in counted)
    score = sum(span.score * float(flags.mean()) for span, flags in zip(spans, counted, strict=True))
    if letters < POSSIBLE_LETTERS or score < POSSIBLE_SCORE:
        return None
    texts = holdings.text(families.number), holdings.text(text)
    one, other = fold(texts[0]), fold(texts[1])
    equal = int((one.codes[ones] == other.codes[others])[np.concatenate(counted)].sum())
    paired = Paired(texts[0], one, texts[1], other, ones, others)
    errors = shared_errors(holdings, paired, families.of, frozenset({families.of(families.number), families.of(text)}))
    return TextMatch(
        key=holdings.keys[text],
        likeness=Likeness.COPY if letters >= COPY_LETTERS else Likeness.POSSIBLE,
        score=equal / (equal + COPY_LETTERS),
        letters=letters,
        alike=equal / letters,
        one=(int(one.at[ones[own].min()]), int(one.at[ones[own].max()]) + 1),
        other=(int(other.at[others[own].min()]), int(other.at[others[own].max()]) + 1),
        errors=errors,
        why=_why(letters, letters - equal, _places(ones[np.concatenate(counted)]), errors),
    )


def _places(ones: Numbers) -> int:
    """In how many places letters stand that are no further apart than a few words."""
    return int((np.diff(np.sort(ones)) > _APART).sum()) + 1


def _why(letters: int, unequal: int, places: int, errors: tuple[SharedError, ...]) -> str:
    where = "in a row" if places == 1 else f"in {places} places"
    agree = f"agree but for {unequal}" if unequal else "agree"
    written = list(dict.fromkeys((error.written, error.usual) for error in errors))
    quoted = ", ".join(f"“{word}” (elsewhere “{usual}”)" for word, usual in written[:_QUOTED])
    more = f" and {len(written) - _QUOTED} more" if len(written) > _QUOTED else ""
    return f"{letters} letters {where} {agree}" + (f"; both have {quoted}{more}" if written else "")
