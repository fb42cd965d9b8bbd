import re

import pytest
from builders import an_archive
from hypothesis import given
from hypothesis import strategies as st

from provenance.records.archive import Caution
from provenance.rules.cautions import FITNESS, REGISTER, StandingCaution, cautions_for

# A caution says what the hazard is and whom to ask. It tells nobody what to do with his hands.
_PROCEDURE = (
    "step",
    "remove",
    "cut",
    "wear",
    "wash",
    "drain",
    "discharge",
    "dispose",
    "gloves",
    "mask",
    "grind",
    "scrape",
)
_OURS = Caution(hazard="asbestos", text="Our exhaust lagging holds asbestos cord.", consult="the safety officer")


@pytest.mark.parametrize("caution", REGISTER, ids=lambda caution: caution.hazard)
def test_every_caution_says_what_the_hazard_is_and_whom_to_consult(caution: StandingCaution) -> None:
    assert caution.text.endswith(".")
    assert len(caution.text.split()) >= 5
    assert caution.consult.endswith("; local codes and licensed practice come first")
    assert re.search(r"authority|licensed|competent|adviser|service|police|safety data|specialist", caution.consult)


@pytest.mark.parametrize("caution", REGISTER, ids=lambda caution: caution.hazard)
def test_every_caution_says_stop_and_names_rules_only_with_the_country_that_they_hold_for(
    caution: StandingCaution,
) -> None:
    assert caution.text.endswith(". Stop.")
    assert bool(caution.rules) == bool(caution.jurisdiction)


def test_the_register_has_every_class_that_museums_are_warned_of() -> None:
    """Museum Development South West, Reducing the Risk, as listed in the Museums Journal (2026): its twelve classes."""
    listed = {
        *("lead-paint", "arsenic", "mercury", "mould", "radium", "asbestos", "controlled-drugs", "firearms"),
        *("explosive", "pressure", "stored-energy", "nitrate-film"),
    }

    assert listed <= {caution.hazard for caution in REGISTER}


@pytest.mark.parametrize(
    ("hazard", "rules", "jurisdiction"),
    [
        # hse.gov.uk INDG469 and INDG459; legislation.gov.uk S.I. 2017/1075, 2002/2676 and 2000/1043
        # (the last for England and Wales only); a written answer in Parliament on the regulations of 2012.
        ("nitrate-film", "HSE INDG469", "United Kingdom"),
        ("oxygen", "HSE INDG459", "United Kingdom"),
        ("radium", "Ionising Radiations Regulations 2017", "Great Britain"),
        ("lead-paint", "Control of Lead at Work Regulations 2002", "Great Britain"),
        ("asbestos", "Control of Asbestos Regulations 2012", "Great Britain"),
    ],
)
def test_rules_are_named_as_they_were_published(hazard: str, rules: str, jurisdiction: str) -> None:
    (caution,) = cautions_for(an_archive(), [hazard])

    assert (caution.rules, caution.jurisdiction) == (rules, jurisdiction)


def test_where_a_teams_own_caution_holds_is_kept() -> None:
    ours = Caution(hazard="wasps", text="There is a nest.", consult="the council", jurisdiction="Denmark")

    (caution,) = cautions_for(an_archive(cautions=(ours,)), ["wasps"])

    assert (caution.rules, caution.jurisdiction) == ("", "Denmark")


@pytest.mark.parametrize("caution", REGISTER, ids=lambda caution: caution.hazard)
@pytest.mark.parametrize("word", _PROCEDURE)
def test_no_caution_gives_a_procedure(caution: StandingCaution, word: str) -> None:
    assert not re.search(rf"\b{word}(s|ing|d|ed)?\b", f"{caution.text} {caution.consult}", re.IGNORECASE)


def test_the_register_is_in_order_and_names_each_hazard_once_in_the_word_of_records() -> None:
    hazards = [caution.hazard for caution in REGISTER]

    assert hazards == sorted(set(hazards))
    assert all(re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", hazard) for hazard in hazards)


@pytest.mark.parametrize("hazard", ["asbestos", "radium", "pressure", "stored-energy", "nitrate-film", "lead-paint"])
def test_the_hazards_that_old_machines_and_their_records_are_known_for_have_a_caution_of_their_own(hazard: str) -> None:
    """Common practice, no source: what a works of the 1930s built with, and what its pictures were taken on."""
    (caution,) = cautions_for(an_archive(), [hazard])

    assert caution in REGISTER


def test_a_teams_own_caution_comes_before_the_built_in_one() -> None:
    own, built_in = cautions_for(an_archive(cautions=(_OURS,)), ["asbestos"])

    assert (own.text, own.consult) == (_OURS.text, _OURS.consult)
    assert built_in in REGISTER


def test_all_of_a_teams_own_cautions_on_a_hazard_are_shown_as_they_are_listed() -> None:
    second = Caution(hazard="asbestos", text="The shed roof holds it too.", consult="the landlord")

    texts = [caution.text for caution in cautions_for(an_archive(cautions=(second, _OURS)), ["asbestos"])]

    assert texts[:2] == [second.text, _OURS.text]


def test_a_hazard_that_no_register_knows_is_not_passed_over() -> None:
    (caution,) = cautions_for(an_archive(), ["beryllium"])

    assert caution.hazard == "beryllium"
    assert "“beryllium”" in caution.text
    assert "authority for safety at work" in caution.consult
    assert "local codes" in caution.consult


def test_a_hazard_of_the_teams_own_needs_no_built_in_caution() -> None:
    ours = Caution(hazard="petrol-tank", text="The tank was never cleaned.", consult="the fire officer")

    (caution,) = cautions_for(an_archive(cautions=(ours,)), ["petrol-tank"])

    assert caution.text == ours.text


@given(st.lists(st.sampled_from([*(each.hazard for each in REGISTER), "beryllium", "wasps"])))
def test_every_hazard_is_cautioned_against_once_in_order(hazards: list[str]) -> None:
    cautions = cautions_for(an_archive(), hazards)

    assert [caution.hazard for caution in cautions] == sorted(set(hazards))


def test_without_a_hazard_there_is_no_caution() -> None:
    assert cautions_for(an_archive(cautions=(_OURS,)), []) == ()


def test_evidence_of_form_is_not_evidence_of_fitness() -> None:
    assert "not evidence that it is safe" in FITNESS
    assert "competent authority" in FITNESS
