from provenance.rules.settling import settle
from provenance.rules.tangents import Load, Scales

TWINS = Scales([Load(0, 5.0)] * 4, [0b0011, 0b0011, 0b0100, 0b1000], (1.0,))


def test_an_equal_item_that_comes_earlier_takes_the_place_of_a_later_one() -> None:
    assert settle(0b1110, TWINS, 0b1111) == 0b1101


def test_an_item_that_stands_in_nobodys_way_is_taken_in() -> None:
    assert settle(0b0101, TWINS, 0b1111) == 0b1101


def test_a_lighter_item_takes_nobodys_place() -> None:
    scales = Scales([Load(0, 4.0), Load(0, 5.0)], [0b11, 0b11], (1.0,))

    assert settle(0b10, scales, 0b11) == 0b10


def test_one_item_never_takes_the_place_of_two() -> None:
    scales = Scales([Load(0, 10.0), Load(0, 5.0), Load(0, 5.0)], [0b111, 0b011, 0b101], (1.0,))

    assert settle(0b110, scales, 0b111) == 0b110
