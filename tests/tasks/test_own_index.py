"""Whose index it is: kept for whoever asks, never taken from others, made for one answer where none is kept."""

import shutil
import tempfile
from pathlib import Path

import pytest
from tasks.team import a_team_archive

from provenance.errors import DerivedDataError
from provenance.reports.found import Found
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.own_index import INDEX, index_place
from provenance.tasks.page_readings import Readings
from provenance.tasks.searching import refresh_index, search


@pytest.fixture(autouse=True)
def somebody(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    become("somebody", tmp_path, monkeypatch)


def become(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state" / name))


def records(found: Found) -> list[str]:
    return [hit.record for hit in found.hits]


def said_of_the_index(found: Found) -> list[str]:
    return [note for note in found.notes if "index" in note]


def own_folder(opened: Opened) -> Path:
    place = index_place(opened.folder)
    assert place is not None
    return place.folder


def test_two_people_on_one_folder_keep_an_index_each(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    opened = a_team_archive(tmp_path)
    first = search(opened, "acetylene")
    become("a colleague", tmp_path, monkeypatch)

    second = search(opened, "acetylene")
    again = search(opened, "acetylene")

    assert records(first) == records(second) == records(again) != []
    assert [said_of_the_index(found) for found in (first, second, again)] == [[], [], []]
    assert len([path for path in (opened.folder / INDEX).iterdir() if path.is_dir()]) == 2


def test_an_index_that_was_handed_on_with_the_archive_is_not_opened(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened = a_team_archive(tmp_path)
    search(opened, "acetylene")
    theirs = own_folder(opened)
    become("whoever received it", tmp_path, monkeypatch)
    shutil.copytree(theirs, own_folder(opened))

    found = search(opened, "acetylene")

    assert said_of_the_index(found) == ["the index was damaged (manifest.json does not carry your seal); rebuilt"]
    assert records(found) != []


def test_where_no_index_can_be_written_a_current_one_answers(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    kept = search(opened, "acetylene")
    hinder_writing(own_folder(opened))

    found = search(opened, "acetylene")

    assert records(found) == records(kept)
    assert said_of_the_index(found) == []


def test_where_no_index_can_be_written_a_stale_one_does_not_answer(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    search(opened, "acetylene")
    record = opened.folder / "sources" / "catalogue.yaml"
    record.write_text("title: Catalogue of acetylene lamps\nkind: catalogue\nby: mh\ndate: 2026-01-10\n", "utf-8")
    hinder_writing(own_folder(opened))

    found = search(open_folder(opened.folder), "acetylene")

    assert "catalogue" in records(found)
    (note,) = said_of_the_index(found)
    assert "cannot be written" in note
    assert "one was made for this answer alone" in note


def test_where_no_secret_can_be_kept_an_index_is_made_for_the_answer_and_thrown_away(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened = a_team_archive(tmp_path)
    kept = search(opened, "acetylene")
    (tmp_path / "in the way").write_text("", "utf-8")
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "in the way"))
    before = set(Path(tempfile.gettempdir()).glob("provenance-index-*"))

    found = search(opened, "acetylene")

    assert records(found) == records(kept)
    assert "XDG_STATE_HOME" in said_of_the_index(found)[0]
    assert set(Path(tempfile.gettempdir()).glob("provenance-index-*")) <= before
    with pytest.raises(DerivedDataError, match="cannot be kept"):
        refresh_index(opened, Readings(opened.folder, opened.archive))


def hinder_writing(folder: Path) -> None:
    """Put a folder in the place of the lock, so that no builder can begin."""
    (folder / "lock").unlink(missing_ok=True)
    (folder / "lock").mkdir()
