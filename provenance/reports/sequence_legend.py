"""What the signs in a drawn order of production mean: only those that are there."""

from collections.abc import Iterator, Mapping

from provenance.reports.sequence import Observation, SequenceFigure
from provenance.reports.sequence_blocks import APART, SMALL, THICK
from provenance.reports.svg_drawing import Block, Lettering, height_of, lettered, rectangle, text_block
from provenance.reports.svg_signs import SHAPES, sign

_SAMPLE = 38.0
_GAP = 16.0
_COLUMN = 300.0


def legend_block(figure: SequenceFigure, signs: Mapping[tuple[str, ...], int], width: float) -> Block:
    """Lay the entries out side by side, row by row."""
    columns = int(width // _COLUMN)
    share = (width - (columns - 1) * _GAP) / columns
    drawn: list[str] = []
    y = row_height = 0.0
    for number, (sample, words) in enumerate(_entries(figure, signs)):
        if number % columns == 0:
            y, row_height = y + row_height, 0.0
        x = (number % columns) * (share + _GAP)
        lines: list[Lettering] = lettered(words, share - _SAMPLE, SMALL, most=2)
        drawn += Block(height=0.0, drawn=tuple(sample)).at(x, y)
        drawn += text_block(lines, x + _SAMPLE, y + 2.0)
        row_height = max(row_height, 18.0, height_of(lines) + 5.0)
    return Block(height=y + row_height, drawn=tuple(drawn))


def _entries(figure: SequenceFigure, signs: Mapping[tuple[str, ...], int]) -> Iterator[tuple[list[str], str]]:
    """Each with its sample, some 34 wide and 16 high, and its words."""
    seen = [each for batch in figure.batches for row in batch.rows for each in row.observations]
    for values, number in list(signs.items())[:SHAPES]:
        yield sign(number, 16.0, 8.0, is_filled=True), _value_words(values, seen)
    if len(signs) > SHAPES:
        yield sign(SHAPES, 16.0, 8.0, is_filled=True), "a number: one of the further values, each with its own"
    if not all(each.direct for each in seen):
        both = sign(0, 8.0, 8.0, is_filled=True) + sign(0, 25.0, 8.0, is_filled=False)
        yield both, "black: measured, shown or stated; white: only implied or compared"
    if any(each.against for each in seen):
        yield sign(0, 16.0, 8.0, is_filled=True, is_struck=True), "struck through: seen without it"
    if not all(each.counts for each in seen):
        yield [rectangle(1.0, 1.0, 30.0, 14.0, APART)], "dashed frame: does not count, with the reason"
    if any(row.is_target for batch in figure.batches for row in batch.rows):
        yield [rectangle(1.0, 2.0, 30.0, 12.0, THICK)], "thick frame: the machine represented"
    if figure.later:
        bar = rectangle(1.0, 4.0, 30.0, 9.0, 'fill="#ffffff" stroke="#000000" stroke-width="0.8"')
        part = rectangle(1.0, 4.0, 15.0, 9.0, 'fill="#000000"')
        yield [bar, part], f"bar: the chance of the later value, “{figure.later}”, rather than “{figure.earlier}”"


def _value_words(values: tuple[str, ...], seen: list[Observation]) -> str:
    """A value as people read it; of a measure that was written in several ways the value itself."""
    shown = dict.fromkeys(each.shown for each in seen if each.values == values)
    return next(iter(shown)) if len(shown) == 1 else " or ".join(f"“{each}”" for each in values)
