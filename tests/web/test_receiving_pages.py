"""Receiving in the pages: what is handed in becomes the records that the command writes, and nothing is left over.

A form with files is sent as HTML's standard has it (WHATWG HTML, 4.10.22.8: multipart/form-data).
"""

import io
import re
import time
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
from cli.command_line import SOUND, a_copy_of, ask
from tasks.team import a_scan, a_text
from web.writing_client import ORIGIN, Desk, Form, state_of_records
from werkzeug.test import TestResponse

from provenance.tasks import arriving
from provenance.tasks.opening import open_folder
from provenance.web import received_files
from provenance.web.app import create_app

DAY = "2026-03-01"
SURELY_DONE = 120.0
ABOUT_THE_LAMP = "The headlamp bracket No. H-204 was seen on No. 9 in June 1934.\n"


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    made = Desk(a_copy_of(SOUND, tmp_path))
    yield made
    received_files.end(made.client.application)


def hand_in(
    desk: Desk, files: Mapping[str, bytes], said: Mapping[str, str] | None = None, form: Form | None = None
) -> TestResponse:
    sent: Any = [(io.BytesIO(data), name) for name, data in files.items()]
    answer: TestResponse = desk.send(form or desk.open("/receive"), {"files": sent, "date": DAY, **(said or {})})
    return answer


def send_one(desk: Desk, form: Form, name: str, data: bytes, **fields: str) -> TestResponse:
    mark = form.action.partition("mark=")[2]
    body: dict[str, Any] = {"token": form.fields["token"], "files": (io.BytesIO(data), name), **fields}
    return desk.client.post(f"/receive/files/{mark}", data=body, headers={"Origin": ORIGIN})


def until(desk: Desk, address: str, sign: str) -> str:
    """The page of a receipt once it says something, in its words or between them."""
    ends = time.monotonic() + SURELY_DONE
    while time.monotonic() < ends:
        page = desk.client.get(address).text
        if sign in page:
            return page
        time.sleep(0.02)
    raise AssertionError(page)


def ended(desk: Desk, address: str) -> str:
    """The page of a receipt once its work has ended."""
    return until(desk, address, 'data-state="ended"')


def words(page: str) -> str:
    return " ".join(re.sub(r"<[^>]*>", " ", page).split())


def staged(folder: Path) -> list[Path]:
    return [path for path in (folder / ".derived" / "arriving").rglob("*") if path.is_file()]


def test_what_is_handed_in_becomes_the_records_that_the_command_writes(desk: Desk, tmp_path: Path) -> None:
    twin = a_copy_of(SOUND, tmp_path / "twin")
    scan = a_scan(tmp_path / "in" / "Handbook p4.png").read_bytes()
    a_text(tmp_path / "in" / "Brief ü.txt", "a letter\n")
    said = {"lot": "Starrick's tin", "from": "R. Starrick", "rights": "InC", "access": "closed"}

    answer = hand_in(desk, {"Handbook p4.png": scan, "Brief ü.txt": b"a letter\n"}, said)

    assert answer.status_code == 303, answer.text
    page = ended(desk, answer.location)
    asked = [word for name, value in said.items() for word in (f"--{name}", value)]
    ask(twin, "ingest", str(tmp_path / "in"), "--by", "mh", "--date", DAY, *asked)
    assert state_of_records(desk.folder) == state_of_records(twin)
    assert "2 new; 2 pages read now" in words(page)
    assert "/look?lot=Starrick%27s+tin" in page
    assert "R. Starrick" not in page
    assert staged(desk.folder) == []


@pytest.mark.long
def test_two_sides_together_are_one_source(desk: Desk) -> None:
    answer = hand_in(desk, {"7 back.txt": b"greetings\n", "7 front.txt": b"the car\n"}, {"together": "yes"})

    page = ended(desk, answer.location)

    (source,) = set(re.findall(r'href="/sources/([a-z0-9-]+)"', page))
    files = open_folder(desk.folder).archive.sources[source].files
    assert [Path(file.path).name for file in files] == ["7 front.txt", "7 back.txt"]


def test_a_script_sends_each_file_by_itself_and_is_told_at_once_what_is_held(desk: Desk) -> None:
    first = ended(desk, hand_in(desk, {"letter.txt": b"the bracket\n"}).location)
    (source,) = set(re.findall(r'href="/sources/([a-z0-9-]+)"', first))
    form = desk.open("/receive")

    held = send_one(desk, form, "copy.txt", b"the bracket\n").json
    new = send_one(desk, form, "box/new.txt", b"another\n").json

    assert held == {"files": [{"name": "copy.txt", "size": 12, "known": {"source": source, "title": "letter"}}]}
    assert new == {"files": [{"name": "box/new.txt", "size": 8, "known": None}]}
    answer = hand_in(desk, {}, form=form)
    page = words(ended(desk, answer.location))
    assert f"copy.txt Held already, one page: the same bytes as {source}: the new name is noted in its record" in page
    assert "box/new.txt New" in page


