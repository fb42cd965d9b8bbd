"""A long night that is cut off anywhere: the next `ingest` does the rest, repeats nothing and leaves nothing behind.

The command runs in processes of its own, which are stopped in every way that a process can be stopped; afterwards the
archive is held against that of a run that nobody disturbed.
"""

import hashlib
import json
import os
import random
import signal
import subprocess
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

import pytest
from cli.command_line import PROGRAM
from tasks.team import TODAY, a_scan, a_team_archive, a_text

from provenance.store.staging import is_leftover
from provenance.tasks.checking import check_folder
from provenance.tasks.opening import open_folder
from provenance.tasks.rebuilding import rebuild

SEED = 1927
TEXTS = 24
TWICE = "note-07-"
PATIENCE = 120.0
LONG_AGO = time.time() - 7200
STOPS = (signal.SIGKILL, signal.SIGKILL, signal.SIGTERM, signal.SIGINT, signal.SIGHUP)


def received(folder: Path) -> Path:
    """What came in one day: texts, one of them twice, and three small scans."""
    for number in range(TEXTS):
        a_text(folder / f"note-{number:02}.txt", f"note {number} on the lamp bracket\n" * 20)
    a_text(folder / "once more.txt", "note 7 on the lamp bracket\n" * 20)
    for number in range(3):
        a_scan(folder / f"scan-{number}.png", (f"Page {number}", "of the instructions"))
    return folder


class Night:
    """One archive, and the command that takes the day's files in."""

    def __init__(self, scratch: Path, files: Path, *said: str) -> None:
        self.folder = a_team_archive(scratch).folder
        self.temporary = scratch / "temporary"
        self.temporary.mkdir()
        self.mark = f"{scratch.name}-{os.getpid()}"
        self.words = ["--archive", str(self.folder), "ingest", str(files), "--by", "mh", "--date", TODAY, *said]

    def begin(self) -> "subprocess.Popen[str]":
        return subprocess.Popen(
            [str(PROGRAM), *self.words, "--workers", "2", "--json"],
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            env={**os.environ, "TMPDIR": str(self.temporary), "GOING_ON": self.mark},
        )

    def finish(self, code: int = 0) -> dict[str, Any]:
        process = self.begin()
        told, complained = process.communicate(timeout=PATIENCE)
        assert process.returncode == code, complained or told
        answer: dict[str, Any] = json.loads(told)
        return answer

    def readings(self) -> list[Path]:
        return sorted((self.folder / ".derived" / "readings").glob("*/p*.json"))

    def records(self) -> list[Path]:
        return sorted((self.folder / "sources").glob("*.yaml"))

    def originals(self) -> list[Path]:
        return sorted(path for path in (self.folder / "originals").glob("*/*") if not is_leftover(path.name))

    def done(self) -> dict[Path, tuple[int, int]]:
        """What is finished: which file it is on the disk, and when it was written (of originals, which file alone).

        The record in which the second name of a file is noted when all others are registered is not finished by then.
        """
        kept = {path: (path.stat().st_ino, 0) for path in self.originals()}
        records = [path for path in self.records() if not path.name.startswith(TWICE)]
        written = [*self.readings(), *records]
        return kept | {path: (path.stat().st_ino, path.stat().st_mtime_ns) for path in written}

    def holds(self) -> dict[str, str]:
        """Everything in records, originals and readings, by name and content."""
        files = [*self.readings(), *self.records(), *self.originals()]
        return {str(path.relative_to(self.folder)): hashlib.sha256(path.read_bytes()).hexdigest() for path in files}

    def leftovers(self) -> list[Path]:
        return [path for path in self.folder.rglob("*") if is_leftover(path.name)]

    def grow_old(self) -> None:
        """Have what was left behind be so old that nobody can be at work on it."""
        for left in [path for path in self.leftovers() if ".derived" in path.parts]:
            os.utime(left, (LONG_AGO, LONG_AGO))
        for left in self.temporary.iterdir():
            os.utime(left, (LONG_AGO, LONG_AGO))

    def processes(self) -> list[int]:
        """The processes that are still there of all that the command began."""
        return list(_marked(f"GOING_ON={self.mark}".encode()))

    def is_sound(self) -> bool:
        return [
            problem for problem in check_folder(self.folder, fixity=True).problems if problem.rule != "not-here"
        ] == []


