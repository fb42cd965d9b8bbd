"""A disk that fails, or a command that is killed, at the n-th call: every file is the old one or the new one.

strace makes one system call of the real command fail, or kills the command at it, for n = 1, 2, 3, … until the command
ends without having met the fault. How those who keep such promises test them: SQLite, "How SQLite Is Tested", 3.2 and
3.3 (an error at the n-th call for rising n, then an integrity check).
"""

import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count
from pathlib import Path

import pytest
from write_paths import strace
from writing_commands import (
    BY_NAME,
    Files,
    Workplace,
    Writing,
    a_workplace,
    environment,
    neither_old_nor_new,
    old_and_new,
    set_right,
)

CALLS = ("fsync", "write", "linkat", "renameat", "rename", "unlinkat", "mkdirat")
FAULTS = ("error=EIO", "error=ENOSPC", "signal=KILL")
COMMANDS = (
    "claim new",
    "claim once more",
    "tag",
    "tag with a transcript",
    "decide",
    "rename",
    "made, a misfit",
    "ingest",
)
SHORT = (
    ("claim new", "linkat", "error=ENOSPC"),
    ("claim once more", "renameat", "error=EIO"),
    ("tag", "fsync", "error=EIO"),
    ("decide", "write", "error=ENOSPC"),
    ("made, a misfit", "linkat", "signal=KILL"),
    ("ingest", "unlinkat", "error=EIO"),
)
"""What the short run takes: each fault and each way of writing once; `sh tests/run.sh long` takes all."""

KILLED = -9
REFUSED = 4
DERIVED_DATA = 6
OF_THE_DISK = re.compile(r"\w+\(([0-9]+|AT_FDCWD)</|\w+\(\"/")
"""A call on a file or folder, and not on a pipe between processes, which no disk fault reaches."""
OF_THE_ANSWER = re.compile(r"write\(1<")


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """What strace does to the n-th call of one name."""

    call: str
    what: str
    nth: int

    @property
    def options(self) -> tuple[str, ...]:
        """For strace; each process of the command counts for itself."""
        return "-e", f"trace={self.call}", "-e", f"inject={self.call}:{self.what}:when={self.nth}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Met:
    """How a command ended that may have met a fault.

    Attributes:
        told: what it wrote on the error output.
        calls: the lines of the log with the calls that failed, or at which a process was killed.
    """

    fault: Fault
    code: int
    told: str
    calls: tuple[str, ...]

    @property
    def is_of_the_index(self) -> bool:
        """Whether only the search index was hit: it comes last, and has tests of its own."""
        return bool(self.calls) and all("/.derived/search/" in call for call in self.calls)

    @property
    def is_judged(self) -> bool:
        """Whether how it ended says something: nobody was killed, and it was the disk, or the answer, that failed."""
        return "error=" in self.fault.what and all(
            OF_THE_DISK.search(call) or OF_THE_ANSWER.search(call) for call in self.calls
        )

    @property
    def hit_files(self) -> bool:
        """Whether a call failed that was about a file of the archive, or an output."""
        return any(re.search(r"/place/(archive/(?!\.derived)|beside/|fresh)", call) for call in self.calls)


def meet(writing: Writing, place: Workplace, fault: Fault) -> Met:
    """Run the command while the fault waits for it."""
    log = place.top.with_suffix(".log")
    done = strace(writing.line(place), *fault.options, log=log, environment=environment())
    lines = log.read_text(encoding="utf-8", errors="replace").splitlines()
    calls = tuple(line for line in lines if "(INJECTED)" in line or line.endswith("= ?"))
    return Met(fault=fault, code=done.returncode, told=done.stderr, calls=calls)


def require_told(met: Met, files: Files, before: Files, after: Files) -> None:
    """See that the exit code and the message are true, and say what to do."""
    if met.code == 0:
        assert files == after, met
        return
    assert met.code == REFUSED or (met.code == DERIVED_DATA and not met.hit_files), met
    assert met.code == REFUSED or files == after, met
    assert re.search(r"^error: .+\n(.+\n)*  mend: .+", met.told), met
    if met.hit_files:
        assert any(name in met.told for name in before.keys() | after.keys()), met


def meet_every(writing: Writing, call: str, what: str, scratch: Path) -> Iterator[Met]:
    """Meet the fault at the first call, the second, and so on, each time in a fresh archive, and judge what comes."""
    before, after = old_and_new(writing, scratch / "alone" / "place")
    for nth in count(1):
        place = a_workplace(scratch / str(nth) / "place", formatted=writing.formatted)
        met = meet(writing, place, Fault(call=call, what=what, nth=nth))
        files = place.whole_files()
        if met.is_of_the_index:
            assert files == after, met
            return
        if not met.calls:
            assert (met.code, files) == (0, after), met
            return
        assert neither_old_nor_new(files, before, after) == [], met
        if met.is_judged:
            require_told(met, files, before, after)
            assert not place.leftovers() or call == "unlinkat", met
        set_right(writing, place, after)
        shutil.rmtree(place.top.parent)
        yield met


@pytest.mark.parametrize(("name", "call", "what"), SHORT)
def test_a_disk_that_fails_leaves_each_file_old_or_new_and_the_next_command_goes_on(
    tmp_path: Path, name: str, call: str, what: str
) -> None:
    assert list(meet_every(BY_NAME[name], call, what, tmp_path))


@pytest.mark.long
@pytest.mark.parametrize("what", FAULTS)
@pytest.mark.parametrize("call", CALLS)
@pytest.mark.parametrize("name", COMMANDS)
def test_a_disk_that_fails_anywhere_leaves_each_file_old_or_new_and_the_next_command_goes_on(
    tmp_path: Path, name: str, call: str, what: str
) -> None:
    met = list(meet_every(BY_NAME[name], call, what, tmp_path))

    assert met or call not in {"fsync", "write"}
