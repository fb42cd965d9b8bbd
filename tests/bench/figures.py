"""One measured figure beside what is promised, and the ways of measuring that several benchmarks share."""

import statistics
import subprocess
import time
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

_TELLING_MEMORY = (
    "import resource, subprocess, sys; ended = subprocess.run(sys.argv[1:], stdout=subprocess.DEVNULL); "
    "print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss); sys.exit(ended.returncode)"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One measured figure.

    Attributes:
        name: what was measured, in words.
        value: in `unit`.
        promised: what is promised in the same unit; None for a figure reported beside another.
        more_is_better: whether `promised` is the least or the most.
    """

    name: str
    value: float
    unit: str
    promised: float | None = None
    more_is_better: bool = False

    @property
    def is_reached(self) -> bool:
        """Whether what is promised is reached; true where nothing is."""
        if self.promised is None:
            return True
        return self.value >= self.promised if self.more_is_better else self.value <= self.promised

    def __str__(self) -> str:
        """Write the figure on a line of the table, with the ratio to what is promised."""
        line = f"{self.name:<58} {self.value:9.3f} {self.unit:<8}"
        if self.promised is None:
            return line
        word = "least" if self.more_is_better else "most"
        verdict = "" if self.is_reached else "  SHORT"
        return f"{line} {word} {self.promised:g}, ratio {self.value / self.promised:.2f}{verdict}"

    def as_json(self) -> dict[str, Any]:
        """The figure as it is kept."""
        return asdict(self)


def seconds(work: Callable[[], object], *, times: int = 1) -> float:
    """The median wall-clock time of some work."""
    spent = []
    for _ in range(times):
        began = time.perf_counter()
        work()
        spent.append(time.perf_counter() - began)
    return statistics.median(spent)


def run_program(command: Sequence[str | Path], *, cwd: Path) -> str:
    """Run a program that has to succeed; what it printed."""
    ended = subprocess.run([str(word) for word in command], cwd=cwd, check=True, capture_output=True, text=True)
    return ended.stdout


def peak_memory(python: str, command: Sequence[str | Path], *, cwd: Path) -> float:
    """The largest memory, in MB, that any one process of a program took (Linux counts it in KiB)."""
    told = run_program([python, "-c", _TELLING_MEMORY, *command], cwd=cwd)
    return int(told) * 1024 / 1e6
