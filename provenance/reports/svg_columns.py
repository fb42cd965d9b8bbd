"""Blocks of a drawing put one under the other in columns, those of a group under their heading."""

from collections.abc import Sequence
from dataclasses import dataclass

from provenance.reports.svg_drawing import Block

_MORE = 1.04


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Rows under a heading.

    Attributes:
        head: what stands over the first row.
        again: what stands over the rows that go on in the next column.
        rows: at least one.
    """

    head: Block
    again: Block
    rows: tuple[Block, ...]


def in_columns(groups: Sequence[Group], most: int) -> list[list[Block]]:
    """Put the blocks in at most so many columns of about the same height; at least one, which may be empty."""
    limit = sum(group.head.height + sum(row.height for row in group.rows) for group in groups) / most
    while len(columns := _to_height(groups, limit)) > most:
        limit *= _MORE
    return columns


def _to_height(groups: Sequence[Group], limit: float) -> list[list[Block]]:
    """Fill column after column; none of them is empty but the only one, and no heading stands at the end of one."""
    columns: list[list[Block]] = [[]]
    filled = 0.0
    for group in groups:
        for number, row in enumerate(group.rows):
            before = [] if number else [group.head]
            needed = sum(block.height for block in before) + row.height
            if columns[-1] and filled + needed > limit + 1e-6:
                before = [group.again if number else group.head]
                needed, filled = before[0].height + row.height, 0.0
                columns.append([])
            columns[-1] += [*before, row]
            filled += needed
    return columns
