"""Taking originals in: what is walked, what is refused, and that a copy is the bytes that came."""

import hashlib
import os
import random
import shutil
import signal
import socket
import subprocess
import sys
import time
from contextlib import chdir
from pathlib import Path

import pytest
from tracing import named_calls, run_with_fault, trace, unmeasured

from provenance.errors import UnreadableOriginalError, UsageRefusedError, WriteRefusedError
from provenance.store.originals import Walked, WalkedKind, copy_in, registered_in_place, walk
from provenance.store.staging import is_leftover

LETTER = b"Dear Sir, the brackets are 3 ft 4 1/2 in above the rail.\n"
COPY_IN = """
import hashlib, os, sys
from pathlib import Path
from provenance.errors import ProvenanceError
from provenance.store.originals import copy_in
archive, find = Path(sys.argv[1]), Path(sys.argv[2])
expected = hashlib.sha256(find.read_bytes()).hexdigest()
os.write(1, b"ready\\n")
try:
    copy_in(find, archive, "letter-1", find.name, expected_sha256=expected)
except ProvenanceError as error:
    sys.exit(f"{type(error).__name__}: {error}")
"""


def digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def a_find(folder: Path, name: str = "letter.txt", data: bytes = LETTER) -> Path:
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data)
    return path


def an_archive(tmp_path: Path) -> Path:
    archive = tmp_path / "archive"
    for name in ("archive.yaml", "sources/letter.yaml", ".derived/lock", ".gitignore", "transcripts/letter/p0001.txt"):
        a_find(archive, name)
    return archive


def files(walked: "list[Walked]") -> list[Path]:
    return [each.path for each in walked if each.kind is WalkedKind.FILE]


def refused(walked: "list[Walked]") -> dict[str, str]:
    return {each.path.name: each.why for each in walked if each.kind is WalkedKind.REFUSED}


def test_a_tin_of_scans_is_walked_in_code_point_order(tmp_path: Path) -> None:
    names = ["b.jpg", "a/2.jpg", "a/10.jpg", "Z.jpg", "é.jpg", "a.jpg"]
    finds = [a_find(tmp_path / "tin", name) for name in names]

    walked = list(walk([tmp_path / "tin"], archive=an_archive(tmp_path)))

    order = ["Z.jpg", "a/10.jpg", "a/2.jpg", "a.jpg", "b.jpg", "é.jpg"]
    assert files(walked) == [tmp_path / "tin" / name for name in order]
    assert sorted(finds) == sorted(files(walked))


def test_a_file_named_twice_is_taken_once(tmp_path: Path) -> None:
    archive = an_archive(tmp_path)
    find = a_find(tmp_path / "tin", "1.jpg")
    other = a_find(tmp_path / "tin", "0.jpg")
    (tmp_path / "shortcut").symlink_to(tmp_path / "tin")

    walked = list(
        walk([find, tmp_path / "tin", tmp_path / "tin/../tin/1.jpg", tmp_path / "shortcut/1.jpg"], archive=archive)
    )

    assert [path.name for path in files(walked)] == ["0.jpg", "1.jpg"]
    assert other in files(walked)


def test_paths_keep_the_form_in_which_they_were_named(tmp_path: Path) -> None:
    archive = an_archive(tmp_path)
    a_find(tmp_path / "tin", "1.jpg")

    with chdir(tmp_path / "tin"):
        walked = list(walk([Path()], archive=archive))
        from_below = list(walk([Path("..") / "tin"], archive=archive))
        above = list(walk([Path("..")], archive=archive))

    assert files(walked) == [Path("1.jpg")]
    assert files(from_below) == [Path("../tin/1.jpg")]
    assert Path("../tin/1.jpg") in files(above)


def test_links_pipes_sockets_and_devices_are_named_and_never_opened(tmp_path: Path) -> None:
    archive = an_archive(tmp_path)
    tin = tmp_path / "tin"
    a_find(tin, "letter.txt")
    secret = a_find(tmp_path, "secret.txt")
    (tin / "link.txt").symlink_to(secret)
    (tin / "linked-folder").symlink_to(tmp_path)
    (tin / "nowhere").symlink_to(tmp_path / "gone")
    os.mkfifo(tin / "pipe")
    with socket.socket(socket.AF_UNIX) as listening:
        listening.bind(str(tin / "socket"))

        walked = list(walk([tin, Path("/dev/null")], archive=archive))

    assert files(walked) == [tin / "letter.txt"]
    assert {name: why.split(",")[0] for name, why in refused(walked).items()} == {
        "null": "it is a device",
        "link.txt": "it is a link",
        "linked-folder": "it is a link",
        "nowhere": "it is a link",
        "pipe": "it is a pipe",
        "socket": "it is a socket",
    }


