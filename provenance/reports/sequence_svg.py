"""The order of production as one drawing in SVG: machine by machine with what was seen on each, black on white.

Upright on A4: in one column while that can be read, else in two; where even two do not hold all, fewer sightings of one
machine are drawn, and then fewer machines, those nearest to the one represented. What is left out is counted there.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from provenance.reports.sequence import BatchRows, ExampleRow, SequenceFigure
from provenance.reports.sequence_blocks import (
    LEAST,
    Manner,
    batch_block,
    chance_heading,
    elsewhere_block,
    run_block,
)
from provenance.reports.sequence_legend import legend_block
from provenance.reports.sequence_words import sequence_sentences, sequence_title
from provenance.reports.svg_columns import Group, in_columns
from provenance.reports.svg_drawing import (
    PAGE,
    SMALLEST,
    Block,
    Frame,
    fitted,
    framed,
    hatching,
    height_of,
    lettered,
    prefix_of,
    text_block,
)

_MARGIN = 12.0
_ROOM = (PAGE[0] / SMALLEST, PAGE[1] / SMALLEST)
"""The largest drawing that can still be read when it is made as small as the page."""
_WIDTHS = {1: PAGE[0], 2: _ROOM[0]}
_GAP = 34.0
_MOST_RUNS = 160
"""No page holds more rows."""
_SIGHTINGS = (30, 10, 4, 1)
"""To how many sightings of one machine those are cut down that do not all have room."""
_HOW_TO_READ = (
    "One row a machine in order of production, the oldest at the top; each sign with the words beside it is what was "
    "seen on it."
)
_Run = tuple[BatchRows, tuple[ExampleRow, ...]]
_NOTHING = Block(height=0.0, drawn=())


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plan:
    """A way to draw it: which of the runs, in how many columns, and in which manner."""

    begin: int
    end: int
    columns: int
    manner: Manner


@dataclass(frozen=True, slots=True, kw_only=True)
class _Page:
    """What came of a plan."""

    width: float
    height: float
    drawn: tuple[str, ...]


class _Rows:
    """The rows of a drawing, each drawn once in a manner, however often it is tried."""

    def __init__(self, runs: Sequence[_Run]) -> None:
        self.runs = runs
        self._drawn: dict[tuple[int, float, int], Block] = {}

    def row(self, place: int, manner: Manner) -> Block:
        """The row of the run at that place."""
        run = self.runs[place][1]
        key = (place, manner.width, min(manner.most, len(run[0].observations)))
        if key not in self._drawn:
            self._drawn[key] = run_block(run, manner)
        return self._drawn[key]


def sequence_svg(figure: SequenceFigure) -> str:
    """Draw it."""
    prefix = prefix_of("sequence", figure.feature)
    runs = [(batch, run) for batch in figure.batches for run in batch.runs]
    manner = _manner(figure, f"{prefix}-hatch")
    rows = _Rows(runs)
    for plan in _plans(runs, manner):
        page = _page(figure, rows, plan)
        if page.height <= _ROOM[1]:
            break
    frame = Frame(
        prefix=prefix,
        title=sequence_title(figure),
        told=_HOW_TO_READ,
        width=page.width,
        height=page.height,
        scale=fitted(page.width, page.height),
    )
    return framed(frame, [*([hatching(manner.hatch)] if manner.has_chances else []), *page.drawn])


def _manner(figure: SequenceFigure, hatch: str) -> Manner:
    rows = [row for batch in figure.batches for row in batch.rows]
    values = dict.fromkeys(each.values for row in rows for each in row.observations)
    return Manner(
        width=0.0,
        signs={each: number for number, each in enumerate(values)},
        hatch=hatch,
        most=0,
        has_chances=any(row.chance is not None for row in rows),
    )


def _plans(runs: Sequence[_Run], manner: Manner) -> Iterator[_Plan]:
    """What is tried, the fullest first; what cannot fit is passed over, but for the last."""
    here = next((place for place, (_, run) in enumerate(runs) if run[0].is_target), 0)
    many = min(len(runs), _MOST_RUNS)
    while many > 1:
        begin = max(0, min(here - many // 2, len(runs) - many))
        for plan in _plans_of(runs, (begin, begin + many), manner):
            if (
                sum(_least_height(run, plan.manner.most) for _, run in runs[begin : plan.end])
                <= plan.columns * _ROOM[1]
            ):
                yield plan
        many -= max(1, many // 10)
    yield from _plans_of(runs, (here, here + many), manner)


def _plans_of(runs: Sequence[_Run], shown: tuple[int, int], manner: Manner) -> Iterator[_Plan]:
    """The same runs with fewer and fewer sightings of one machine, each in one column and in two."""
    begin, end = shown
    seen = max((len(run[0].observations) for _, run in runs[begin:end]), default=0)
    for most in (seen, *(each for each in _SIGHTINGS if each < seen)):
        for columns, width in _WIDTHS.items():
            row = (width - 2 * _MARGIN - (columns - 1) * _GAP) / columns
            yield _Plan(begin=begin, end=end, columns=columns, manner=replace(manner, width=row, most=most))


def _least_height(run: Sequence[ExampleRow], most: int) -> float:
    return LEAST * max(1, min(len(run[0].observations), most))


def _page(figure: SequenceFigure, rows: _Rows, plan: _Plan) -> _Page:
    width = _WIDTHS[plan.columns]
    drawn, top = _heading(figure, width - 2 * _MARGIN)
    over = chance_heading(figure, plan.manner)
    bottom = top
    for number, blocks in enumerate(in_columns(_groups(rows, plan), plan.columns)):
        x, y = _MARGIN + number * (plan.manner.width + _GAP), top
        for block in [over, *blocks]:
            drawn += block.at(x, y)
            y += block.height
        bottom = max(bottom, y)
    legend = legend_block(figure, plan.manner.signs, width - 2 * _MARGIN)
    drawn += legend.at(_MARGIN, bottom + 14.0)
    return _Page(width=width, height=bottom + 14.0 + legend.height + _MARGIN, drawn=tuple(drawn))


def _heading(figure: SequenceFigure, width: float) -> tuple[list[str], float]:
    """Title and sentences, and where the rows may begin below them."""
    lines = lettered(sequence_title(figure), width, 14.0, most=3, bold=True)
    for sentence in sequence_sentences(figure):
        lines += lettered(sentence, width, 11.0, most=8)
    return text_block(lines, _MARGIN, _MARGIN), _MARGIN + height_of(lines) + 8.0


def _groups(rows: _Rows, plan: _Plan) -> list[Group]:
    before, after = rows.runs[: plan.begin], rows.runs[plan.end :]
    groups = [_elsewhere(before, plan.manner)] if before else []
    shown = range(plan.begin, plan.end)
    for batch, places in groupby(shown, key=lambda place: rows.runs[place][0]):
        groups.append(
            Group(
                head=batch_block(batch, plan.manner),
                again=batch_block(batch, plan.manner, is_continued=True),
                rows=tuple(rows.row(place, plan.manner) for place in places),
            )
        )
    return [*groups, *([_elsewhere(after, plan.manner)] if after else [])]


def _elsewhere(runs: Sequence[_Run], manner: Manner) -> Group:
    row = elsewhere_block([row for _, run in runs for row in run], manner)
    return Group(head=_NOTHING, again=_NOTHING, rows=(row,))