def test_what_was_sent_is_kept_when_the_form_is_refused_and_need_not_be_sent_again(desk: Desk) -> None:
    before = state_of_records(desk.folder)
    desk.by = ""

    refused = hand_in(desk, {"letter.txt": b"the bracket\n"}, {"lot": "tin"})

    assert refused.status_code == 400
    assert state_of_records(desk.folder) == before
    assert "One file is here already" in words(refused.text)
    form = desk.form_of(refused)
    assert form.fields["lot"] == ["tin"]
    desk.by = "mh"
    page = ended(desk, desk.send(form, date=DAY).location)
    assert "letter.txt New" in words(page)


def test_what_was_sent_is_kept_when_what_is_said_of_it_cannot_be(desk: Desk) -> None:
    refused = hand_in(desk, {"letter.txt": b"the bracket\n"}, {"date": "yesterday"})

    assert refused.status_code == 400
    again = desk.send(desk.form_of(refused), date=DAY)
    assert "letter.txt New" in words(ended(desk, again.location))


@pytest.mark.parametrize(
    ("said", "what"),
    [
        ({}, "no file was chosen"),
        ({"folder": "scans"}, "not the whole path"),
        ({"folder": "/nowhere/at/all"}, "is not there"),
        ({"folder": f"/{'x' * 300}"}, "cannot be looked at: file name too long"),
        ({"date": "yesterday"}, "yesterday"),
    ],
)
def test_what_cannot_be_done_is_said_and_nothing_is_begun(desk: Desk, said: dict[str, str], what: str) -> None:
    files = {"a.txt": b"a"} if "date" in said else {}

    answer = hand_in(desk, files, said)

    assert answer.status_code == 400
    assert what in words(answer.text).lower()
    assert "since the pages were started" not in answer.text


def test_a_folder_and_files_are_not_taken_in_at_once(desk: Desk, tmp_path: Path) -> None:
    answer = hand_in(desk, {"a.txt": b"a"}, {"folder": str(tmp_path)})

    assert answer.status_code == 400
    assert "a folder is named, and files were sent too" in words(answer.text).lower()


def test_a_folder_of_this_machine_is_taken_in_and_stays_where_it_is(desk: Desk, tmp_path: Path) -> None:
    letter = a_text(tmp_path / "in" / "letter.txt", "the bracket\n")

    page = ended(desk, hand_in(desk, {}, {"folder": str(tmp_path / "in")}).location)

    assert f"{letter} New" in words(page)
    assert letter.exists()


def test_where_a_token_is_asked_for_nobody_names_a_folder_of_the_machine(tmp_path: Path) -> None:
    desk = Desk(a_copy_of(SOUND, tmp_path))
    desk.client = create_app(desk.folder, names=("localhost",), token="secret").test_client()
    desk.client.get("/?token=secret")
    a_text(tmp_path / "in" / "letter.txt", "the bracket\n")
    form = desk.open("/receive")
    assert "folder" not in form.fields

    answer = hand_in(desk, {}, {"folder": str(tmp_path / "in")}, form)

    assert answer.status_code == 400
    assert "only in a browser on the machine" in words(answer.text)
    assert len(open_folder(desk.folder).archive.sources) == len(open_folder(SOUND).archive.sources)


