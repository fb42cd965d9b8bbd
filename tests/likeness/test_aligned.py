"""Two pictures laid on one another: what is common, and whether light and dark agree there; by hand."""

import numpy as np
import numpy.typing as npt
import pytest
from likeness.carried_pictures import print_carried

from provenance.likeness.aligned import compare
from provenance.likeness.laid_on import Laid, covered, lay, seen

Grey = npt.NDArray[np.uint8]


def _laid(inner: Grey, outer: Grey, matrix: npt.NDArray[np.float64] | None = None) -> Laid:
    laid = lay(inner, outer, np.eye(3) if matrix is None else matrix)
    assert laid is not None
    return laid


def _camera() -> Grey:
    return print_carried("camera.png").small


def _with_squares(grey: Grey, start: int) -> Grey:
    """Checked squares on a twelfth of the picture, eight rows of them, from a column on."""
    drawn = grey.copy()
    for row in range(8):
        top = 10 + 62 * row
        drawn[top : top + 30, start : start + 150] = (np.indices((30, 150)).sum(axis=0) // 8 % 2 * 220 + 20).astype(
            np.uint8
        )
    return drawn


def test_a_picture_agrees_with_itself_everywhere() -> None:
    found = compare(_laid(_camera(), _camera()))

    assert found.agreeing == 1
    assert found.correlation == pytest.approx(1, abs=1e-3)
    assert found.contrary == 0
    assert not found.unlike.any()


def test_light_and_contrast_make_no_difference() -> None:
    faded = (150 + _camera() * 0.3).astype(np.uint8)

    found = compare(_laid(_camera(), faded))

    assert found.agreeing > 0.98


def test_two_photographs_of_different_things_do_not_agree() -> None:
    found = compare(_laid(_camera(), print_carried("gravel.png").small))

    assert found.agreeing < 0.1
    assert abs(found.correlation) < 0.5


def test_a_note_on_one_of_two_prints_is_not_contrary_but_a_note_on_each_is() -> None:
    noted, otherwise = _with_squares(_camera(), 20), _with_squares(_camera(), 300)

    one_sided, both = compare(_laid(_camera(), noted)), compare(_laid(otherwise, noted))

    assert one_sided.contrary < 0.05
    assert both.contrary > 0.09
    assert both.agreeing < one_sided.agreeing < 1


def test_a_print_off_by_three_pixels_of_five_hundred_still_agrees() -> None:
    found = compare(_laid(_camera(), _camera(), np.array([[1, 0, 3], [0, 1, -3], [0, 0, 1.0]])))

    assert found.agreeing > 0.9


def test_a_picture_half_outside_is_half_covered() -> None:
    share, common = covered(_camera(), _camera(), np.array([[1, 0, 256], [0, 1, 0], [0, 0, 1.0]]))

    assert share == pytest.approx(0.5)
    assert common.min(axis=0) == pytest.approx([0, 0], abs=1e-3)
    assert common.max(axis=0) == pytest.approx([256, 512], abs=1e-3)


def test_pictures_that_share_a_sliver_or_nothing_are_not_laid_on_one_another() -> None:
    beside = np.array([[1, 0, 508], [0, 1, 0], [0, 0, 1.0]])
    away = np.array([[1, 0, 2000], [0, 1, 0], [0, 0, 1.0]])

    assert lay(_camera(), _camera(), beside) is None
    assert lay(_camera(), _camera(), away) is None


def test_two_even_pictures_tell_nothing() -> None:
    even = np.full((300, 400), 200, np.uint8)

    found = compare(_laid(even, even))

    assert found.told_by == 0
    assert found.agreeing == 0


def test_a_view_at_half_the_size_shows_the_middle_of_every_two_pixels() -> None:
    slope = np.repeat(np.arange(0, 200, 2, dtype=np.uint8)[None, :], 60, axis=0)  # column n has the tone 2 n

    inner, outer, inside = seen(_laid(slope, slope), (50, 30))

    expected = 4 * np.arange(50) + 1 - 128  # the middle of the tones 4 n and 4 n + 2, about the middle grey
    assert np.abs(inner[10, 5:-5] - expected[5:-5]).max() < 0.1
    assert np.abs(outer[10, 5:-5] - expected[5:-5]).max() < 0.1
    assert inside[10, 25] == 1
