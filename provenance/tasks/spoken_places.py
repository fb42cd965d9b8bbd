"""Where in a recording a search found something: the cues that say it, and when."""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

from provenance.records.timed_text import Block, spoken_between
from provenance.search.grammar import Query
from provenance.search.snippets import matched_spans, snippet
from provenance.tasks.recordings import Passage, shown_text

_LONGEST_RUN = 3
"""In so many cues one after the other a person is taken to have said one thing. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SpokenPlace:
    """Where in a recording something is said.

    Attributes:
        time: from when to when, as a record cites it; None where the times cannot be used, or a note says it.
        snippet: what is said there, and just before and after.
    """

    time: str | None
    snippet: str


def place_in(passage: Passage, query: Query, read_as: Sequence[str] = ()) -> SpokenPlace:
    """Find the cues of a passage that say most of what was asked for: the fewest of those, then the first.

    Args:
        passage: the one that was found.
        query: what was asked for.
        read_as: the numbers that were misread, as they stand there.
    """
    blocks = passage.blocks
    said = _said_by(blocks, query, read_as)
    lengths = range(1, min(_LONGEST_RUN, len(blocks)) + 1)
    runs = [(first, first + length) for length in lengths for first in range(len(blocks) - length + 1)]
    # the shorter runs come first, and of equals `max` takes the first
    first, last = max(runs, key=lambda run: len(frozenset().union(*said[slice(*run)])), default=(0, 0))
    span = spoken_between(blocks[first:last])
    around = shown_text(blocks[max(0, first - 1) : last + 1])
    return SpokenPlace(time=str(span) if span else None, snippet=snippet(around, matched_spans(query, around, read_as)))


def _said_by(blocks: Sequence[Block], query: Query, read_as: Sequence[str]) -> list[frozenset[str]]:
    """Which of the words asked for stand in each of the blocks; a phrase may begin in one and end in the next."""
    text = shown_text(blocks)
    ends = list(accumulate(len(shown_text([block])) + 1 if block.lines else 0 for block in blocks))
    said: list[set[str]] = [set() for _ in blocks]
    for start, end in matched_spans(query, text, read_as):
        said[bisect_right(ends, start)].add(text[start:end].casefold())
    return [frozenset(words) for words in said]