def test_what_systems_strew_about_is_passed_over_and_other_hidden_files_are_named(tmp_path: Path) -> None:
    archive = an_archive(tmp_path)
    for name in ("1.jpg", ".DS_Store", "._1.jpg", "Thumbs.db", ".git/config", "__MACOSX/1.jpg", ".notes.txt"):
        a_find(tmp_path / "tin", name)

    walked = list(walk([tmp_path / "tin"], archive=archive))
    when_named = list(walk([tmp_path / "tin" / ".notes.txt"], archive=archive))

    assert files(walked) == [tmp_path / "tin" / "1.jpg"]
    assert list(refused(walked)) == [".notes.txt"]
    assert "name it to have it taken in" in refused(walked)[".notes.txt"]
    assert files(when_named) == [tmp_path / "tin" / ".notes.txt"]


def test_of_the_archive_itself_only_the_originals_are_walked(tmp_path: Path) -> None:
    archive = an_archive(tmp_path)
    a_find(archive, "originals/letter-1/letter.txt")
    a_find(archive, "inbox/find.txt")

    from_above = list(walk([tmp_path], archive=archive))
    inbox = list(walk([archive / "inbox"], archive=archive))

    assert files(from_above) == [archive / "originals/letter-1/letter.txt"]
    assert list(refused(from_above)) == ["inbox"]
    assert files(inbox) == [archive / "inbox/find.txt"]


@pytest.mark.parametrize("place", ["sources", "sources/letter.yaml", "archive.yaml", ".derived", "transcripts"])
def test_the_archives_own_files_are_no_finds(tmp_path: Path, place: str) -> None:
    archive = an_archive(tmp_path)

    (walked,) = walk([archive / place], archive=archive)

    assert walked.why == "it is the archive's own, not a find"


def test_of_what_is_on_its_way_in_only_the_files_that_are_named_are_walked(tmp_path: Path) -> None:
    archive = an_archive(tmp_path)
    arriving = a_find(archive, ".derived/arriving/tray/000001.txt")
    index = a_find(archive, ".derived/index/000001.txt")

    named = list(walk([arriving, index], archive=archive))
    with_its_tray = list(walk([arriving.parent], archive=archive))

    assert files(named) == [arriving]
    assert list(refused(named)) == ["000001.txt"]
    assert files(with_its_tray) == []


def test_a_path_that_is_not_there_is_refused_before_anything_is_walked(tmp_path: Path) -> None:
    with pytest.raises(UsageRefusedError, match=r"gone\.jpg is not there"):
        walk([a_find(tmp_path), tmp_path / "gone.jpg"], archive=an_archive(tmp_path))


def test_a_folder_that_cannot_be_read_is_named_and_the_rest_goes_on(tmp_path: Path) -> None:
    code = """
import sys
from pathlib import Path
from provenance.store.originals import walk
for each in walk([Path(sys.argv[1])], archive=Path(sys.argv[2])):
    print(each.path.name, each.kind, each.why)
"""
    archive = an_archive(tmp_path)
    for name in ("1.jpg", "closed/2.jpg", "3.jpg"):
        a_find(tmp_path / "tin", name)

    fault = ["-P", str(tmp_path / "tin/closed"), "-e", "inject=openat:error=EACCES"]
    command = ["strace", "-qq", "-o", str(tmp_path / "calls"), *fault, sys.executable, "-c", code]
    done = subprocess.run([*command, str(tmp_path / "tin"), str(archive)], capture_output=True, text=True, check=True)

    assert done.stdout.splitlines() == [
        "1.jpg file ",
        "3.jpg file ",
        "closed refused it cannot be looked at: Permission denied",
    ]


def test_a_file_of_holes_larger_than_the_disk_is_refused_unread(tmp_path: Path) -> None:
    archive = an_archive(tmp_path)
    trap = a_find(tmp_path / "tin", "trap.tif", b"II*\x00")
    os.truncate(trap, min(shutil.disk_usage(tmp_path).total * 2, 1 << 43))
    honest = a_find(tmp_path / "tin", "zeros.tif", bytes(4_000_000))

    walked = list(walk([tmp_path / "tin"], archive=archive))

    assert files(walked) == [honest]
    assert "more than there is room for" in refused(walked)["trap.tif"]


