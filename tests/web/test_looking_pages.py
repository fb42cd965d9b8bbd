"""Looking at photographs without a script: plain forms, one after another, and the records that the commands write."""

import shutil
from pathlib import Path
from urllib.parse import urlencode

import pytest
from cli.command_line import ask
from tasks.photographs import LOT, photographs
from web.small_archives import seen
from web.writing_client import Desk, state_of_records

IN_LOT = urlencode({"lot": LOT})
FIRST = f"/look/find-1?{IN_LOT}"


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return Desk(photographs(tmp_path))


def test_it_is_said_how_many_there_are_and_how_many_are_done(desk: Desk) -> None:
    page = seen(desk.client, f"/look?{IN_LOT}")

    assert "0 of 3 looked at." in page.text
    assert "Begin: find-1" in page.text
    assert page.links("/look/find-") == [f"/look/find-{number}?{IN_LOT}" for number in (1, 1, 2, 3)]
    assert "0 of 4 looked at." in seen(desk.client, "/look").text
    assert "1 more cannot be shown" in seen(desk.client, "/look").text


def test_one_can_choose_a_part_and_then_a_feature_of_it(desk: Desk) -> None:
    assert "Kind of lamp" in seen(desk.client, "/look?component=headlamp").text
    assert "Headlamp: Kind of lamp" in seen(desk.client, "/look?component=headlamp&feature=kind").text
    assert "Headlamp: Kind of lamp" in seen(desk.client, "/look?feature=headlamp/kind").text
    assert "All pictures" in seen(desk.client, "/look?feature=kind").text


@pytest.mark.parametrize("address", ["/look?lot=none", "/look?component=none", "/look/nothing", "/look/find-1?page=7"])
def test_what_is_not_there_is_said(desk: Desk, address: str) -> None:
    assert desk.client.get(address).status_code == 404


def test_the_sheet_shows_the_picture_and_the_rows_that_it_could_answer(desk: Desk) -> None:
    page = seen(desk.client, FIRST)

    assert "1 of 3" in page.text
    assert [image["src"].partition("&of=")[0] for image in page.all("img")] == ["/cut-outs/page?source=find-1&page=1"]
    assert desk.client.get(page.all("img")[0]["src"]).status_code == 200
    assert {told["data-key"] for told in page.all("fieldset") if "data-key" in told} == {
        "headlamp/sign:conduit",
        "headlamp/kind",
        "headlamp/hood",
        "headlamp/height",
        "wheel/spokes",
        "wheel/mark",
    }
    form = desk.open(FIRST)
    assert form.choices["see:headlamp/kind"] == ["acetylene", "electric", "out-of-view"]
    assert "see:headlamp/kind" not in form.fields


def test_a_sheet_leads_on_to_the_next_photograph_and_writes_as_the_commands_do(desk: Desk, tmp_path: Path) -> None:
    twin = Path(shutil.copytree(desk.folder, tmp_path / "twin", ignore=shutil.ignore_patterns(".derived")))
    typed = {
        "see:headlamp/sign:conduit": "seen",
        "region:headlamp/sign:conduit": "percent:10,20,30,5",
        "see:wheel/spokes": "curved",
        "example": "9",
        "known-by": "number",
        "when": "June 1934",
    }

    answer = desk.send(desk.open(FIRST), typed)

    assert answer.status_code == 303
    assert answer.location == f"/look/find-2?{IN_LOT}&after=find-1"
    at = ("--source", "find-1", "--page", "1", "--by", "mh")
    ask(twin, "tag", "find-1", "--kind", "photograph", "--shows", "example=9,when=June 1934,known_by=number")
    ask(
        twin, "claim", "headlamp/kind", "electric", *at, "--region", "percent:10,20,30,5",
        "--how", "implies", "--sign", "conduit=seen",
    )  # fmt: skip
    ask(twin, "claim", "wheel/spokes", "curved", *at)
    assert state_of_records(desk.folder) == state_of_records(twin)
    assert "1 of 3 looked at." in seen(desk.client, f"/look?{IN_LOT}").text


def test_the_machine_of_the_photograph_before_counts_only_when_it_is_ticked(desk: Desk) -> None:
    answer = desk.send(desk.open(FIRST), {"example": "9", "known-by": "number", "see:headlamp/hood": "present"})
    form = desk.open(answer.location)
    assert form.choices["same"] == ["example=9,known_by=number"]
    assert "same" not in form.fields
    assert "Carried over" in desk.client.get(answer.location).text

    refused = desk.send(form, {"see:headlamp/hood": "present"})
    assert refused.status_code == 400
    written = desk.send(desk.form_of(refused), same=form.choices["same"][0])

    assert written.status_code == 303
    record = (desk.folder / "sources" / "find-2.yaml").read_text(encoding="utf-8")
    assert '"example": "9"' in record or 'example: "9"' in record


def test_the_last_one_leads_back_to_the_list(desk: Desk) -> None:
    answer = desk.send(desk.open(f"/look/find-3?{IN_LOT}"), {"see:headlamp/hood": "out-of-view"})

    assert answer.location == f"/look?{IN_LOT}"


def test_a_refusal_keeps_what_was_answered(desk: Desk) -> None:
    before = state_of_records(desk.folder)

    answer = desk.send(desk.open("/look/number-nine"), {"see:headlamp/hood": "absent", "see:headlamp/kind": "electric"})

    assert answer.status_code == 400
    assert "absent" in answer.text
    again = desk.form_of(answer)
    assert again.fields["see:headlamp/hood"] == ["absent"]
    assert again.fields["see:headlamp/kind"] == ["electric"]
    assert state_of_records(desk.folder) == before
    assert desk.send(again, {"region:headlamp/hood": "percent:1,2,3,4"}).status_code == 303


def test_nothing_answered_writes_nothing_and_goes_on(desk: Desk) -> None:
    before = state_of_records(desk.folder)

    answer = desk.send(desk.open(FIRST))

    assert answer.location == f"/look/find-2?{IN_LOT}&after=find-1"
    assert state_of_records(desk.folder) == before


def test_another_part_is_found_by_its_name(desk: Desk) -> None:
    page = seen(desk.client, "/look/number-nine?more=wheel&more=Boiler")

    assert "Spokes" in page.text
    assert "No part is called “Boiler”" in page.text


def test_a_photograph_whose_file_is_not_here_can_be_answered_all_the_same(desk: Desk) -> None:
    (desk.folder / "originals" / "number-nine" / "view.png").unlink()

    assert "There is no picture" in seen(desk.client, "/look/number-nine").text
    assert desk.send(desk.open("/look/number-nine"), {"see:headlamp/hood": "present"}).status_code == 303
