from dataclasses import replace

import pytest
from answers import faults_of
from builders import a_date, an_archive
from hypothesis import given
from reports.pages import HOSTILE, NOT_WHOLE, STANDING, WIDTH, any_text, obeyed, overlong, widths

from provenance.reports.cautioned import cautions_json
from provenance.reports.flagged import Flagged, flagged_json, flagged_text
from provenance.rules.cautions import FITNESS, cautions_for
from provenance.rules.flags import ALL_FLAGS, Flag, Level

SINGLE = Flag(
    flag="single-source",
    severity=Level.WARN,
    about="headlamp/type",
    sentence="“Headlamp type” rests on one witness only.",
    mend="look for a witness that does not go back to it",
    claims=("lamp",),
    sources=("handbook",),
    needed_by=a_date("2027-03"),
)
NOTE = Flag(flag="rights-unclear", severity=Level.NOTE, about="handbook", sentence="Nothing is said.", mend="ask")
CAUTIONS = cautions_for(an_archive(), ["asbestos"])


def an_answer(*flags: Flag, features: int = 2) -> Flagged:
    return Flagged(standing=STANDING, flags=flags, features=features)


def test_a_flag_says_how_pressing_it_is_what_it_is_about_and_what_would_mend_it() -> None:
    assert flagged_text(an_answer(SINGLE, NOTE), WIDTH).split("\n") == [
        "warn: headlamp/type: single-source, needed by 2027-03",
        "  “Headlamp type” rests on one witness only.",
        "  mend: look for a witness that does not go back to it",
        "",
        "note: handbook: rights-unclear",
        "  Nothing is said.",
        "  mend: ask",
        "",
        "2 features judged; 2 flags: 0 to stop for, 1 to mend, 1 to know.",
    ]


def test_nothing_to_flag_is_said() -> None:
    assert flagged_text(an_answer(features=1), WIDTH) == (
        "One feature judged; no flags: 0 to stop for, 0 to mend, 0 to know."
    )


@pytest.mark.parametrize(("flags", "is_pressing"), [((), False), ((NOTE,), False), ((NOTE, SINGLE), True)])
def test_a_note_alone_does_not_press(flags: tuple[Flag, ...], *, is_pressing: bool) -> None:
    assert an_answer(*flags).is_pressing == is_pressing


def test_what_is_left_out_comes_first_then_cautions_then_what_was_not_looked_for_then_the_flags() -> None:
    flagged = replace(
        an_answer(SINGLE), standing=NOT_WHOLE, cautions=CAUTIONS, not_looked_for=("Loans were not looked for.",)
    )

    page = flagged_text(flagged, WIDTH)

    marks = ["Not the whole archive", "CAUTION, asbestos", FITNESS[:40], "note: Loans", "warn: headlamp/type"]
    places = [page.index(mark) for mark in marks]
    assert places == sorted(places)
    assert places[0] == 0


def test_cautions_stand_first_where_every_record_could_be_used() -> None:
    assert flagged_text(replace(an_answer(SINGLE), cautions=CAUTIONS), WIDTH).startswith("CAUTION, asbestos")


@given(any_text, widths)
def test_texts_of_others_stay_texts_and_lines_keep_to_the_width(text: str, width: int) -> None:
    flag = replace(SINGLE, sentence=text, mend=text, about=text)
    flagged = replace(an_answer(flag), not_looked_for=(text,), cautions=CAUTIONS)

    page = flagged_text(flagged, width)

    assert obeyed(page) == []
    assert overlong(page, width) == []


def test_the_answer_keeps_to_its_schema_with_and_without_flags() -> None:
    full = replace(an_answer(SINGLE, NOTE), standing=NOT_WHOLE, cautions=CAUTIONS, not_looked_for=(HOSTILE,))

    for flagged in (an_answer(), an_answer(SINGLE), full):
        assert faults_of(flagged_json(flagged)) == []


def test_every_flag_of_every_severity_keeps_to_the_schema() -> None:
    flags = [replace(NOTE, flag=name, severity=level) for name in ALL_FLAGS for level in Level]

    assert faults_of(flagged_json(an_answer(*flags))) == []


def test_a_program_is_told_what_people_are() -> None:
    answer = flagged_json(replace(an_answer(SINGLE), cautions=CAUTIONS))

    assert answer["flags"] == [
        {
            "flag": "single-source",
            "severity": "warn",
            "about": "headlamp/type",
            "sentence": SINGLE.sentence,
            "mend": SINGLE.mend,
            "claims": ["lamp"],
            "sources": ["handbook"],
            "needed_by": "2027-03",
        }
    ]
    assert answer["cautions"] == cautions_json(CAUTIONS)
