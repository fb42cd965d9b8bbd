"""The page of `evidence` that people read."""

import json
import re
from dataclasses import replace

import pytest
from builders import a_claim, a_component, a_date, a_decision, a_source, against, an_archive, an_item
from hypothesis import given
from hypothesis import strategies as st
from reports.answering import the_answer, whole_archive
from reports.pages import HOSTILE, NOT_WHOLE, WIDTH, any_text, obeyed, overlong, widths

from provenance.records.archive import Person
from provenance.records.claims import At
from provenance.records.decisions import Release
from provenance.records.regions import parse_region, parse_time_span
from provenance.reports.brief import brief_text
from provenance.reports.evidence_json import evidence_json
from provenance.reports.evidence_text import chance, evidence_text, place_words, standing_words
from provenance.rules.cautions import FITNESS
from provenance.rules.sentences import chance_in_words


def test_a_verdict_is_laid_out_with_what_it_rests_on() -> None:
    archive = an_archive(
        a_source("manual", "manual", title="Instructions"),
        a_claim("acetylene", an_item("manual", page=4, quote="The lamp is acetylene."), against("letter")),
    )

    page = evidence_text(the_answer(archive, flags=("single-source",)), WIDTH)

    lines = page.split("\n")
    assert lines[:5] == [
        "Headlamp (headlamp): what is known for No. 9 as at 1934-06",
        "",
        "Headlamp type (headlamp/type)",
        "-----------------------------",
        "  Acetylene: uncorroborated.",
    ]
    assert "  Nothing has been decided yet." in lines
    assert "  Flags: single-source." in lines
    # 11 - 12 = -1 decibans: 10^-.1 / (1 + 10^-.1) is 44 in 100.
    assert "  “Acetylene”: uncorroborated, chance 44 %; 11.0 points for it, 12.0 against." in lines
    assert "    for     Instructions (manual), page 4: “The lamp is acetylene.”" in lines
    assert "    against Letter (letter)" in lines
    assert lines[-1] == "Weighed with the standard weights (common practice, no published source)."


def test_a_decision_in_force_is_said_with_its_why() -> None:
    decided = an_archive(a_claim("oil", "manual"), a_decision("lamp", build="oil", why="as found"))
    without_why = an_archive(a_claim("oil", "manual"), a_decision("lamp", build="oil"))

    assert "  Decided (lamp): build Oil. Why: as found" in evidence_text(the_answer(decided), WIDTH).split("\n")
    assert "  Decided (lamp): build Oil" in evidence_text(the_answer(without_why), WIDTH).split("\n")


def test_a_decision_in_force_is_said_with_who_released_it_and_when() -> None:
    released = Release(by="kl", date=a_date("2026-05-04"))
    archive = an_archive(
        a_claim("oil", "manual"),
        a_decision("lamp", build="oil", released=released),
        people=(Person(id="kl", name="K. Lorne"),),
    )
    by_nobody_known = an_archive(a_claim("oil", "manual"), a_decision("lamp", build="oil", released=released))
    told = json.loads(json.dumps(evidence_json(the_answer(archive))))

    assert "  Released by K. Lorne, 4 May 2026." in evidence_text(the_answer(archive), WIDTH).split("\n")
    assert "  Released by: kl, 4 May 2026." in brief_text(the_answer(by_nobody_known), WIDTH).split("\n")
    assert told["features"][0]["decision"]["released"] == {"by": "kl", "date": "2026-05-04"}


def test_a_feature_without_any_evidence_has_no_value() -> None:
    page = evidence_text(the_answer(an_archive()), WIDTH)

    assert "  Unsupported: no value can be given." in page.split("\n")


def test_a_value_that_nothing_of_weight_speaks_for_is_said_to_have_nothing() -> None:
    archive = an_archive(a_source("plan", "drawing", executed=False), a_claim("oil", "plan"))

    page = evidence_text(the_answer(archive), WIDTH)

    assert "“Oil”: unsupported; nothing counts for it." in page
    assert "0.0 points, not counted." in page


def test_a_component_without_features_says_so() -> None:
    page = evidence_text(the_answer(an_archive(replace(a_component(), features=()))), WIDTH)

    assert "It has no features of its own to decide yet." in page


