"""Whether the text layer of a page can be trusted to say what the page says.

Every threshold here is common practice, no source.
"""

import re
import unicodedata
from collections.abc import Sequence

from provenance.records.readings import Word

MOST_BROKEN_CHARACTERS = 0.02
"""Share of characters without a meaning (no map, private use, replacement) above which a layer is rubbish."""

LEAST_READABLE_CHARACTERS = 0.6
"""Share of letters and figures below which a layer is rubbish; dots and rules that lead the eye are not counted."""

LEAST_SOUND_WORDS = 0.6
"""Share of words with the shape of words or figures below which a layer is rubbish."""

LEAST_COMMON_LETTERS = 0.4
"""Share of the letters e t a o i n s r among Latin ones below which a layer is rubbish.

They make up about 64 % of English and more than half of the other languages that we tried; moved along the alphabet,
as by a font without a map, about 25 %.
"""

LETTERS_TO_JUDGE = 100
"""With fewer letters in words of four and more the share of common ones is not judged."""

WORDS_TO_JUDGE = 10
"""With fewer words their shapes are not judged: a title block may hold nothing but numbers."""

MOSTLY_PICTURE = 0.5
"""Share of a page under pictures from which a few words are a stamp and not what the page says."""

LETTERS_OF_A_STAMP = 100
"""Fewer letters and figures than these, away from the margins, are a stamp: a caption, a scanner's line."""

MARGIN = 6.0
"""Percent of the height at head and foot where page numbers and scanners' lines stand."""

_LEADERS = re.compile(r"[._\-\u2026\u00b7]+")
_UNMAPPED = re.compile(r"\(cid:\d+\)")
_LETTERS = r"[^\W\d_]+(?:['\u2019.\-\u2013/&][^\W\d_]+)*"
_FIGURES = r"""(?=[^\W_]*\d)[\w.,:/\u00b0'"\u00bc-\u00be\u215b-\u215e\u00d7+\-\u2013]+"""
_SOUND = re.compile(rf"[\W_]*(?:{_LETTERS}|{_FIGURES})[\W_]*")
_COMMON_LETTERS = frozenset("etaoinsr")


def is_healthy(words: Sequence[Word]) -> bool:
    """Tell whether the words of a text layer are language and numbers, not rubbish.

    Rubbish is what a font without a map to characters gives, or a poor recognition of long ago. An empty layer is
    not healthy.
    """
    text = _LEADERS.sub("", "".join(word.text for word in words))
    if not text:
        return False
    broken = sum(map(_is_broken, _UNMAPPED.sub("\ufffd", text)))
    readable = sum(map(str.isalnum, text))
    if broken > MOST_BROKEN_CHARACTERS * len(text) or readable < LEAST_READABLE_CHARACTERS * len(text):
        return False
    return _has_sound_words(words)


def covers_page(words: Sequence[Word], picture_share: float) -> bool:
    """Tell whether a text layer says what the page says, and is not a stamp on a picture of the page.

    Args:
        words: of the layer, with their boxes.
        picture_share: how much of the page pictures cover, 0 to 1.
    """
    if picture_share < MOSTLY_PICTURE:
        return True
    within = [word for word in words if word.box is None or MARGIN <= word.box.y + word.box.h / 2 <= 100 - MARGIN]
    return sum(character.isalnum() for word in within for character in word.text) >= LETTERS_OF_A_STAMP


def _has_sound_words(words: Sequence[Word]) -> bool:
    if len(words) < WORDS_TO_JUDGE:
        return True
    lettered = [word.text for word in words if any(map(str.isalnum, word.text))]
    sound = sum(_SOUND.fullmatch(text) is not None for text in lettered)
    if sound < LEAST_SOUND_WORDS * len(lettered):
        return False
    letters = "".join(_latin_letters(text) for text in lettered)
    common = sum(letter in _COMMON_LETTERS for letter in letters)
    return len(letters) < LETTERS_TO_JUDGE or common >= LEAST_COMMON_LETTERS * len(letters)


def _latin_letters(text: str) -> str:
    """Give a word's Latin letters, small and without accents; nothing for a word of less than four."""
    plain = "".join(letter for letter in unicodedata.normalize("NFD", text.lower()) if "a" <= letter <= "z")
    return plain if len(plain) > 3 else ""


def _is_broken(character: str) -> bool:
    """Tell whether a character means nothing: the replacement character, private use, unassigned, a control."""
    return character == "\ufffd" or unicodedata.category(character) in {"Co", "Cn", "Cc", "Cs"}
