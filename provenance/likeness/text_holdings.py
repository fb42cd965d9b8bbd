"""All texts that an index holds, whichever file they lie in, under one numbering."""

from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate

import numpy as np
import numpy.typing as npt

from provenance.likeness.letters import Codes, Hashes
from provenance.likeness.text_segments import Segment

Numbers = npt.NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Holdings:
    """Segments one after the other; their texts are numbered on from 0.

    Attributes:
        segments: in the order in which they were written.
        dropped: for each of them the numbers, within it, of the texts that count no more.
    """

    segments: tuple[Segment, ...]
    dropped: tuple[frozenset[int], ...]

    @cached_property
    def first_numbers(self) -> list[int]:
        """The number of the first text of each segment, and of the one after the last."""
        return [0, *accumulate(len(segment.keys) for segment in self.segments)]

    @cached_property
    def is_held(self) -> npt.NDArray[np.bool_]:
        """For each number whether its text counts."""
        held = np.ones(self.first_numbers[-1], dtype=np.bool_)
        for first, dropped in zip(self.first_numbers[:-1], self.dropped, strict=True):
            held[[first + number for number in dropped]] = False
        return held

    @cached_property
    def lengths(self) -> Numbers:
        """How many letters each text has."""
        none = np.zeros(0, dtype=np.int64)
        each = [np.diff(segment.arrays["letters_from"].astype(np.int64)) for segment in self.segments]
        return np.concatenate([none, *each])

    @cached_property
    def letter_count(self) -> int:
        """How many letters all texts have together."""
        return int(self.lengths.sum())

    @cached_property
    def keys(self) -> list[str]:
        """The key of each number, of dropped texts too."""
        return [key for segment in self.segments for key in segment.keys]

    @cached_property
    def numbers(self) -> dict[str, int]:
        """The number of each text that counts."""
        return {key: number for number, key in enumerate(self.keys) if self.is_held[number]}

    def letters(self, number: int) -> Codes:
        """The letters of a text."""
        segment, within = self._find(number)
        return segment.letters(within)

    def windows(self, numbers: Numbers, begin: Numbers, wide: int, beyond: int) -> Codes:
        """So many letters of each of some texts, one text a row; `beyond` where they lie before or after the text.

        Args:
            numbers: of the texts.
            begin: the first letter of each window; below 0 before the text.
            wide: letters of a window.
            beyond: what stands for no letter.
        """
        windows = np.full((len(numbers), wide), beyond, dtype=np.uint16)
        place = np.searchsorted(self.first_numbers, numbers, side="right") - 1
        for n in np.unique(place).tolist():
            arrays = self.segments[n].arrays
            rows = np.flatnonzero(place == n)
            within = numbers[rows] - self.first_numbers[n]
            starts = arrays["letters_from"].astype(np.int64)
            at = (starts[within] + begin[rows])[:, None] + np.arange(wide)
            is_there = (at >= starts[within][:, None]) & (at < starts[within + 1][:, None])
            found = arrays["letters"][np.where(is_there, at, 0)]
            windows[rows] = np.where(is_there, found, np.uint16(beyond))
        return windows

    def text(self, number: int) -> str:
        """A text as it was given."""
        segment, within = self._find(number)
        return segment.text(within)

    def _find(self, number: int) -> tuple[Segment, int]:
        place = int(np.searchsorted(self.first_numbers, number, side="right")) - 1
        return self.segments[place], number - self.first_numbers[place]

    def gram_ranges(self, hashes: Hashes) -> list[tuple[Numbers, Numbers]]:
        """For each segment, between which rows each gram stands in it; `hashes` ascending."""
        return [_ranges(segment.arrays["gram_hash"], hashes) for segment in self.segments]

    def words_held(self, hashes: Hashes) -> Numbers:
        """In how many texts each word stands, dropped ones too."""
        ranges = [_ranges(segment.arrays["word_hash"], hashes) for segment in self.segments]
        return sum((high - low for low, high in ranges), np.zeros(len(hashes), dtype=np.int64))

    def texts_with(self, word: np.uint64, most: int) -> list[int]:
        """The texts that have a word, at most so many of each segment."""
        found: list[int] = []
        for first, segment in zip(self.first_numbers[:-1], self.segments, strict=True):
            low, high = _ranges(segment.arrays["word_hash"], np.array([word], dtype=np.uint64))
            texts = segment.arrays["word_text"][int(low[0]) : min(int(high[0]), int(low[0]) + most)].astype(np.int64)
            found += [text for text in (texts + first).tolist() if self.is_held[text]]
        return found

    def gram_texts(self, segment: int, rows: Numbers) -> Numbers:
        """The numbers of the texts in these rows of grams of a segment, dropped ones too."""
        return self.segments[segment].arrays["gram_text"][rows].astype(np.int64) + self.first_numbers[segment]

    def gram_places(self, segment: int, low: Numbers, high: Numbers) -> tuple[Numbers, Numbers, Numbers]:
        """All places between such rows, of texts that count: which range, the text, the letter it begins with."""
        each = high - low
        asked = np.repeat(np.arange(len(low)), each)
        rows = np.arange(len(asked)) + np.repeat(low - (np.cumsum(each) - each), each)
        text = self.gram_texts(segment, rows)
        kept = self.is_held[text]
        at = self.segments[segment].arrays["gram_at"][rows].astype(np.int64)
        return asked[kept], text[kept], at[kept]


def _ranges(held: Hashes, hashes: Hashes) -> tuple[Numbers, Numbers]:
    low = np.searchsorted(held, hashes, side="left")
    return low.astype(np.int64), np.searchsorted(held, hashes, side="right").astype(np.int64)
