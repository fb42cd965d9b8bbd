import pytest

from provenance.likeness.rectangles import Rectangle, join_near, rectangle_of
from provenance.records.readings import Box


@pytest.mark.parametrize(
    ("box", "more", "wanted"),
    [
        (Box(10, 20, 30, 40), 0, (20, 20, 80, 60)),
        (Box(10.2, 20.5, 30, 40), 0, (20, 20, 81, 61)),  # points that are touched count
        (Box(10, 20, 30, 40), 5, (15, 15, 85, 65)),
        (Box(-10, -10, 200, 200), 0, (0, 0, 200, 100)),
        (Box(0, 0, 100, 100), 3, (0, 0, 200, 100)),
    ],
)
def test_a_box_touches_these_points_of_a_picture_of_a_hundred_rows_and_two_hundred_columns(
    box: Box, more: float, wanted: tuple[int, int, int, int]
) -> None:
    assert rectangle_of(box, (100, 200), more) == wanted


def test_a_rectangle_is_told_in_percent() -> None:
    assert Rectangle(20, 20, 80, 60).as_box((100, 200)) == Box(10, 20, 30, 40)


@pytest.mark.parametrize(
    ("other", "common"), [((5, 5, 15, 15), 25), ((10, 0, 20, 10), 0), ((30, 30, 40, 40), 0), ((2, 3, 4, 5), 4)]
)
def test_what_two_rectangles_have_in_common(other: tuple[int, int, int, int], common: int) -> None:
    assert Rectangle(0, 0, 10, 10).common(Rectangle(*other)) == common
    assert Rectangle(*other).common(Rectangle(0, 0, 10, 10)) == common


def test_rectangles_with_a_small_gap_are_joined_and_those_with_a_larger_one_are_not() -> None:
    joined = join_near([Rectangle(0, 0, 10, 10), Rectangle(12, 0, 20, 10), Rectangle(0, 13, 10, 20)], 3)

    assert sorted(joined) == [(0, 0, 20, 10), (0, 13, 10, 20)]


def test_a_rectangle_that_lies_between_two_joins_them_though_it_comes_last() -> None:
    joined = join_near([Rectangle(0, 0, 10, 10), Rectangle(30, 0, 40, 10), Rectangle(9, 4, 31, 6)], 1)

    assert joined == [(0, 0, 40, 10)]


def test_a_rectangle_that_grew_by_joining_takes_in_what_now_lies_within_it() -> None:
    joined = join_near([Rectangle(20, 2, 22, 4), Rectangle(0, 0, 10, 10), Rectangle(9, 8, 40, 12)], 1)

    assert joined == [(0, 0, 40, 12)]
