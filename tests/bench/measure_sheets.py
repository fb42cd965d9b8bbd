"""A parts tree of ten thousand rows from a sheet: added, given again, and refused in every row."""

import csv
import random
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from bench.figures import Figure, peak_memory, run_program, seconds
from openpyxl import Workbook

PROVENANCE = Path(sys.executable).with_name("provenance")
ROWS = 10_000
SEED = 1927
_HEADINGS = ("Part No", "Description", "Part of", "Qty")
_SORTS = ("Bracket", "Bolt", "Cover", "Lamp", "Pipe", "Valve")


def measure(folder: Path) -> Iterator[Figure]:
    """Add the same tree as CSV and as XLSX, each to an archive of its own; then one whose assemblies are not there."""
    rows = list(_tree())
    sheets = (_as_csv(folder / "tree.csv", rows), _as_xlsx(folder / "tree.xlsx", rows))
    for sheet in sheets:
        kind = sheet.suffix[1:].upper()
        add = (PROVENANCE, "--archive", _begin(folder / kind), "add", "--sheet", sheet, "--by", "mh")
        yield Figure(name=f"add --sheet, {ROWS} rows of {kind}", value=_took(add, folder), unit="s")
        yield Figure(name=f"the same rows of {kind} again", value=_took(add, folder), unit="s")
        memory = peak_memory(sys.executable, add, cwd=folder)
        yield Figure(name=f"its memory with {kind}", value=memory, unit="MB")
    lost = _as_csv(folder / "lost.csv", [(*row[:2], f"Assembly {number}", row[3]) for number, row in enumerate(rows)])
    add = (PROVENANCE, "--archive", _begin(folder / "lost"), "add", "--sheet", lost, "--by", "mh")
    took = seconds(lambda: subprocess.run(list(map(str, add)), check=False, capture_output=True))
    yield Figure(name=f"{ROWS} rows refused, each for an assembly that is not there", value=took, unit="s")


def _tree() -> Iterator[tuple[str, ...]]:
    """Ten parts of the whole, and all others each of one further up."""
    chance = random.Random(SEED)
    for number in range(ROWS):
        above = f"R9-{chance.randrange(max(1, number // 10)):05}" if number >= 10 else ""
        yield f"R9-{number:05}", f"{chance.choice(_SORTS)} {number}", above, str(chance.randrange(1, 9))


def _as_csv(path: Path, rows: list[tuple[str, ...]]) -> Path:
    with path.open("w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerows([_HEADINGS, *rows])
    return path


def _as_xlsx(path: Path, rows: list[tuple[str, ...]]) -> Path:
    book = Workbook()
    for row in (_HEADINGS, *rows):
        book.worksheets[0].append(row)
    book.save(path)
    return path


def _begin(folder: Path) -> Path:
    run_program((PROVENANCE, "new", folder, "--by", "mh", "--name", "M. H."), cwd=folder.parent)
    return folder


def _took(command: tuple[str | Path, ...], folder: Path) -> float:
    return seconds(lambda: run_program(command, cwd=folder))
