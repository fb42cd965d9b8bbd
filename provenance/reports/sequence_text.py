"""The figure of the order of production as people read it at a terminal: one row a machine, in plain characters."""

from collections.abc import Iterator, Sequence

from provenance.records.kinds import KnownBy
from provenance.reports.date_words import date_words
from provenance.reports.layout import paragraph, plain
from provenance.reports.sequence import ExampleRow, Observation, SequenceFigure, when_words
from provenance.rules.sentences import chance_in_words

USUAL_WIDTH = 100
_MARKS = {True: "  > ", False: "    "}
_WIDEST_NAME = 8
_GAP = "  "


def sequence_lines(figure: SequenceFigure, width: int = USUAL_WIDTH) -> list[str]:
    """Lay out the machines batch by batch in order of production, each with what was seen on it.

    `>` marks the machine represented. Long runs on which nothing was seen take one row, but for the machines next to
    the one represented.
    """
    marked = f"; No. {figure.target}, marked >, is represented" if figure.target is not None else ""
    lines = paragraph(f"Machine by machine, in order of production{marked}:", width)
    column = _column(figure)
    for batch in figure.batches:
        lines += paragraph(f"Batch {batch.batch}, built {date_words(batch.built)}", width, indent=_GAP)
        for run in batch.runs:
            lines += _run_lines(run, figure.later, column, width)
    return lines + (paragraph(figure.said, width) if figure.said else [])


def _column(figure: SequenceFigure) -> int:
    """How wide the column of names is; 0 where one of them is too long for a column."""
    names = [_name(run[0]) for batch in figure.batches for run in batch.runs if len(run) == 1]
    widest = max(map(len, names), default=0)
    return widest if widest <= _WIDEST_NAME else 0


def _name(row: ExampleRow) -> str:
    return f"No. {plain(row.example)}"


def _run_lines(run: Sequence[ExampleRow], later: str, column: int, width: int) -> list[str]:
    mark = _MARKS[run[0].is_target]
    if len(run) > 1:
        text = f"Nos. {run[0].example} to {run[-1].example}: nothing seen{_chances(run, later)}"
        return paragraph(text, width, indent=mark, hang=mark + _GAP)
    told = list(_told(run[0], later))
    if not column:
        name = f"{_name(run[0])}: {told[0]}"
        first = paragraph(name, width, indent=mark, hang=mark + _GAP)
        return first + [line for each in told[1:] for line in paragraph(each, width, indent=mark[:2] + _GAP + _GAP)]
    first_indent, indent = f"{mark}{_name(run[0]):<{column}}{_GAP}", " " * (len(mark) + column + len(_GAP))
    lines = paragraph(told[0], width, indent=first_indent, hang=indent)
    return lines + [line for each in told[1:] for line in paragraph(each, width, indent=indent)]


def _told(row: ExampleRow, later: str) -> Iterator[str]:
    if not row.observations:
        yield f"nothing seen{_chances([row], later)}"
        return
    yield from (_seen(each) for each in row.observations)
    chances = _chances([row], later)
    if chances:
        yield chances.removeprefix("; ")


def _seen(observation: Observation) -> str:
    without = "without " if observation.against else ""
    likely = ", known by likeness only" if observation.known_by is KnownBy.LIKENESS else ""
    why_not = "" if observation.counts else f"; does not count: {observation.why_not}"
    sources = ", ".join(observation.sources)
    return f"{without}{observation.shown}, {when_words(observation)}{likely} ({sources}){why_not}"


def _chances(rows: Sequence[ExampleRow], later: str) -> str:
    """The chance of the later value; empty for the machines that were seen with one or the other, and beyond them."""
    between = [row.chance for row in rows if row.chance is not None and 0 < row.chance < 1]
    if not between:
        return ""
    first, last = chance_in_words(between[0]), chance_in_words(between[-1])
    return f"; {first} of “{later}”" if first == last else f"; {first} of “{later}”, rising to {last}"
