"""Blocks put in columns, against what has to hold whatever their heights are."""

from hypothesis import given
from hypothesis import strategies as st

from provenance.reports.svg_columns import Group, in_columns
from provenance.reports.svg_drawing import Block


def a_block(name: str, height: float = 10.0) -> Block:
    return Block(height=height, drawn=(name,))


def a_group(name: str, *heights: float) -> Group:
    rows = tuple(a_block(f"{name}{number}", height) for number, height in enumerate(heights))
    return Group(head=a_block(name), again=a_block(f"{name} continued"), rows=rows)


def named(columns: list[list[Block]]) -> list[list[str]]:
    return [[block.drawn[0] for block in column] for column in columns]


def test_in_one_column_all_stand_under_their_headings() -> None:
    groups = [a_group("a", 10, 10), a_group("b", 10)]

    assert named(in_columns(groups, 1)) == [["a", "a0", "a1", "b", "b0"]]


def test_a_group_that_goes_on_in_the_next_column_has_its_heading_again() -> None:
    assert named(in_columns([a_group("a", 10, 10, 10, 10)], 2)) == [["a", "a0", "a1"], ["a continued", "a2", "a3"]]


def test_nothing_gives_one_empty_column() -> None:
    assert in_columns([], 2) == [[]]


@given(st.lists(st.lists(st.floats(1, 80), min_size=1, max_size=9), min_size=1, max_size=6), st.integers(1, 3))
def test_every_row_stands_once_in_order_and_no_heading_at_the_end_of_a_column(
    heights: list[list[float]], most: int
) -> None:
    groups = [a_group(f"{number}-", *each) for number, each in enumerate(heights)]

    columns = in_columns(groups, most)

    assert len(columns) <= most
    rows = [block for column in columns for block in column if block in {row for group in groups for row in group.rows}]
    assert rows == [row for group in groups for row in group.rows]
    for column in columns:
        assert column[0] not in rows
        assert column[-1] in rows
