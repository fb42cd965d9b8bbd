"""Old or new, never half: what a writer leaves when it succeeds, is refused, fails or is killed."""

import hashlib
import random
import signal
import stat
import subprocess
import sys
import time
from pathlib import Path

import pytest
from tracing import named_calls, run_with_fault, trace, unmeasured

from provenance.errors import WriteRefusedError
from provenance.store.safe_writing import clean_leftovers, put_derived, remove_moved, replace, write_new
from provenance.store.staging import is_leftover, leftover_name, staging

OLD = b"title: as it was\n"
NEW = b"title: as it is now\n" * 50

WRITE_NEW = """
import sys
from pathlib import Path
from provenance.errors import WriteRefusedError
from provenance.store.safe_writing import write_new
folder = Path(sys.argv[1])
try:
    write_new(folder / "sources/drawing.yaml", b"title: as it is now\\n" * 50, within=folder)
except WriteRefusedError as error:
    sys.exit(str(error))
"""
REPLACE = """
import hashlib, sys
from pathlib import Path
from provenance.errors import WriteRefusedError
from provenance.store.safe_writing import replace
folder = Path(sys.argv[1])
path = folder / "sources/drawing.yaml"
try:
    was = hashlib.sha256(path.read_bytes()).hexdigest()
    replace(path, b"title: as it is now\\n" * 50, expected_sha256=was, within=folder)
except WriteRefusedError as error:
    sys.exit(str(error))
"""
REMOVE_MOVED = """
import hashlib, sys
from pathlib import Path
from provenance.errors import WriteRefusedError
from provenance.store.safe_writing import remove_moved
folder = Path(sys.argv[1])
path = folder / "sources/drawing.yaml"
try:
    remove_moved(path, expected_sha256=hashlib.sha256(path.read_bytes()).hexdigest(), within=folder)
except WriteRefusedError as error:
    sys.exit(str(error))
"""
MAKE_FOLDERS = """
import sys
from pathlib import Path
from provenance.store.staging import make_folders
make_folders(Path(sys.argv[1]))
"""


def digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def an_archive(tmp_path: Path, *, holding: bytes | None = OLD) -> tuple[Path, Path]:
    record = tmp_path / "archive" / "sources" / "drawing.yaml"
    record.parent.mkdir(parents=True)
    if holding is not None:
        record.write_bytes(holding)
    return tmp_path / "archive", record


def leftovers(folder: Path) -> list[str]:
    return [path.name for path in folder.rglob("*") if is_leftover(path.name)]


def test_a_new_record_is_written_whole_and_its_folder_is_made(tmp_path: Path) -> None:
    record = tmp_path / "sources" / "drawing.yaml"

    write_new(record, NEW, within=tmp_path)

    assert record.read_bytes() == NEW
    assert [path.name for path in record.parent.iterdir()] == ["drawing.yaml"]


def test_a_new_record_never_takes_the_place_of_one_that_is_there(tmp_path: Path) -> None:
    archive, record = an_archive(tmp_path)

    with pytest.raises(WriteRefusedError, match="is there already"):
        write_new(record, NEW, within=archive)

    assert record.read_bytes() == OLD
    assert leftovers(archive) == []


def test_a_record_that_is_still_what_was_read_is_replaced_and_keeps_its_permissions(tmp_path: Path) -> None:
    archive, record = an_archive(tmp_path)
    record.chmod(0o640)

    replace(record, NEW, expected_sha256=digest(OLD), within=archive)

    assert record.read_bytes() == NEW
    assert stat.S_IMODE(record.stat().st_mode) == 0o640
    assert leftovers(archive) == []


def test_a_record_that_somebody_changed_meanwhile_is_not_overwritten(tmp_path: Path) -> None:
    archive, record = an_archive(tmp_path, holding=b"title: changed by hand\n")

    with pytest.raises(WriteRefusedError, match="has changed since it was read"):
        replace(record, NEW, expected_sha256=digest(OLD), within=archive)

    assert record.read_bytes() == b"title: changed by hand\n"
    assert leftovers(archive) == []


@pytest.mark.parametrize("gone", ["drawing.yaml", "sources"])
def test_a_record_that_was_removed_meanwhile_is_not_brought_back(tmp_path: Path, gone: str) -> None:
    archive, record = an_archive(tmp_path)
    record.unlink()
    if gone == "sources":
        record.parent.rmdir()

    with pytest.raises(WriteRefusedError, match="no longer there"):
        replace(record, NEW, expected_sha256=digest(OLD), within=archive)

    assert not record.exists()


