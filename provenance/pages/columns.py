"""Columns: a page of two or more is read one column after the other, a table row by row.

Every threshold here is common practice, no source.
"""

from itertools import pairwise
from typing import Generic, NamedTuple, TypeVar

LEAST_LINES = 4
"""A column has at least so many lines."""

WORDS_IN_A_LINE = 3.5
"""The lines of a column have on the mean at least so many words; the cells of a table have fewer."""

FILLED = 0.6
"""The lines of a column are on the mean at least this share of its width; the cells of a table are not."""

GUTTER = 1.5
"""A gutter is at least so many percent of the page wide."""

_CELLS_PER_PERCENT = 2
_NARROWEST = 0.15

Thing = TypeVar("Thing")


class Span(NamedTuple, Generic[Thing]):
    """A word as it lies for a reader for whom it runs to the right: its edges in percent of the page."""

    left: float
    top: float
    right: float
    bottom: float
    word: Thing


def into_lines(spans: list[Span[Thing]]) -> list[list[Span[Thing]]]:
    """Put words into lines from the top, and each line from the left.

    A word belongs to the line before it when at least half of its height, or of that line's last word, is common.
    """
    lines: list[list[Span[Thing]]] = []
    for span in sorted(spans, key=lambda span: (span.top + span.bottom, span.left)):
        if lines and _shares_line(span, lines[-1][-1]):
            lines[-1].append(span)
        else:
            lines.append([span])
    return [sorted(line, key=lambda span: span.left) for line in lines]


def split_columns(spans: list[Span[Thing]]) -> list[list[Span[Thing]]]:
    """Part the words of a page into blocks, in the order in which they are read.

    The widest stretch of the page that a gutter divides into two columns of running text is found; what stands above
    comes first, then the left column, the right one, and what stands below; each is looked at again.
    """
    if not spans:
        return []
    gutter = _find_gutter(spans)
    if gutter is None:
        return [spans]
    top, bottom = _divided_stretch(spans, gutter)
    within = [span for span in spans if top <= _middle(span) <= bottom]
    columns = (
        [span for span in within if span.left + span.right < 2 * gutter],
        [span for span in within if span.left + span.right >= 2 * gutter],
    )
    if not all(map(_is_column, columns)):
        return [spans]
    above = [span for span in spans if _middle(span) < top]
    below = [span for span in spans if _middle(span) > bottom]
    return [block for part in (above, *columns, below) for block in split_columns(part)]


def _find_gutter(spans: list[Span[Thing]]) -> float | None:
    """Find the upright strip between the words that the fewest of them touch; None where every one is in the way."""
    touched = [0] * (100 * _CELLS_PER_PERCENT + 1)
    for span in spans:
        for cell in range(max(0, int(span.left * _CELLS_PER_PERCENT)), int(span.right * _CELLS_PER_PERCENT) + 1):
            touched[min(cell, len(touched) - 1)] += 1
    left, right = min(span.left for span in spans), max(span.right for span in spans)
    margin, width = _NARROWEST * (right - left), round(GUTTER * _CELLS_PER_PERCENT)
    inner = range(int((left + margin) * _CELLS_PER_PERCENT), int((right - margin) * _CELLS_PER_PERCENT) - width)
    middle = (left + right) / 2 * _CELLS_PER_PERCENT
    fewest = min(inner, key=lambda cell: (sum(touched[cell : cell + width]), abs(cell - middle)), default=None)
    if fewest is None or sum(touched[fewest : fewest + width]) > max(touched):
        return None
    return (fewest + width / 2) / _CELLS_PER_PERCENT


def _divided_stretch(spans: list[Span[Thing]], gutter: float) -> tuple[float, float]:
    """Give the tallest stretch of the page in which no word touches the gutter: from above, to below."""
    half = GUTTER / 2
    crossing = sorted(_middle(span) for span in spans if span.left < gutter + half and span.right > gutter - half)
    edges = [float("-inf"), *crossing, float("inf")]
    found = sorted(map(_middle, spans))
    above, below = max(pairwise(edges), key=lambda stretch: sum(stretch[0] < middle < stretch[1] for middle in found))
    inside = [middle for middle in found if above < middle < below]
    return (inside[0], inside[-1]) if inside else (0.0, 0.0)


def _is_column(spans: list[Span[Thing]]) -> bool:
    """Tell whether words are running text: several lines, of several words, that mostly fill the width."""
    lines = into_lines(spans)
    if len(lines) < LEAST_LINES or len(spans) < WORDS_IN_A_LINE * len(lines):
        return False
    width = max(span.right for span in spans) - min(span.left for span in spans)
    filled = sum(line[-1].right - line[0].left for line in lines)
    return filled >= FILLED * width * len(lines)


def _shares_line(span: Span[Thing], last: Span[Thing]) -> bool:
    common = min(span.bottom, last.bottom) - max(span.top, last.top)
    return common >= min(span.bottom - span.top, last.bottom - last.top) / 2


def _middle(span: Span[Thing]) -> float:
    return (span.top + span.bottom) / 2
