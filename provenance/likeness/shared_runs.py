"""Where runs of letters of one text stand in others at about one distance: the places that are worth a closer look."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from provenance.likeness.letters import GRAM, gram_hashes, telling
from provenance.likeness.text_holdings import Holdings, Numbers
from provenance.likeness.text_segments import thinned

RARE_FAMILIES: Final = 3
"""What stands in more families of copies than this, besides the asked text's own, is common: form, not copy."""
BAND: Final = 16
"""Letters that may be lost or added within a run before it counts as two."""
_FEW: Final = 96
_LOOKED_AT: Final = 8
_REACH: Final = 64
_LETTER_BITS: Final = 20
_MOST_LETTERS: Final = 1 << _LETTER_BITS
_SPARE_BITS: Final = 4.0


@dataclass(frozen=True, slots=True, eq=False)
class Runs:
    """Stretches of the asked text of which several grams stand in another text, all about as far apart as here.

    Attributes:
        text: the number of the other text.
        begin: the first letter, in the asked text.
        end: the letter after the last.
        low: the least distance: place in the other less place in the asked text; the greatest is `BAND - 1` more.
        first: the distance at the first gram.
    """

    text: Numbers
    begin: Numbers
    end: Numbers
    low: Numbers
    first: Numbers

    def __len__(self) -> int:
        """How many there are."""
        return len(self.text)

    def only(self, kept: npt.NDArray[np.bool_] | Numbers) -> "Runs":
        """Some of them."""
        return Runs(self.text[kept], self.begin[kept], self.end[kept], self.low[kept], self.first[kept])


def shared_runs(holdings: Holdings, number: int, family: Callable[[int], str]) -> Runs:
    """The runs that the text of a number shares with others and that are hardly there by chance.

    A single gram is taken as one where it stands in few texts.
    """
    codes = holdings.letters(number)[:_MOST_LETTERS]
    places = np.flatnonzero(telling(codes))
    hashes, places = thinned(gram_hashes(codes)[places], places)
    asked, text, at, often = _standing(holdings, hashes, family)
    is_other = text != number
    asked, text, at = asked[is_other], text[is_other], at[is_other]
    weight = np.zeros(len(codes))
    weight[places] = np.log2(np.maximum(holdings.letter_count / (BAND * np.maximum(often, 1)), 1))
    enough = np.log2(max(2.0, 2 * holdings.letter_count / BAND)) + _SPARE_BITS
    alone = np.zeros(len(codes), dtype=np.bool_)
    alone[places] = often <= RARE_FAMILIES + 1
    kept = np.sort((text << _LETTER_BITS + 1 | at - places[asked] + _MOST_LETTERS) << _LETTER_BITS | places[asked])
    kept = kept[_in_company(kept >> _LETTER_BITS) | alone[kept & (_MOST_LETTERS - 1)]]
    halves = [_runs(kept, weight, alone, enough, shift) for shift in (0, BAND // 2)]
    return Runs(*(np.concatenate([getattr(half, name) for half in halves]) for name in Runs.__slots__))


def _standing(
    holdings: Holdings, hashes: npt.NDArray[np.uint64], family: Callable[[int], str]
) -> tuple[Numbers, Numbers, Numbers, Numbers]:
    """For each place of a gram in a text: which gram, text and letter; and how often each gram stands anywhere.

    Of a gram that stands in many families only the places in the first texts are told: of grams that follow one another
    they are the same texts, so that these are enough to tell what is common.
    """
    ranges = holdings.gram_ranges(hashes)
    often = sum((high - low for low, high in ranges), np.zeros(len(hashes), dtype=np.int64))
    left = np.where(_in_many(holdings, ranges, often > _FEW, family), _FEW, often)
    found = []
    for segment, (low, high) in enumerate(ranges):
        each = np.minimum(high - low, left)
        left = left - each
        found.append(holdings.gram_places(segment, low, low + each))
    asked, text, at = (np.concatenate([part[n] for part in found]) for n in range(3))
    return asked, text, at, often


def _in_many(
    holdings: Holdings,
    ranges: list[tuple[Numbers, Numbers]],
    is_asked: npt.NDArray[np.bool_],
    family: Callable[[int], str],
) -> npt.NDArray[np.bool_]:
    """Which of some grams stand in many families, by a few of the texts that each stands in."""
    grams, texts = [np.zeros(0, dtype=np.int64)], [np.zeros(0, dtype=np.int64)]
    for segment, (low, high) in enumerate(ranges):
        here = np.flatnonzero(is_asked & (high > low))
        spread = np.arange(_LOOKED_AT) * (high - low)[here, None] // _LOOKED_AT + low[here, None]
        grams.append(np.repeat(here, _LOOKED_AT))
        texts.append(holdings.gram_texts(segment, spread.ravel()))
    kinds, which = np.unique(np.concatenate(texts), return_inverse=True)
    names: dict[str, int] = {}
    families = np.array([names.setdefault(family(text), len(names)) for text in kinds.tolist()], dtype=np.int64)
    pairs = np.unique(np.concatenate(grams) * max(1, len(names)) + families[which])
    return np.bincount(pairs // max(1, len(names)), minlength=len(is_asked)) > RARE_FAMILIES + 1


def _in_company(where: Numbers) -> npt.NDArray[np.bool_]:
    """Which of these have another beside them, of the same text and at about the same distance; ascending."""
    is_near = np.diff(where) < BAND
    company = np.zeros(len(where), dtype=np.bool_)
    company[1:] |= is_near
    company[:-1] |= is_near
    return company


def _runs(
    kept: Numbers, weight: npt.NDArray[np.float64], alone: npt.NDArray[np.bool_], enough: float, shift: int
) -> Runs:
    distance = (kept >> _LETTER_BITS) & (2 * _MOST_LETTERS - 1)
    bucket = (distance + shift) // BAND
    place = kept & (_MOST_LETTERS - 1)
    text = kept >> 2 * _LETTER_BITS + 1
    order = np.argsort((text << _LETTER_BITS | bucket) << _LETTER_BITS | place)
    text, bucket, place, distance = text[order], bucket[order], place[order], distance[order]
    step = np.diff(place, prepend=-_MOST_LETTERS)
    is_first = (np.diff(text, prepend=-1) != 0) | (np.diff(bucket, prepend=-1) != 0) | (step > _REACH)
    first = np.flatnonzero(is_first)
    last = np.append(first, len(kept))[1:] - 1
    new = np.where(is_first, GRAM, np.minimum(step, GRAM))
    bits = np.add.reduceat(weight[place] * new / GRAM, first) if len(first) else np.zeros(0)
    low = bucket[first] * BAND - _MOST_LETTERS - shift
    runs = Runs(text[first], place[first], place[last] + GRAM, low, distance[first] - _MOST_LETTERS)
    return runs.only((bits >= enough) | alone[runs.begin] | alone[place[last]])
