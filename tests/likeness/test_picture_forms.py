"""The points and marks worked out for a mirror image or a negative are those that it has."""

import numpy as np
import pytest
from likeness.carried_pictures import print_carried

from provenance.likeness.picture_forms import small_as, take_as
from provenance.likeness.picture_points import find_points
from provenance.likeness.values import Form


@pytest.mark.parametrize("form", list(Form))
@pytest.mark.parametrize("name", ["coins.png", "coffee.png"])
def test_marks_of_a_form_are_those_found_in_the_picture_so_made(form: Form, name: str) -> None:
    picture = print_carried(name)

    points, marks = take_as(picture, form)
    found, found_marks = find_points(small_as(picture, form))

    near = np.abs(points[:, None, :2] - found[None, :, :2]).max(axis=2) < 1.5
    turned = np.abs((points[:, None, 3] - found[None, :, 3] + 180) % 360 - 180) < 10
    ours, theirs = np.nonzero(near & turned)
    apart = np.bitwise_count(marks[ours] ^ found_marks[theirs]).sum(axis=1, dtype=int)
    assert len(set(ours.tolist())) > 0.4 * len(points)  # the contrast of corners is evened a little otherwise
    assert np.abs(np.median(points[ours, :2] - found[theirs, :2], axis=0)).max() < 0.1  # pixels
    assert np.median(apart) < 20  # of 256; marks of different points differ in about 110


@pytest.mark.parametrize("form", list(Form))
def test_a_form_taken_twice_is_the_picture_itself(form: Form) -> None:
    picture = print_carried("coins.png")

    twice = small_as(picture, form)[:, ::-1] if "mirror" in form.value else small_as(picture, form)

    expected = 255 - picture.small if "negative" in form.value else picture.small
    np.testing.assert_array_equal(twice, expected)
