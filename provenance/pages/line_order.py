"""Words that lie on a page, put into lines and the lines into reading order."""

from enum import Enum, auto
from itertools import groupby
from typing import NamedTuple

from provenance.records.readings import Box, Word


class Direction(Enum):
    """Which way a word runs on the page upright as delivered."""

    RIGHT = auto()
    DOWN = auto()
    UP = auto()
    LEFT = auto()


class PlacedWord(NamedTuple):
    """A word and its edges, in percent of the page upright as delivered."""

    text: str
    left: float
    top: float
    right: float
    bottom: float
    direction: Direction = Direction.RIGHT


class _Seen(NamedTuple):
    """A word as it lies for a reader who has turned the page so that it runs to the right."""

    left: float
    top: float
    right: float
    bottom: float
    word: PlacedWord


def in_reading_order(words: list[PlacedWord]) -> tuple[Word, ...]:
    """Put words into lines, from the top, and each line from the left.

    Words that run another way come after those that run to the right, read as the page is turned for them. A word
    belongs to the line before it when at least half of its height lies within that line's.
    """
    by_direction = groupby(sorted(words, key=_direction_number), key=_direction_number)
    lines = [line for _, group in by_direction for line in _lines([_as_seen(word) for word in group])]
    return tuple(_as_word(seen.word, number) for number, line in enumerate(lines, start=1) for seen in line)


def _lines(words: list[_Seen]) -> list[list[_Seen]]:
    lines: list[list[_Seen]] = []
    for word in sorted(words, key=lambda word: (word.top + word.bottom, word.left)):
        if lines and _shares_line(word, lines[-1][-1]):
            lines[-1].append(word)
        else:
            lines.append([word])
    return [sorted(line, key=lambda word: word.left) for line in lines]


def _shares_line(word: _Seen, last: _Seen) -> bool:
    overlap = min(word.bottom, last.bottom) - max(word.top, last.top)
    return overlap >= min(word.bottom - word.top, last.bottom - last.top) / 2


def _direction_number(word: PlacedWord) -> int:
    return word.direction.value


def _as_seen(word: PlacedWord) -> _Seen:
    """Turn a word about the middle of the page so that it runs to the right."""
    left, top, right, bottom = word[1:5]
    if word.direction is Direction.DOWN:
        left, top, right, bottom = top, 100 - right, bottom, 100 - left
    elif word.direction is Direction.UP:
        left, top, right, bottom = 100 - bottom, left, 100 - top, right
    elif word.direction is Direction.LEFT:
        left, top, right, bottom = 100 - right, 100 - bottom, 100 - left, 100 - top
    return _Seen(left, top, right, bottom, word)


def _as_word(word: PlacedWord, line: int) -> Word:
    box = Box(
        round(word.left, 3), round(word.top, 3), round(word.right - word.left, 3), round(word.bottom - word.top, 3)
    )
    return Word(word.text, line, box)
