"""The rows of a drawn order of production, each with its words, signs and bar, before they are put on the page."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from provenance.reports.layout import counted
from provenance.reports.sequence import BatchRows, ExampleRow, Observation, SequenceFigure
from provenance.reports.sequence_words import batch_words, blank_words, chance_words, run_name, seen_words
from provenance.reports.svg_drawing import (
    LINE,
    Block,
    Lettering,
    height_of,
    lettered,
    rectangle,
    rounded,
    stroke,
    text_block,
)
from provenance.reports.svg_signs import RADIUS, sign

TEXT, SMALL = 10.5, 9.5
BAR = 66.0
"""How long the bar of a chance of 1 is."""
_NAME, _SPINE, _SIGN, _WORDS = 80.0, 88.0, 108.0, 123.0
_CHANCE = 112.0
_MOST_LINES = 6
_EDGE = 3.0
LEAST = TEXT * LINE
"""No row is lower, nor what is said of a sighting."""
THICK = 'fill="none" stroke="#000000" stroke-width="2.6"'
APART = 'fill="none" stroke="#000000" stroke-width="0.9" stroke-dasharray="2 3"'


@dataclass(frozen=True, slots=True, kw_only=True)
class Manner:
    """How the rows are drawn.

    Attributes:
        width: of a row.
        signs: the number of the sign of each value.
        hatch: the name of the hatching.
        has_chances: whether a column for chances is kept free.
        most: how many sightings of one machine are drawn at most.
    """

    width: float
    signs: Mapping[tuple[str, ...], int]
    hatch: str
    has_chances: bool
    most: int

    @property
    def words_end(self) -> float:
        """Where the words about a sighting end."""
        return self.width - (_CHANCE + 10.0 if self.has_chances else 0.0)


def batch_block(batch: BatchRows, manner: Manner, *, is_continued: bool = False) -> Block:
    """The heading of a batch."""
    words = batch_words(batch) + (", continued" if is_continued else "")
    lines = lettered(words, manner.width, 11.0, most=3, bold=True)
    height = 8.0 + height_of(lines)
    return Block(
        height=height + 5.0,
        drawn=(*text_block(lines, 0.0, 8.0), stroke([(0.0, height + 1.0), (manner.width, height + 1.0)], 0.8)),
    )


def chance_heading(figure: SequenceFigure, manner: Manner) -> Block:
    """What stands over the bars."""
    if not manner.has_chances:
        return Block(height=0.0, drawn=())
    lines = lettered(f"chance of “{figure.later}”", _CHANCE, SMALL, most=5, slanted=True)
    return Block(height=height_of(lines), drawn=tuple(text_block(lines, manner.width - _CHANCE, 0.0)))


def elsewhere_block(rows: Sequence[ExampleRow], manner: Manner) -> Block:
    """The machines before or after those that there is room for."""
    seen = sum(bool(row.observations) for row in rows)
    many = counted(len(rows), "machine")
    words = f"{run_name(rows)}: {many}, not drawn for want of room; something was seen on {seen} of them."
    lines = lettered(words, manner.width, TEXT, most=4, slanted=True)
    return Block(height=height_of(lines) + 2 * _EDGE, drawn=tuple(text_block(lines, 0.0, _EDGE)))


def run_block(run: Sequence[ExampleRow], manner: Manner) -> Block:
    """One machine, or several on which nothing was seen."""
    is_target = run[0].is_target
    name = lettered(run_name(run), _NAME, TEXT, most=4, bold=is_target)
    if is_target:
        name += lettered("represented", _NAME, SMALL, most=1, slanted=True)
    seen, seen_height = _sightings(run, manner)
    chances, chances_height = _chances(run, manner)
    height = max(height_of(name), seen_height, chances_height) + 2 * _EDGE
    drawn = [rectangle(-6.0, 1.0, manner.width + 12.0, height - 2.0, THICK)] if is_target else []
    drawn += [stroke([(_SPINE, 0.0), (_SPINE, height)], 1.0, "" if len(run) == 1 else "1.5 4")]
    if len(run) == 1:
        drawn.append(f'<circle cx="{rounded(_SPINE)}" cy="{rounded(_EDGE + 7.0)}" r="2.6"/>')
    drawn += [*text_block(name, 0.0, _EDGE), *seen, *chances]
    return Block(height=height, drawn=tuple(drawn))


def _sightings(run: Sequence[ExampleRow], manner: Manner) -> tuple[list[str], float]:
    observations = run[0].observations
    width = manner.words_end - _WORDS
    if not observations:
        lines = lettered(blank_words(run), manner.words_end - _SIGN + RADIUS, TEXT, most=2, slanted=True)
        return text_block(lines, _SIGN - RADIUS, _EDGE), height_of(lines)
    shown = sorted(observations, key=lambda each: not each.counts)[: manner.most]
    drawn: list[str] = []
    y = _EDGE
    for each in shown:
        more, height = _sighting(each, manner, y, width)
        drawn += more
        y += height
    if len(observations) > len(shown):
        left = counted(len(observations) - len(shown), "further sighting")
        lines = lettered(f"and {left}, not drawn for want of room", width, TEXT, most=2, slanted=True)
        drawn += text_block(lines, _WORDS, y)
        y += height_of(lines)
    return drawn, y - _EDGE


def _sighting(observation: Observation, manner: Manner, top: float, width: float) -> tuple[list[str], float]:
    """A sign with its words; apart in a dashed frame where it does not count."""
    inset = 0.0 if observation.counts else 8.0
    lines: list[Lettering] = lettered(seen_words(observation), width - 2 * inset, TEXT, most=_MOST_LINES)
    height = height_of(lines)
    begin = top if observation.counts else top + 5.0
    drawn = sign(
        manner.signs[observation.values],
        _SIGN + inset,
        begin + 7.0,
        is_filled=observation.direct,
        is_struck=observation.against,
    )
    drawn += text_block(lines, _WORDS + inset, begin)
    if observation.counts:
        return drawn, height + 2.0
    left = _SIGN - RADIUS - 5.0
    frame = rectangle(left + 3.0, top + 1.5, manner.words_end - left - 3.0, height + 6.0, APART)
    return [frame, *drawn], height + 11.0


def _chances(run: Sequence[ExampleRow], manner: Manner) -> tuple[list[str], float]:
    """A bar, black up to the chance of the first machine and hatched up to that of the last; and the same in words."""
    words = chance_words(run)
    if not words:
        return [], 0.0
    known = [row.chance for row in run if row.chance is not None]
    left = manner.width - _CHANCE
    first, last = known[0] * BAR, known[-1] * BAR
    drawn = [rectangle(left, _EDGE + 2.5, BAR, 9.0, 'fill="#ffffff" stroke="#000000" stroke-width="0.8"')]
    if last > first:
        drawn.append(rectangle(left + first, _EDGE + 2.5, last - first, 9.0, f'fill="url(#{manner.hatch})"'))
    if first:
        drawn.append(rectangle(left, _EDGE + 2.5, first, 9.0, 'fill="#000000"'))
    if len(run) == 1:
        lines = lettered(words, _CHANCE - BAR - 4.0, SMALL, most=2)
        return drawn + text_block(lines, left + BAR + 4.0, _EDGE), max(13.0, height_of(lines))
    lines = lettered(words, _CHANCE, SMALL, most=2)
    return drawn + text_block(lines, left, _EDGE + 13.0), 13.0 + height_of(lines)
