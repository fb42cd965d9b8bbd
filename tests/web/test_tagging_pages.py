"""Tagging a source in a page: all that the command says, and the same record."""

import json
import shutil
from pathlib import Path

import pytest
from cli.command_line import ask
from tasks.photographs import photographs
from web.writing_client import Desk, state_of_records

FIND = "/sources/find-1/tag"


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return Desk(photographs(tmp_path))


@pytest.fixture
def twin(desk: Desk, tmp_path: Path) -> Path:
    return Path(shutil.copytree(desk.folder, tmp_path / "twin", ignore=shutil.ignore_patterns(".derived")))


def test_the_page_writes_the_record_that_the_command_writes(desk: Desk, twin: Path) -> None:
    typed = {
        "kind": "photograph",
        "created": "about June 1934",
        "creator": "A. Abbot",
        "holder": "Orrin Museum",
        "place": "Orrin",
        "reference": "OM 12",
        "language": "en, de",
        "component": ["headlamp", "Wheel", ""],
        "shows-example": "9",
        "shows-when": "June 1934",
        "shows-known-by": "number",
        "shows-note": "seen from the left, and near",
        "derives-from-source": "number-nine",
        "derives-from-how": "print",
        "rights-statement": "InC",
        "rights-credit": "Orrin Museum, OM 12",
        "rights-publish": "ask",
        "access": "closed",
        "access-until": "2030",
        "hazard": "nitrate-film",
        "note": "came in a tin\nwith two others",
        "title": "No. 9 near Orrin",
        "process": "monochrome",
        "reliability": "B",
        "reliability-why": "a careful man",
    }

    answer = desk.send(desk.open(FIND), typed)

    assert answer.status_code == 303
    assert answer.location == "/sources/find-1"
    words = ["title", "kind", "created", "creator", "holder", "place", "reference", "process"]
    words += ["reliability", "reliability-why", "access", "access-until", "note"]
    options = [each for name in words for each in (f"--{name}", str(typed[name]))]
    ask(
        twin, "tag", "find-1", *options, "--language", "en", "--language", "de",
        "--component", "headlamp", "--component", "wheel", "--hazard", "nitrate-film",
        "--shows", "example=9,when=June 1934,known_by=number,note=seen from the left, and near",
        "--derives-from", "source=number-nine,how=print",
        "--rights", "statement=InC,credit=Orrin Museum, OM 12,publish=ask",
    )  # fmt: skip
    assert state_of_records(desk.folder) == state_of_records(twin)


def test_what_is_there_stands_in_the_form_and_sent_as_it_is_it_changes_nothing(desk: Desk) -> None:
    desk.send(desk.open(FIND), {"kind": "photograph", "created": "1934-06~", "rights-holder": "A. Abbot"})
    before = state_of_records(desk.folder)
    form = desk.open(FIND)

    assert form.fields["kind"] == ["photograph"]
    assert form.fields["created"] == ["1934-06~"]
    assert form.fields["rights-holder"] == ["A. Abbot"]
    assert desk.send(form).status_code == 303
    assert state_of_records(desk.folder) == before


def test_lines_that_a_field_of_one_line_does_not_keep_stay_in_the_record(desk: Desk) -> None:
    record = desk.folder / "sources" / "find-1.yaml"
    fields = {**json.loads(record.read_text(encoding="utf-8")), "state": "tagged", "holder": "Orrin Museum,\nstore 2"}
    record.write_text(json.dumps(fields), encoding="utf-8")
    before = state_of_records(desk.folder)

    as_it_came = desk.send(desk.open(FIND), holder="Orrin Museum,store 2")  # as a browser sends it (HTML, 4.10.5.1.2)

    assert as_it_came.status_code == 303
    assert state_of_records(desk.folder) == before
    assert desk.send(desk.open(FIND), holder="Orrin Museum, store 3").status_code == 303
    assert "Orrin Museum, store 3" in record.read_text(encoding="utf-8")


def test_what_it_would_change_is_shown_first_and_nothing_is_written(desk: Desk) -> None:
    before = state_of_records(desk.folder)

    answer = desk.send(desk.open("/sources/handbook/tag"), reliability="E", look="yes")

    assert answer.status_code == 200
    assert "What this would change" in answer.text
    assert "/fittings/headlamp/kind" in answer.text
    assert desk.form_of(answer).fields["reliability"] == ["E"]
    assert state_of_records(desk.folder) == before


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"created": "some day"}, "created"),
        ({"component": "boiler"}, "boiler"),
        ({"shows-example": "9", "shows-note": "a, when=1950"}, "shows"),
        ({"derives-from-source": "number-nine"}, "how"),
        ({"language": "klingon!"}, "language"),
    ],
)
def test_what_cannot_be_is_refused_with_what_was_typed(desk: Desk, typed: dict[str, str], said: str) -> None:
    before = state_of_records(desk.folder)

    answer = desk.send(desk.open(FIND), {"kind": "photograph", "holder": "Orrin", **typed})

    assert answer.status_code in {400, 404}
    assert said in answer.text
    again = desk.form_of(answer)
    assert again.fields["holder"] == ["Orrin"]
    assert {name: again.fields[name][0] for name in typed} == typed
    assert state_of_records(desk.folder) == before


def test_a_source_that_somebody_else_tagged_meanwhile_is_shown_in_both_versions(desk: Desk) -> None:
    form = desk.open(FIND)
    ask(desk.folder, "tag", "find-1", "--kind", "film")

    answer = desk.send(form, kind="photograph")

    assert answer.status_code == 409
    assert "As it stands now" in answer.text
    assert desk.send(desk.form_of(answer), kind="photograph").status_code == 303


def test_the_way_there_stands_on_the_page_of_the_source_and_a_wrong_one_is_said(desk: Desk) -> None:
    page = desk.client.get("/sources/find-1").text

    assert f'href="{FIND}"' in page
    assert 'href="/look/find-1"' in page
    assert desk.client.get("/sources/nothing/tag").status_code == 404


def test_what_the_text_names_is_offered(desk: Desk) -> None:
    ask(desk.folder, "tag", "find-2", "--title", "The wheel, close")

    form = desk.open("/sources/find-2/tag")

    assert "wheel" in form.choices["component"]