def test_nothing_is_written_through_a_link_in_the_place_of_a_record(tmp_path: Path) -> None:
    archive, record = an_archive(tmp_path, holding=None)
    outside = tmp_path / "outside.yaml"
    outside.write_bytes(OLD)
    record.symlink_to(outside)

    with pytest.raises(WriteRefusedError, match="put the file itself in the place of the link"):
        replace(record, NEW, expected_sha256=digest(OLD), within=archive)
    with pytest.raises(WriteRefusedError, match="is there already"):
        write_new(record, NEW, within=archive)

    assert outside.read_bytes() == OLD
    assert record.is_symlink()


def test_nothing_is_written_through_a_link_in_the_place_of_a_folder(tmp_path: Path) -> None:
    outside = tmp_path / "outside"
    outside.mkdir()
    archive = tmp_path / "archive"
    archive.mkdir()
    (archive / "sources").symlink_to(outside)

    with pytest.raises(WriteRefusedError, match="sources is a link or a file, not a folder"):
        write_new(archive / "sources" / "drawing.yaml", NEW, within=archive)

    assert list(outside.iterdir()) == []


@pytest.mark.parametrize("place", ["../outside.yaml", "sources/../../outside.yaml", ".", "/outside.yaml"])
def test_nothing_is_written_outside_of_the_archive(tmp_path: Path, place: str) -> None:
    archive, _ = an_archive(tmp_path)

    with pytest.raises(WriteRefusedError, match="is outside of the archive"):
        write_new(archive / place, NEW, within=archive)

    assert not (tmp_path / "outside.yaml").exists()


def test_an_archive_reached_through_a_link_is_written_to(tmp_path: Path) -> None:
    archive, _ = an_archive(tmp_path)
    (tmp_path / "shortcut").symlink_to(archive)

    write_new(tmp_path / "shortcut" / "claims" / "bore.yaml", NEW, within=tmp_path / "shortcut")

    assert (archive / "claims" / "bore.yaml").read_bytes() == NEW


@pytest.mark.parametrize(("code", "naming"), [(WRITE_NEW, "linkat"), (REPLACE, "rename")])
def test_the_disk_has_the_bytes_before_the_name_and_the_name_before_the_end(
    tmp_path: Path, code: str, naming: str
) -> None:
    # As fsync(2) says: flushing a file does not flush the entry in its folder; that takes a flush of the folder.
    archive, record = an_archive(tmp_path, holding=OLD if code == REPLACE else None)

    done = trace(code, archive, calls="write,fsync,/^linkat$,/^rename", log=tmp_path / "calls")

    assert done.returncode == 0, done.stderr
    assert record.read_bytes() == NEW
    write, flush, name, flush_of_folder = named_calls(tmp_path / "calls")
    assert (write, flush, flush_of_folder) == ("write", "fsync", "fsync")
    assert name.startswith(naming)


FAULTS = [
    ("write:error=ENOSPC:when=1", "the disk is full"),
    ("write:error=EDQUOT:when=1", "your share of the disk is used up"),
    ("write:error=EIO:when=1", "the disk reports a fault"),
    ("fsync:error=EIO:when=1", "the disk reports a fault"),
    ("fsync:error=ENOSPC:when=1", "the disk is full"),
]


@pytest.mark.parametrize(
    ("code", "fault", "mend"),
    [
        *((code, *fault) for code in (WRITE_NEW, REPLACE) for fault in FAULTS),
        (WRITE_NEW, "linkat:error=ENOSPC", "the disk is full"),
        (WRITE_NEW, "linkat:error=EACCES", "you may not write there"),
        (REPLACE, "/^rename:error=EROFS", "the disk is mounted read-only"),
        (REPLACE, "fchmod:error=EPERM", "you may not write there"),
    ],
)
def test_a_disk_that_refuses_leaves_the_old_record_and_says_what_to_do(
    tmp_path: Path, code: str, fault: str, mend: str
) -> None:
    archive, record = an_archive(tmp_path, holding=OLD if code == REPLACE else None)

    done = run_with_fault(code, archive, log=tmp_path / "calls", fault=fault)

    assert done.returncode == 1
    assert mend in done.stderr
    assert "drawing.yaml cannot be written" in done.stderr
    assert (record.read_bytes() if record.exists() else None) == (OLD if code == REPLACE else None)
    assert leftovers(archive) == []


def test_a_folder_that_may_not_be_made_is_named(tmp_path: Path) -> None:
    done = run_with_fault(WRITE_NEW, tmp_path, log=tmp_path / "calls", fault="mkdirat:error=EROFS")

    assert "sources/drawing.yaml cannot be written: Read-only file system" in done.stderr
    assert not (tmp_path / "sources").exists()


@pytest.mark.parametrize("code", [WRITE_NEW, REPLACE])
def test_a_file_larger_than_the_session_allows_leaves_the_old_record(tmp_path: Path, code: str) -> None:
    archive, record = an_archive(tmp_path, holding=OLD if code == REPLACE else None)
    limit = "import resource; resource.setrlimit(resource.RLIMIT_FSIZE, (100, 100))\n"

    command = [sys.executable, "-c", limit + code, str(archive)]
    done = subprocess.run(command, capture_output=True, text=True, check=False, env=unmeasured())

    assert "larger than this disk or the limits set here allow" in done.stderr
    assert (record.read_bytes() if record.exists() else None) == (OLD if code == REPLACE else None)
    assert leftovers(archive) == []


