"""Ruling on two that look alike, on their page: what it would change, and the record that the command writes."""

from collections.abc import Mapping, Sequence
from pathlib import Path

import pytest
from cli.command_line import ask
from tasks.team import a_text
from web.deciding_archives import BY, PAIR, an_archive_to_decide_in, told
from web.writing_client import Desk, state_of_records

PAGE = f"/copies/{PAIR}"
BOTH = ("photograph", "print")
WHY = "the same crack at the top left"
THE_PHOTOGRAPH = "original:photograph"


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return Desk(an_archive_to_decide_in(tmp_path))


@pytest.fixture
def twin(tmp_path: Path) -> Path:
    return an_archive_to_decide_in(tmp_path / "twin")


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"ruling": THE_PHOTOGRAPH, "how": "print"}, ["confirm", *BOTH, "--how", "print", "--original", "photograph"]),
        ({"ruling": THE_PHOTOGRAPH, "how": "crop"}, ["confirm", *BOTH, "--how", "crop", "--original", "photograph"]),
        ({"ruling": "neither"}, ["confirm", *BOTH, "--original", "neither"]),
        ({"ruling": "distinct"}, ["rule-out", *BOTH]),
    ],
)
def test_a_ruling_is_the_record_that_the_command_writes(
    desk: Desk, twin: Path, fields: Mapping[str, str], words: Sequence[str]
) -> None:
    answer = desk.send(desk.open(PAGE), fields, why=WHY)

    assert (answer.status_code, answer.location) == (303, PAGE)
    done = ask(twin, "copies", *words, "--why", WHY, *BY)
    assert state_of_records(desk.folder) == state_of_records(twin)
    page = told(desk.client.get(PAGE + "?again").text)
    first = told(desk.client.get(answer.location).text)
    assert all(sentence in page + first for sentence in done["said"])
    assert WHY in first


def test_which_verdicts_a_ruling_changed_is_said_after_it(desk: Desk, twin: Path) -> None:
    answer = desk.send(desk.open(PAGE), ruling="distinct", why=WHY)

    (changed,) = ask(twin, "copies", "rule-out", *BOTH, "--why", WHY, *BY)["changes"]
    page = told(desk.client.get(answer.location).text)
    assert changed["feature"] == "headlamp/kind"
    assert "“Headlamp: Kind of lamp”: before: " in page
    assert f": {changed['after']['grade']}, chance" in page


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"ruling": "distinct"}, ["rule-out", *BOTH]),
        ({"ruling": THE_PHOTOGRAPH, "how": "print"}, ["confirm", *BOTH, "--how", "print"]),
    ],
)
def test_what_a_ruling_would_change_is_seen_before_it_and_nothing_is_written(
    desk: Desk, fields: Mapping[str, str], words: Sequence[str]
) -> None:
    before = state_of_records(desk.folder)

    answer = desk.send(desk.open(PAGE), fields, look="yes", by="")

    assert answer.status_code == 200
    tried = ask(desk.folder, "copies", *words, "--try", "--why", WHY, *BY)
    page = told(answer.text)
    seen = page[page.rindex("What this would change") :]
    if not tried["changes"]:
        assert "No grade and no chance would change." in seen
    for change in tried["changes"]:
        assert f"{change['before']['grade']} now, {change['after']['grade']} then" in seen
    assert state_of_records(desk.folder) == before
    assert desk.form_of(answer).fields["ruling"] == [fields["ruling"]]


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"why": WHY}, "not said how you rule"),
        ({"ruling": "distinct", "why": ""}, "not said why"),
        ({"ruling": THE_PHOTOGRAPH, "how": "", "why": WHY}, "not said how the one was made from the other"),
        ({"ruling": "original:handbook", "how": "print", "why": WHY}, "is none of the two"),
    ],
)
def test_a_ruling_that_is_not_whole_is_refused_and_what_was_typed_stays(
    desk: Desk, fields: Mapping[str, str], said: str
) -> None:
    before = state_of_records(desk.folder)

    answer = desk.send(desk.open(PAGE), fields)

    assert answer.status_code == 400
    assert said in told(answer.text)
    assert desk.form_of(answer).fields["why"] == [fields["why"]]
    assert state_of_records(desk.folder) == before


def test_a_wrong_ruling_is_changed_as_the_command_changes_it(desk: Desk, twin: Path) -> None:
    for folder in (desk.folder, twin):
        ask(folder, "copies", "rule-out", *BOTH, "--why", "the driver has moved", *BY)
    page = Desk(desk.folder).client.get(PAGE).text
    assert "It is ruled distinct by M. Hollin" in told(page)

    answer = desk.send(desk.open(PAGE), ruling=THE_PHOTOGRAPH, how="print", why=WHY)

    done = ask(twin, "copies", "confirm", *BOTH, "--how", "print", "--why", WHY, *BY)
    assert state_of_records(desk.folder) == state_of_records(twin)
    assert any("Until now it was ruled distinct" in sentence for sentence in done["said"])
    assert "Until now it was ruled distinct" in told(desk.client.get(answer.location).text)


def test_what_stands_in_the_record_of_the_later_one_is_not_ruled_out(desk: Desk) -> None:
    ask(desk.folder, "copies", "confirm", *BOTH, "--how", "print", "--why", WHY, *BY)
    desk = Desk(desk.folder)
    before = state_of_records(desk.folder)
    form = desk.open(PAGE)
    assert form.fields["how"] == ["print"]

    refused = desk.send(form, ruling="distinct", why="they differ")

    assert refused.status_code == 400
    assert "remove the entry of “derives_from” there by hand first" in told(refused.text)
    assert state_of_records(desk.folder) == before


def test_a_print_that_is_certainly_later_is_not_the_original_and_nothing_is_half_written(desk: Desk) -> None:
    before = state_of_records(desk.folder)

    refused = desk.send(desk.open(PAGE), ruling="original:print", how="crop", why=WHY)

    assert refused.status_code == 400
    assert "Nothing was written" in told(refused.text)
    assert state_of_records(desk.folder) == before


def test_a_source_that_changed_meanwhile_is_shown_as_it_was_and_as_it_is(desk: Desk) -> None:
    form = desk.open(PAGE)
    record = desk.folder / "sources" / "print.yaml"
    a_text(record, record.read_text(encoding="utf-8") + "note: its back is stamped\n")

    refused = desk.send(form, ruling="distinct", why=WHY)

    assert refused.status_code == 409
    assert "<mark>note: its back is stamped</mark>" in refused.text
    assert desk.form_of(refused).fields["ruling"] == ["distinct"]
    assert desk.send(desk.form_of(refused)).status_code == 303


def test_a_pair_that_is_not_there_is_missing(desk: Desk) -> None:
    form = desk.open(PAGE)
    form.action = "/copies/handbook--print"

    assert desk.send(form, ruling="distinct", why=WHY).status_code == 404
