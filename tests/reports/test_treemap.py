"""A rectangle parted among shares: as large as they are, nothing over, nothing on another, near to squares."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from provenance.reports.treemap import Area, squarified

SHARES = st.lists(st.integers(1, 60), min_size=1, max_size=40)
SIDES = st.integers(1, 2000)


def test_the_example_of_the_paper_comes_out_as_it_is_printed_there() -> None:
    # Bruls, Huizing and van Wijk 2000, section 3: areas 6, 6, 4, 3, 2, 2, 1 in 6 by 4. The steps are from memory; that
    # the outcome is 6 over 6 at the side, then 4 beside 3, then 2, 2 and 1 beside one another is told in the same way
    # by programs that follow the paper. The figures are reckoned by hand.
    areas = squarified([6, 6, 4, 3, 2, 2, 1], Area(0, 0, 6, 4))

    by_hand = [
        (0, 0, 3, 2),
        (0, 2, 3, 2),
        (3, 0, 12 / 7, 7 / 3),
        (3 + 12 / 7, 0, 9 / 7, 7 / 3),
        (3, 7 / 3, 6 / 5, 5 / 3),
        (3 + 6 / 5, 7 / 3, 6 / 5, 5 / 3),
        (3 + 12 / 5, 7 / 3, 3 / 5, 5 / 3),
    ]
    for area, expected in zip(areas, by_hand, strict=True):
        assert (area.x, area.y, area.width, area.height) == pytest.approx(expected)
    assert [round(area.ratio, 4) for area in areas] == [1.5, 1.5, 1.3611, 1.8148, 1.3889, 1.3889, 2.7778]


def test_the_areas_come_in_the_order_in_which_the_shares_were_given() -> None:
    areas = squarified([1, 6, 2], Area(0, 0, 3, 3))

    assert [round(area.size, 9) for area in areas] == [1, 6, 2]


def test_nothing_to_part_gives_nothing() -> None:
    assert squarified([], Area(0, 0, 3, 3)) == ()


@pytest.mark.parametrize(("share", "side"), [(0, 1), (-1, 1), (1, 0)])
def test_a_share_or_a_side_of_nothing_is_refused(share: float, side: float) -> None:
    with pytest.raises(ValueError, match="more than 0"):
        squarified([1, share], Area(0, 0, side, 1))


@given(SHARES, SIDES, SIDES)
def test_every_area_is_in_proportion_to_its_share(shares: list[int], width: int, height: int) -> None:
    areas = squarified(shares, Area(7, 11, width, height))

    for share, area in zip(shares, areas, strict=True):
        assert math.isclose(area.size / (width * height), share / sum(shares), rel_tol=1e-9)


@given(SHARES, SIDES, SIDES)
def test_the_areas_lie_within_and_not_on_one_another(shares: list[int], width: int, height: int) -> None:
    areas = squarified(shares, Area(7, 11, width, height))

    slack = 1e-9 * max(width, height)
    for area in areas:
        assert min(area.width, area.height) > 0
        assert 7 - slack <= area.x <= area.x + area.width <= 7 + width + slack
        assert 11 - slack <= area.y <= area.y + area.height <= 11 + height + slack
    for number, one in enumerate(areas):
        for other in areas[:number]:
            across = min(one.x + one.width, other.x + other.width) - max(one.x, other.x)
            down = min(one.y + one.height, other.y + other.height) - max(one.y, other.y)
            assert min(across, down) <= slack


def test_equal_shares_stand_in_the_order_in_which_they_were_given() -> None:
    assert [area.x for area in squarified([2, 2, 2, 2], Area(0, 0, 4, 1))] == [0, 1, 2, 3]
    assert [area.y for area in squarified([2, 2, 2, 2], Area(0, 0, 1, 4))] == [0, 1, 2, 3]


@given(st.lists(st.integers(1, 9), min_size=1, max_size=6), st.integers(1, 20), st.integers(1, 20))
def test_the_first_row_takes_in_areas_until_one_more_would_make_it_worse(
    shares: list[int], width: int, height: int
) -> None:
    # The rule of the paper tried by force: of all beginnings of the row, the first after which it only gets worse.
    sizes = sorted((share * width * height / sum(shares) for share in shares), reverse=True)
    side = min(width, height)

    def worst(many: int) -> float:
        thick = sum(sizes[:many]) / side
        return max(max(thick / (size / thick), (size / thick) / thick) for size in sizes[:many])

    areas = squarified(sorted(shares, reverse=True), Area(0, 0, width, height))
    in_row = sum(area.x == 0 if width >= height else area.y == 0 for area in areas)
    assert all(worst(many) <= worst(many - 1) * (1 + 1e-9) for many in range(2, in_row + 1))
    assert in_row == len(sizes) or worst(in_row + 1) >= worst(in_row) * (1 - 1e-9)


@given(st.lists(st.integers(1, 9), min_size=1, max_size=6), st.integers(1, 20), st.integers(1, 20))
def test_the_longest_area_is_no_longer_than_where_all_are_cut_in_slices(
    shares: list[int], width: int, height: int
) -> None:
    total, long, short = sum(shares), max(width, height), min(width, height)
    areas = squarified(shares, Area(0, 0, width, height))

    sliced = max(Area(0, 0, long * share / total, short).ratio for share in shares)
    assert max(area.ratio for area in areas) <= sliced * (1 + 1e-9)
