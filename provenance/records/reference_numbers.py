"""Part, stores and drawing numbers: one key for all the ways in which a number is written and misread.

What recognisers take for one another is folded into the figure:

    0 O    1 I    2 Z    5 S    8 B    the pairs that a maker of recognisers warns of (Rockwell Automation, OCR2-PAK
                                       user manual for the 5370, chapter 2, page 2-8, "Ambiguous characters")
    1 l    6 G                         beside those above among the ambiguous characters that the password program
                                       pwgen leaves out (`pw_ambiguous` in its pw_rand.c); `L` goes with its small l
    1 |    5 $    Y \u00a5    E \u00a3    C \u20ac  counted; the signs of money within a number only, not before a price

Counted by `tests/bench/confusions.py` with Tesseract 5.3.0 on 100 made pages of 49,188 characters: I for 1 74 times, O
for 0 53, Y for a yen sign 24, S for a dollar sign 20, L for 1 20, Z for 2 17, 8 for B 16, E for a pound sign 13, 5 for
S 11, I for | 5, 6 for G 4, C for a euro sign 4. What changes one figure into another is never one key; what that and
the rest cost is in `misreading`.

What draughtsmen vary says nothing either: case, stops, spaces, strokes, hyphens, and the words that only announce a
number (`Drg. No. 30921` is `drawing 30921`; common practice, no source).
"""

import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import inf

from provenance.records.misreading import FOUND_WITHIN, misreading_distance, near_within

SHORTEST_FOLDED = 3
"""Characters that a key must have to be looked for as folded; fewer would be found everywhere."""
SHORTEST_NEAR = 4
"""Characters that a key must have to be looked for as near; one of figures alone must have one more.

Else every year and every quantity would be near every other (common practice, no source).
"""
LONGEST_KEY = 20
MOST_PIECES = 4
"""Pieces that stand apart and are still read as one number, such as `BX / 12 / 4`."""

_FOLDED = str.maketrans("OILZSGB|$\u00a5\u00a3\u20ac", "011256815YEC")
_ANNOUNCING = frozenset(
    {"DRAWING", "DRAWINGS", "DRG", "DRGS", "DWG", "DRWG", "NO", "NOS", "NR", "NUMBER", "NUMBERS", "PART", "PARTS"}
    | {"STORES", "CAT", "PATTERN", "PATT", "SHEET", "REF", "REFERENCE", "FIG", "PLATE", "ITEM"}
)
_LONGEST_WORD = 4  # letters; a longer run of them is a word, and never a piece of a number
_MONEY = "$\u00a5\u00a3\u20ac"  # what recognisers make of S, Y, E and C
_PIECE = re.compile(rf"(?:[^\W_]+|\|[^\W_]+|[{_MONEY}](?=[^\W\d_]|[-/]\w)[^\W_]*)(?:[|{_MONEY}][^\W_]*)*")
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
        recognisers confuse is folded, or their keys are as near as `misreading.FOUND_WITHIN`; `near` where their keys
        are as near as `misreading.near_within` allows, and both long enough for that to say anything; None for two
        different numbers, and where one of the texts is none.
    """
    key, other_key = reference_key(one), reference_key(other)
    if not key or not other_key:
        return None
    if _runs(one) == _runs(other):
        return Tier.EXACT
    distance = distance_of_keys(key, other_key)
    if distance <= FOUND_WITHIN:
        return Tier.FOLDED
    return Tier.NEAR if distance < inf else None


def distance_of_keys(key: str, other: str) -> float:
    """How far two keys are apart; infinite for two different numbers, and where one is too short to be near any."""
    if key == other:
        return 0.0
    if not (can_be_near(key) and can_be_near(other)):
        return inf
    return misreading_distance(key, other, near_within(key, other))


def can_be_near(key: str) -> bool:
    """Whether a key is long enough for another one near it to say anything."""
    return len(key) >= SHORTEST_NEAR + key.isdigit()


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
