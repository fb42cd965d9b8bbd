import os
import time
from pathlib import Path

from provenance.store.derived_leftovers import SURELY_LEFT_SECONDS, clean_derived
from provenance.store.staging import leftover_name

LONG_AGO = time.time() - SURELY_LEFT_SECONDS - 60


def laid(folder: Path, name: str, at: float) -> Path:
    path = folder / name
    path.write_bytes(b"half")
    os.utime(path, (at, at))
    return path


def test_only_an_old_unfinished_file_is_removed(tmp_path: Path) -> None:
    old = laid(tmp_path, leftover_name(), LONG_AGO)
    at_work = laid(tmp_path, leftover_name(), time.time() - SURELY_LEFT_SECONDS + 60)
    finished = laid(tmp_path, "records.json", LONG_AGO)

    clean_derived(tmp_path)

    assert not old.exists()
    assert at_work.exists()
    assert finished.exists()


def test_a_folder_that_is_not_there_has_none(tmp_path: Path) -> None:
    clean_derived(tmp_path / "gone")

    assert list(tmp_path.iterdir()) == []
