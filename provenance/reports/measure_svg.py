"""The figures of a measure as one drawing in SVG: each with its give or take along one scale, black on white.

Every figure has a row of its own, so none stands on another. Where there are more than a page holds, those that set the
value come first, and the others are counted.
"""

from collections.abc import Iterator, Mapping, Sequence

from provenance.reports.measure_rows import GAP, LEFT, RIGHT, Axis, MeasureRow, Room, figure_rows, summed_rows
from provenance.reports.measure_scales import LABEL, Scale, scales_of
from provenance.reports.measure_words import measure_title
from provenance.reports.svg_drawing import (
    PAGE,
    SMALLEST,
    Block,
    Frame,
    Lettering,
    fitted,
    framed,
    hatching,
    height_of,
    lettered,
    rectangle,
    short_digest,
    stroke,
    text_block,
    text_line,
)
from provenance.reports.svg_lettering import width_of
from provenance.rules.quantity_values import Quantity

_WIDTH = PAGE[0]
_MARGIN = 12.0
_WORDS = LEFT - 2 * _MARGIN
_TALLEST = PAGE[1] / SMALLEST
_SCALE = 26.0
_BEGIN = 8.0
_LIGHT = "#8c8c8c"
_HOW_TO_READ = (
    "One row a figure, with its give or take as a bar; the rows below them show what is laid down, what the figures "
    "come to together and how closely it must be known."
)


def measure_svg(quantity: Quantity, titles: Mapping[str, str]) -> str:
    """Draw it.

    Args:
        quantity: the figures.
        titles: the titles of the sources, by id; a source without one is named by its id.
    """
    hatch = f"{_prefix(quantity)}-hatch"
    axis = Axis.of(quantity)
    above, below = scales_of(quantity.unit, axis.low, axis.high, RIGHT - LEFT)
    title = lettered(measure_title(quantity), _WIDTH - 2 * _MARGIN, 14.0, most=3, bold=True)
    top = _MARGIN + height_of(title) + 8.0 + (_SCALE if above else 0.0)
    summed = list(summed_rows(quantity, axis, _WORDS))
    room = _TALLEST - top - sum(row.height + GAP for row in summed) - _SCALE - _MARGIN - _BEGIN
    rows = [*figure_rows(quantity, titles, axis, Room(width=_WORDS, height=room)), *summed]
    bottom = top + _BEGIN + sum(row.height + GAP for row in rows)
    frame = Frame(
        prefix=_prefix(quantity),
        title=measure_title(quantity),
        told=_HOW_TO_READ,
        width=_WIDTH,
        height=bottom + _SCALE + _MARGIN,
        scale=fitted(_WIDTH, bottom + _SCALE + _MARGIN),
    )
    drawn = [
        hatching(hatch, _LIGHT),
        *text_block(title, _MARGIN, _MARGIN),
        *_behind(quantity, axis, (top, bottom), hatch),
        *(_scale(above, axis, top, is_above=True) if above else []),
        *_scale(below, axis, bottom, is_above=False),
        *_placed(rows, top + _BEGIN, len(rows) - len(summed)),
    ]
    return framed(frame, drawn)


def _prefix(quantity: Quantity) -> str:
    """A quantity has no name, so its figures stand for it."""
    return f"measure-{short_digest(repr(quantity))}"


def _behind(quantity: Quantity, axis: Axis, ends: tuple[float, float], hatch: str) -> Iterator[str]:
    """The band of what the figures come to, and the line of what is laid down, behind all rows."""
    top, bottom = ends
    if quantity.mean is not None and quantity.expanded is not None:
        left, right = (axis.at(quantity.mean + way * quantity.expanded) for way in (-1, 1))
        yield rectangle(left, top, right - left, bottom - top, f'fill="url(#{hatch})" stroke="{_LIGHT}"')
    if quantity.nominal is not None:
        x = axis.at(quantity.nominal)
        yield stroke([(x, top), (x, bottom)], 1.4, "7 5")


def _scale(scale: Scale, axis: Axis, y: float, *, is_above: bool) -> Iterator[str]:
    """A scale with its marks away from the figures; a label that would leave the drawing is left out."""
    way = -1.0 if is_above else 1.0
    label_y = y - 9.0 if is_above else y + 9.0 + LABEL
    yield stroke([(LEFT, y), (RIGHT, y)], 1.2)
    yield text_line(Lettering(f"in {scale.unit}", LABEL, slanted=True), LEFT - _MARGIN, y + 3.0, "end")
    for tick in scale.ticks:
        x = axis.at(float(tick.place))
        yield stroke([(x, y), (x, y + 6.0 * way)], 1.2)
        half = width_of(tick.label, LABEL) / 2
        if half <= x <= _WIDTH - half:
            yield text_line(Lettering(tick.label, LABEL), x, label_y, "middle")


def _placed(rows: Sequence[MeasureRow], top: float, figures: int) -> Iterator[str]:
    """Put the rows one under the other; a line parts the figures from what they come to."""
    y = top
    for number, row in enumerate(rows):
        if number == figures:
            yield stroke([(_MARGIN, y - GAP / 2), (RIGHT, y - GAP / 2)], 0.8)
        yield from Block(height=row.height, drawn=(*text_block(row.words, _MARGIN, 0.0), *row.drawn)).at(0.0, y)
        y += row.height + GAP
