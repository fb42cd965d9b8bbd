"""Folders of temporary files: removed when nobody can use them any more, and never before."""

import fcntl
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import pytest
from workers.worker_jobs import double

from provenance.workers.running import run_in_workers
from provenance.workers.scratch import bytes_under, make_scratch, remove_leftovers

LONG_AGO = time.time() - 3600
HOLD = """
import sys, time
from provenance.workers.scratch import make_scratch
print(make_scratch().path, flush=True)
time.sleep(60)
"""


@pytest.fixture(autouse=True)
def _here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Have temporary files made in the folder of the test."""
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))


def grow_old(folder: Path) -> None:
    os.utime(folder, (LONG_AGO, LONG_AGO))


def test_what_a_killed_run_left_behind_is_removed_by_the_next_run(tmp_path: Path) -> None:
    environment = {**os.environ, "TMPDIR": str(tmp_path)}
    with subprocess.Popen([sys.executable, "-c", HOLD], stdout=subprocess.PIPE, text=True, env=environment) as other:
        assert other.stdout is not None
        left = Path(other.stdout.readline().strip())
        (left / "page.tif").write_bytes(b"half a page")
        grow_old(left)
        list(run_in_workers(double, [1], workers=1, seconds_each=20))
        held = left.exists()
        other.kill()

    list(run_in_workers(double, [1], workers=1, seconds_each=20))

    assert held
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_was_just_made_is_not_taken_for_a_leftover() -> None:
    scratch = make_scratch()
    fcntl.flock(scratch.lock, fcntl.LOCK_UN)

    remove_leftovers()

    assert scratch.path.exists()
    scratch.remove()
    assert not scratch.path.exists()


def test_what_others_keep_beside_is_not_touched(tmp_path: Path) -> None:
    beside = tmp_path / "somebody-else"
    beside.mkdir()
    elsewhere = tmp_path / "elsewhere"
    (elsewhere / "kept").mkdir(parents=True)
    (tmp_path / "provenance-worker-link").symlink_to(elsewhere)
    grow_old(beside)
    grow_old(elsewhere)

    remove_leftovers()

    assert beside.exists()
    assert (elsewhere / "kept").exists()


def test_all_that_lies_in_a_folder_is_counted_and_links_are_not_followed(tmp_path: Path) -> None:
    large = tmp_path / "large"
    large.write_bytes(bytes(1_000_000))
    scratch = make_scratch()
    (scratch.path / "below").mkdir()
    (scratch.path / "below" / "page").write_bytes(bytes(300))
    (scratch.path / "page").write_bytes(bytes(20))
    (scratch.path / "link").symlink_to(large)

    counted = bytes_under(scratch.path)

    assert counted == 320 + (scratch.path / "link").lstat().st_size
    assert bytes_under(tmp_path / "not-there") == 0
    scratch.remove()
