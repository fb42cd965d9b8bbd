"""Boxes and lines made for tests of layouts, and crossings counted by looking at every two lines."""

import random
from itertools import combinations, pairwise, permutations, product

from provenance.reports.layered_rows import Rows

Lines = list[tuple[int, int]]


def a_family(boxes: int, seed: int, *, second: float = 0.15) -> Lines:
    """Sources of which most were made from one of the dozen before, some from a second one."""
    chance = random.Random(seed)
    lines = set()
    for box in range(1, boxes):
        if chance.random() < 0.85:
            lines.add((chance.randrange(max(0, box - 12), box), box))
        if chance.random() < second:
            lines.add((chance.randrange(box), box))
    return sorted(lines)


def segments(rows: Rows) -> list[list[tuple[int, int]]]:
    """For each two rows the places, in the one and in the other, of the ends of every line between them."""
    place = {point: number for row in rows.order for number, point in enumerate(row)}
    found: list[list[tuple[int, int]]] = [[] for _ in rows.order]
    for chain in rows.chains:
        for upper, lower in pairwise(chain):
            assert rows.row_of[lower] == rows.row_of[upper] + 1
            found[rows.row_of[upper]].append((place[upper], place[lower]))
    return found


def crossings_in(rows: Rows) -> int:
    """Every two lines between the same rows whose ends stand the other way round."""
    return sum(
        (one[0] - other[0]) * (one[1] - other[1]) < 0
        for between in segments(rows)
        for one, other in combinations(between, 2)
    )


def fewest_crossings(rows: Rows) -> int:
    """The fewest over every order of every row."""
    return min(
        crossings_in(Rows(order=order, row_of=rows.row_of, chains=rows.chains))
        for order in product(*(permutations(row) for row in rows.order))
    )
