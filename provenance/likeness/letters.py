"""A text folded to its letters and figures, and what is worked out from them: runs hashed, some of them chosen, words.

Nothing but letters and figures counts, so that spaces, stops, line ends, hyphens at a line's end, capitals and accents,
which readings of one page seldom agree on, make no difference.
"""

import re
import unicodedata
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

Codes = npt.NDArray[np.uint16]
Hashes = npt.NDArray[np.uint64]
Places = npt.NDArray[np.int64]

GRAM = 7
"""Letters in a run that two texts are first found by: our own choice, by the benchmark `texts`."""
WINDOW = 4
"""Of so many runs that follow one another at least one is kept: our own choice, by the benchmark `texts`.

Every stretch of `WINDOW + GRAM - 1` letters that two texts have in common then has a kept run in common (Schleimer,
Wilkerson and Aiken, "Winnowing: local algorithms for document fingerprinting", SIGMOD 2003).
"""
_FEWEST_KINDS = 3
_BASE = 0x9E3779B97F4A7C15
_INVERSE = pow(_BASE, -1, 2**64)
_JOINED_OVER = re.compile(r"[-\u2010\u00ac]\s*\n\s*|\u00ad\s*")


@dataclass(frozen=True, slots=True, eq=False)
class Letters:
    """The letters and figures of a text.

    Attributes:
        codes: each letter, as its Unicode number in 16 bits; letters beyond those are put into the range of the
            surrogates, where a few of them may coincide.
        at: for each letter the offset of its character in the text, from 0; several letters have the same one where one
            character stands for them (a ligature).
    """

    codes: Codes
    at: npt.NDArray[np.int32]

    def __len__(self) -> int:
        """How many letters and figures there are."""
        return len(self.codes)


def fold(text: str) -> Letters:
    """Fold a text to its letters and figures: compatible forms (NFKC), small letters, no accents."""
    points = np.frombuffer(text.encode("utf-32-le", "surrogatepass"), dtype="<u4")
    kinds, which = np.unique(points, return_inverse=True)
    folded = [_codes_of(int(point)) for point in kinds]
    lengths = np.array([len(codes) for codes in folded], dtype=np.int64)
    table = np.array([code for codes in folded for code in codes], dtype=np.uint16)
    first = np.cumsum(lengths) - lengths
    each = lengths[which]
    before = np.cumsum(each) - each
    within = np.arange(int(each.sum())) - np.repeat(before, each)
    codes = table[np.repeat(first[which], each) + within]
    return Letters(codes, np.repeat(np.arange(len(points), dtype=np.int32), each))


@lru_cache(maxsize=10_000)
def _codes_of(point: int) -> tuple[int, ...]:
    apart = unicodedata.normalize("NFD", unicodedata.normalize("NFKC", chr(point)).casefold())
    bare = unicodedata.normalize("NFC", "".join(c for c in apart if unicodedata.category(c) != "Mn"))
    codes = (ord(letter) for letter in bare if letter.isalnum())
    return tuple(code if code <= 0xFFFF else 0xD800 | (code & 0x7FF) for code in codes)


def hash_runs(codes: Codes, starts: Places, ends: Places) -> Hashes:
    """A number of 64 bits for each run of letters, the same for equal runs on every machine and in every version.

    A polynomial over the run modulo 2**64, its bits then mixed as in the last step of SplitMix64 (Steele, Lea and
    Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014).
    """
    powers = _powers(_BASE, len(codes))
    sums = np.zeros(len(codes) + 1, dtype=np.uint64)
    np.cumsum((codes.astype(np.uint64) + np.uint64(1)) * powers[: len(codes)], out=sums[1:])
    runs = (sums[ends] - sums[starts]) * _powers(_INVERSE, len(codes))[starts]
    return _mixed(runs + (ends - starts).astype(np.uint64))


def _powers(base: int, most: int) -> Hashes:
    powers = np.full(most + 1, base, dtype=np.uint64)
    powers[0] = 1
    return np.cumprod(powers, dtype=np.uint64)


def _mixed(hashes: Hashes) -> Hashes:
    hashes = (hashes ^ (hashes >> np.uint64(30))) * np.uint64(0xBF58476D1CE4E5B9)
    hashes = (hashes ^ (hashes >> np.uint64(27))) * np.uint64(0x94D049BB133111EB)
    return hashes ^ (hashes >> np.uint64(31))


def gram_hashes(codes: Codes) -> Hashes:
    """The hash of each run of `GRAM` letters, by the letter it begins with; empty for a shorter text."""
    starts = np.arange(max(0, len(codes) - GRAM + 1))
    return hash_runs(codes, starts, starts + GRAM)


def winnow(hashes: Hashes, window: int = WINDOW) -> Places:
    """Places such that of any `window` hashes in a row the smallest is among them, the last one where several are.

    Of fewer hashes than a window the smallest is taken.
    """
    if not len(hashes):
        return np.zeros(0, dtype=np.int64)
    window = min(window, len(hashes))
    windows = np.lib.stride_tricks.sliding_window_view(hashes, window)[:, ::-1]
    places = np.arange(len(windows)) + window - 1 - np.argmin(windows, axis=1)
    return np.unique(places)


def telling(codes: Codes) -> npt.NDArray[np.bool_]:
    """For each run of `GRAM` letters whether it has three different letters or more: `ooooooo` tells nothing."""
    if len(codes) < GRAM:
        return np.zeros(0, dtype=np.bool_)
    runs = np.sort(np.lib.stride_tricks.sliding_window_view(codes, GRAM), axis=1)
    kinds: npt.NDArray[np.bool_] = (np.diff(runs, axis=1) != 0).sum(axis=1) + 1 >= _FEWEST_KINDS
    return kinds


def words_of(text: str, letters: Letters) -> tuple[Places, Places]:
    """Where the words of a text begin and end, counted in its letters; a word broken at a line's end is one word."""
    if not len(letters):
        return np.zeros(0, dtype=np.int64), np.zeros(0, dtype=np.int64)
    wide = np.flatnonzero(np.diff(letters.at) > 1)
    gaps, begins, ends = wide.tolist(), letters.at[wide] + 1, letters.at[wide + 1]
    between = [text[begin:end] for begin, end in zip(begins.tolist(), ends.tolist(), strict=True)]
    apart = [gap for gap, passed in zip(gaps, between, strict=True) if passed == " " or not _joined(passed)]
    breaks = np.array(apart, dtype=np.int64) + 1
    return np.concatenate(([0], breaks)), np.concatenate((breaks, [len(letters)]))


def _joined(between: str) -> bool:
    if between.isascii():
        return between[0] == "-" and "\n" in between and between[1:].isspace()
    return bool(_JOINED_OVER.fullmatch(between)) or all(unicodedata.category(c) in {"Mn", "Me"} for c in between)
