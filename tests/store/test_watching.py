import os
import shutil
from pathlib import Path

import pytest

from provenance.records.readings import Origin, PageReading, Word
from provenance.store.readings_store import READINGS, ReadingsStore
from provenance.store.watching import state_of

SOUND = Path(__file__).parents[1] / "archives" / "sound"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return Path(shutil.copytree(SOUND, tmp_path / "archive"))


def test_nothing_changed_is_the_same_again(folder: Path) -> None:
    assert state_of(folder) == state_of(folder)


@pytest.mark.parametrize("name", ["archive.yaml", "sources/handbook.yaml", "claims/headlamp-kind-acetylene.yaml"])
def test_a_record_that_is_written_again_is_noticed(folder: Path, name: str) -> None:
    before = state_of(folder)

    (folder / name).write_text((folder / name).read_text(encoding="utf-8") + "# more\n", encoding="utf-8")

    assert state_of(folder) != before


def test_a_record_of_the_same_size_with_its_old_date_put_back_is_noticed(folder: Path) -> None:
    record = folder / "sources/handbook.yaml"
    before, told = state_of(folder), record.stat()

    record.write_text(record.read_text(encoding="utf-8").replace("1931", "1932"), encoding="utf-8")
    os.utime(record, ns=(told.st_atime_ns, told.st_mtime_ns))

    assert record.stat().st_size == told.st_size
    assert state_of(folder) != before


@pytest.mark.parametrize("name", ["sources/new.yaml", "transcripts/handbook/p0001.txt", "panels/new.yaml"])
def test_a_new_file_is_noticed_in_a_new_folder_too(folder: Path, name: str) -> None:
    before = state_of(folder)

    (folder / name).parent.mkdir(parents=True, exist_ok=True)
    (folder / name).write_text("", encoding="utf-8")

    assert state_of(folder) != before


def test_a_reading_that_comes_is_replaced_or_goes_is_noticed_as_such(folder: Path) -> None:
    store, states = ReadingsStore(folder), [state_of(folder)]

    for word in ("bell", "whistle"):
        reading = PageReading(page=1, words=(Word(text=word, line=1),), origin=Origin.RECOGNISED, engine="a machine")
        store.put("0" * 64, "k1", reading)
        states.append(state_of(folder))
    shutil.rmtree(folder / READINGS)
    states.append(state_of(folder))

    assert len({state.readings for state in states[:3]}) == 3
    assert states[3] == states[0]
    assert len({state.records for state in states}) == 1


def test_a_file_that_is_gone_is_noticed(folder: Path) -> None:
    before = state_of(folder)

    (folder / "sources/handbook.yaml").unlink()

    assert state_of(folder) != before


def test_what_answers_are_not_made_from_is_not_looked_at(folder: Path) -> None:
    before = state_of(folder)

    (folder / "notes.txt").write_text("", encoding="utf-8")
    (folder / ".derived").mkdir(exist_ok=True)
    (folder / ".derived/x").write_text("", encoding="utf-8")

    assert state_of(folder) == before


def test_a_folder_without_an_archive_has_a_state_too(tmp_path: Path) -> None:
    assert state_of(tmp_path) == state_of(tmp_path / "nowhere")
