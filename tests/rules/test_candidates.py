import pytest
from builders import FEATURE, Record, a_claim, a_component, a_feature, a_source, a_withdrawal, against, an_archive

from provenance.records.components import Feature
from provenance.rules.judging import judge_feature
from provenance.rules.verdicts import Verdict

TEXT = a_feature(kind="text", aspect="material")


def judge(feature: Feature, *records: Record) -> Verdict:
    return judge_feature(an_archive(a_component("headlamp", feature), *records), FEATURE)


def values(verdict: Verdict) -> dict[str, tuple[str, ...]]:
    return {each.value: each.claims for each in verdict.candidates}


@pytest.mark.parametrize("wording", ["acetylene", "Acetylene", "gas lamp", " GAS  Lamp", "\uff47\uff41\uff53 lamp"])
def test_an_option_is_known_by_its_id_its_name_and_other_words(wording: str) -> None:
    verdict = judge(a_feature(), a_claim(wording, "drawing", claim_id="a"))

    assert (verdict.value, verdict.shown) == ("acetylene", "Acetylene")


def test_a_value_that_is_no_option_stands_as_written() -> None:
    assert judge(a_feature(), a_claim("Candle", "drawing")).value == "Candle"


def test_texts_that_differ_in_case_space_or_form_are_one_value_spelt_as_in_the_first_claim() -> None:
    verdict = judge(
        TEXT,
        a_claim("Gun  metal", "drawing", claim_id="b"),
        a_claim("gun metal", "manual", claim_id="c"),
        a_claim("GUN METAL", "scrap", claim_id="a", withdrawn=a_withdrawal()),
    )

    assert values(verdict) == {"Gun  metal": ("a", "b", "c")}


def test_wordings_that_mean_the_same_are_one_value_even_through_a_third() -> None:
    feature = a_feature(
        kind="text", same=(("M.S.", "mild steel"), ("low carbon steel", "soft steel"), ("Mild Steel", "soft steel"))
    )

    verdict = judge(
        feature,
        a_claim("m.s.", "drawing", claim_id="a"),
        a_claim("low carbon steel", "manual", claim_id="b"),
        a_claim("brass", "letter", claim_id="c"),
    )

    assert values(verdict) == {"m.s.": ("a", "b"), "brass": ("c",)}


def test_a_broken_reading_supports_every_value_that_it_fits() -> None:
    """The plate fits both names; each of them has it beside its own drawing."""
    verdict = judge(
        TEXT,
        a_claim("Ellison", "drawing", claim_id="a"),
        a_claim("Emerson", "manual", claim_id="b"),
        a_claim("E[...]SON", "plate", claim_id="c"),
    )

    assert values(verdict) == {"Ellison": ("a", "c"), "Emerson": ("b", "c")}
    assert [each.lines for each in verdict.candidates] == [2, 2]


def test_a_broken_reading_that_fits_nothing_is_a_value_of_its_own() -> None:
    verdict = judge(TEXT, a_claim("Ellison", "drawing", claim_id="a"), a_claim("K[...]", "plate", claim_id="b"))

    assert values(verdict) == {"Ellison": ("a",), "K[...]": ("b",)}


@pytest.mark.parametrize(("broken", "fits"), [("El[...]", True), ("Ellison[...]", False), ("[...]l[...]n", True)])
def test_the_gap_of_a_broken_reading_stands_for_one_letter_or_more(broken: str, *, fits: bool) -> None:
    verdict = judge(TEXT, a_claim("Ellison", "drawing", claim_id="a"), a_claim(broken, "plate", claim_id="b"))

    assert (len(verdict.candidates) == 1) is fits


def test_a_broken_reading_fits_any_wording_that_means_the_same() -> None:
    feature = a_feature(kind="text", same=(("M.S.", "mild steel"),))

    verdict = judge(feature, a_claim("M.S.", "drawing", claim_id="a"), a_claim("mild st[...]", "plate", claim_id="b"))

    assert values(verdict) == {"M.S.": ("a", "b")}


def test_a_broken_reading_does_not_bring_back_a_value_that_nothing_else_supports() -> None:
    hoax = a_source("hoax", "letter", withdrawn=a_withdrawal())

    verdict = judge(TEXT, hoax, a_claim("Ellison", "hoax", claim_id="a"), a_claim("E[...]SON", "plate", claim_id="b"))

    assert verdict.value == "E[...]SON"
    assert [each.posterior > 0 for each in verdict.candidates] == [True, False]


def test_a_figure_is_compared_as_text() -> None:
    verdict = judge(
        a_feature(kind="quantity", aspect="dimension"),
        a_claim("3 ft 4 1/2 in", "drawing", claim_id="a"),
        a_claim("3  FT 4 1/2 in", "manual", claim_id="b"),
    )

    assert values(verdict) == {"3 ft 4 1/2 in": ("a", "b")}


def test_presence_and_absence_are_told_whatever_their_case_and_each_way_round() -> None:
    verdict = judge(
        a_feature(kind="presence"),
        a_claim("Absent", against("drawing"), claim_id="a"),
        a_claim("present", "manual", claim_id="b"),
    )

    assert values(verdict) == {"present": ("b",), "absent": ("a",)}
    assert [item.source for item in verdict.candidates[0].items] == ["drawing", "manual"]


def test_a_presence_that_is_neither_stands_as_written() -> None:
    assert judge(a_feature(kind="presence"), a_claim("Perhaps", "drawing")).value == "Perhaps"
