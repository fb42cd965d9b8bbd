"""What two sources have in common, as people and programs read it."""

from dataclasses import replace

from answers import faults_of
from builders import a_pair, a_source, an_archive

from provenance.records.decisions import AlikePlace
from provenance.records.regions import parse_region
from provenance.reports.pair_shown import ShownLikeness, ShownPair, shown_json, shown_text
from provenance.reports.standing import Standing

ARCHIVE = an_archive(a_source("first", created="1934"), a_source("second", "letter"))
BARE = ShownPair(standing=Standing(archive="Railcar No. 9"), archive=ARCHIVE, between=("first", "second"), pair=None)
PLACES = (AlikePlace(page=1, region=parse_region("percent:0,0,50,50")), AlikePlace(page=2))
PICTURE = ShownLikeness(likeness="copy", score=0.98765, why="166 points agree", places=PLACES)
TEXT = ShownLikeness(likeness="possible", score=0.4, why="138 letters agree.", places=PLACES)
WHOLE = replace(
    BARE,
    pair=replace(a_pair("first", "second"), why="the same crack"),
    picture=PICTURE,
    text=TEXT,
    passages=("hte lamp of brass", "hte lamp of brase"),
    errors=(("hte", "the"),),
    output="side.png",
)


def test_pictures_passages_and_shared_errors_are_shown_with_what_is_on_record() -> None:
    assert shown_text(WHOLE, 100) == (
        "A: first, “First” (photograph, 1934)\n"
        "B: second, “Second” (letter, without a date)\n"
        "On record: open: nobody has ruled on it.\n"
        "Alike: the same crack\n"
        "\n"
        "By the picture the one looks like a copy of the other, part of page 1 of A and page 2 of B: 166\n"
        "points agree.\n"
        "\n"
        "By the text the one may be a copy of the other, part of page 1 of A and page 2 of B: 138 letters\n"
        "agree.\n"
        "\n"
        "A  hte lamp of brass\n"
        "                   ^\n"
        "B  hte lamp of brase\n"
        "\n"
        "Odd wordings that both have in the same place: “hte” where “the” is usual.\n"
        "\n"
        "written: side.png"
    )


def test_where_nothing_is_alike_that_is_said_and_what_was_not_compared_too() -> None:
    text = shown_text(replace(BARE, unread=1), 100)

    assert "Nothing is on record of the two as copies." in text
    assert "No picture and no text of the two were found alike." in text
    assert "One page was not compared, since nobody has read them yet: `provenance rebuild`." in text
    assert "2 pages were not compared" in " ".join(shown_text(replace(WHOLE, unread=2), 100).split())


def test_a_pair_without_a_reason_on_record_and_a_likeness_that_is_none() -> None:
    text = shown_text(
        replace(WHOLE, pair=a_pair("first", "second"), picture=replace(PICTURE, likeness="distinct")), 100
    )

    assert "Alike:" not in text
    assert "is not taken for a copy of the other" in text


def test_the_answer_for_programs_is_sound_with_and_without_a_likeness() -> None:
    assert faults_of(shown_json(WHOLE)) == []
    assert faults_of(shown_json(BARE)) == []
    assert shown_json(WHOLE)["picture"] == {
        "likeness": "copy",
        "score": 0.988,
        "why": "166 points agree",
        "places": [
            {"page": 1, "region": "percent:0,0,50,50", "time": None},
            {"page": 2, "region": None, "time": None},
        ],
    }
