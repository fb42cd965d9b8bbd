"""Recognition by our workers beside as many bare recogniser processes, and the memory of a worker on a long PDF."""

import json
import sys
from collections.abc import Iterator
from pathlib import Path

from bench.figures import Figure, run_program

PAGES = Path(__file__).with_name("pages.py")


def measure(folder: Path) -> Iterator[Figure]:
    """Measure in a process of its own: the system tells the size of the largest child that a process ever had."""
    answers = {
        answer["bench"]: answer
        for answer in map(json.loads, run_program([sys.executable, PAGES], cwd=folder).splitlines())
    }
    long_pdf, pages = answers["long PDF"], answers["pages"]
    yield Figure(
        name=f"memory of a worker on a PDF of {long_pdf['pages']} pages",
        value=long_pdf["worker_megabytes"],
        unit="MB",
        promised=600.0,
    )
    yield Figure(name="a page of that PDF", value=long_pdf["milliseconds_a_page"], unit="ms")
    yield Figure(
        name=f"pages a minute with {pages['workers']} workers, {pages['engine']}",
        value=pages["our_pages_a_minute"],
        unit="pages",
        more_is_better=True,
    )
    yield Figure(
        name=f"image pages, speed beside {pages['workers']} bare recognisers, by the wall",
        value=pages["speed_of_bare"],
        unit="times",
        promised=0.9,
        more_is_better=True,
    )
    yield Figure(
        name="the same by time of the processors",
        value=pages["processor_of_bare"],
        unit="times",
        more_is_better=True,
    )
