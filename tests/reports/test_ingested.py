from dataclasses import replace

import pytest
from answers import faults_of
from hypothesis import given
from reports.pages import HOSTILE, NOT_WHOLE, STANDING, WIDTH, any_text, obeyed, overlong, widths

from provenance.reports.compared import Compared, Suspected
from provenance.reports.ingested import Ingested, IngestedFile, IngestState, ingested_json, ingested_text

NEW = IngestedFile(
    path="scans/Handbook.pdf", source="handbook-1a2b3c4d", state=IngestState.REGISTERED, pages=12, read=12, why=""
)
KNOWN = replace(NEW, path="again.pdf", state=IngestState.KNOWN)
UNREAD = replace(NEW, path="bad.jpg", state=IngestState.UNREAD, pages=1, read=0, why="page 1 is cut short")
REFUSED = IngestedFile(
    path="link.txt",
    source=None,
    state=IngestState.REFUSED,
    pages=None,
    read=0,
    why="it is a link, which is not followed",
)


def an_answer(*files: IngestedFile, pages_read: int = 0) -> Ingested:
    return Ingested(
        standing=STANDING,
        files=files,
        pages_read=pages_read,
        compared=Compared(sources=0),
        written=("sources/handbook-1a2b3c4d.yaml",),
    )


def test_each_file_says_what_became_of_it_and_all_are_counted() -> None:
    assert ingested_text(an_answer(NEW, KNOWN, UNREAD, REFUSED, pages_read=12), WIDTH).split("\n") == [
        "scans/Handbook.pdf: new -> handbook-1a2b3c4d, 12 pages read",
        "bad.jpg: kept but not read -> handbook-1a2b3c4d, its page not read (page 1 is cut short)",
        "link.txt: left alone (it is a link, which is not followed)",
        "4 files: 1 new, 1 held already, 1 kept but not read, 1 left alone; 12 pages read now.",
    ]


def test_a_file_held_already_is_named_only_where_there_is_something_to_say_of_it() -> None:
    noted = replace(KNOWN, why="the same bytes as handbook, where the new name is noted")

    assert ingested_text(an_answer(KNOWN), WIDTH) == "One file: 1 held already; no pages read now."
    assert ingested_text(an_answer(noted), WIDTH).startswith("again.pdf: held already -> handbook-1a2b3c4d")


def test_a_night_of_twenty_thousand_scans_is_told_on_one_screen_and_what_failed_in_full() -> None:
    scans = [replace(NEW, path=f"{number:05}.png", pages=1, read=1) for number in range(20_000)]
    failed = [replace(UNREAD, path=f"bad-{number}.jpg") for number in range(30)]

    lines = ingested_text(an_answer(*scans, *failed, REFUSED), WIDTH).split("\n")

    assert [line.split(":")[0] for line in lines[:20]] == [f"{number:05}.png" for number in range(20)]
    assert [line.split(":")[0] for line in lines[20:51]] == [*(file.path for file in failed), "link.txt"]
    assert lines[51:] == [
        "… and 19980 more new; --json names them all.",
        "20031 files: 20000 new, 30 kept but not read, 1 left alone; no pages read now.",
    ]


def test_what_is_noted_of_files_held_already_is_told_of_twenty_of_them() -> None:
    noted = [replace(KNOWN, path=f"{number}.pdf", why="the new name is noted") for number in range(22)]

    lines = ingested_text(an_answer(*noted, KNOWN), WIDTH).split("\n")

    assert len(lines) == 22
    assert lines[20] == "… and 2 more held already; --json names them all."
    assert len(ingested_text(an_answer(*noted[:20]), WIDTH).split("\n")) == 21


def test_nothing_handed_in_is_said() -> None:
    assert ingested_text(an_answer(), WIDTH) == "No files: nothing to do; no pages read now."


@pytest.mark.parametrize(("files", "has_unread"), [((), False), ((NEW, KNOWN, REFUSED), False), ((NEW, UNREAD), True)])
def test_a_file_that_was_not_read_makes_the_call_one_with_faults(
    files: tuple[IngestedFile, ...], *, has_unread: bool
) -> None:
    assert an_answer(*files).has_unread == has_unread


def test_what_is_not_the_whole_archive_is_said_first() -> None:
    assert ingested_text(replace(an_answer(NEW), standing=NOT_WHOLE), WIDTH).startswith("Not the whole archive")


@given(any_text, widths)
def test_the_name_of_a_file_cannot_reach_the_terminal(text: str, width: int) -> None:
    page = ingested_text(an_answer(replace(NEW, path=text, why=text)), width)

    assert obeyed(page) == []
    assert overlong(page, width) == []


def test_the_answer_keeps_to_its_schema_whatever_became_of_the_files() -> None:
    full = replace(an_answer(NEW, KNOWN, UNREAD, REFUSED, replace(NEW, why=HOSTILE)), standing=NOT_WHOLE)

    for ingested in (an_answer(), full):
        assert faults_of(ingested_json(ingested)) == []


def test_every_state_has_a_word_and_keeps_to_the_schema() -> None:
    for state in IngestState:
        answer = an_answer(replace(NEW, state=state, why="because"))
        assert faults_of(ingested_json(answer)) == []
        assert "because" in ingested_text(answer, WIDTH)


def test_a_program_is_told_what_people_are() -> None:
    answer = ingested_json(an_answer(REFUSED, pages_read=3))

    assert answer["files"] == [
        {"path": "link.txt", "source": None, "state": "refused", "pages": None, "read": 0, "why": REFUSED.why}
    ]
    assert (answer["pages_read"], answer["written"]) == (3, ["sources/handbook-1a2b3c4d.yaml"])


def test_what_may_have_been_seen_before_is_told_between_the_files_and_their_number() -> None:
    suspected = Suspected(
        source="scan-1", other="postcard", method="picture", score=0.8125, why="412 points of the two agree"
    )
    answer = replace(an_answer(NEW), compared=Compared(sources=1, suspected=(suspected,)))

    assert ingested_text(answer, WIDTH).split("\n")[1:] == [
        "Seen before? scan-1 and postcard: 412 points of the two agree",
        "One pair waits for a ruling; until then it counts as one witness: `provenance copies`.",
        "One file: 1 new; no pages read now.",
    ]
    assert ingested_json(answer)["suspected_copies"] == [
        {
            "source": "scan-1",
            "other": "postcard",
            "kind": "picture",
            "score": 0.812,
            "why": "412 points of the two agree",
        }
    ]
    assert faults_of(ingested_json(answer)) == []
