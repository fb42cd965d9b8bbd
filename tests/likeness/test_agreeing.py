"""The geometry between two sets of points, where it is known."""

import numpy as np
import numpy.typing as npt
import pytest
from likeness.made_prints import a_print, turned

from provenance.likeness.agreeing import agree, carry, count_places, is_plausible, lay_on, pair_one_way, pair_up

SIDES = (512.0, 512.0)


def _shift_and_scale(factor: float, across: float, down: float) -> npt.NDArray[np.float64]:
    return np.array([[factor, 0, across], [0, factor, down], [0, 0, 1.0]])


def test_points_turned_and_scaled_by_a_known_amount_tell_the_amount() -> None:
    one = a_print(1, points=200)
    other = turned(one, 30, 0.8, 2)

    pairs = pair_up(one.marks, other.marks)
    pairs = pairs[agree(one.points, other.points, pairs, SIDES)]
    geometry = lay_on((one.points, one.marks), (other.points, other.marks), pairs, SIDES)

    assert geometry is not None
    assert geometry.inliers > 80
    middle, beside = carry(geometry.matrix, [(256, 256), (257, 256)])
    assert middle == pytest.approx([256, 256], abs=1.5)
    assert np.hypot(*(beside - middle)) == pytest.approx(0.8, rel=0.02)
    assert np.degrees(np.arctan2(*(beside - middle)[::-1])) == pytest.approx(30, abs=1)


def test_points_of_two_pictures_that_have_nothing_to_do_with_each_other_do_not_agree() -> None:
    one, other = a_print(5, points=400), a_print(6, points=400)

    pairs = pair_up(one.marks, other.marks)

    assert agree(one.points, other.points, pairs, SIDES).sum() <= 3


def test_pairs_both_ways_are_among_those_one_way() -> None:
    one, other = a_print(1, points=100), turned(a_print(1, points=100), 10, 1, 3)

    both, single = ({tuple(pair) for pair in way(one.marks, other.marks).tolist()} for way in (pair_up, pair_one_way))

    assert both <= single
    assert len(both) > 40


def test_without_two_points_nothing_is_paired() -> None:
    one, other = a_print(1, points=1), a_print(2, points=9)

    assert len(pair_up(one.marks, other.marks)) == 0
    assert len(pair_one_way(other.marks, one.marks)) == 0
    assert len(agree(one.points, other.points, pair_up(one.marks, other.marks), SIDES)) == 0


def test_one_place_with_several_directions_counts_once() -> None:
    points = np.array([(10, 10, 4, 0), (10, 10, 4, 90), (30, 10, 4, 0)], np.float32)

    assert count_places(points) == 2


@pytest.mark.parametrize(
    ("matrix", "is_sound"),
    [
        pytest.param(np.eye(3), True, id="as it is"),
        pytest.param(_shift_and_scale(0.1, 40, 60), True, id="small within a page"),
        pytest.param(np.diag([-1.0, 1, 1]), False, id="turned over: mirrors are a form of their own"),
        pytest.param(np.diag([3.0, 1, 1]), False, id="drawn out"),
        pytest.param(_shift_and_scale(0.01, 0, 0), False, id="shrunk to nothing"),
        pytest.param(np.array([[1, 0, 0], [0, 1, 0], [-0.003, 0, 1.0]]), False, id="folded at the horizon"),
        pytest.param(np.array([[1, 0, 0], [0, 1, 0], [-1 / 512, 0, 1.0]]), False, id="up to the horizon"),
        pytest.param(np.array([[1, 0, 0], [0, 1, 0], [0.0004, 0, 1.0]]), True, id="taken aslant"),
    ],
)
def test_only_what_a_photographer_could_do_is_plausible(matrix: npt.NDArray[np.float64], *, is_sound: bool) -> None:
    assert is_plausible(matrix, 512) is is_sound


def test_two_pairs_are_too_few_for_any_geometry() -> None:
    one = a_print(1)
    pairs = np.array([(0, 0), (1, 1)])

    assert lay_on((one.points, one.marks), (one.points, one.marks), pairs, SIDES) is None