def test_more_than_is_taken_at_a_time_is_said_on_a_page(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(received_files, "MOST_BYTES_SENT", 100_000)
    form = desk.open("/receive")

    answer = hand_in(desk, {"large.bin": b"x" * 200_000}, form=form)
    by_script = send_one(desk, form, "large.bin", b"x" * 200_000)

    assert (answer.status_code, by_script.status_code) == (413, 413)
    assert "send fewer at a time" in answer.text
    assert by_script.json is not None
    assert "MB are not taken" in by_script.json["what"]


def test_a_file_that_grows_too_large_is_given_up_and_nothing_of_it_is_counted(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(arriving, "MOST_BYTES", 100_000)
    form = desk.open("/receive")

    answer = send_one(desk, form, "large.bin", b"x" * 200_000)

    assert answer.status_code == 413
    assert "here already" not in hand_in(desk, {}, form=form).text


def test_a_disk_without_room_is_said_before_anything_is_written(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(arriving, "_SPARE_BYTES", 10**18)

    answer = hand_in(desk, {"letter.txt": b"the bracket\n"})

    assert answer.status_code == 507
    assert "make room on the disk" in answer.text
    assert staged(desk.folder) == []


@pytest.mark.parametrize("address", ["/receive?mark=abcdefghijkl", "/receive/files/abcdefghijkl"])
def test_a_page_of_another_origin_sends_nothing(desk: Desk, address: str) -> None:
    body = {"files": (io.BytesIO(b"a"), "a.txt"), "by": "mh"}

    answer = desk.client.post(address, data=body, headers={"Origin": "http://example.org"})

    assert answer.status_code == 403
    assert staged(desk.folder) == []


def test_a_file_is_taken_only_with_the_token_of_the_page(desk: Desk) -> None:
    form = desk.open("/receive")

    refused = send_one(desk, form, "a.txt", b"a", token="wrong")

    assert refused.status_code == 409
    assert "here already" not in hand_in(desk, {}, form=form).text


@pytest.mark.parametrize("mark", ["x", "..%2f..", "a" * 41, "ä" * 16])
def test_a_mark_that_no_page_made_leads_nowhere(desk: Desk, mark: str) -> None:
    answer = desk.client.post(f"/receive?mark={mark}", data={}, headers={"Origin": ORIGIN})

    assert answer.status_code == 400
    assert not (desk.folder / ".derived" / "arriving").exists()


def test_a_page_renews_itself_until_the_end_and_its_work_can_be_stopped(desk: Desk, tmp_path: Path) -> None:
    scans = {f"{n}.png": a_scan(tmp_path / f"{n}.png", (f"PAGE {n}",)).read_bytes() for n in range(3)}
    first = hand_in(desk, scans).location
    second = hand_in(desk, {"late.txt": b"late\n"}).location
    page = desk.client.get(second).text
    assert '<noscript><meta http-equiv="refresh"' in page
    assert "Waiting: one other is taken in first" in words(page)

    stop = desk.send(desk.open(second, f"{second}/stop"))

    assert stop.location == second
    page = ended(desk, second)
    assert "http-equiv" not in page
    assert "late.txt Not taken in: it was not taken in: hand it in again" in words(page)
    until(desk, first, "Reading pages: 1 of 3")
    desk.send(desk.open(first, f"{first}/stop"))
    page = ended(desk, first)
    assert "Stopped" in words(page)
    further = desk.send(desk.open(first, f"{first}/on"))
    assert "Done" in words(ended(desk, further.location))


def test_a_work_that_ends_early_says_why_in_the_words_of_the_page(desk: Desk) -> None:
    first = ended(desk, hand_in(desk, {"one.txt": b"one\n"}).location)
    second = ended(desk, hand_in(desk, {"two.txt": b"two\n"}).location)
    assert "New" in words(first)
    assert "New" in words(second)
    sent = {"one.txt": b"one\n", "two.txt": b"two\n", "three.txt": b"three\n"}

    page = words(ended(desk, hand_in(desk, sent, {"together": "yes"}).location))

    assert "It ended early." in page
    assert "so they cannot become one source" in page
    assert "without “together”" in page
    assert "three.txt Not taken in" in page


def test_of_a_work_that_is_not_known_any_more_it_is_said_where_its_finds_are(desk: Desk) -> None:
    answer = desk.client.get("/receive/jobs/nosuch")

    assert answer.status_code == 404
    assert "Nothing is known of this any more" in answer.text


def test_a_name_that_holds_markup_is_shown_as_it_is(desk: Desk) -> None:
    name = "<img src=x onerror=alert(1)>.txt"

    page = ended(desk, hand_in(desk, {name: b"a\n"}).location)

    assert "<img src=x" not in page
    assert "&lt;img src=x onerror=alert(1)&gt;.txt" in page


def test_what_nobody_has_looked_at_is_shown_with_what_it_may_speak_of(desk: Desk, tmp_path: Path) -> None:
    scan = a_scan(tmp_path / "page.png").read_bytes()
    ended(desk, hand_in(desk, {"page.png": scan, "note.txt": ABOUT_THE_LAMP.encode()}, {"lot": "tin"}).location)

    page = desk.client.get("/receive").text

    told = words(page[page.index('id="finds"') :])
    assert told.startswith('id="finds">Nobody has looked at these yet 2 finds')
    assert "May speak of Headlamp" in told
    assert "Names No. 9" in told
    assert "1934" in told
    assert '<a href="/look?lot=tin">tin</a>' in page
    (small,) = re.findall(r'src="(/cut-outs/small[^"]*)"', page)
    assert desk.client.get(small.replace("&amp;", "&")).content_type in {"image/png", "image/jpeg"}


@pytest.mark.long
def test_a_pair_that_looks_like_copies_is_led_to(desk: Desk) -> None:
    text = "".join(
        f"The car left Marrowby at {n} minutes past the hour, with {n * 7} bags of mail.\n" for n in range(40)
    )
    answer = hand_in(desk, {"first.txt": text.encode(), "second.txt": (text + "And the end.\n").encode()})

    page = ended(desk, answer.location)

    (pair,) = re.findall(r'href="(/copies/[a-z0-9-]+)"', page)
    assert desk.client.get(pair).status_code == 200
    assert pair in desk.client.get("/receive").text


def test_a_single_file_of_a_form_is_there_for_as_long_as_it_is_needed(desk: Desk) -> None:
    app = desk.client.application
    data = {"photo": (io.BytesIO(b"a picture"), "bracket.jpg"), "note": "seen"}

    with app.test_request_context("/made", method="POST", data=data) as context:
        with received_files.received_file("photo") as photo:
            assert photo is not None
            assert (photo.name, photo.size, photo.path.read_bytes()) == ("bracket.jpg", 9, b"a picture")
            assert context.request.form["note"] == "seen"
        assert staged(desk.folder) == []

    with (
        app.test_request_context("/made", method="POST", data={"photo": (io.BytesIO(b""), "")}),
        received_files.received_file("photo") as none,
    ):
        assert none is None