def test_folders_nested_as_deep_as_the_system_allows_are_walked(tmp_path: Path) -> None:
    archive = an_archive(tmp_path)
    deep = [tmp_path / "d"]
    while len(deep) < 1100:  # more than Python nests calls
        deep[-1].mkdir()
        deep.append(deep[-1] / "d")
    find = a_find(deep[-1], "1.jpg")

    walked = list(walk([tmp_path / "d"], archive=archive))
    find.unlink()
    for folder in reversed(deep):  # what stays would be too deep for those who tidy up after the tests
        folder.rmdir()

    assert files(walked) == [find]


def test_a_copy_is_the_bytes_that_came_and_the_find_stays(tmp_path: Path) -> None:
    archive = an_archive(tmp_path)
    find = a_find(tmp_path / "tin", "Letter of 1931?.txt")
    os.utime(find, ns=(1, 2_000_000_000))

    copied = copy_in(find, archive, "letter-1", find.name, expected_sha256=digest(LETTER))

    assert (copied.path, copied.sha256, copied.size) == (
        "originals/letter-1/Letter of 1931_.txt",
        digest(LETTER),
        len(LETTER),
    )
    assert (archive / copied.path).read_bytes() == LETTER == find.read_bytes()
    assert (archive / copied.path).stat().st_mtime_ns == 2_000_000_000
    assert list((archive / copied.path).parent.iterdir()) == [archive / copied.path]


def test_a_copy_that_was_finished_but_never_registered_is_taken_as_it_is(tmp_path: Path) -> None:
    archive = an_archive(tmp_path)
    find = a_find(tmp_path / "tin")
    first = copy_in(find, archive, "letter-1", find.name, expected_sha256=digest(LETTER))

    again = copy_in(find, archive, "letter-1", "other name.txt", expected_sha256=digest(LETTER))

    assert again == first
    assert len(list((archive / "originals/letter-1").iterdir())) == 1


def test_other_bytes_of_the_same_name_stand_beside_with_a_number(tmp_path: Path) -> None:
    archive = an_archive(tmp_path)
    first = a_find(tmp_path / "tin", "Page.txt", b"first")
    second = a_find(tmp_path / "tin", "page.TXT", b"other")

    paths = [
        copy_in(find, archive, "letter-1", find.name, expected_sha256=digest(find.read_bytes())).path
        for find in (first, second)
    ]

    assert paths == ["originals/letter-1/Page.txt", "originals/letter-1/page-2.TXT"]


def test_a_find_that_changed_after_it_was_digested_is_not_taken_in(tmp_path: Path) -> None:
    archive = an_archive(tmp_path)
    find = a_find(tmp_path / "tin")

    with pytest.raises(UnreadableOriginalError, match="was changed while it was being taken in"):
        copy_in(find, archive, "letter-1", find.name, expected_sha256=digest(b"as it was"))

    assert list((archive / "originals/letter-1").iterdir()) == []


def test_a_link_or_a_missing_find_is_an_unreadable_original(tmp_path: Path) -> None:
    archive = an_archive(tmp_path)
    find = a_find(tmp_path / "tin")
    (tmp_path / "link.txt").symlink_to(find)

    for path, why in ((tmp_path / "link.txt", "it is a link"), (tmp_path / "gone", "No such file")):
        with pytest.raises(UnreadableOriginalError, match=why):
            copy_in(path, archive, "letter-1", path.name, expected_sha256=digest(LETTER))


def test_a_find_on_a_bad_disk_is_that_finds_fault_alone(tmp_path: Path) -> None:
    # /proc/self/mem opens as a regular file and answers EIO at its start: a real read error without a broken disk.
    with pytest.raises(UnreadableOriginalError, match="cannot be read: Input/output error"):
        copy_in(Path("/proc/self/mem"), an_archive(tmp_path), "memory-1", "mem", expected_sha256=digest(b""))

    assert not [path for path in tmp_path.rglob("*") if is_leftover(path.name)]


@pytest.mark.parametrize("fault", ["write:error=ENOSPC:when=2", "fsync:error=EIO:when=3", "linkat:error=ENOSPC"])
def test_a_full_or_bad_disk_refuses_the_copy_and_leaves_nothing(tmp_path: Path, fault: str) -> None:
    # The first write is the word "ready"; the first two flushes are those of the folders that are made.
    archive, find = an_archive(tmp_path), a_find(tmp_path / "tin")

    done = run_with_fault(COPY_IN, archive, find, fault=fault, log=tmp_path / "calls")

    assert done.stderr.startswith("WriteRefusedError")
    assert list((archive / "originals/letter-1").iterdir()) == []
    assert find.read_bytes() == LETTER


