"""When a quotation is said on a recording, by the times of the cues that hold its words."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from provenance.records.readings import Origin, PageReading
from provenance.records.regions import TimeSpan
from provenance.records.timed_text import Block, BlockKind, spoken_between, words_of
from provenance.tasks.page_readings import PERSON
from provenance.tasks.quotations import Passage, find_passage
from provenance.tasks.recordings import Spoken

SLACK = Decimal(1)
"""A time read off a player is a whole second: so many seconds it may lie beside the cue. Common practice, no source."""

_MOST_NAMED = 3


def as_reading(spoken: Spoken, time: TimeSpan | None = None) -> PageReading:
    """The words of a text with times, as if it were a page; with a time, only those said at it."""
    blocks = [block for block in spoken.timed.blocks if block.kind is not BlockKind.NOTE]
    if time is not None:
        blocks = [block for block in blocks if block.span is not None and _meet(block.span, time)]
    return PageReading(page=spoken.page or 1, words=words_of(blocks), origin=Origin.TRANSCRIPT, engine=PERSON)


def _meet(one: TimeSpan, other: TimeSpan) -> bool:
    return one.start <= other.end + SLACK and other.start <= one.end + SLACK


def cues_of(spoken: Spoken, passage: Passage) -> tuple[Block, ...]:
    """The cues that hold the words of a passage, in order."""
    return spoken.timed.said_on(word.line for word in passage.words)


def when_said(spoken: Spoken, passage: Passage) -> TimeSpan | None:
    """From the beginning of the first cue of a passage to the end of the last; None where no time can be used."""
    return spoken_between(cues_of(spoken, passage))


def who_says(spoken: Spoken, passage: Passage) -> tuple[str, ...]:
    """Who speaks in the cues of a passage, as its voice tags name them."""
    return tuple(dict.fromkeys(name for block in cues_of(spoken, passage) for name in block.speakers))


def times_said(spoken: Spoken, quotation: str) -> tuple[str, ...]:
    """When a quotation is said letter for letter, each time once, in order; four times at most."""
    reading = as_reading(spoken)
    times: list[str] = []
    while len(times) <= _MOST_NAMED:
        passage = find_passage(reading, quotation)
        if passage.wrong or not passage.words:
            break
        times.append(_named(spoken, passage))
        reading = replace(reading, words=reading.words[_count_through(reading, passage) :])
    return tuple(dict.fromkeys(times))


def _count_through(reading: PageReading, passage: Passage) -> int:
    """How many words there are up to the end of a passage."""
    return next(count for count, word in enumerate(reading.words, start=1) if word is passage.words[-1])


def _named(spoken: Spoken, passage: Passage) -> str:
    span = when_said(spoken, passage)
    return str(span) if span else f"line {passage.words[0].line}"


def shown_times(times: Sequence[str]) -> list[str]:
    """The first few of several times."""
    return [*times[:_MOST_NAMED], *(["later"] if len(times) > _MOST_NAMED else [])]