@pytest.mark.parametrize("code", [WRITE_NEW, REPLACE])
def test_a_record_whose_name_the_disk_does_not_confirm_is_said_to_be_written(tmp_path: Path, code: str) -> None:
    archive, record = an_archive(tmp_path, holding=OLD if code == REPLACE else None)

    done = run_with_fault(code, archive, log=tmp_path / "calls", fault="fsync:error=EIO:when=2")

    assert "was written whole, but the disk did not confirm it" in done.stderr
    assert record.read_bytes() == NEW
    assert leftovers(archive) == []


def test_a_disk_that_cannot_flush_folders_is_no_fault(tmp_path: Path) -> None:
    archive, record = an_archive(tmp_path)

    done = run_with_fault(REPLACE, archive, log=tmp_path / "calls", fault="fsync:error=EINVAL:when=2")

    assert (done.returncode, record.read_bytes()) == (0, NEW)


def test_a_disk_that_cannot_flush_folders_takes_a_record_in_a_new_folder_too(tmp_path: Path) -> None:
    done = run_with_fault(WRITE_NEW, tmp_path, log=tmp_path / "calls", fault="fsync:error=EINVAL:when=1")

    assert (done.returncode, (tmp_path / "sources" / "drawing.yaml").read_bytes()) == (0, NEW)


def test_a_record_whose_second_name_stays_is_said_to_be_written_and_the_next_writer_can_remove_that_name(
    tmp_path: Path,
) -> None:
    archive, record = an_archive(tmp_path, holding=None)

    done = run_with_fault(WRITE_NEW, archive, log=tmp_path / "calls", fault="unlinkat:error=EIO")

    assert f"{record} was written whole, but the disk did not confirm it: Input/output error" in done.stderr
    assert clean_leftovers(record.parent) != ()
    assert [path.read_bytes() for path in record.parent.iterdir()] == [NEW]


def test_a_file_that_the_disk_does_not_confirm_to_be_gone_is_said_to_be_taken_away(tmp_path: Path) -> None:
    archive, record = an_archive(tmp_path)

    done = run_with_fault(REMOVE_MOVED, archive, log=tmp_path / "calls", fault="fsync:error=EIO:when=1")

    assert f"{record} was taken away, but the disk did not confirm it: Input/output error" in done.stderr
    assert list(record.parent.iterdir()) == []


@pytest.mark.parametrize("missing", [1, 3])
def test_new_folders_are_made_and_flushed_one_inside_the_other(tmp_path: Path, missing: int) -> None:
    deepest = tmp_path.joinpath(*"abc"[:missing])

    done = trace(MAKE_FOLDERS, deepest, calls="fsync,mkdir", log=tmp_path / "calls")

    assert done.returncode == 0, done.stderr
    assert deepest.is_dir()
    assert named_calls(tmp_path / "calls") == ["mkdir", "fsync"] * missing


@pytest.mark.parametrize("answer", ["EPERM", "EOPNOTSUPP"])
def test_a_disk_without_second_names_takes_new_records_all_the_same(tmp_path: Path, answer: str) -> None:
    archive, record = an_archive(tmp_path, holding=None)

    first = run_with_fault(WRITE_NEW, archive, log=tmp_path / "calls", fault=f"linkat:error={answer}")
    second = run_with_fault(WRITE_NEW, archive, log=tmp_path / "calls", fault=f"linkat:error={answer}")

    assert (first.returncode, record.read_bytes()) == (0, NEW)
    assert "is there already" in second.stderr
    assert leftovers(archive) == []


WRITER = """
import sys
from pathlib import Path
from provenance.store.safe_writing import put_derived, replace, write_new
import hashlib
folder, how = Path(sys.argv[1]), sys.argv[2]
pages = [bytes([letter]) * 300_000 for letter in b"AB"]
path = folder / "sources/drawing.yaml"
present = path.read_bytes()
print("ready", flush=True)
number = 0
while True:
    number += 1
    page = pages[number % 2]
    if how == "new":
        write_new(folder / f"sources/drawing-{number}.yaml", page, within=folder)
    elif how == "derived":
        put_derived(path, page)
    else:
        replace(path, page, expected_sha256=hashlib.sha256(present).hexdigest(), within=folder)
        present = page
"""


