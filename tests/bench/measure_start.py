"""How long a command takes before it does anything, and what the package costs a program that imports it."""

import sys
from collections.abc import Iterator
from pathlib import Path

from bench.figures import Figure, run_program, seconds

PROVENANCE = Path(sys.executable).with_name("provenance")


def measure(folder: Path) -> Iterator[Figure]:
    """Time the help and the import, each beside a Python that does nothing."""

    def start(*command: str | Path) -> float:
        return seconds(lambda: run_program(command, cwd=folder), times=9)

    nothing = start(sys.executable, "-c", "pass")
    yield Figure(name="a Python that does nothing", value=nothing, unit="s")
    yield Figure(name="provenance --help", value=start(PROVENANCE, "--help"), unit="s", promised=0.3)
    imported = start(sys.executable, "-c", "import provenance") - nothing
    yield Figure(name="import provenance, beyond that", value=imported, unit="s", promised=0.1)
