"""How much of each room the tests went through, against what each room owes.

Reads the data that `pytest --cov` left, branches included, and exits 1 where a room owes more:

    python tests/coverage_gate.py
"""

import json
import subprocess
import sys
import tempfile
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parent.parent
OWED = {"records": 100.0, "rules": 100.0, "store": 95.0}
OWED_ELSEWHERE = 90.0


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomCoverage:
    """What the tests went through of one room.

    Attributes:
        room: the folder under `provenance`, or the name of a module that stands there alone.
        reached: lines and branches that a test went through.
        there: lines and branches there are.
        missing: the files with lines or branches that no test went through.
    """

    room: str
    reached: int
    there: int
    missing: tuple[str, ...]

    @property
    def percent(self) -> float:
        """The share gone through; a room with nothing to go through counts as whole."""
        return 100.0 * self.reached / self.there if self.there else 100.0

    @property
    def owed(self) -> float:
        """The share that this room owes."""
        return OWED.get(self.room, OWED_ELSEWHERE)

    @property
    def is_enough(self) -> bool:
        """Whether the room gives what it owes."""
        return self.percent >= self.owed

    def __str__(self) -> str:
        """Write the room on a line, with the files to look at where it falls short."""
        line = f"{self.room:<12} {self.percent:6.2f} % of {self.there:5} (owed {self.owed:.0f} %)"
        return (
            line if self.is_enough else "\n".join([f"{line}  FALLS SHORT", *(f"    {name}" for name in self.missing)])
        )


def room_of(file: str) -> str:
    """The room that a measured file such as `provenance/rules/grade.py` stands in."""
    inside = Path(file).parts[Path(file).parts.index("provenance") + 1 :]
    return inside[0].removesuffix(".py")


def measure_rooms(report: Mapping[str, Any]) -> tuple[RoomCoverage, ...]:
    """Add up the report of `coverage json` room by room, in order of name."""
    files: dict[str, list[tuple[str, Mapping[str, Any]]]] = defaultdict(list)
    for name, measured in report["files"].items():
        files[room_of(name)].append((name, measured))
    return tuple(_add_up(room, files[room]) for room in sorted(files))


def _add_up(room: str, files: list[tuple[str, Mapping[str, Any]]]) -> RoomCoverage:
    reached = there = 0
    missing = []
    for name, measured in files:
        figures = measured["summary"]
        reached += figures["covered_lines"] + figures["covered_branches"]
        there += figures["num_statements"] + figures["num_branches"]
        if figures["missing_lines"] or figures["missing_branches"]:
            missing.append(f"{name}: {_describe_missing(measured)}")
    return RoomCoverage(room=room, reached=reached, there=there, missing=tuple(missing))


def _describe_missing(measured: Mapping[str, Any]) -> str:
    lines = [str(line) for line in measured["missing_lines"]]
    branches = [f"{start}->{end if end > 0 else 'out'}" for start, end in measured["missing_branches"]]
    return ", ".join([*lines, *branches])


def main() -> int:
    """Print every room; 0 when each gives what it owes."""
    with tempfile.TemporaryDirectory() as folder:
        report = Path(folder) / "coverage.json"
        command = [sys.executable, "-m", "coverage", "json", "--quiet", "-o", str(report)]
        # It warns of the data of children that a test killed half-way; that is only for the failing case.
        told = subprocess.run(command, cwd=ROOT, capture_output=True, check=False, text=True)
        if told.returncode:
            print(f"no coverage data (`pytest --cov` leaves it): {told.stdout}{told.stderr}")
            return 1
        measured = json.loads(report.read_text(encoding="utf-8"))
        if not measured["meta"]["branch_coverage"]:
            print("the coverage data holds no branches: did any test run?")
            return 1
        rooms = measure_rooms(measured)
    for room in rooms:
        print(room)
    return 0 if rooms and all(room.is_enough for room in rooms) else 1


if __name__ == "__main__":
    sys.exit(main())
