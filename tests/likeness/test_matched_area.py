"""Where the common area lies on each page, by hand."""

import numpy as np
import numpy.typing as npt
import pytest

from provenance.likeness.aligned import Agreement
from provenance.likeness.laid_on import lay
from provenance.likeness.matched_area import Area, matched_area
from provenance.likeness.values import Form
from provenance.records.readings import Box

WHOLE = Box(0, 0, 100, 100)
SMALL, LARGE = np.zeros((100, 200), np.uint8), np.zeros((400, 400), np.uint8)  # height by width
IN_THE_UPPER_RIGHT = np.array([[0.5, 0, 250], [0, 0.5, 50], [0, 0, 1.0]])  # 250 to 350 across, 50 to 100 down


def area(
    *, like: npt.NDArray[np.bool_] | None = None, parts: tuple[Box, Box] = (WHOLE, WHOLE), form: Form = Form.PLAIN,
    is_first_inner: bool = True, matrix: npt.NDArray[np.float64] = IN_THE_UPPER_RIGHT,
) -> Area:  # fmt: skip
    laid = lay(SMALL, LARGE, matrix)
    assert laid is not None
    alike = np.ones((8, 16), np.bool_) if like is None else like
    seen = Agreement(told_by=128, agreeing=1, correlation=1, contrary=0, between_rules=1, like=alike, unlike=~alike)
    return matched_area(laid, seen, parts, form, is_first_inner=is_first_inner)


def _is(corners: object, expected: list[tuple[float, float]]) -> bool:
    return bool(np.allclose(np.array(corners), np.array(expected), atol=1e-3))


def test_a_small_picture_in_the_upper_right_of_a_large_one() -> None:
    found = area()

    assert _is(found.one, [(0, 0), (100, 0), (100, 100), (0, 100)])
    assert _is(found.other, [(62.5, 12.5), (87.5, 12.5), (87.5, 25), (62.5, 25)])
    assert found.share == pytest.approx(1)
    assert found.place == "in the upper right of"


def test_the_large_one_first() -> None:
    found = area(is_first_inner=False)

    assert _is(found.one, [(62.5, 12.5), (87.5, 12.5), (87.5, 25), (62.5, 25)])
    assert _is(found.other, [(0, 0), (100, 0), (100, 100), (0, 100)])


def test_the_first_was_mirrored_to_fit() -> None:
    found = area(form=Form.MIRRORED)

    assert _is(found.one, [(0, 0), (100, 0), (100, 100), (0, 100)])
    assert _is(found.other, [(87.5, 12.5), (62.5, 12.5), (62.5, 25), (87.5, 25)])


def test_areas_are_told_on_the_page_that_holds_the_picture() -> None:
    found = area(parts=(Box(10, 20, 50, 40), Box(0, 50, 100, 50)))

    assert _is(found.one, [(10, 20), (60, 20), (60, 60), (10, 60)])
    assert _is(found.other, [(62.5, 56.25), (87.5, 56.25), (87.5, 62.5), (62.5, 62.5)])


def test_what_is_not_alike_at_an_edge_is_left_out() -> None:
    like = np.ones((8, 16), np.bool_)
    like[:, :4] = False  # the left quarter
    like[6:] = False  # the lower quarter

    found = area(like=like)

    assert _is(found.one, [(25, 0), (100, 0), (100, 75), (25, 75)])
    assert found.share == pytest.approx(0.75 * 0.75)


def test_a_note_across_the_middle_leaves_the_area_whole() -> None:
    like = np.ones((8, 16), np.bool_)
    like[3:5, 2:14] = False

    found = area(like=like)

    assert found.share == pytest.approx(1)


def test_a_picture_that_hangs_over_the_edge_is_common_up_to_the_edge() -> None:
    found = area(matrix=np.array([[1, 0, 300], [0, 1, 0], [0, 0, 1.0]]))  # its right half lies outside

    assert _is(found.one, [(0, 0), (50, 0), (50, 100), (0, 100)])
    assert _is(found.other, [(75, 0), (100, 0), (100, 25), (75, 25)])
    assert found.share == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("across", "down", "place"),
    [(0, 0, "in the upper left of"), (300, 175, "at the right of"), (150, 350, "in the lower part of"),
     (150, 175, "in the middle of"), (0, 175, "at the left of"), (300, 350, "in the lower right of")],
)  # fmt: skip
def test_places_in_words(across: float, down: float, place: str) -> None:
    found = area(matrix=np.array([[0.5, 0, across], [0, 0.5, down], [0, 0, 1.0]]))

    assert found.place == place