def _marked(mark: bytes) -> Iterator[int]:
    for environment in Path("/proc").glob("[0-9]*/environ"):
        with suppress(OSError):  # it has just ended
            if mark in environment.read_bytes().split(b"\0"):
                yield int(environment.parent.name)


def comes_true(condition: Callable[[], bool]) -> bool:
    end = time.monotonic() + PATIENCE
    while not condition() and time.monotonic() < end:
        time.sleep(0.02)
    return condition()


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = received(tmp_path_factory.mktemp("day") / "received")
    for path in folder.iterdir():
        os.utime(path, (LONG_AGO, LONG_AGO))
    return folder


@pytest.fixture(scope="module")
def undisturbed(tmp_path_factory: pytest.TempPathFactory, files: Path) -> dict[str, str]:
    night = Night(tmp_path_factory.mktemp("undisturbed"), files)
    answer = night.finish()
    assert answer["pages_read"] == TEXTS + 3
    assert len(night.readings()) == TEXTS + 3
    return night.holds()


def stop_somewhere(night: Night, chance: random.Random) -> None:
    """Begin, wait until so many records or readings are there, or for a moment, and stop it in one of the ways."""
    with night.begin() as process:
        what = chance.choice((night.records, night.readings, None))
        count = len(what()) + chance.randint(0, 12) if what else 0
        end = time.monotonic() + (20 if what else chance.uniform(0.2, 1.5))
        while process.poll() is None and time.monotonic() < end and not (what and len(what()) >= count):
            time.sleep(0.001)
        time.sleep(chance.uniform(0, 0.03))
        process.send_signal(chance.choice(STOPS))
        process.communicate(timeout=PATIENCE)


def go_on_after(night: Night, undisturbed: dict[str, str], *, stops: int, seed: int) -> int:
    """Stop a night so many times, each time look at what is there, then let it end; how much was done before that."""
    chance = random.Random(seed)
    done: dict[Path, tuple[int, int]] = {}
    for _ in range(stops):
        stop_somewhere(night, chance)
        assert comes_true(lambda: night.processes() == [])
        assert night.is_sound()
        now = night.done()
        assert {path: now.get(path) for path in done} == done  # nothing was done twice
        done = now
    night.grow_old()

    answer = night.finish()

    last = night.done()
    assert {path: last.get(path) for path in done} == done
    before = sum(path.suffix == ".json" for path in done)
    assert answer["pages_read"] == TEXTS + 3 - before
    assert night.holds() == undisturbed
    assert night.leftovers() == []
    assert list(night.temporary.iterdir()) == []
    assert night.is_sound()
    return before


@pytest.mark.parametrize("seed", [1, *(pytest.param(seed, marks=pytest.mark.long) for seed in (2, 3))])
def test_a_night_that_is_cut_off_anywhere_is_gone_on_with_and_nothing_is_done_twice(
    tmp_path: Path, files: Path, undisturbed: dict[str, str], seed: int
) -> None:
    night = Night(tmp_path, files)

    go_on_after(night, undisturbed, stops=4, seed=seed)

    assert night.finish()["pages_read"] == 0


@pytest.mark.long
@pytest.mark.parametrize("seed", range(10, 25))
def test_sixty_nights_that_are_cut_off_anywhere_are_gone_on_with(
    tmp_path: Path, files: Path, undisturbed: dict[str, str], seed: int
) -> None:
    night = Night(tmp_path, files)

    go_on_after(night, undisturbed, stops=4, seed=seed)


def test_a_lot_that_is_cut_off_has_the_same_order_in_the_end(tmp_path: Path, files: Path) -> None:
    whole = Night(tmp_path / "whole", files, "--lot", "tin")
    whole.finish()
    night = Night(tmp_path / "night", files, "--lot", "tin")
    with night.begin() as process:
        assert comes_true(lambda: len(night.records()) >= 9)
        process.kill()
        process.communicate()

    assert len(night.records()) < len(whole.records())
    night.finish()

    assert night.holds() == whole.holds()


