"""The rows of a drawing of figures: the words at the left, and at the right what is drawn along the scale."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import accumulate, islice

from provenance.records.kinds import Condition
from provenance.reports.layout import counted
from provenance.reports.measure_text import near_words, rounded_words, together_words, what_it_is
from provenance.reports.measure_words import by_weight, needed_words, nominal_words
from provenance.reports.svg_drawing import LINE, PAGE, Lettering, height_of, lettered, stroke
from provenance.reports.svg_signs import sign
from provenance.rules.quantity_values import MeasuredValue, Quantity

LEFT, RIGHT = 286.0, PAGE[0] - 24.0
"""Where the scale begins and ends, in pixels."""
GAP = 7.0
"""Between one row and the next."""
_EMPTY = 0.06
_TEXT, _SMALL = 10.5, 9.5
_MIDDLE = 8.0
"""How far below the top of its row a bar is drawn."""
_TICK = 5.0
_MOST = 60
"""No page holds the rows of more figures."""
_NOMINAL, _COUNTED, _UNSOUND = 3, 0, 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """From figures to places on the drawing; `low` and `high` are in the unit of the quantity, `low` the smaller."""

    low: float
    high: float

    @classmethod
    def of(cls, quantity: Quantity) -> "Axis":
        """Wide enough for everything that is drawn, with some room at either end."""
        ends = [end for value in quantity.values for end in _around(value.value, value.half_width)]
        if quantity.mean is not None:
            ends += _around(quantity.mean, quantity.expanded or 0.0)
        if quantity.nominal is not None:
            ends.append(quantity.nominal)
        middle = middle_of(quantity)
        if middle is not None and quantity.needed is not None:
            ends += _around(middle, quantity.needed)
        ends += [size.value for size in quantity.near]
        low, high = min(ends, default=0.0), max(ends, default=0.0)
        room = (high - low) * _EMPTY
        largest = max(abs(low), abs(high))
        if largest + room == largest:  # no width at all, or none that figures of this size can show
            room = largest / 100 or 1.0
        return cls(low=low - room, high=high + room)

    def at(self, value: float) -> float:
        """How far to the right a figure stands, in pixels."""
        return LEFT + (value - self.low) / (self.high - self.low) * (RIGHT - LEFT)


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasureRow:
    """One row.

    Attributes:
        words: at the left.
        drawn: at the right, from the top of the row down.
    """

    words: tuple[Lettering, ...]
    drawn: tuple[str, ...]

    @property
    def height(self) -> float:
        """How much room it takes."""
        return max(height_of(self.words), 2 * _MIDDLE)


def middle_of(quantity: Quantity) -> float | None:
    """About what it is told how closely the value must be known: the mean, else the nominal; None without either."""
    return quantity.nominal if quantity.mean is None else quantity.mean


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """How wide the words may be, and how high the rows together, the gaps between them too."""

    width: float
    height: float


def figure_rows(quantity: Quantity, titles: Mapping[str, str], axis: Axis, room: Room) -> list[MeasureRow]:
    """A row for each figure, in their order.

    Where there is not room for all, the titles of the sources are cut to fewer lines; where that does not do, the
    figures that set the value come first, and the last row says how many are left out.
    """
    order = by_weight(quantity)[:_MOST]
    rows: dict[int, MeasureRow] = {}
    for title_lines in (3, 2, 1):
        rows = {place: _figure_row(quantity, place, titles, axis, (room.width, title_lines)) for place in sorted(order)}
        if len(rows) == len(quantity.values) and sum(row.height + GAP for row in rows.values()) <= room.height:
            return list(rows.values())
    heights = accumulate((rows[place].height + GAP for place in order), initial=2 * _SMALL * LINE + GAP)
    kept = [place for place, height in zip(order, islice(heights, 1, None), strict=True) if height <= room.height]
    more = f"and {counted(len(quantity.values) - len(kept), 'further figure')}, not drawn for want of room"
    last = MeasureRow(words=tuple(lettered(more, room.width, _SMALL, most=2, slanted=True)), drawn=())
    return [*(rows[place] for place in sorted(kept)), last]


def _figure_row(
    quantity: Quantity, place: int, titles: Mapping[str, str], axis: Axis, room: tuple[float, int]
) -> MeasureRow:
    """The row of one figure; `room` is how wide the words may be, and on how many lines the title stands at most."""
    value = quantity.values[place]
    width, title_lines = room
    words = (
        *lettered(value.written, width, _TEXT, most=2, bold=True),
        *lettered(f"{rounded_words(value)} {quantity.unit}", width, _SMALL, most=2),
        *lettered(titles.get(value.source, value.source), width, _SMALL, most=title_lines, slanted=True),
        *lettered(what_it_is(value), width, _SMALL, most=2),
    )
    bar = _bar(axis, value.value, value.half_width, weight=2.0) if value.half_width else []
    number, is_filled = _sign_of(value)
    marks = sign(number, axis.at(value.value), _MIDDLE, is_filled=is_filled)
    return MeasureRow(words=words, drawn=(*bar, *marks))


def _sign_of(value: MeasuredValue) -> tuple[int, bool]:
    """A lozenge is laid down, a circle measured, a triangle measured on a piece that is not sound; black counts."""
    if value.is_nominal:
        return _NOMINAL, bool(value.weight)
    if value.condition is not Condition.SOUND:
        return _UNSOUND, False
    return _COUNTED, value.counted


def summed_rows(quantity: Quantity, axis: Axis, width: float) -> Iterator[MeasureRow]:
    """What is laid down, what the figures come to, the sizes of the trade near it, and what is needed."""
    if nominal_words(quantity):
        yield _row(nominal_words(quantity), "dashed line", width, ())
    if quantity.mean is not None and quantity.expanded is not None:
        bar = _bar(axis, quantity.mean, quantity.expanded, weight=4.0)
        x = axis.at(quantity.mean)
        middle = stroke([(x, _MIDDLE - 8.0), (x, _MIDDLE + 8.0)], 2.0)
        yield _row(together_words(quantity), "hatched band", width, (*bar, middle))
    if quantity.near:
        ticks = (axis.at(size.value) for size in quantity.near)
        drawn = tuple(stroke([(x, _MIDDLE - 6.0), (x, _MIDDLE + 6.0)], 1.2) for x in ticks)
        yield _row(near_words(quantity), "short upright strokes", width, drawn)
    if quantity.needed is not None:
        middle_value = middle_of(quantity)
        drawn = () if middle_value is None else (_bracket(axis, middle_value, quantity.needed),)
        yield _row(needed_words(quantity), "bracket" if drawn else "", width, drawn)


def _row(words: str, drawn_as: str, width: float, drawn: tuple[str, ...]) -> MeasureRow:
    lines = lettered(words, width, _TEXT, most=6)
    lines += lettered(drawn_as, width, _SMALL, most=1, slanted=True)
    return MeasureRow(words=tuple(lines), drawn=drawn)


def _bar(axis: Axis, value: float, half_width: float, *, weight: float) -> list[str]:
    left, right = axis.at(value - half_width), axis.at(value + half_width)
    ends = [stroke([(x, _MIDDLE - _TICK), (x, _MIDDLE + _TICK)], 1.4) for x in (left, right)]
    return [stroke([(left, _MIDDLE), (right, _MIDDLE)], weight), *ends]


def _bracket(axis: Axis, value: float, half_width: float) -> str:
    left, right = axis.at(value - half_width), axis.at(value + half_width)
    down = _MIDDLE + 6.0
    return stroke([(left, down), (left, _MIDDLE - 4.0), (right, _MIDDLE - 4.0), (right, down)], 1.6)


def _around(value: float, half_width: float) -> list[float]:
    return [value - half_width, value + half_width]