def test_a_disk_that_gives_back_other_bytes_is_found_out(tmp_path: Path) -> None:
    # strace lets the kernel be told "written" for bytes that never were: what a failing disk does.
    archive, find = an_archive(tmp_path), a_find(tmp_path / "tin")
    fault = f"write:retval={len(LETTER)}:when=2"

    done = run_with_fault(COPY_IN, archive, find, fault=fault, log=tmp_path / "calls")

    assert "does not give back what was written" in done.stderr
    assert list((archive / "originals/letter-1").iterdir()) == []


def test_the_copy_is_flushed_and_read_back_before_it_gets_its_name(tmp_path: Path) -> None:
    archive, find = an_archive(tmp_path), a_find(tmp_path / "tin")
    (archive / "originals/letter-1").mkdir(parents=True)

    trace(COPY_IN, archive, find, calls="fsync,fadvise64,linkat,unlinkat", log=tmp_path / "calls")

    assert named_calls(tmp_path / "calls") == ["fsync", "fadvise64", "linkat", "unlinkat", "fsync"]


def test_a_copy_killed_at_any_moment_leaves_a_whole_original_or_none(tmp_path: Path) -> None:
    archive, find = an_archive(tmp_path), a_find(tmp_path / "tin", "scan.tif", random.Random(1934).randbytes(8_000_000))
    moments = random.Random(1934)
    place = archive / "originals/letter-1"
    outcomes = set()

    for _ in range(30):
        with subprocess.Popen(
            [sys.executable, "-c", COPY_IN, archive, find], stdout=subprocess.PIPE, env=unmeasured()
        ) as writer:
            assert writer.stdout is not None
            assert writer.stdout.readline() == b"ready\n"
            time.sleep(moments.uniform(0, 0.06))
            writer.send_signal(signal.SIGKILL)
        names = [path for path in place.iterdir() if not is_leftover(path.name)] if place.exists() else []
        outcomes |= {path.read_bytes() == find.read_bytes() for path in names}
        for path in names:
            path.unlink()
    copy_in(find, archive, "letter-1", find.name, expected_sha256=digest(find.read_bytes()))

    assert outcomes <= {True}
    assert [path.name for path in place.iterdir()] == ["scan.tif"]


def test_two_people_taking_in_the_same_find_at_once_have_one_copy(tmp_path: Path) -> None:
    archive, find = an_archive(tmp_path), a_find(tmp_path / "tin", "scan.tif", random.Random(7).randbytes(4_000_000))

    takers = [
        subprocess.Popen([sys.executable, "-c", COPY_IN, archive, find], stdout=subprocess.DEVNULL, env=unmeasured())
        for _ in range(4)
    ]

    assert [taker.wait() for taker in takers] == [0, 0, 0, 0]
    assert [path.read_bytes() == find.read_bytes() for path in (archive / "originals/letter-1").iterdir()] == [True]


@pytest.mark.parametrize(
    ("place", "expected"),
    [
        ("originals/letter-1/letter.txt", ("letter-1", "originals/letter-1/letter.txt")),
        ("originals/letter-1/deeper/letter.txt", None),
        ("originals/My Letters/letter.txt", None),
        ("originals/letter.txt", None),
        ("inbox/letter-1/letter.txt", None),
    ],
)
def test_a_file_laid_into_originals_by_hand_is_registered_in_place(
    tmp_path: Path, place: str, expected: tuple[str, str] | None
) -> None:
    archive = an_archive(tmp_path)
    path = a_find(archive, place)

    assert registered_in_place(path, archive) == expected
    assert registered_in_place(a_find(tmp_path / "tin"), archive) is None


def test_originals_are_not_copied_through_a_link(tmp_path: Path) -> None:
    archive, find = an_archive(tmp_path), a_find(tmp_path / "tin")
    (archive / "originals").symlink_to(tmp_path / "tin")

    with pytest.raises(WriteRefusedError, match="originals is a link"):
        copy_in(find, archive, "letter-1", find.name, expected_sha256=digest(LETTER))

    assert [path.name for path in (tmp_path / "tin").iterdir()] == ["letter.txt"]
