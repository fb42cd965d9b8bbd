"""One writer at a time, and none that is dead."""

import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from tracing import run_with_fault, unmeasured

from provenance.errors import WriteRefusedError
from provenance.store.locking import archive_lock, is_unfinished
from provenance.store.staging import leftover_name

HOLD = """
import sys, time
from pathlib import Path
from provenance.store.locking import archive_lock
with archive_lock(Path(sys.argv[1])):
    print("held", flush=True)
    time.sleep(60)
"""
COUNT = """
import hashlib, sys
from pathlib import Path
from provenance.store.locking import archive_lock
from provenance.store.safe_writing import replace
folder = Path(sys.argv[1])
path = folder / "archive.yaml"
for _ in range(100):
    with archive_lock(folder, patience=60):
        there = path.read_bytes()
        replace(path, str(int(there) + 1).encode(), expected_sha256=hashlib.sha256(there).hexdigest(), within=folder)
"""


def holder(archive: Path) -> "subprocess.Popen[bytes]":
    process = subprocess.Popen([sys.executable, "-c", HOLD, str(archive)], stdout=subprocess.PIPE, env=unmeasured())
    assert process.stdout is not None
    assert process.stdout.readline() == b"held\n"
    return process


def test_a_second_writer_is_told_that_another_is_at_work(tmp_path: Path) -> None:
    with holder(tmp_path) as other:
        with (
            pytest.raises(WriteRefusedError, match="another command is writing to") as refused,
            archive_lock(tmp_path, patience=0.1),
        ):
            pass
        other.kill()

    assert "wait until it has ended" in refused.value.mend


def test_a_writer_that_was_killed_holds_nothing(tmp_path: Path) -> None:
    with holder(tmp_path) as other:
        other.send_signal(signal.SIGKILL)
        other.wait()

    before = time.monotonic()
    with archive_lock(tmp_path, patience=30):
        waited = time.monotonic() - before

    assert waited < 15


def test_the_lock_is_let_go_when_the_work_fails(tmp_path: Path) -> None:
    with pytest.raises(ZeroDivisionError), archive_lock(tmp_path):
        _ = 1 / 0

    with archive_lock(tmp_path, patience=0):
        assert (tmp_path / ".derived" / "lock").exists()


def test_two_writers_lose_none_of_two_hundred_changes(tmp_path: Path) -> None:
    (tmp_path / "archive.yaml").write_text("0")

    writers = [subprocess.Popen([sys.executable, "-c", COUNT, str(tmp_path)], env=unmeasured()) for _ in range(2)]
    ends = [writer.wait() for writer in writers]

    assert ends == [0, 0]
    assert (tmp_path / "archive.yaml").read_text() == "200"


@pytest.mark.parametrize("place", ["claims", "transcripts/handbook", "originals/handbook"])
def test_what_a_writer_could_not_remove_is_removed_by_the_next(tmp_path: Path, place: str) -> None:
    left = tmp_path / place / leftover_name()
    left.parent.mkdir(parents=True)
    left.write_bytes(b"about: headl")
    with pytest.raises(ZeroDivisionError), archive_lock(tmp_path):
        _ = 1 / 0

    with archive_lock(tmp_path):
        assert not left.exists()
    assert [entry.name for entry in (tmp_path / ".derived").iterdir()] == ["lock"]


def test_nothing_is_removed_through_a_link(tmp_path: Path) -> None:
    archive, outside = tmp_path / "archive", tmp_path / "outside"
    for folder in (archive / "transcripts", archive / ".derived", outside):
        folder.mkdir(parents=True)
    (archive / ".derived" / "writing").touch()
    left = outside / leftover_name()
    left.write_bytes(b"somebody's letter")
    (archive / "transcripts" / "handbook").symlink_to(outside)

    with archive_lock(archive):
        assert left.exists()


def test_what_the_first_writer_finds_of_a_beginning_that_was_killed_is_removed(tmp_path: Path) -> None:
    left = tmp_path / leftover_name()
    left.write_bytes(b"format: 1")

    with archive_lock(tmp_path):
        assert not left.exists()


def test_the_writer_after_a_killed_one_first_removes_what_that_left_among_the_records(tmp_path: Path) -> None:
    (tmp_path / "claims").mkdir()
    left = [tmp_path / leftover_name(), tmp_path / "claims" / leftover_name()]
    with holder(tmp_path) as other:
        for path in left:
            path.write_bytes(b"about: headl")
        other.kill()

    with archive_lock(tmp_path):
        still_there = [path for path in left if path.exists()]

    assert still_there == []
    assert [entry.name for entry in (tmp_path / ".derived").iterdir()] == ["lock"]


def test_a_disk_on_which_no_lock_can_be_made_refuses_the_write(tmp_path: Path) -> None:
    done = run_with_fault(HOLD, tmp_path, fault="/^mkdir:error=EROFS", log=tmp_path / "calls")

    assert "lock cannot be written: Read-only file system" in done.stderr
    assert "mount it for writing" in done.stderr


def test_a_link_in_the_place_of_the_lock_is_not_followed(tmp_path: Path) -> None:
    outside = tmp_path / "outside"
    outside.write_bytes(b"somebody's letter")
    (tmp_path / ".derived").mkdir()
    (tmp_path / ".derived" / "lock").symlink_to(outside)

    with pytest.raises(WriteRefusedError, match="lock cannot be written"), archive_lock(tmp_path, patience=0):
        pass

    assert outside.read_bytes() == b"somebody's letter"


def test_a_writer_at_work_or_killed_at_it_leaves_a_mark_and_one_that_has_ended_leaves_none(tmp_path: Path) -> None:
    with holder(tmp_path) as other:
        at_work = is_unfinished(tmp_path)
        other.kill()
        other.wait()
    killed = is_unfinished(tmp_path)

    with archive_lock(tmp_path):
        pass

    assert (at_work, killed, is_unfinished(tmp_path)) == (True, True, False)
