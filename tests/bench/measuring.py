"""Runs the measurements of this folder, prints them as a table, and keeps them for the next run to compare with.

A measurement is a module `measure_<name>.py` with a function `measure(folder)` that works in the empty folder given
and yields figures.
"""

import importlib
import json
import os
import platform
import subprocess
import sys
import tempfile
import time
from collections.abc import Mapping, Sequence
from importlib.metadata import version
from pathlib import Path
from typing import Any

from bench.figures import Figure
from bench.readme_table import write_table

HERE = Path(__file__).parent
TOP = HERE.parent.parent
RUNS = TOP / ".bench" / "runs.jsonl"
README = TOP / "README.md"
WORTH_SAYING = 1.25
LIBRARIES = (
    "whoosh",
    "pytesseract",
    "pdfplumber",
    "pypdfium2",
    "pillow",
    "numpy",
    "pyyaml",
    "jsonschema-rs",
    "click",
    "typst",
)


def describe_machine() -> dict[str, Any]:
    """What the figures depend on besides the code."""
    told = subprocess.run(["tesseract", "--version"], capture_output=True, check=False, text=True)
    return {
        "machine": f"{platform.system()} {platform.machine()} {_processor()}",
        "cores": os.cpu_count(),
        "python": platform.python_version(),
        "tesseract": (told.stdout or told.stderr).splitlines()[0] if told.returncode == 0 else "none",
        "libraries": {name: version(name) for name in LIBRARIES},
    }


def _processor() -> str:
    try:
        lines = Path("/proc/cpuinfo").read_text(encoding="utf-8").splitlines()
    except OSError:
        return platform.processor()
    return next((line.partition(":")[2].strip() for line in lines if line.startswith("model name")), "")


def last_run(machine: str) -> dict[str, float]:
    """The figures last measured on this machine, by name; empty where there are none."""
    values: dict[str, float] = {}
    if RUNS.exists():
        for line in RUNS.read_text(encoding="utf-8").splitlines():
            run = json.loads(line)
            if run["about"]["machine"] == machine:
                values |= {figure["name"]: figure["value"] for figure in run["figures"]}
    return values


def describe_change(figure: Figure, before: float | None) -> str:
    """How a figure stands to the one before it; empty unless it is worse by more than a quarter."""
    if not before or not figure.value:
        return ""
    worse = before / figure.value if figure.more_is_better else figure.value / before
    return f"WORSE than last time: {before:.3g} {figure.unit}" if worse > WORTH_SAYING else ""


def run(names: Sequence[str], about: Mapping[str, Any]) -> list[Figure]:
    """Run the measurements named and print each figure as it comes."""
    before = last_run(about["machine"])
    figures = []
    for name in names:
        with tempfile.TemporaryDirectory() as folder:
            for figure in importlib.import_module(f"bench.measure_{name}").measure(Path(folder)):
                print(f"{name:<10} {figure}  {describe_change(figure, before.get(figure.name))}".rstrip(), flush=True)
                figures.append(figure)
    RUNS.parent.mkdir(exist_ok=True)
    kept = {"at": time.strftime("%Y-%m-%dT%H:%M:%S%z"), "about": about, "figures": [f.as_json() for f in figures]}
    with RUNS.open("a", encoding="utf-8") as lines:
        lines.write(json.dumps(kept) + "\n")
    return figures


def main(names: Sequence[str]) -> int:
    """Run what is named, or everything."""
    there = sorted(path.stem.removeprefix("measure_") for path in HERE.glob("measure_*.py"))
    if unknown := set(names) - set(there):
        print(f"no such measurement: {', '.join(sorted(unknown))}; there are: {', '.join(there)}", file=sys.stderr)
        return 2
    about = describe_machine()
    figures = run(names or there, about)
    write_table(README, figures, about, whole=not names)
    short = [figure.name for figure in figures if not figure.is_reached]
    print(f"short of what is promised: {'; '.join(short)}" if short else "all that is promised is reached")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
