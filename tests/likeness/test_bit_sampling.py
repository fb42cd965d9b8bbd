"""Keys of marks: which bits they are made of, and how often marks that differ a little have one in common."""

from math import comb

import numpy as np
import pytest

from provenance.likeness.bit_sampling import BITS, TABLES, drawn_bits, keys_of


def marks(count: int, octets: int, seed: int = 1934) -> "np.typing.NDArray[np.uint8]":
    return np.random.default_rng(seed).integers(0, 256, (count, octets), dtype=np.uint8)


def test_a_key_is_the_number_that_the_drawn_bits_of_a_mark_make() -> None:
    few = marks(5, 32)

    keys = keys_of(few)

    for table, drawn in enumerate(drawn_bits(256)):
        for place, mark in enumerate(few):
            written = "".join(f"{octet:08b}" for octet in mark.tolist())
            assert keys[table, place] == sum(2**n for n, bit in enumerate(drawn) if written[bit] == "1")


@pytest.mark.parametrize("octets", [16, 32])
def test_no_bit_is_drawn_twice_for_a_table_nor_again_while_others_are_left(octets: int) -> None:
    drawn = drawn_bits(octets * 8)

    assert len(drawn) == TABLES
    assert {len(set(bits)) for bits in drawn} == {BITS}
    assert {bit for bits in drawn for bit in bits} <= set(range(octets * 8))
    fresh = octets * 8 // BITS  # so many tables can be dealt out before a bit has to come again
    first = [bit for bits in drawn[:fresh] for bit in bits]
    assert len(set(first)) == len(first)


def test_marks_too_short_for_a_key_are_refused() -> None:
    with pytest.raises(ValueError, match="too short"):
        keys_of(marks(1, BITS // 8 - 1))


@pytest.mark.parametrize("octets", [16, 32])
@pytest.mark.parametrize("flipped", [0.02, 0.05, 0.1, 0.2])
def test_marks_meet_as_often_as_the_published_formula_says(octets: int, flipped: float) -> None:
    """Indyk and Motwani 1998: 1 - (1 - p^r)^b, where each of the bits is equal with chance p.

    Of 8,000 pairs a share s is seen with a standard error of sqrt(s (1 - s) / 8,000), at most 0.0056; four of those are
    allowed. Tables that share bits (short marks) do not fail independently: they meet a little less often than the
    formula says, never more, and by not more than .05 here.
    """
    before = marks(8_000, octets)
    bits = np.unpackbits(before, axis=1)
    bits ^= np.random.default_rng(9).random(bits.shape) < flipped
    after = np.packbits(bits, axis=1)

    met = keys_of(before) == keys_of(after)

    one_table = (1 - flipped) ** BITS
    assert met.mean(axis=1) == pytest.approx(np.full(TABLES, one_table), abs=0.0224)
    expected = 1 - (1 - one_table) ** TABLES
    dealt_apart = octets * 8 >= TABLES * BITS
    share = float(met.any(axis=0).mean())
    assert share > expected - (0.0224 if dealt_apart else 0.05)
    assert share < expected + 0.0224


def test_marks_that_differ_in_a_given_number_of_bits_meet_as_often_as_counting_says() -> None:
    """Of the ways in which d of 256 bits can differ, a share leaves the drawn alone: C(256 - r, d) / C(256, d)."""
    differing = 20
    before = marks(8_000, 32)
    bits = np.unpackbits(before, axis=1)
    order = np.random.default_rng(3).random(bits.shape).argsort(axis=1)[:, :differing]
    np.put_along_axis(bits, order, 1 - np.take_along_axis(bits, order, axis=1), axis=1)

    met = keys_of(before) == keys_of(np.packbits(bits, axis=1))

    expected = comb(256 - BITS, differing) / comb(256, differing)
    assert met.mean(axis=1) == pytest.approx(np.full(TABLES, expected), abs=0.0224)
    assert expected == pytest.approx((1 - differing / 256) ** BITS, abs=0.02)  # the published p^r: bits put back