def test_what_is_judged_without_is_said() -> None:
    archive = an_archive(a_claim("oil", "manual", "letter", "book"))

    page = evidence_text(the_answer(archive, without=("manual", "letter")), WIDTH)

    assert "Judged as if manual and letter were withdrawn." in page


def test_our_weights_are_printed_beside_the_standard_ones() -> None:
    archive = an_archive(a_claim("oil", "manual"), weights={"base.manual": "9.5"})

    page = evidence_text(the_answer(archive), WIDTH)

    assert "Our weights: base.manual 9.5 instead of 11; else the standard ones" in page


def test_what_is_left_out_comes_first_then_cautions_then_everything_else() -> None:
    page = evidence_text(the_answer(whole_archive(), NOT_WHOLE), WIDTH)

    marks = ["Not the whole archive", "sources/a-very", "CAUTION, asbestos", "CAUTION, nitrate-film", FITNESS[:40],
             "as it was (headlamp): what is known"]  # fmt: skip
    places = [page.index(mark) for mark in marks]
    assert places == sorted(places)
    assert places[0] == 0


def test_cautions_stand_before_all_else_where_every_record_could_be_used() -> None:
    assert evidence_text(the_answer(whole_archive()), WIDTH).startswith("CAUTION, asbestos: as it was Consult")


@pytest.mark.parametrize(
    ("at", "words"),
    [
        (At(), ""),
        (At(page=14), "page 14"),
        (
            At(page=14, page_label="xii", region=parse_region("percent:1,2,3,4")),
            "page 14 (printed xii), percent:1,2,3,4",
        ),
        (At(file=2, time=parse_time_span("00:12:31")), "file 2, at 00:12:31"),
        (At(who="the foreman"), "the foreman speaking"),
    ],
)
def test_a_place_is_said_as_people_say_it(at: At, words: str) -> None:
    assert place_words(at) == words


@pytest.mark.parametrize(
    ("posterior", "words"),
    [
        (0.0, "under 1 %"), (0.0049, "under 1 %"), (0.005, "under 1 %"), (0.0051, "1 %"), (0.5, "50 %"),
        (0.9949, "99 %"), (0.9951, "over 99 %"), (0.99999999, "over 99 %"), (1.0, "over 99 %"),
    ],
)  # fmt: skip
def test_a_chance_is_never_printed_as_nothing_or_as_certain(posterior: float, words: str) -> None:
    assert chance(posterior) == words


@given(st.floats(0, 1))
def test_the_chance_beside_a_value_is_the_one_in_the_explanation(posterior: float) -> None:
    figures = re.findall(r"\d+", chance(posterior))

    assert figures[0] not in {"0", "100"}
    assert figures[0] == re.findall(r"\d+", chance_in_words(posterior))[0]


def test_no_page_of_evidence_claims_certainty() -> None:
    """Sixty drawings of No. 9 itself."""
    archive = an_archive(a_claim("oil", *[f"drawing-{number}" for number in range(60)]))

    page = evidence_text(the_answer(archive), WIDTH)

    assert "chance over 99 %" in page
    assert not re.search(r"\b(0|100) %", page)


def test_a_verdict_in_short_is_its_value_and_grade() -> None:
    answer = the_answer(an_archive(a_claim("oil", "manual")))

    assert standing_words(answer.features[0].verdict) == "Oil: uncorroborated."


@given(any_text.filter(str.strip), widths)
def test_texts_of_others_stay_texts_and_lines_keep_to_the_width(words: str, width: int) -> None:
    page = evidence_text(the_answer(whole_archive(words), NOT_WHOLE, flags=("single-source",)), width)

    assert obeyed(page) == []
    assert overlong(page, width) == []


def test_the_hostile_text_is_shown_as_what_it_is() -> None:
    page = evidence_text(the_answer(whole_archive(HOSTILE)), WIDTH)

    assert obeyed(page) == []
    assert page.count(r"\x1b[31mred\x1b]0;owned\x07") >= 8


def test_the_same_records_give_the_same_page_in_whatever_order_they_were_read() -> None:
    one, other = the_answer(whole_archive()), the_answer(whole_archive(reverse=True))

    assert evidence_text(one, WIDTH) == evidence_text(other, WIDTH)
    assert json.dumps(evidence_json(one)) == json.dumps(evidence_json(other))
