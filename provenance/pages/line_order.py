"""Words that lie on a page, put into lines and the lines into reading order."""

from enum import Enum, auto
from itertools import groupby
from typing import NamedTuple

from provenance.pages.columns import Span, into_lines, split_columns
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


def in_reading_order(words: list[PlacedWord]) -> tuple[Word, ...]:
    """Put words into lines, from the top, and each line from the left; columns one after the other.

    Words that run another way come after those that run to the right, read as the page is turned for them.
    """
    by_direction = groupby(sorted(words, key=_direction_number), key=_direction_number)
    blocks = [block for _, group in by_direction for block in split_columns([_as_span(word) for word in group])]
    lines = [line for block in blocks for line in into_lines(block)]
    return tuple(_as_word(span.word, number) for number, line in enumerate(lines, start=1) for span in line)


def _direction_number(word: PlacedWord) -> int:
    return word.direction.value


def _as_span(word: PlacedWord) -> Span[PlacedWord]:
    """Turn a word about the middle of the page so that it runs to the right."""
    left, top, right, bottom = word[1:5]
    if word.direction is Direction.DOWN:
        left, top, right, bottom = top, 100 - right, bottom, 100 - left
    elif word.direction is Direction.UP:
        left, top, right, bottom = 100 - bottom, left, 100 - top, right
    elif word.direction is Direction.LEFT:
        left, top, right, bottom = 100 - right, 100 - bottom, 100 - left, 100 - top
    return Span(left, top, right, bottom, word)


def _as_word(word: PlacedWord, line: int) -> Word:
    box = Box(
        round(word.left, 3), round(word.top, 3), round(word.right - word.left, 3), round(word.bottom - word.top, 3)
    )
    return Word(word.text, line, box)
