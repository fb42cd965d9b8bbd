"""How the work grows from 100 to 1,000 to 10,000 records: seconds at each size, and the exponent between the sizes.

An exponent of 1 is ten times the time for ten times the records. It is that of the least-squares line through the
logarithms of size and time; what a command costs in an archive of no records is taken off first.
"""

import math
import random
import shutil
import statistics
import sys
from collections.abc import Callable, Iterator, Mapping
from datetime import date
from functools import partial
from pathlib import Path

from bench.figures import Figure, run_program, seconds
from bench.made_archives import make_archive

from provenance.records.days import Day
from provenance.rules.flags import flags
from provenance.rules.judging import judge_all
from provenance.search.asking import ask
from provenance.search.building import bring_up_to_date
from provenance.search.manifest import IndexPlace
from provenance.search.opening import open_verified
from provenance.tasks.findings import look
from provenance.tasks.index_entries import WantedEntries
from provenance.tasks.opening import open_folder
from provenance.tasks.page_readings import Readings

PROVENANCE = Path(sys.executable).with_name("provenance")
SIZES = (100, 1_000, 10_000)
MOST_EXPONENT = 1.2
"""What is allowed for: sorting, and caches that no longer hold everything."""

_WORDS = ("lamp", "bracket", "cantrail", "buffer", "spring", "axle", "window", "handle", "brass", "oak")


def measure(folder: Path) -> Iterator[Figure]:
    """Time each kind of work at each size, then say how it grew."""
    spent: dict[str, dict[int, float]] = {}
    for size in SIZES:
        for name, took in (*_judged(folder / "judged", size), *_taken_in(folder / "taken", size)):
            spent.setdefault(name, {})[size] = took
            yield Figure(name=f"{name}, {size:,} records", value=took, unit="s")
    for name, by_size in spent.items():
        yield Figure(name=f"growth of {name}", value=exponent(by_size), unit="exponent", promised=MOST_EXPONENT)


def exponent(took: Mapping[int, float]) -> float:
    """The slope of the least-squares line through the logarithms of size and time.

    Args:
        took: seconds by size; two sizes at least.
    """
    points = [(math.log(size), math.log(max(time, 1e-6))) for size, time in took.items()]
    middle = sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)
    across = sum((x - middle[0]) ** 2 for x, _ in points)
    return sum((x - middle[0]) * (y - middle[1]) for x, y in points) / across


def _judged(folder: Path, size: int) -> Iterator[tuple[str, float]]:
    """Checking, loading, judging and flagging an archive of that many claims."""
    made = make_archive(folder, size // 10)
    yield "check", _beyond_start(lambda: run_program([PROVENANCE, "check"], cwd=made))
    open_folder(made)  # from here on the parsed records are kept, as they are for its users
    yield "load", seconds(lambda: open_folder(made), times=3)
    opened = open_folder(made)
    yield "verdicts", seconds(lambda: judge_all(opened.archive), times=3)
    verdicts, today = judge_all(opened.archive), date(2026, 1, 10)
    findings, day = look(opened), Day(today.year, today.month, today.day)
    yield "flags", seconds(lambda: flags(opened.archive, findings, today=day, verdicts=verdicts), times=3)
    shutil.rmtree(folder)


def _beyond_start(work: Callable[[], object]) -> float:
    nothing = seconds(lambda: run_program([PROVENANCE, "--help"], cwd=Path.cwd()), times=3)
    return max(1e-3, seconds(work) - nothing)


def _taken_in(folder: Path, size: int) -> Iterator[tuple[str, float]]:
    """Taking in, indexing and asking that many files of text of one page each."""
    received, archive = folder / "received", folder / "archive"
    received.mkdir(parents=True)
    chance = random.Random(size)
    for number in range(size):
        words = " ".join(chance.choice(_WORDS) for _ in range(100))
        (received / f"note-{number:05}.txt").write_text(f"H-{number} {words}\n", encoding="utf-8")
    run_program([PROVENANCE, "new", archive, "--by", "mh"], cwd=folder)
    take_in: list[str | Path] = [PROVENANCE, "--archive", archive, "ingest", received, "--by", "mh"]
    yield "ingest", seconds(lambda: run_program(take_in, cwd=folder))
    opened = open_folder(archive)
    readings = Readings(archive, opened.archive)
    place = IndexPlace(folder / "index", bytes(32))
    wanted = WantedEntries(readings)
    yield "index", seconds(lambda: bring_up_to_date(place, wanted.digests, wanted.fetch))
    with open_verified(place) as built:
        asked = [" ".join(chance.sample(_WORDS, 3)) for _ in range(20)]
        yield "query", statistics.median(seconds(partial(ask, built, query)) for query in asked)
    shutil.rmtree(folder)
