"""A reading is corrected on its page as it is by the command, and nobody's is written over unseen."""

from pathlib import Path

import pytest
from cli.command_line import ask
from tasks.team import a_text
from web.small_archives import a_small_archive
from web.writing_client import Desk, state_of_records

PAGE = "/sources/drawing/pages/1/correct"
RIGHT = ["Bracket H-204", "above the rail"]


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return Desk(a_small_archive(tmp_path))


def test_the_page_keeps_what_the_command_keeps(desk: Desk, tmp_path: Path) -> None:
    twin = a_small_archive(tmp_path / "twin")
    form = desk.open(PAGE)
    assert form.fields["line"] == ["Bracket H-204", "above rail"]

    answer = desk.send(form, {"line": RIGHT})

    assert answer.status_code == 303, answer.text
    told = a_text(tmp_path / "read.txt", "\n".join(RIGHT) + "\n")
    ask(twin, "tag", "drawing", "--transcript", str(told), "--page", "1", "--by", "mh")
    assert state_of_records(desk.folder) == state_of_records(twin)
    shown = desk.client.get(answer.location).text
    assert "written down by M. Hollin" in shown.replace("Written", "written")


def test_a_line_that_is_left_empty_goes_and_one_text_may_have_more(desk: Desk) -> None:
    desk.send(desk.open(PAGE), {"line": ["Bracket H-204", ""]})
    assert desk.open(PAGE).fields["line"] == ["Bracket H-204"]

    desk.send(desk.open(f"{PAGE}?whole"), {"whole": "Bracket H-204\r\n\r\nabove\r\nthe rail\r\n"})

    assert desk.open(PAGE).fields["line"] == ["Bracket H-204", "", "above", "the rail"]
    assert desk.open(f"{PAGE}?whole").fields["whole"] == ["Bracket H-204\n\nabove\nthe rail"]


def test_a_reading_that_somebody_else_kept_meanwhile_is_not_written_over(desk: Desk) -> None:
    mine = desk.open(PAGE)
    desk.send(desk.open(PAGE), {"line": ["Bracket H-204", "above their rail"]})
    before = state_of_records(desk.folder)

    refused = desk.send(mine, {"line": RIGHT})

    assert refused.status_code == 409
    assert state_of_records(desk.folder) == before
    assert "<mark>above their rail</mark>" in refused.text
    again = desk.form_of(refused)
    assert again.fields["line"] == RIGHT
    assert desk.send(again).status_code == 303


def test_what_was_typed_line_by_line_is_given_back_whole_where_the_lines_are_others_by_now(desk: Desk) -> None:
    mine = desk.open(PAGE)
    desk.send(desk.open(f"{PAGE}?whole"), {"whole": "Bracket\nH-204\nabove their rail"})

    refused = desk.send(mine, {"line": RIGHT})

    assert refused.status_code == 409
    again = desk.form_of(refused)
    assert again.fields["whole"] == ["\n".join(RIGHT)]
    assert desk.send(again).status_code == 303
    assert desk.open(PAGE).fields["line"] == RIGHT


def test_where_nothing_was_read_the_words_are_typed_as_one_text(desk: Desk) -> None:
    for reading in (desk.folder / ".derived" / "readings").rglob("*.json"):
        reading.unlink()

    form = desk.open(PAGE)

    assert "line" not in form.fields
    assert desk.send(form, {"whole": "\n".join(RIGHT)}).status_code == 303
    assert desk.open(PAGE).fields["line"] == RIGHT


@pytest.mark.parametrize("address", ["/sources/nosuch/pages/1/correct", "/sources/drawing/pages/9/correct"])
def test_a_page_that_is_not_there_is_said_so(desk: Desk, address: str) -> None:
    assert desk.client.get(address).status_code == 404
