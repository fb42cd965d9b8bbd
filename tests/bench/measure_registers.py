"""How long the registers of a large archive take, as whole commands: 10,000 sources, open ones and the team's.

Most sources of a real archive are cited by nothing: here 2,000 claims rest on the first thousand of them. The same is
measured once with 20,000 claims on all of them, for judging them is most of the work then.
"""

import random
import sys
from collections.abc import Iterator
from dataclasses import fields
from functools import partial
from pathlib import Path

from bench.figures import Figure, peak_memory, run_program, seconds
from bench.made_archives import SEED, make_archive

from provenance.records.days import Day
from provenance.reports.registers import RegisterHead, SourceRegister, SourceRow
from provenance.reports.registers_workbook import register_workbook
from provenance.rules.public_view import public_view
from provenance.tasks.opening import open_folder

SOURCES = 10_000
FEW, MANY = 200, 2_000
"""Components: each has three features and ten claims, and brings five sources."""

_PROGRAM = Path(sys.executable).with_name("provenance")
_DAY = "2026-11-27"
_OPEN = "access: open\nholder: Orrin Library\nreference: OL/{0}\nlanguage: [en]\ncreator: Maker {1}\n{2}"
_RIGHTS = "rights: {statement: CNE, credit: Orrin Library, publish: allowed}\n"
_TEAM = "holder: Family of P{0}\ncreator: Person {0}\n"
_TIMES = 3
_WORKBOOK_ALONE = (
    "import sys; sys.path.insert(0, sys.argv[1]); "
    "from bench.measure_registers import made_up; from provenance.reports.registers_workbook import register_workbook; "
    "register = made_up(); sys.argv[2] == 'none' or register_workbook(register)"
)


def measure(folder: Path) -> Iterator[Figure]:
    """Time each format of the whole command, then the workbook by itself; the folder is empty."""
    archive = make_large(folder / "archive", FEW)
    _ask(archive, folder / "warm.csv")
    for ending, promised in (("csv", 5.0), ("xlsx", 5.0), ("pdf", 30.0), ("html", None)):
        times = _TIMES if ending in {"csv", "xlsx"} else 1
        took = seconds(partial(_ask, archive, folder / f"sources.{ending}"), times=times)
        yield Figure(name=f"register of {SOURCES:,} sources, .{ending}", value=took, unit="s", promised=promised)
    line: list[str | Path] = [
        _PROGRAM,
        "--archive",
        archive,
        "register",
        "sources",
        "--output",
        folder / "again.pdf",
        "--date",
        _DAY,
    ]
    memory = peak_memory(sys.executable, line, cwd=folder)
    yield Figure(name="memory of its largest process, .pdf", value=memory, unit="MB", promised=500.0)
    yield from _workbook(folder)
    many = make_large(folder / "many", MANY)
    _ask(many, folder / "warm.csv")
    took = seconds(partial(_ask, many, folder / "many.csv"))
    yield Figure(name=f"the same, .csv, with {10 * MANY:,} claims", value=took, unit="s")
    opened = open_folder(many)
    took = seconds(partial(public_view, opened.archive, Day(2026, 11, 27)))
    yield Figure(name="of that the public view", value=took, unit="s")


def _workbook(folder: Path) -> Iterator[Figure]:
    """Time the workbook of a register that is made up, all cells of it filled, and what it takes beyond it."""
    register = made_up()
    took = seconds(partial(register_workbook, register), times=_TIMES)
    yield Figure(name=f"workbook of {SOURCES:,} sources by itself", value=took, unit="s", promised=3.0)
    code = (sys.executable, "-c", _WORKBOOK_ALONE, Path(__file__).parents[1])
    without, with_it = (peak_memory(sys.executable, [*code, each], cwd=folder) for each in ("none", "workbook"))
    yield Figure(name="memory of the workbook by itself", value=with_it - without, unit="MB", promised=100.0)


def make_large(folder: Path, components: int) -> Path:
    """Write an archive of that many components and 10,000 sources, of which nine in ten are open."""
    make_archive(folder, components)
    chance = random.Random(SEED)
    sources = folder / "sources"
    for number in range(SOURCES):
        path = sources / f"s{number:05}.yaml"
        begun = path.read_text(encoding="utf-8") if path.exists() else _further(number, chance)
        is_open = chance.random() < 0.9
        more = _OPEN.format(number, chance.randrange(300), _RIGHTS) if is_open else _TEAM.format(number)
        path.write_text(begun + more, encoding="utf-8")
    return folder


def _further(number: int, chance: random.Random) -> str:
    lines = [f"title: Further source {number}, about the fittings", "kind: photograph", "created: 1934"]
    lines += ["by: mh", "date: 2020-01-01", "state: tagged"]
    if chance.random() < 0.4:
        lines.append(f"derives_from: [{{source: s{chance.randrange(number):05}, how: print}}]")
    return "\n".join(lines) + "\n"


def made_up() -> SourceRegister:
    """A register of 10,000 sources with something in every field, without an archive."""
    head = RegisterHead(
        title="Register of sources",
        day=Day(2026, 11, 27),
        draft=False,
        about=("The object is a modern re-creation.",),
        cautions=(),
        meanings=(),
        held_privately=0,
    )
    texts = [field.name for field in fields(SourceRow) if field.name != "number"]
    rows = (
        SourceRow(number=number, **{name: f"The {name} of source {number}" for name in texts})
        for number in range(1, SOURCES + 1)
    )
    return SourceRegister(head=head, rows=tuple(rows))


def _ask(archive: Path, output: Path) -> None:
    run_program(
        [_PROGRAM, "--archive", archive, "register", "sources", "--output", output, "--date", _DAY], cwd=archive
    )
