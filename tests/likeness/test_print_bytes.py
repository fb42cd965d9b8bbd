"""Fingerprints kept as bytes come back as they were, or not at all."""

import hashlib
from dataclasses import replace

import numpy as np
import pytest
from likeness.carried_pictures import print_carried
from likeness.made_prints import a_print

from provenance.likeness.print_bytes import as_kept, from_bytes, to_bytes
from provenance.likeness.values import PicturePrint
from provenance.records.readings import Box


def _two() -> list[PicturePrint]:
    return [print_carried("chelsea.png"), print_carried("coins.png")]


def test_prints_come_back_in_their_order_as_they_were() -> None:
    prints = _two()

    back = from_bytes(to_bytes(prints))

    assert [(one.part, one.hash) for one in back] == [(one.part, one.hash) for one in prints]
    for before, after in zip(prints, back, strict=True):
        np.testing.assert_array_equal(after.points, before.points)
        np.testing.assert_array_equal(after.marks, before.marks)
        assert after.points.dtype == np.float32
        assert np.abs(after.small.astype(int) - before.small).mean() < 0.05  # a JPEG written anew hardly changes


def test_a_part_of_a_page_comes_back_to_the_last_decimal() -> None:
    part = Box(1 / 3, 12.25, 99 / 7, 0.1)

    (back,) = from_bytes(to_bytes([replace(print_carried("coins.png"), part=part)]))

    assert back.part == part


def test_the_same_prints_give_the_same_bytes() -> None:
    assert to_bytes(_two()) == to_bytes(_two())


def test_no_prints_are_kept_as_no_prints() -> None:
    assert from_bytes(to_bytes([])) == ()


def test_a_print_without_points_comes_back() -> None:
    (back,) = from_bytes(to_bytes([a_print(1, points=0)]))

    assert back.points.shape == (0, 4)
    assert len(back.marks) == 0


def test_any_changed_byte_is_noticed() -> None:
    data = to_bytes([a_print(2, points=10)])

    for at in range(len(data)):
        changed = bytearray(data)
        changed[at] ^= 1
        with pytest.raises(ValueError, match="not the fingerprints"):
            from_bytes(bytes(changed))


@pytest.mark.parametrize("kept", [0, 4, 8, 39, 41, -1])
def test_bytes_cut_short_are_noticed(kept: int) -> None:
    data = to_bytes([print_carried("coins.png")])

    with pytest.raises(ValueError, match="not the fingerprints"):
        from_bytes(data[:kept])


def test_bytes_after_the_last_print_are_noticed() -> None:
    with pytest.raises(ValueError, match="not the fingerprints"):
        from_bytes(to_bytes([a_print(3)]) + b"x")


def test_the_digest_is_sha_256_of_what_follows_it() -> None:
    data = to_bytes([a_print(4)])

    assert data[8:40] == hashlib.sha256(data[40:]).digest()


def test_a_small_picture_that_was_kept_once_hardly_changes_when_kept_again() -> None:
    once = as_kept(print_carried("chelsea.png").small)

    again = as_kept(once)

    assert (once != again).mean() < 0.01
