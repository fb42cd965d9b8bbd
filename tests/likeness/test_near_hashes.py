"""Near hashes: every form and quarter turn of a picture, and how few bits lie between."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from likeness.made_prints import a_print, showing

from provenance.likeness.near_hashes import hashes_in_every_form, least_apart
from provenance.likeness.perceptual_hash import hash_of
from provenance.likeness.picture_index import PictureIndex
from provenance.likeness.proof import Query


def test_the_least_of_the_bits_that_differ_counts() -> None:
    random = np.random.default_rng(8)
    held, asked = (random.integers(0, 2**63, count, dtype=np.uint64) for count in (20, 5))

    apart = least_apart(held, asked)

    assert apart.tolist() == [min((one ^ other).bit_count() for other in asked.tolist()) for one in held.tolist()]


def test_a_picture_has_a_hash_for_each_way_in_which_it_can_lie_as_print_and_as_negative() -> None:
    small = np.random.default_rng(4).integers(0, 256, (40, 30), dtype=np.uint8)

    hashes = set(hashes_in_every_form(showing(a_print(1), small)).tolist())

    ways = [np.rot90(side, turn) for side in (small, small.T) for turn in range(4)]
    assert hashes == {hash_of(np.ascontiguousarray(shades)) for way in ways for shades in (way, 255 - way)}
    assert len(hashes) == 16


@pytest.mark.parametrize(("differing", "is_candidate"), [(0, True), (8, True), (9, False)])
def test_a_hash_may_differ_in_eight_bits(tmp_path: Path, differing: int, *, is_candidate: bool) -> None:
    asked = a_print(1)
    held = replace(a_print(2), hash=asked.hash ^ ((1 << differing) - 1))
    index = PictureIndex(tmp_path)
    index.add([("held", held)])

    assert bool(index.candidates(Query(asked))) == is_candidate
