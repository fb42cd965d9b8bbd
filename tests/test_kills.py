"""Commands that write, killed at a moment that nobody chose: each file is the old one or the new one.

A kill never shows that a flush is missing, since what the system holds in memory survives it; that is looked at in
`test_write_paths.py`.
"""

import random
import subprocess
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from writing_commands import (
    BY_NAME,
    Files,
    Workplace,
    a_workplace,
    environment,
    neither_old_nor_new,
    old_and_new,
    set_right,
)

SHORT = (
    "add a sheet",
    "claim new",
    "tag with a transcript",
    "withdraw",
    "rename",
    "decide",
    "made, a misfit",
    "query",
    "split",
    "ingest",
    "appendix",
    "upgrade",
)
ALL = (
    *SHORT,
    "add component",
    "claim once more",
    "tag",
    "decide: release",
    "made",
    "evidence to a file",
    "new",
    "rebuild",
)
WITHOUT_LOCK = ("evidence to a file", "new", "rebuild")
"""They write nothing into an archive that is there, or derived data alone."""
TIMES = 10
"""How often each of them is killed: 200 kills in all."""

LOCK_HELD = 0.03
"""Seconds; about as long as a command of these holds the archive's lock."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """When a command is killed.

    Attributes:
        delay: in seconds.
        from_lock: whether they are counted from when it takes the archive's lock; else from its start.
    """

    delay: float
    from_lock: bool


def kill_at(name: str, place: Workplace, moment: Moment) -> bool:
    """Start a command, and kill it then; whether it was still at work."""
    with subprocess.Popen(
        BY_NAME[name].line(place), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, env=environment()
    ) as process:
        lock = place.archive / ".derived" / "lock"
        while moment.from_lock and process.poll() is None and not lock.exists():
            time.sleep(0.001)
        time.sleep(moment.delay)
        process.kill()
        return process.wait() != 0


@cache
def expected(name: str) -> tuple[Files, Files]:
    """The files before and after a command that nobody kills."""
    with TemporaryDirectory() as scratch:
        return old_and_new(BY_NAME[name], Path(scratch) / "place")


def kill_and_look(name: str, top: Path, moment: Moment) -> tuple[bool, bool]:
    """Kill a command in an archive of its own, and look at all of it; whether it was at work, and had begun."""
    place = a_workplace(top, formatted=BY_NAME[name].formatted)
    before, after = expected(name)

    at_work = kill_at(name, place, moment)

    has_begun = place.files() != before or (place.archive / ".derived" / "writing").exists()
    assert neither_old_nor_new(place.whole_files(), before, after) == [], (name, moment)
    set_right(BY_NAME[name], place, after)
    return at_work, has_begun


def test_a_command_killed_while_it_writes_leaves_each_file_old_or_new(tmp_path: Path) -> None:
    moments = random.Random(1934)

    for name in SHORT:
        moment = Moment(delay=moments.uniform(0, LOCK_HELD), from_lock=True)
        kill_and_look(name, tmp_path / name.replace(" ", "-"), moment)


def spread(name: str, span: float, moments: random.Random) -> Iterator[Moment]:
    """Moments over the whole span of a command, and as many over the part in which it writes: the last, or locked."""
    for number in range(TIMES):
        if number % 2 == 0:
            yield Moment(delay=moments.uniform(0, span), from_lock=False)
        elif name in WITHOUT_LOCK:
            yield Moment(delay=moments.uniform(0.7 * span, span), from_lock=False)
        else:
            yield Moment(delay=moments.uniform(0, LOCK_HELD), from_lock=True)


@pytest.mark.long
def test_two_hundred_commands_killed_at_any_moment_leave_each_file_old_or_new(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    moments = random.Random(1934)
    at_work, begun = Counter[str](), Counter[str]()

    for name in ALL:
        alone = a_workplace(tmp_path / f"{name}-alone".replace(" ", "-"), formatted=BY_NAME[name].formatted)
        started = time.monotonic()
        subprocess.run(BY_NAME[name].line(alone), capture_output=True, check=True, env=environment())
        for number, moment in enumerate(spread(name, time.monotonic() - started, moments)):
            was_at_work, had_begun = kill_and_look(name, tmp_path / f"{name}-{number}".replace(" ", "-"), moment)
            at_work[name] += was_at_work
            begun[name] += was_at_work and had_begun

    with capsys.disabled():
        print(f"\nkilled at work {at_work.total()} of {len(ALL) * TIMES}, while writing {begun.total()}:")
        print(*(f"  {name}: {at_work[name]}, {begun[name]}" for name in ALL), sep="\n")
    assert begun.total() > 0
