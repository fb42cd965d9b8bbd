"""Where a quotation stands on a page: found by its letters, whatever the line breaks, the case and the misread ones."""

import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from provenance.records.readings import Box, PageReading, Word

TOLERANCE = 0.15
"""The share of letters of a quotation that may be other ones on the page as read. Common practice, no source."""

_GAPS = ("[...]", "[…]", "...", "…")
# What recognition most often takes for one another; counted as the same letter.
_ALIKE = str.maketrans({"0": "o", "1": "l", "i": "l", "5": "s"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Passage:
    """The words of a page that come nearest to a quotation.

    Attributes:
        words: from the first to the last, in reading order; empty where the page or the quotation has no letters.
        wrong: how many letters are other ones, missing or too many.
        letters: how many letters the quotation has.
    """

    words: tuple[Word, ...]
    wrong: int
    letters: int

    @property
    def stands_there(self) -> bool:
        """Whether it is taken for the quotation."""
        return bool(self.words) and self.wrong <= self.letters * TOLERANCE

    @property
    def text(self) -> str:
        """What stands there, as read."""
        return " ".join(word.text for word in self.words)

    @property
    def region(self) -> str | None:
        """The part of the page round its words, in percent; None where the words have no places."""
        boxes = [word.box for word in self.words if word.box is not None]
        if not boxes:
            return None
        left, top = (max(0.0, min(getattr(box, side) for box in boxes)) for side in "xy")
        right, bottom = min(100.0, max(box.x + box.w for box in boxes)), min(100.0, max(box.y + box.h for box in boxes))
        return Box(left, top, max(right - left, 0.01), max(bottom - top, 0.01)).as_fragment()


def find_passage(reading: PageReading, quotation: str) -> Passage:
    """Find the words of a page that come nearest to a quotation.

    Letters and figures alone are compared. `...` and `[...]` stand for words that are left out, or letters that cannot
    be read: the pieces between them follow one another on the page.
    """
    letters = [(letter, place) for place, word in enumerate(reading.words) for letter in _letters(word.text)]
    page = "".join(letter for letter, _ in letters)
    first, last, wrong, total = None, None, 0, 0
    behind = 0
    for piece in _pieces(quotation):
        total += len(piece)
        start, end, errors = _nearest(page[behind:], piece)
        wrong += errors
        if end > start:
            first = behind + start if first is None else first
            last = behind + end
            behind += end
    words = () if first is None or last is None else reading.words[letters[first][1] : letters[last - 1][1] + 1]
    return Passage(words=words, wrong=wrong, letters=total)


def _pieces(quotation: str) -> Iterator[str]:
    for gap in _GAPS:
        quotation = quotation.replace(gap, "\0")
    for piece in quotation.split("\0"):
        letters = "".join(_letters(piece))
        if letters:
            yield letters


def _letters(text: str) -> str:
    folded = unicodedata.normalize("NFKC", text).casefold().translate(_ALIKE)
    return "".join(letter for letter in folded if letter.isalnum())


def _nearest(page: str, piece: str) -> tuple[int, int, int]:
    """Where a piece of text stands most nearly in another: from, to (counted from 0), and the letters that differ."""
    exact = page.find(piece)
    if exact >= 0:
        return exact, exact + len(piece), 0
    wrong, end = _best_end(page, piece)
    _, length = _best_end(page[:end][::-1], piece[::-1])
    return end - length, end, wrong


def _best_end(text: Sequence[str], piece: Sequence[str]) -> tuple[int, int]:
    """The fewest edits between the piece and any stretch of the text, and where the first such stretch ends.

    All rows of the table of edit distances at once, a bit for each letter of the piece (G. Myers, "A fast bit-vector
    algorithm for approximate string matching based on dynamic programming", Journal of the ACM 46, 1999).
    """
    size = len(piece)
    every, top = (1 << size) - 1, 1 << (size - 1)
    places: dict[str, int] = {}
    for number, letter in enumerate(piece):
        places[letter] = places.get(letter, 0) | 1 << number
    up, down, score = every, 0, size
    best, best_end = size, 0
    for end, letter in enumerate(text, start=1):
        same = places.get(letter, 0)
        across = (((same & up) + up) ^ up) | same
        rise = down | ~(across | up) & every
        fall = up & across
        score += bool(rise & top) - bool(fall & top)
        rise, fall = rise << 1 & every, fall << 1 & every
        steady = same | down
        up, down = fall | ~(steady | rise) & every, rise & steady
        if score < best:
            best, best_end = score, end
    return best, best_end
