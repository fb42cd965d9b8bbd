"""Part, stores and drawing numbers: one key for all the ways in which a number is written and misread.

What recognisers take for one another is folded into the figure:

    0 O    1 I    2 Z    5 S    8 B    the pairs that a maker of recognisers warns of (Rockwell Automation, OCR2-PAK
                                       user manual for the 5370, chapter 2, page 2-8, "Ambiguous characters")
    1 l    6 G                         beside those above among the ambiguous characters that the password program
                                       pwgen leaves out (`pw_ambiguous` in its pw_rand.c); `L` goes with its small l
    1 |                                counted

Counted by `tests/bench/confusions.py` with Tesseract 5.3.0: on 12 made pages, of 5,039 characters 23 were taken for
another one, 16 of them among these (I for | 5, O for 0 4, I for l 2, I for 1 2, Z for 2 1, 0 for O 1, 1 for H not
folded); in the sample's handbook 0 for O 2, 1 for | 1. Next came 8 for 6 (6 times): two figures are never one key.

What draughtsmen vary says nothing either: case, stops, spaces, strokes, hyphens, and the words that only announce a
number (`Drg. No. 30921` is `drawing 30921`; common practice, no source).
"""

import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

SHORTEST_FOLDED = 3
"""Characters that a key must have to be looked for as folded; fewer would be found everywhere."""
SHORTEST_NEAR = 4
"""Characters that a key must have to be looked for within one edit; one of figures alone must have one more.

Else every year and every quantity would be near every other (common practice, no source).
"""
LONGEST_KEY = 20
MOST_PIECES = 4
"""Pieces that stand apart and are still read as one number, such as `BX / 12 / 4`."""

_FOLDED = str.maketrans("OILZSGB|", "01125681")
KEY_CHARACTERS = "0123456789ACDEFHJKMNPQRTUVWXY"
"""What keys of numbers in plain letters and figures are made of: without the letters that are folded."""
_ANNOUNCING = frozenset(
    {"DRAWING", "DRAWINGS", "DRG", "DRGS", "DWG", "DRWG", "NO", "NOS", "NR", "NUMBER", "NUMBERS", "PART", "PARTS"}
    | {"STORES", "CAT", "PATTERN", "PATT", "SHEET", "REF", "REFERENCE", "FIG", "PLATE", "ITEM"}
)
_LONGEST_WORD = 4  # letters; a longer run of them is a word, and never a piece of a number
_PIECE = re.compile(r"[^\W_|]+(?:\|[^\W_|]*)*|\|[^\W_|]+")
_JOINT = re.compile(r"[ \t]?[-\u2010-\u2014./\\_\u00b7,:]?[ \t]?")
_RUN = re.compile(r"[^\W\d_]+|\d+")


class Tier(StrEnum):
    """How well a number that stands somewhere is the one that is looked for, the best first."""

    EXACT = "exact"
    FOLDED = "folded"
    NEAR = "near"


@dataclass(frozen=True, slots=True)
class NumberRead:
    """What may be a reference number in a text.

    Attributes:
        text: as it stands there.
        key: its key; see `reference_key`.
        start: its first character in the text, from 0.
        end: one past its last.
    """

    text: str
    key: str
    start: int
    end: int


def reference_key(text: str) -> str:
    """Make the key of a reference number, under which all its writings and likely misreadings are one.

    Empty where the text has no letter or figure besides words that only announce a number.
    """
    pieces = _pieces(text)
    announced = [piece for piece in pieces if piece not in _ANNOUNCING] or pieces
    return "".join(announced).translate(_FOLDED)


def compare_references(one: str, other: str) -> Tier | None:
    """Say how well two writings are the same reference number.

    Returns:
        `exact` where letters and figures agree, whatever stands between them; `folded` where they do once what
        recognisers confuse is folded; `near` where their keys are one added, missing or other character apart, and
        both long enough for that to say anything; None for two different numbers, and where one of the texts is none.
    """
    key, other_key = reference_key(one), reference_key(other)
    if not key or not other_key:
        return None
    if _runs(one) == _runs(other):
        return Tier.EXACT
    if key == other_key:
        return Tier.FOLDED
    if can_be_near(key) and can_be_near(other_key) and is_one_edit(key, other_key):
        return Tier.NEAR
    return None


def can_be_near(key: str) -> bool:
    """Whether a key is long enough for one that is one edit away to say anything."""
    return len(key) >= SHORTEST_NEAR + key.isdigit()


def is_one_edit(one: str, other: str) -> bool:
    """Whether one character added, left out or changed makes one text of the other (Levenshtein distance 1)."""
    short, long = sorted((one, other), key=len)
    if len(long) - len(short) > 1:
        return False
    at = next((n for n, (a, b) in enumerate(zip(short, long, strict=False)) if a != b), len(short))
    return short != long and short[at + (len(short) == len(long)) :] == long[at + 1 :]


def neighbours(key: str) -> Iterator[str]:
    """Every key that is one edit from this one, each once."""
    made = {key[:n] + key[n + 1 :] for n in range(len(key))}
    for character in KEY_CHARACTERS:
        made |= {key[:n] + character + key[n + 1 :] for n in range(len(key))}
        made |= {key[:n] + character + key[n:] for n in range(len(key) + 1)}
    made.discard(key)
    yield from sorted(made)


def numbers_in(text: str) -> Iterator[NumberRead]:
    """What in a text may be a reference number: pieces with a figure among them, up to four that stand together.

    Words are no pieces, nor are small letters alone. Every stretch is told, the short and the long: of `BX/12/4` also
    `BX/12`, `12/4` and the rest.
    """
    stretch: list[re.Match[str]] = []
    for piece in _PIECE.finditer(text):
        if stretch and not _JOINT.fullmatch(text, stretch[-1].end(), piece.start()):
            stretch = []
        if _is_word(piece[0]):
            stretch = []
            continue
        stretch = [*stretch[-(MOST_PIECES - 1) :], piece]
        yield from _ending_here(text, stretch)


def _ending_here(text: str, stretch: Sequence[re.Match[str]]) -> Iterator[NumberRead]:
    end = stretch[-1].end()
    for first in stretch:
        found = text[first.start() : end]
        if any(letter.isdigit() for letter in found):
            key = reference_key(found)
            if SHORTEST_FOLDED <= len(key) <= LONGEST_KEY:
                yield NumberRead(found, key, first.start(), end)


def _is_word(piece: str) -> bool:
    if not piece.isalpha() or len(piece) == 1:
        return False
    return piece.islower() or len(piece) > _LONGEST_WORD or piece.upper() in _ANNOUNCING


def _pieces(text: str) -> list[str]:
    return [found[0].upper() for found in _PIECE.finditer(unicodedata.normalize("NFKC", text))]


def _runs(text: str) -> list[str]:
    """The runs of letters and of figures in a number, in order, without what only announces it."""
    pieces = _pieces(text)
    counted = [piece for piece in pieces if piece not in _ANNOUNCING] or pieces
    return [run for piece in counted for run in _RUN.findall(piece)]