@pytest.mark.parametrize("how", ["replaced", "new", "derived"])
def test_a_writer_killed_at_any_moment_leaves_every_file_whole(tmp_path: Path, how: str) -> None:
    archive, record = an_archive(tmp_path, holding=b"A" * 300_000)
    moments = random.Random(1934)
    whole = {b"A" * 300_000, b"B" * 300_000}

    for _ in range(30):
        with subprocess.Popen(
            [sys.executable, "-c", WRITER, str(archive), how], stdout=subprocess.PIPE, env=unmeasured()
        ) as writer:
            assert writer.stdout is not None
            assert writer.stdout.readline() == b"ready\n"
            time.sleep(moments.uniform(0, 0.02))
            writer.send_signal(signal.SIGKILL)
            assert writer.wait() == -signal.SIGKILL
        for path in record.parent.iterdir():
            assert is_leftover(path.name) or path.read_bytes() in whole
            if path != record:
                path.unlink()


def test_the_next_writer_removes_what_a_killed_one_left_and_nothing_else(tmp_path: Path) -> None:
    archive, record = an_archive(tmp_path)
    left = record.parent / leftover_name()
    left.write_bytes(b"title: as it")
    (record.parent / ".gitkeep").write_bytes(b"")

    with staging(record, within=archive) as at_work:
        at_work.write(b"title")
        removed = clean_leftovers(record.parent)

        assert removed == (left.name,)
        assert (record.parent / at_work.name).exists()
    assert sorted(path.name for path in record.parent.iterdir()) == [".gitkeep", "drawing.yaml"]


def test_a_link_with_the_name_of_a_leftover_is_left_alone(tmp_path: Path) -> None:
    outside = tmp_path / "outside"
    outside.write_bytes(OLD)
    folder = tmp_path / "sources"
    folder.mkdir()
    (folder / leftover_name()).symlink_to(outside)

    assert clean_leftovers(folder) == ()
    assert clean_leftovers(tmp_path / "nowhere") == ()

    assert outside.read_bytes() == OLD


def test_an_unfinished_file_removed_before_its_lock_was_held_is_begun_again(tmp_path: Path) -> None:
    # flock is delayed by strace; in that time the file is removed, as a writer cleaning up may do.
    watch = "import os,sys,time\nfolder=sys.argv[1]\nwhile not os.listdir(folder): time.sleep(.001)\n"
    remove = watch + "os.unlink(os.path.join(folder, os.listdir(folder)[0]))\n"
    archive, record = an_archive(tmp_path, holding=None)

    with subprocess.Popen([sys.executable, "-c", remove, str(record.parent)], env=unmeasured()):
        done = run_with_fault(WRITE_NEW, archive, log=tmp_path / "calls", fault="flock:delay_enter=1000000:when=1")

    assert (done.returncode, record.read_bytes()) == (0, NEW)
    assert leftovers(archive) == []


def test_derived_data_is_replaced_in_one_step_and_its_folder_is_made(tmp_path: Path) -> None:
    path = tmp_path / ".derived" / "readings" / "p0001.json"

    put_derived(path, b"first")
    put_derived(path, b"second")

    assert path.read_bytes() == b"second"
    assert leftovers(tmp_path) == []


def test_derived_data_that_cannot_be_written_leaves_nothing_behind(tmp_path: Path) -> None:
    in_the_way = tmp_path / "p0001.json"
    (in_the_way / "folder").mkdir(parents=True)

    with pytest.raises(WriteRefusedError, match=r"p0001\.json cannot be written"):
        put_derived(in_the_way, b"first")

    assert list(tmp_path.iterdir()) == [in_the_way]


def test_the_old_file_of_what_was_moved_is_taken_away(tmp_path: Path) -> None:
    archive, record = an_archive(tmp_path)

    remove_moved(record, expected_sha256=digest(OLD), within=archive)

    assert list(record.parent.iterdir()) == []


def test_a_file_that_is_not_the_one_that_was_moved_stays(tmp_path: Path) -> None:
    archive, record = an_archive(tmp_path)

    with pytest.raises(WriteRefusedError, match="it stays as it is"):
        remove_moved(record, expected_sha256=digest(NEW), within=archive)

    assert record.read_bytes() == OLD
    assert leftovers(record.parent) == []


def test_a_file_that_is_gone_already_is_told(tmp_path: Path) -> None:
    archive, record = an_archive(tmp_path)
    record.unlink()

    with pytest.raises(WriteRefusedError, match="no longer there"):
        remove_moved(record, expected_sha256=digest(OLD), within=archive)


def test_nothing_is_taken_away_behind_a_link_or_outside(tmp_path: Path) -> None:
    archive, record = an_archive(tmp_path)
    kept = tmp_path / "kept.yaml"
    record.rename(kept)
    record.symlink_to(kept)

    for path in (record, kept):
        with pytest.raises(WriteRefusedError):
            remove_moved(path, expected_sha256=digest(OLD), within=archive)

    assert kept.read_bytes() == OLD
    assert record.is_symlink()
