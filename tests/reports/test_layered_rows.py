import pytest
from hypothesis import given
from hypothesis import strategies as st
from reports.made_graphs import Lines, a_family, crossings_in

from provenance.reports.layered_rows import Rows, broken, grown, ranks

graphs = st.lists(st.tuples(st.integers(0, 11), st.integers(0, 11)), max_size=24).map(
    lambda pairs: sorted({(min(pair), max(pair)) for pair in pairs if pair[0] != pair[1]})
)


def length(rank: list[int], lines: Lines) -> int:
    return sum(rank[lower] - rank[upper] for upper, lower in lines)


@pytest.mark.parametrize(
    ("boxes", "lines", "rows"),
    [
        (0, [], []),
        (2, [], [0, 0]),
        (3, [(0, 1), (1, 2)], [0, 1, 2]),
        # The way by 1 is the longest; 3 has nothing above it and stands just above what was made from it.
        (5, [(0, 1), (1, 2), (0, 2), (3, 4), (2, 4)], [0, 1, 2, 2, 3]),
        # 0 and 1 hang together and move down as one, since two long lines become shorter and none longer.
        (7, [(0, 1), (2, 3), (3, 4), (4, 5), (1, 5), (1, 6), (4, 6)], [1, 2, 0, 1, 2, 3, 3]),
    ],
)
def test_each_box_stands_below_what_leads_to_it_and_near_to_it(boxes: int, lines: Lines, rows: list[int]) -> None:
    assert ranks(boxes, lines) == rows


@given(graphs)
def test_lines_lead_down_and_are_never_longer_than_by_the_longest_way(lines: Lines) -> None:
    rank = ranks(12, lines)
    longest = [0] * 12
    for box in range(12):
        longest[box] = max((longest[upper] + 1 for upper, lower in lines if lower == box), default=0)

    assert all(rank[upper] < rank[lower] for upper, lower in lines)
    assert min(rank) == 0
    assert length(rank, lines) <= length(longest, lines)


def test_a_line_that_passes_rows_has_a_point_in_each() -> None:
    rows = grown([0, 1, 2], [(0, 1), (1, 2), (0, 2)])

    assert rows == Rows(order=((0,), (1, 3), (2,)), row_of=(0, 1, 2, 1), chains=((0, 1), (1, 2), (0, 3, 2)))
    assert rows.points == 4


def test_a_full_row_is_broken_and_its_boxes_take_turns() -> None:
    """Five prints of one negative, of which the second has a print: two rows of three and two."""
    rows = broken(grown([0, 1, 1, 1, 1, 1, 2], [*((0, box) for box in range(1, 6)), (2, 6)]), 7, 3)

    boxes = [[point for point in row if point < 7] for row in rows.order]
    assert boxes == [[0], [1, 3, 5], [2, 4], [6]]
    assert [len(row) for row in rows.order] == [1, 5, 2, 1]


@given(graphs, st.integers(1, 4))
def test_breaking_rows_brings_no_crossing_and_leaves_no_row_too_full(lines: Lines, most: int) -> None:
    rows = grown(ranks(12, lines), lines)

    narrow = broken(rows, 12, most)

    assert max(sum(point < 12 for point in row) for row in narrow.order) <= most
    assert crossings_in(narrow) == crossings_in(rows)
    assert [(chain[0], chain[-1]) for chain in narrow.chains] == lines


def test_rows_that_are_not_too_full_stay_as_they_are() -> None:
    lines = a_family(20, 1)
    rows = grown(ranks(20, lines), lines)

    assert broken(rows, 20, 20) == rows
