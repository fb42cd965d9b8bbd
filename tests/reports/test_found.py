import json
from dataclasses import replace

from answers import faults_of
from hypothesis import given
from reports.pages import HOSTILE, NOT_WHOLE, STANDING, WIDTH, any_text, obeyed, overlong, widths

from provenance.reports.found import Found, FoundPage, found_json, found_text
from provenance.search.entries import What

PAGE = FoundPage(
    what="page",
    record="handbook/p0003",
    source="handbook",
    title="Working instructions",
    page=3,
    score=7.25,
    snippet="the headlamp bracket No. H-204 is fixed",
    regions=("percent:10,20,5,2", "percent:16,20,5,2"),
    original="originals/handbook/handbook.pdf",
    components=("headlamp", "cab"),
)
CLAIM = FoundPage(
    what="claim",
    record="claims/lamp",
    source="",
    title="headlamp/kind: acetylene",
    page=None,
    score=2.0,
    snippet="",
    regions=(),
    original=None,
    components=(),
)


def an_answer(*hits: FoundPage, total: int | None = None, notes: tuple[str, ...] = ()) -> Found:
    count = len(hits) if total is None else total
    return Found(standing=STANDING, query="bracket", total=count, hits=hits, notes=notes)


def test_a_hit_is_a_page_with_its_words_and_their_place() -> None:
    assert found_text(an_answer(PAGE), WIDTH).split("\n") == [
        "One hit for “bracket”:",
        "",
        "  1. Working instructions, page 3",
        "     “the headlamp bracket No. H-204 is fixed”",
        "     handbook/p0003; at percent:10,20,5,2 and 1 more; speaks of headlamp, cab",
    ]


def test_a_hit_on_a_recording_says_when_it_is_said() -> None:
    heard = replace(PAGE, record="tape/t01", title="Tape 7", page=None, regions=(), time="00:12:31.000/00:12:44.000")

    assert found_text(an_answer(heard), WIDTH).split("\n")[2:] == [
        "  1. Tape 7, at 00:12:31.000/00:12:44.000",
        "     “the headlamp bracket No. H-204 is fixed”",
        "     tape/t01; speaks of headlamp, cab",
    ]
    written = json.loads(json.dumps(found_json(an_answer(heard, PAGE))))
    assert [hit["time"] for hit in written["hits"]] == ["00:12:31.000/00:12:44.000", None]
    assert faults_of(written) == []


def test_a_claim_is_called_one_and_says_no_more_than_there_is() -> None:
    assert found_text(an_answer(CLAIM), WIDTH).split("\n")[2:] == [
        "  1. claim headlamp/kind: acetylene",
        "     claims/lamp",
    ]


def test_one_place_has_no_more() -> None:
    page = found_text(an_answer(replace(PAGE, what="source", page=None, regions=PAGE.regions[:1])), WIDTH)

    assert "  1. Working instructions\n" in page
    assert "at percent:10,20,5,2;" in page


def test_nothing_found_is_said() -> None:
    assert found_text(an_answer(), WIDTH) == "Nothing was found for “bracket”."


def test_hits_beyond_the_limit_are_counted() -> None:
    assert found_text(an_answer(PAGE, CLAIM, total=31), WIDTH).startswith(
        "31 hits for “bracket”, the best 2 of them here:"
    )


def test_what_is_not_the_whole_archive_is_said_first_then_what_was_not_understood() -> None:
    found = replace(an_answer(PAGE, notes=("the field `colour:` is not known", "word " * 40)), standing=NOT_WHOLE)

    page = found_text(found, 60)

    assert page.startswith("Not the whole archive")
    assert page.index("sources/a-very") < page.index("note: the field") < page.index("One hit")
    assert overlong(page, 60) == []


@given(any_text, widths)
def test_words_read_from_a_scan_cannot_reach_the_terminal(text: str, width: int) -> None:
    hit = replace(PAGE, title=text, snippet=text, components=(text,), record=text)

    page = found_text(replace(an_answer(hit, notes=(text,)), query=text), width)

    assert obeyed(page) == []
    assert overlong(page, width) == []
    assert page == found_text(replace(an_answer(hit, notes=(text,)), query=text), width)


def test_the_answer_keeps_to_its_schema_with_and_without_hits() -> None:
    for found in (an_answer(), an_answer(PAGE, CLAIM, notes=(HOSTILE,)), replace(an_answer(PAGE), standing=NOT_WHOLE)):
        assert faults_of(found_json(found)) == []


def test_every_sort_of_hit_keeps_to_the_schema() -> None:
    for what in What:
        assert faults_of(found_json(an_answer(replace(PAGE, what=what)))) == []


def test_a_wrong_answer_is_noticed_by_both_libraries() -> None:
    """The test of the test: a page 0 is none."""
    assert len(faults_of(found_json(an_answer(replace(PAGE, page=0))))) == 2
