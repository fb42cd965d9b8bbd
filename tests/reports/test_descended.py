"""What programs are given of a descent."""

from typing import Any

from answers import faults_of
from builders import FEATURE, a_claim, a_pair, a_source, an_archive
from hypothesis import given
from reports.families import a_whole_family, answer, ruled
from reports.pages import NOT_WHOLE, any_text

from provenance.reports.descended import descended_json


def test_an_edge_leads_from_the_copy_to_what_it_was_made_from() -> None:
    archive = an_archive(
        a_source("negative", created="1934-07-21"), a_source("print", of=["print:negative"], title="Second print")
    )

    told = descended_json(answer(archive, "negative"))

    assert faults_of(told) == []
    assert told["about"] == "negative"
    assert told["nodes"] == [
        {
            "source": "negative",
            "title": "Negative",
            "kind": "photograph",
            "created": "1934-07-21",
            "files": 0,
            "withdrawn": False,
            "kept_in": None,
        },
        {
            "source": "print",
            "title": "Second print",
            "kind": "photograph",
            "created": None,
            "files": 0,
            "withdrawn": False,
            "kept_in": None,
        },
    ]
    assert told["edges"] == [
        {
            "from": "print",
            "to": "negative",
            "how": "print",
            "note": None,
            "pair": None,
            "ruling": None,
            "ruled_by": None,
            "ruled_date": None,
            "why": None,
            "alike": None,
        }
    ]
    assert (told["features"], told["evidence"]) == ([], None)


def test_who_ruled_on_a_pair_when_and_why_stands_on_the_edge_or_in_the_pairs() -> None:
    archive = an_archive(
        a_source("negative"),
        a_source("print", of=["print:negative"]),
        a_source("card"),
        a_source("other"),
        ruled("negative", "print"),
        a_pair("card", "print"),
        ruled("other", "print", "distinct"),
    )
    by_mary = {"ruled_by": "Mary Holt", "ruled_date": "2020-10-03", "why": "the same scratch", "alike": "alike by eye"}
    nobody = {"ruled_by": None, "ruled_date": None, "why": None, "alike": None}

    told = descended_json(answer(archive, "print"))

    assert faults_of(told) == []
    assert told["edges"] == [
        {
            "from": "print",
            "to": "negative",
            "how": "print",
            "note": None,
            "pair": "negative--print",
            "ruling": "copy",
            **by_mary,
        }
    ]
    assert told["pairs"] == [
        {"between": ["card", "print"], "how": None, "pair": "card--print", "ruling": "open", **nobody},
        {"between": ["other", "print"], "how": None, "pair": "other--print", "ruling": "distinct", **by_mary},
    ]


def test_a_feature_tells_its_bottleneck_and_a_source_the_features_that_rest_on_it() -> None:
    archive = an_archive(
        a_source("ledger", "logbook"),
        a_source("letter", "letter", of=["ledger"]),
        a_source("report", "report", of=["ledger"]),
        a_claim("acetylene", "letter", "report", claim_id="gas"),
    )
    resting = {
        "feature": FEATURE,
        "name": "Headlamp type",
        "value": "acetylene",
        "lines": 1,
        "claims": ["gas"],
        "sources": ["letter", "report"],
    }

    of_feature = descended_json(answer(archive, FEATURE))
    of_source = descended_json(answer(archive, "ledger"))

    assert of_feature["evidence"] == {**resting, "bottleneck": ["ledger"], "overlaps": []}
    assert of_feature["features"] == []
    assert of_source["features"] == [resting]


def test_where_nothing_supports_a_value_there_is_nothing_to_go_back_to() -> None:
    told = descended_json(answer(an_archive(), FEATURE))

    assert faults_of(told) == []
    assert told["evidence"] == {
        "feature": FEATURE,
        "name": "Headlamp type",
        "value": None,
        "lines": 0,
        "claims": [],
        "sources": [],
        "bottleneck": [],
        "overlaps": [],
    }


def test_where_independence_cannot_be_shown_it_is_told_which_share_what() -> None:
    archive = an_archive(a_pair("card", "photo"), a_claim("acetylene", "card", "photo"))

    told = descended_json(answer(archive, FEATURE))

    assert faults_of(told) == []
    evidence: Any = told["evidence"]
    assert evidence["bottleneck"] == []
    assert evidence["overlaps"] == [{"sources": ["card", "photo"], "shared": ["copy:card--photo"]}]


@given(any_text)
def test_whatever_people_write_the_answer_keeps_to_its_schema(words: str) -> None:
    archive = a_whole_family(words)

    for about in ("print", "turn", "album", FEATURE):
        assert faults_of(descended_json(answer(archive, about, NOT_WHOLE.left_out))) == []
