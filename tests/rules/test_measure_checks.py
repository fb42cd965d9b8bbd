"""Figures and units in the records: what is said of those that cannot be read, and what judgement does without."""

from dataclasses import replace
from typing import Any

import pytest
from builders import Record, a_claim, a_component, a_date, a_decision, a_feature, a_source, an_archive

from provenance.errors import Problem, Severity
from provenance.records.archive import Archive
from provenance.records.claims import Claim
from provenance.records.components import Component, Mate
from provenance.records.decisions import Made
from provenance.rules.checks import check_records, usable_part

ABOUT = "bracket/height"


def a_bracket(**fields: Any) -> Component:
    """A bracket with a height; even if its label had a unit, which the schema refuses, words would stay words."""
    feature = a_feature("height", "quantity", "dimension", **({"unit": "mm"} | fields))
    return a_component("bracket", feature, a_feature("label", "text", "marking", unit="mm"))


def archive_of(*records: Record) -> Archive:
    return an_archive(a_source("handbook", "manual"), *records)


def found(*records: Record) -> list[Problem]:
    ours = {"unreadable-measure", "impossible-uncertainty", "no-unit"}
    return [problem for problem in check_records(archive_of(*records)) if problem.rule in ours]


def says(value: str, about: str = ABOUT, **fields: Any) -> Claim:
    return replace(a_claim(value, "handbook", about=about, claim_id="says"), **fields)


def told(problems: list[Problem]) -> list[tuple[str, str, str, Severity]]:
    return [(problem.place.file, problem.place.field, problem.rule, problem.severity) for problem in problems]


@pytest.mark.parametrize("value", ["3 ft 4 1/2 in", "1029 mm", "16 SWG", "2 BA", "1028.7 mm (3 ft 4 1/2 in)"])
def test_a_figure_that_can_be_told_in_the_unit_is_no_fault(value: str) -> None:
    assert found(a_bracket(), says(value, uncertainty="1/4 in")) == []


@pytest.mark.parametrize("value", ["16 gauge", "3.4½", "1029", "12 kg", "about 12 mm", "10-12 mm", "tall"])
def test_a_figure_that_cannot_be_read_in_one_way_is_named(value: str) -> None:
    (problem,) = found(a_bracket(), says(value))

    assert told([problem]) == [("claims/says.yaml", "value", "unreadable-measure", Severity.ERROR)]
    assert value in problem.what
    assert problem.mend.startswith("write ")


def test_the_choices_stand_in_the_mend() -> None:
    (problem,) = found(a_bracket(), says("16 gauge"))

    assert problem.mend == "write which is meant: `16 SWG`, `16 BWG` or `16 AWG`"


@pytest.mark.parametrize(
    ("uncertainty", "rule"),
    [
        ("0 mm", "impossible-uncertainty"),
        ("-1 mm", "impossible-uncertainty"),
        ("\u22121 mm", "impossible-uncertainty"),
        ("1/4", "unreadable-measure"),
        ("± 1 mm", "unreadable-measure"),
        ("1 lb", "unreadable-measure"),
    ],
)
def test_a_give_or_take_is_a_figure_above_nothing(uncertainty: str, rule: str) -> None:
    problems = found(a_bracket(), says("1029 mm", uncertainty=uncertainty))

    assert told(problems) == [("claims/says.yaml", "uncertainty", rule, Severity.ERROR)]


def test_figures_are_asked_of_quantities_alone() -> None:
    assert found(a_bracket(), says("about 12", "bracket/label", uncertainty="much")) == []


def test_a_quantity_has_a_unit_and_its_figures_are_not_asked_after_before_that() -> None:
    problems = found(a_bracket(unit=None), says("1029", uncertainty="0"))

    assert told(problems) == [("components/bracket.yaml", "features[0]", "no-unit", Severity.ERROR)]
    assert "bracket/height" in problems[0].what


def test_a_unit_that_is_not_known_is_named_once_and_not_at_every_claim() -> None:
    problems = found(a_bracket(unit="furlongs"), says("1029"))

    assert told(problems) == [("components/bracket.yaml", "features[0].unit", "unreadable-measure", Severity.ERROR)]


def test_a_claim_about_a_feature_that_is_not_there_is_not_asked_after_its_figure() -> None:
    assert found(a_bracket(), says("1029", "bracket/nothing")) == []


def test_how_closely_it_must_be_known_and_fit_are_figures_too() -> None:
    mates = (
        Mate(mate="bracket/label", rule="equal", within="1 mm"),
        Mate(mate="bracket/label", rule="equal", within="1"),
        Mate(mate="bracket/label", rule="equal"),
    )

    problems = found(a_bracket(needed="10 lb", mates=mates))

    assert told(problems) == [
        ("components/bracket.yaml", "features[0].mates[1].within", "unreadable-measure", Severity.ERROR),
        ("components/bracket.yaml", "features[0].needed", "unreadable-measure", Severity.ERROR),
    ]


def test_what_is_built_may_be_said_in_words_but_a_figure_must_be_one() -> None:
    decision = a_decision(
        "build-it",
        ABOUT,
        build="16 gauge",
        tolerance="1/64",
        made=(
            Made(date=a_date("2026-02-01"), value="1029"),
            Made(date=a_date("2026-02-01"), value="1029 mm"),
            Made(date=a_date("2026-02-01")),
        ),
    )

    problems = found(a_bracket(), decision)

    assert told(problems) == [
        ("decisions/build-it.yaml", field, "unreadable-measure", Severity.WARN)
        for field in ("build", "made[0].value", "tolerance")
    ]


def test_words_in_a_decision_are_let_be() -> None:
    decision = a_decision("build-it", ABOUT, build="as drawing 30921", tolerance="plus 1/16 in, minus nothing")

    assert found(a_bracket(), decision) == []


def test_a_number_without_a_series_is_named_even_where_words_may_stand() -> None:
    (problem,) = found(a_bracket(), a_decision("build-it", ABOUT, build="No. 8"))

    assert "`8 BA`" in problem.mend


def test_a_decision_about_words_may_hold_any_figure() -> None:
    assert found(a_bracket(), a_decision("build-it", "bracket/label", build="16 gauge")) == []


def test_judgement_does_without_a_claim_whose_figure_cannot_be_read_and_says_so() -> None:
    sound = says("1029 mm")
    archive = archive_of(a_bracket(), sound, replace(sound, id="doubtful", value="3.4½"))

    usable, faults = usable_part(archive)

    assert set(usable.claims) == {"says"}
    assert [(fault.place.file, fault.rule) for fault in faults] == [("claims/doubtful.yaml", "unreadable-measure")]


def test_judgement_keeps_a_component_whose_unit_is_missing() -> None:
    usable, faults = usable_part(archive_of(a_bracket(unit=None), says("1029")))

    assert set(usable.components) == {"bracket"}
    assert set(usable.claims) == {"says"}
    assert faults == ()
