"""Pages that were not read: remembered with the reason, tried again when that makes sense, never said to be read."""

import os
from dataclasses import replace
from pathlib import Path

import pytest
from cli.command_line import run_really
from tasks.team import TODAY, a_scan, a_team_archive, a_text

from provenance.reports.ingested import Ingested, IngestState
from provenance.store.failed_readings import FailedReading
from provenance.store.readings_store import ReadingsStore
from provenance.store.staging import leftover_name
from provenance.tasks import reading_pages
from provenance.tasks.findings import look
from provenance.tasks.ingest import ingest
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.page_readings import Readings, SourcePage, pages_of
from provenance.tasks.rebuilding import rebuild


def take_in(opened: Opened, *paths: Path) -> Ingested:
    return ingest(open_folder(opened.folder), paths, by="mh", today=TODAY, workers=1)


def page_of(opened: Opened, done: Ingested) -> tuple[Readings, SourcePage]:
    after = open_folder(opened.folder)
    (page,) = pages_of(after.archive.sources[done.files[0].source or ""])
    return Readings(after.folder, after.archive), page


def reasons(opened: Opened, done: Ingested) -> list[str]:
    found = look(open_folder(opened.folder)).unread or ()
    return [page.why for page in found if page.source == done.files[0].source]


@pytest.fixture
def hung(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[Opened, Ingested]:
    """A page that took longer than it may; from now on it may take longer."""
    opened = a_team_archive(tmp_path)
    a_scan(tmp_path / "scans" / "one.png")
    with monkeypatch.context() as hurried:
        hurried.setattr(reading_pages, "PAGE_SECONDS", 0.01)
        done = take_in(opened, tmp_path / "scans")
    return opened, done


def test_a_page_that_hung_is_not_tried_again_night_after_night(tmp_path: Path, hung: tuple[Opened, Ingested]) -> None:
    opened, first = hung

    second = take_in(opened, tmp_path / "scans")

    assert [(file.state, file.read, file.pages) for file in first.files] == [(IngestState.UNREAD, 0, 1)]
    assert "stopped after 0.01 seconds" in first.files[0].why
    assert [(file.state, file.read, file.pages) for file in second.files] == [(IngestState.UNREAD, 0, 1)]
    assert "not tried again until `provenance rebuild`" in second.files[0].why
    assert second.pages_read == 0


def test_why_a_page_was_not_read_is_known_later(hung: tuple[Opened, Ingested]) -> None:
    opened, done = hung

    assert reasons(opened, done) == ["it was stopped after 0.01 seconds"]


def test_rebuild_tries_a_page_that_hung_again(tmp_path: Path, hung: tuple[Opened, Ingested]) -> None:
    opened, done = hung

    rebuilt = rebuild(open_folder(opened.folder), workers=1)

    assert rebuilt.pages_read >= 1
    assert reasons(opened, done) == []
    assert take_in(opened, tmp_path / "scans").files[0].state is IngestState.KNOWN
    assert not list(opened.folder.rglob("*.unread"))


def test_a_page_that_hung_is_tried_again_with_other_settings(hung: tuple[Opened, Ingested]) -> None:
    opened, done = hung
    readings, page = page_of(opened, done)
    other = Readings(readings.folder, readings.archive, replace(readings.settings, layout_mode=6))

    assert readings.failure_of(page) is not None
    assert other.failure_of(page) is None


def test_a_page_that_was_refused_is_tried_again_by_the_next_call(tmp_path: Path, hung: tuple[Opened, Ingested]) -> None:
    opened, done = hung
    readings, page = page_of(opened, done)
    refused = FailedReading(why="it may not be opened", kind="refused", engine="", is_costly=False)
    readings.failed.put(page.file.sha256, 1, readings.failure_key(page), refused)

    again = take_in(opened, tmp_path / "scans")

    assert (again.pages_read, again.files[0].state) == (1, IngestState.KNOWN)
    assert readings.failure_of(page) is None


def test_a_page_whose_original_is_not_here_is_not_said_to_be_read(
    tmp_path: Path, hung: tuple[Opened, Ingested]
) -> None:
    opened, done = hung
    readings, page = page_of(opened, done)
    readings.failed.forget(page.file.sha256, 1, readings.failure_key(page))
    (opened.folder / page.file.path).unlink()

    again = take_in(opened, tmp_path / "scans")

    assert [(file.state, file.read, file.pages) for file in again.files] == [(IngestState.UNREAD, 0, 1)]
    assert "its original is not here" in again.files[0].why


def a_read_note(scratch: Path) -> tuple[Opened, Ingested, Path]:
    opened = a_team_archive(scratch)
    a_text(scratch / "in" / "note.txt", "the lamp bracket\n")
    done = take_in(opened, scratch / "in")
    _, page = page_of(opened, done)
    (reading,) = (opened.folder / ".derived" / "readings" / page.file.sha256).glob("*.json")
    return opened, done, reading


def test_a_reading_that_a_power_cut_left_empty_is_made_anew_by_the_next_call(tmp_path: Path) -> None:
    opened, _, reading = a_read_note(tmp_path)
    whole = reading.read_bytes()
    reading.write_bytes(b"")

    again = take_in(opened, tmp_path / "in")

    assert again.pages_read == 1
    assert reading.read_bytes() == whole


def test_what_a_killed_call_left_beside_finished_work_is_removed_by_the_next(tmp_path: Path) -> None:
    opened, _, reading = a_read_note(tmp_path)
    derived = opened.folder / ".derived"
    left = [folder / leftover_name() for folder in (reading.parent, derived, opened.folder / "sources")]
    for path in left:
        path.write_bytes(b"half")
        os.utime(path, (1e9, 1e9))
    (derived / "writing").touch()

    again = take_in(opened, tmp_path / "in")

    assert (again.written, again.pages_read) == ((), 0)
    assert [path for path in left if path.exists()] == []


def test_a_damaged_reading_is_made_anew_by_rebuild(tmp_path: Path) -> None:
    opened, _, reading = a_read_note(tmp_path)
    whole = reading.read_bytes()
    reading.write_bytes(whole.replace(b"bracket", b"brocket"))

    rebuild(open_folder(opened.folder), workers=1)

    assert reading.read_bytes() == whole


def test_the_same_file_in_two_sources_is_read_once(tmp_path: Path) -> None:
    opened, done, reading = a_read_note(tmp_path)
    twin = opened.folder / "sources" / "twin.yaml"
    twin.write_bytes((opened.folder / "sources" / f"{done.files[0].source}.yaml").read_bytes())
    reading.unlink()

    pages_read = rebuild(open_folder(opened.folder), workers=2).pages_read
    others = sum(1 for _ in ReadingsStore(opened.folder).keys(reading.parent.name))

    assert others == 1
    assert pages_read == len(list((opened.folder / ".derived" / "readings").glob("*/*.json")))


def test_without_a_recogniser_what_needs_none_is_read_and_then_it_is_asked_for(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    a_scan(tmp_path / "in" / "a.png")
    a_text(tmp_path / "in" / "b.txt", "the lamp bracket\n")
    words: list[str | Path] = ["--archive", opened.folder, "ingest", tmp_path / "in", "--by", "mh", "--workers", "1"]

    told = run_really(*words, env={"PATH": os.devnull})

    assert told.returncode == 5
    assert "Tesseract" in told.stderr
    assert len(list((opened.folder / ".derived" / "readings").glob("*/*.json"))) == 1
    assert run_really(*words).returncode == 0
