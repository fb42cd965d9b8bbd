"""The answer of `evidence`, composed and as JSON."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pytest
from answers import faults_of
from builders import (
    a_claim,
    a_component,
    a_decision,
    a_feature,
    a_source,
    against,
    an_archive,
    an_item,
    applies,
    seen_on,
)
from quantity_builders import a_figure, in_unit, measured
from reports.answering import the_answer, whole_archive

from provenance.records.claims import At
from provenance.records.kinds import FeatureKind, How, Stance
from provenance.records.regions import parse_region, parse_time_span
from provenance.reports.evidence_json import evidence_json, place_json
from provenance.rules.cautions import REGISTER
from provenance.rules.grades import Category, Grade
from provenance.store.schema_files import read_schema


def first(answer: Mapping[str, Any], *path: str | int) -> Any:
    value: Any = answer
    for part in path:
        value = value[part]
    return value


def test_an_answer_about_everything_keeps_to_its_schema() -> None:
    answer = evidence_json(the_answer(whole_archive()))

    assert faults_of(answer) == []
    assert {feature["kind"] for feature in first(answer, "features")} == {kind.value for kind in FeatureKind}


def test_an_answer_about_next_to_nothing_keeps_to_its_schema() -> None:
    empty = an_archive(replace(a_component(), features=()))
    unasked = an_archive()

    for archive in (empty, unasked):
        assert faults_of(evidence_json(the_answer(archive))) == []
    assert evidence_json(the_answer(empty))["features"] == []
    assert first(evidence_json(the_answer(unasked)), "features", 0, "value") is None


@pytest.mark.parametrize(
    "fields",
    [
        ("features", 0, "grade"),
        ("features", 0, "candidates", 0, "posterior"),
        ("features", 0, "candidates", 0, "items", 0, "quote"),
        ("cautions", 0, "consult"),
        ("target", "why"),
        ("left_out",),
    ],
)
def test_a_field_that_is_gone_or_renamed_is_noticed_by_both_libraries(fields: tuple[str | int, ...]) -> None:
    """The test of the test."""
    answer: dict[str, Any] = evidence_json(the_answer(whole_archive()))
    holder = first(answer, *fields[:-1])
    holder["renamed"] = holder.pop(fields[-1])

    assert len(faults_of(answer)) >= 4  # one is missing and one is unknown, says either


def test_the_words_of_the_schema_are_those_of_judgement() -> None:
    feature = read_schema("answers/evidence")["properties"]["features"]["items"]["properties"]
    candidate = feature["candidates"]["items"]["properties"]
    item = candidate["items"]["items"]["properties"]

    assert feature["grade"]["enum"] == candidate["grade"]["enum"] == [grade.value for grade in Grade]
    assert item["applies"]["enum"] == [category.value for category in Category]
    assert item["how"]["enum"] == [how.value for how in How]
    assert item["stance"]["enum"] == [stance.value for stance in Stance]
    assert feature["kind"]["enum"] == [kind.value for kind in FeatureKind]


def test_a_program_is_told_the_verdict_with_each_item_that_it_rests_on() -> None:
    """A manual that states it of No. 9 alone: 11 points, one line; 10^1.1 / (1 + 10^1.1) = .92641."""
    archive = an_archive(
        a_source("manual", "manual", title="Instructions"),
        a_claim("Gas lamp", an_item("manual", page=4, quote="The lamp is acetylene."), claim_id="lamp"),
        a_decision("lamp", basis=("lamp",), why="as found"),
    )

    feature = first(evidence_json(the_answer(archive, flags=("single-source",))), "features", 0)

    assert feature.pop("explanation").startswith("“Acetylene” has about 93 chances in 100, but it")
    assert feature.pop("posterior") == pytest.approx(10**1.1 / (1 + 10**1.1))
    (candidate,) = feature.pop("candidates")
    assert candidate.pop("posterior") == pytest.approx(0.92641, abs=5e-6)
    assert candidate.pop("items") == [
        {
            "claim": "lamp",
            "source": "manual",
            "at": {"page": 4},
            "stance": "supports",
            "how": "states",
            "applies": "itself",
            "weight": 11.0,
            "counted": True,
            "quote": "The lamp is acetylene.",
            "told_by": {},
        }
    ]
    assert candidate == {
        "value": "acetylene",
        "grade": "uncorroborated",
        "lines": 1,
        "weight_for": 11.0,
        "weight_against": 0.0,
    }
    assert feature == {
        "feature": "headlamp/type",
        "name": "Headlamp type",
        "kind": "choice",
        "grade": "uncorroborated",
        "value": "acetylene",
        "quantity": None,
        "lines": 1,
        "rests_on": ["manual"],
        "lines_if_ruled_out": None,
        "change_over": None,
        "sequence": None,
        "hangs_on": {"source": "manual", "grade": "unsupported", "value": None, "posterior": 0.0, "lines": 0},
        "weights_that_matter": [],
        "decision": {"id": "lamp", "status": "released", "build": "acetylene", "why": "as found", "released": None},
        "flags": ["single-source"],
    }


def test_a_program_is_told_the_figures_of_a_measure() -> None:
    """1000 and 1001 mm, give or take 1: u = .57735, mean 1000.5, U = 2 x .57735 / root 2 = .8165, chi-square 1.5."""
    surveys = [a_source(name, "survey") for name in ("one", "two")]
    claims = [a_figure(value, measured(name), give="1 mm") for value, name in (("1000 mm", "one"), ("1001 mm", "two"))]
    archive = an_archive(a_component("headlamp", in_unit("mm", needed="0.5 mm")), *surveys, *claims)

    answer = evidence_json(the_answer(archive))

    assert faults_of(answer) == []
    quantity = first(answer, "features", 0, "quantity")
    assert {name: quantity[name] for name in ("unit", "nominal", "mean", "degrees", "consistent", "needed")} == {
        "unit": "mm",
        "nominal": None,
        "mean": pytest.approx(1000.5),
        "degrees": 1,
        "consistent": True,
        "needed": 0.5,
    }
    assert quantity["expanded"] == pytest.approx(0.8165, abs=5e-5)
    assert (quantity["chi_square"], quantity["birge"]) == (pytest.approx(1.5), pytest.approx(1.2247, abs=5e-5))
    assert [(value["written"], value["half_width"], value["counted"]) for value in quantity["values"]] == [
        ("1000 mm", 1.0, True),
        ("1001 mm", 1.0, True),
    ]


def test_a_program_is_told_the_change_and_what_was_seen_on_each_machine() -> None:
    """Acetylene on No. 8, electric on No. 11: the first electric one is 9, 10 or 11, with 5, 1 and 1 of 7 parts."""
    archive = an_archive(
        a_source("early"),
        a_source("late"),
        a_claim("acetylene", an_item("early", "shows", seen=seen_on("8", "1931"))),
        a_claim("electric", an_item("late", "shows", seen=seen_on("11", "1934"))),
    )

    answer = evidence_json(the_answer(archive))

    assert faults_of(answer) == []
    change = first(answer, "features", 0, "change_over")
    assert (change["over"], change["value"], change["probability"]) == ("sequence", "electric", pytest.approx(5 / 7))
    assert change["before"] == {"example": "8", "value": "acetylene", "when": "1931", "sources": ["early"]}
    assert [(each["example"], each["of_after"]) for each in change["chances"]] == [
        ("8", 0.0),
        ("9", pytest.approx(5 / 7)),
        ("10", pytest.approx(6 / 7)),
        ("11", pytest.approx(1.0)),
    ]
    seen = [row for batch in first(answer, "features", 0, "sequence", "batches") for row in batch["examples"]]
    assert [row["example"] for row in seen if row["seen"]] == ["8", "11"]


def test_a_program_is_told_what_a_verdict_hangs_on() -> None:
    """Photograph 14 and newspaper 5. Without the photograph 5: 3.162 / 4.162 = .7597; halved, 12 points: .9406."""
    archive = an_archive(
        a_source("view"),
        a_source("paper", "newspaper", origin_stated=True),
        a_claim("acetylene", an_item("view", "shows", seen=seen_on("9")), "paper"),
    )

    feature = first(evidence_json(the_answer(archive)), "features", 0)

    assert feature["hangs_on"] == {
        "source": "view",
        "grade": "uncorroborated",
        "value": "acetylene",
        "posterior": pytest.approx(0.7597, abs=5e-5),
        "lines": 1,
    }
    assert feature["weights_that_matter"] == [
        {
            "weight": "base.photograph",
            "factor": 0.5,
            "grade": "probable",
            "value": "acetylene",
            "posterior": pytest.approx(0.9406, abs=5e-5),
            "lines": 2,
        }
    ]
    assert feature["explanation"].endswith("if photographs counted half, this would be probable.")


def test_every_category_that_judgement_gives_is_in_the_schema() -> None:
    """Items as near and as far as they come, in each way of speaking."""
    covers = [applies("9"), applies("8..10"), applies("10"), applies("1"), applies(None, related="Velling trailer")]
    items = [an_item(f"s{number}", how, applies_to=each) for number, each in enumerate(covers) for how in How]
    late = an_item("s9", applies_to=applies("9", since="1950"))
    archive = an_archive(a_claim("oil", *items, late), related=["Velling trailer"])

    answer = evidence_json(the_answer(archive))

    assert faults_of(answer) == []
    assert {item["applies"] for item in first(answer, "features", 0, "candidates", 0, "items")} >= {
        "itself", "covered", "same-batch", "same-type", "related-type", "other-time",
    }  # fmt: skip


def test_hazards_of_the_part_and_of_the_sources_that_are_cited_are_cautioned_against() -> None:
    archive = an_archive(
        a_component(hazards=("pressure", "asbestos")),
        a_source("negative", hazards=("nitrate-film", "asbestos")),
        a_source("not-cited", hazards=("radium",)),
        a_claim("oil", "negative"),
    )

    answer = the_answer(archive)

    assert [caution.hazard for caution in answer.cautions] == ["asbestos", "nitrate-film", "pressure"]
    assert all(caution in REGISTER for caution in answer.cautions)


def test_titles_are_given_of_what_is_cited_and_of_what_that_rests_on() -> None:
    archive = an_archive(
        a_source("print", of=["print:plate"], title="A print"),
        a_source("plate", title="The plate"),
        a_source("other", title="Another"),
        a_claim("oil", "print"),
    )

    assert the_answer(archive).titles == {"plate": "The plate", "print": "A print"}


def test_a_shared_origin_without_a_name_has_no_title() -> None:
    archive = an_archive(a_source("book", "book"), a_claim("oil", "book"))

    answer = the_answer(archive)

    assert "*unstated*" in answer.features[0].verdict.rests_on
    assert set(answer.titles) == {"book"}


def test_the_weights_that_a_team_changed_are_named() -> None:
    archive = an_archive(a_claim("oil", "manual"), weights={"base.manual": 9})

    assert evidence_json(the_answer(archive))["our_weights"] == {"base.manual": 9.0}


def test_what_was_left_out_for_the_asking_is_said() -> None:
    archive = an_archive(a_claim("oil", "manual", against("letter")))

    answer = evidence_json(the_answer(archive, without=("manual",)))

    assert answer["without"] == ["manual"]
    assert first(answer, "features", 0, "grade") == "unsupported"


def test_of_a_place_only_what_is_said_is_told() -> None:
    whole = At(
        page=14,
        page_label="xii",
        region=parse_region("percent:12.5,40,30,8"),
        time=parse_time_span("00:12:31.000/00:12:44.000"),
        file=2,
        who="the foreman",
    )

    assert place_json(At()) == {}
    assert place_json(whole) == {
        "page": 14,
        "page_label": "xii",
        "region": "percent:12.5,40,30,8",
        "time": "00:12:31.000/00:12:44.000",
        "file": 2,
        "who": "the foreman",
    }


def test_features_come_as_the_component_lists_them() -> None:
    archive = an_archive(a_component("headlamp", a_feature("rim", "text"), a_feature("hood", "presence")))

    answer = evidence_json(the_answer(archive))

    assert [feature["feature"] for feature in first(answer, "features")] == ["headlamp/rim", "headlamp/hood"]