def test_pages_that_were_registered_and_not_read_are_read_by_rebuild_too(tmp_path: Path, files: Path) -> None:
    night = Night(tmp_path, files)
    with night.begin() as process:
        assert comes_true(lambda: len(night.records()) >= 5)
        process.kill()
        process.communicate()
    registered = len(night.records()) - 2  # two sources of the archive were there before

    rebuild(open_folder(night.folder), workers=2)

    assert len(night.readings()) >= registered
    assert {path.parent.name for path in night.readings()} >= {
        file.sha256
        for source in open_folder(night.folder).archive.sources.values()
        for file in source.files
        if source.title.startswith(("note", "scan"))
    }


def test_a_worker_that_somebody_ends_costs_its_page_until_the_next_call(tmp_path: Path) -> None:
    scans = tmp_path / "scans"
    for number in range(6):
        a_scan(scans / f"{number}.png", (f"Page {number}", "of the working instructions."))
    night = Night(tmp_path, scans)
    with night.begin() as process:
        assert comes_true(lambda: len(night.readings()) >= 1)
        os.kill(_worker_with_a_program(process.pid), signal.SIGKILL)
        told, _ = process.communicate(timeout=PATIENCE)

    (lost,) = [file for file in json.loads(told)["files"] if file["state"] == "unread"]
    assert process.returncode == 1
    assert "ended from outside" in lost["why"]
    assert "rebuild" not in lost["why"]
    assert night.finish()["pages_read"] == 1


def _worker_with_a_program(parent: int) -> int:
    """A worker that has a recogniser at work, so that it is in the middle of a page."""
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end:
        for worker in _children(parent):
            if _children(worker):
                return worker
    raise AssertionError("no page was being recognised")


def _children(process: int) -> list[int]:
    with suppress(OSError):
        return [int(each) for each in Path(f"/proc/{process}/task/{process}/children").read_text().split()]
    return []


@contextmanager
def small_disk(place: Path, size: str) -> Iterator[Path]:
    """A disk in memory of that size; the test is passed over where none may be made."""
    place.mkdir()
    made = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", f"size={size}", "none", str(place)], capture_output=True, check=False
    )
    if made.returncode:
        pytest.skip("a small disk can be made by root alone")
    try:
        yield place
    finally:
        subprocess.run(["umount", "-l", str(place)], check=True)


def test_a_full_disk_ends_the_call_with_the_mend_and_the_same_call_goes_on_when_there_is_room(tmp_path: Path) -> None:
    files = tmp_path / "large"
    for number in range(20):
        a_text(files / f"{number:02}.txt", f"note {number}\n" + " " * 300_000)
    whole = Night(tmp_path / "whole", files)
    whole.finish()
    with small_disk(tmp_path / "disk", "4m") as disk:
        night = Night(disk, files)
        night.temporary = whole.temporary

        told = night.finish(code=4)
        was_sound, before = night.is_sound(), night.done()
        subprocess.run(["mount", "-o", "remount,size=200m", str(disk)], check=True)
        finished = night.finish()

        assert "disk is full" in told["mend"]
        assert was_sound
        assert {path: night.done().get(path) for path in before} == before
        assert {file["state"] for file in finished["files"]} <= {"known", "registered"}
        assert night.holds() == whole.holds()
        assert night.leftovers() == []


def test_a_full_disk_of_temporary_files_leaves_pages_unread_and_never_read_as_empty(tmp_path: Path) -> None:
    scans = tmp_path / "scans"
    for number in range(3):
        a_scan(scans / f"{number}.png", (f"Page {number}", "of the working instructions."))
    night = Night(tmp_path, scans)
    with small_disk(tmp_path / "small", "2m") as disk:
        night.temporary, roomy = disk, night.temporary
        (disk / "other").write_bytes(bytes(2_080_000))
        first = night.finish(code=1)
        night.temporary = roomy

    second = night.finish()

    assert [file["state"] for file in first["files"]] == ["unread"] * 3
    assert all("full" in file["why"] for file in first["files"])
    assert second["pages_read"] == 3
