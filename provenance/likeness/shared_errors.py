"""Odd spellings that two texts have in common at the same place: hardly by chance, so one was copied from the other.

Common errors as evidence of descent: Maas, "Textkritik", 1927. What makes a spelling odd here is our own choice: it
stands in no other family of copies, while a word that is one letter from it (a letter changed, lost, added or swapped
with the next; Damerau, "A technique for computer detection and correction of spelling errors", CACM 7, 1964) stands in
two other families or more.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from provenance.likeness.letters import Codes, Letters, hash_runs, words_of
from provenance.likeness.text_holdings import Holdings, Numbers
from provenance.likeness.values import SharedError

_FEWEST_LETTERS: Final = 8
"""A shorter word with a letter changed is as often another word; so is a longer one, about once in ten pages."""
_USUAL_FAMILIES: Final = 2
_LOOKED_AT: Final = 64
_MOST_WORDS: Final = 200
_READ_ALIKE: Final = frozenset(
    frozenset(pair)
    for pair in ("ce", "co", "il", "ij", "lt", "ft", "hb", "nu", "nh", "mn", "uv", "vy", "gq", "rt", "sz")
)
"""Letters that recognisers take for one another: two readings may share such a change (common practice, no source)."""


@dataclass(frozen=True, slots=True, eq=False)
class Paired:
    """Two texts of which letters are paired.

    Attributes:
        text: the text of the first.
        letters: its letters.
        other: the letters of the second.
        other_text: its text.
        ones: places of letters of the first, each paired with
        others: the place in the second.
    """

    text: str
    letters: Letters
    other_text: str
    other: Letters
    ones: Numbers
    others: Numbers


def shared_errors(
    holdings: Holdings, paired: Paired, family: Callable[[int], str], own: frozenset[str]
) -> tuple[SharedError, ...]:
    """The odd spellings that both texts have at the same place, in order of place.

    Args:
        holdings: the archive's texts, by which a spelling is odd or usual.
        paired: the two texts.
        family: the family of copies of a text, by its number.
        own: the families of the two texts, in which an odd spelling may stand.
    """
    words = list(_equal_words(paired))
    starts, ends = np.array([(begin, end) for begin, end, _ in words], dtype=np.int64).reshape(-1, 2).T
    hashes = hash_runs(paired.letters.codes, starts, ends)
    meant: dict[str, str] = {}
    found: list[SharedError] = []
    for n in np.flatnonzero(holdings.words_held(hashes) <= _LOOKED_AT).tolist():
        begin, end, other = words[n]
        word = "".join(map(chr, paired.letters.codes[begin:end].tolist()))
        if word not in meant and len(meant) < _MOST_WORDS:
            is_odd = own.issuperset(map(family, holdings.texts_with(hashes[n], _LOOKED_AT)))
            meant[word] = _usual(holdings, word, family, own) if is_odd else ""
        if meant.get(word):
            at = int(paired.letters.at[begin]), int(paired.other.at[other])
            written = paired.text[at[0] : int(paired.letters.at[end - 1]) + 1]
            written = written if written.isalpha() else word  # broken at the end of a line
            found.append(SharedError(written=written, usual=meant[word], at_one=at[0], at_other=at[1]))
    return tuple(found)


def _equal_words(paired: Paired) -> Iterator[tuple[int, int, int]]:
    """Words of the first text that stand whole and equal at their place in the second: begin, end, begin there."""
    partner = np.full(len(paired.letters), -1, dtype=np.int64)
    partner[paired.ones] = paired.others
    other_ends = dict(zip(*(places.tolist() for places in words_of(paired.other_text, paired.other)), strict=True))
    starts, ends = words_of(paired.text, paired.letters)
    for begin, end in zip(starts.tolist(), ends.tolist(), strict=True):
        other = int(partner[begin])
        if end - begin < _FEWEST_LETTERS or other < 0 or other_ends.get(other) != other + end - begin:
            continue
        codes = paired.letters.codes[begin:end]
        is_paired = np.array_equal(partner[begin:end], np.arange(other, other + end - begin))
        if is_paired and np.array_equal(codes, paired.other.codes[other : other + end - begin]) and _is_word(codes):
            yield begin, end, other


def _is_word(codes: Codes) -> bool:
    return all(chr(code).isalpha() for code in codes.tolist())


def _usual(holdings: Holdings, word: str, family: Callable[[int], str], own: frozenset[str]) -> str:
    """The word that an odd one seems to be meant for: the most frequent of the near ones; empty where there is none."""
    near = list(_near_words(word))
    letters = np.frombuffer("".join(near).encode("utf-16-le", "surrogatepass"), dtype="<u2")
    ends = np.cumsum(np.fromiter(map(len, near), dtype=np.int64))
    hashes = hash_runs(letters, np.concatenate(([0], ends[:-1])), ends)
    often = holdings.words_held(hashes)
    held = np.flatnonzero(often >= _USUAL_FAMILIES)
    for n in held[np.argsort(-often[held], kind="stable")].tolist():
        families = {family(text) for text in holdings.texts_with(hashes[n], _LOOKED_AT)}
        if len(families - own) >= _USUAL_FAMILIES:
            return str(near[n])
    return ""


def _near_words(word: str) -> Iterator[str]:
    """All words one letter away, less those that differ in the first letter or by an ending, as inflected words do."""
    alphabet = _alphabet(frozenset(ord(letter) // 128 for letter in word))
    for n in range(1, len(word)):
        yield from (word[:n] + letter + word[n:] for letter in alphabet)
    for n in range(1, len(word) - 1):
        yield word[:n] + word[n + 1 :]
        if word[n] != word[n + 1]:
            yield word[:n] + word[n + 1] + word[n] + word[n + 2 :]
        for letter in alphabet:
            if letter != word[n] and frozenset((letter, word[n])) not in _READ_ALIKE:
                yield word[:n] + letter + word[n + 1 :]


@lru_cache(maxsize=1_000)
def _alphabet(blocks: frozenset[int]) -> str:
    """The small letters of some blocks of 128 characters of Unicode: about those of a script."""
    letters = (chr(block * 128 + n) for block in sorted(blocks) for n in range(128))
    return "".join(letter for letter in letters if letter.isalpha() and letter == letter.casefold())
