"""Reference numbers against the pairs that others publish, and hand-made cases."""

from math import inf

import pytest

from provenance.records.reference_numbers import (
    NumberRead,
    Tier,
    compare_references,
    distance_of_keys,
    numbers_in,
    reference_key,
)

# Rockwell Automation, 5370-OCR2-PAK User Manual, chapter 2, page 2-8, "Ambiguous characters".
WARNED_OF = ("0O", "1I", "2Z", "5S", "8B")
# pwgen, pw_rand.c, `pw_ambiguous`: B8 G6 I1l 0OQD S5 Z2; Q and D stand there with 0 and O, and are not folded here:
# a drawing office uses both as letters of sizes and groups.
LEFT_OUT_OF_PASSWORDS = ("B8", "G6", "I1", "1l", "0O", "S5", "Z2")


@pytest.mark.parametrize("pair", [*WARNED_OF, *LEFT_OUT_OF_PASSWORDS])
def test_what_recognisers_confuse_is_one_key(pair: str) -> None:
    one, other = (f"H-{letter}04" for letter in pair)

    assert reference_key(one) == reference_key(other)
    assert compare_references(one, other) is Tier.FOLDED


@pytest.mark.parametrize(
    "written", ["H-204", "H 204", "h.204", "H204", "H/204", "h - 204", "No. H-204", "Part No. H204", "H\u2010204"]
)
def test_what_draughtsmen_vary_is_the_same_number_exactly(written: str) -> None:
    assert compare_references("H-204", written) is Tier.EXACT
    assert reference_key(written) == "H204"


@pytest.mark.parametrize("written", ["Drg. No. 30921", "DRAWING 30921", "dwg 30921", "30921"])
def test_a_word_that_only_announces_a_number_is_no_part_of_it(written: str) -> None:
    assert compare_references("drawing 30921", written) is Tier.EXACT


@pytest.mark.parametrize(
    ("one", "other", "tier"),
    [
        ("H-204", "H-2O4", Tier.FOLDED),
        ("H-1", "H-l", Tier.FOLDED),
        ("H-12", "H-|2", Tier.FOLDED),
        ("BX/12/4", "BX/1/24", Tier.FOLDED),  # the same figures, parted otherwise: never said to be exact
        ("AY-204", "A\u00a5-204", Tier.FOLDED),
        ("SX-204", "$X-204", Tier.FOLDED),
        ("E-204", "\u00a3-204", Tier.FOLDED),
        ("H-204", "H-20A", Tier.FOLDED),  # a figure for a letter, counted often
        ("H-204", "H-294", Tier.NEAR),  # a figure for a figure, counted often: still another number
        ("H-204", "H-205", Tier.NEAR),
        ("HK-20455", "HK-20433", Tier.NEAR),  # two characters of seven
        ("HK-2045", "HK-2053", None),  # two of six
        ("H-204", "H-20", None),  # three characters are too few for one edit to say anything
        ("H-2045", "H-204", Tier.NEAR),
        ("H-204", "H-315", None),
        ("1934", "1933", None),  # figures alone are near from five characters on
        ("30921", "30927", Tier.NEAR),
        ("H-204", "", None),
        ("...", "...", None),
        ("H-2045", "H-2", None),
        ("No.", "No.", Tier.EXACT),
    ],
)
def test_two_writings_are_told_apart_by_tiers(one: str, other: str, tier: Tier | None) -> None:
    assert compare_references(one, other) is tier
    assert compare_references(other, one) is tier


def test_numbers_are_found_in_running_text_and_words_are_not() -> None:
    text = "The bracket No. H-2O4 is fixed\n40 in above; see BX/12."

    found = list(numbers_in(text))

    assert NumberRead("H-2O4", "H204", 16, 21) in found
    assert NumberRead("BX/12", "8X12", text.index("BX"), text.index("BX") + 5) in found
    assert not any("bracket" in read.text or "\n" in read.text for read in found)
    assert all(text[read.start : read.end] == read.text for read in found)


def test_a_number_of_many_pieces_is_found_whole_and_in_part() -> None:
    found = {read.text for read in numbers_in("see AB/12/34/5/67 there")}

    assert {"AB/12", "AB/12/34/5", "12/34/5/67", "12/34"} <= found
    assert "AB/12/34/5/67" not in found


def test_a_number_that_is_too_short_or_too_long_is_none() -> None:
    assert list(numbers_in("12 of them and " + "1" * 21)) == []
    assert [read.text for read in numbers_in("12 of 204 h.12")][-2:] == ["204 h.12", "h.12"]


def test_what_stands_apart_is_no_one_number() -> None:
    assert [read.text for read in numbers_in("H-204 (K-305)")] == ["H-204", "204", "K-305", "305"]


def test_a_price_is_no_number_of_a_series() -> None:
    assert [read.key for read in numbers_in("it cost $204, later \u00a3350")] == ["204", "350"]


def test_a_sign_of_money_within_a_number_is_the_letter_that_it_was_read_for() -> None:
    assert [read.key for read in numbers_in("see A\u00a5204 and $X35 there")] == ["AY204", "5X35"]


def test_keys_that_are_too_short_are_near_nothing_but_themselves() -> None:
    assert distance_of_keys("H20", "H20") == 0
    assert distance_of_keys("H20", "H204") == inf
    assert distance_of_keys("1934", "1933") == inf
    assert distance_of_keys("30921", "30926") == 1.0
