"""How long it takes until what somebody writes in a page is on the disk, and in every page; with 10,000 claims.

The task writes, the archive is looked at again, and the verdicts that the change reaches are worked out.
"""

from collections.abc import Iterator
from pathlib import Path

from bench.figures import Figure, seconds
from bench.measure_previewing import BY, CLAIMS, SOURCE, TODAY, evidence_for, opened_once

from provenance.tasks.claiming import add_evidence
from provenance.tasks.living import Living
from provenance.tasks.opening import open_folder
from provenance.tasks.tagging import Tags, tag_source

_TIMES = 9


def measure(folder: Path) -> Iterator[Figure]:
    """Write claims, then tags; beside them what opening the whole archive would take."""
    living = opened_once(folder / "archive")
    _ = living.now().verdicts
    took = seconds(lambda: open_folder(folder / "archive"), times=3)
    yield Figure(name=f"the whole archive read ({CLAIMS:,} claims)", value=took, unit="s")
    numbers = iter(range(2 * _TIMES))
    took = seconds(lambda: _write_claim(living, next(numbers)), times=_TIMES)
    yield Figure(name=f"a claim written, and in every page ({CLAIMS:,} claims)", value=took, unit="s")
    took = seconds(lambda: _write_tags(living, next(numbers)), times=_TIMES)
    yield Figure(name=f"tags written, and in every page ({CLAIMS:,} claims)", value=took, unit="s")


def _write_claim(living: Living, number: int) -> None:
    add_evidence(living.now().opened, evidence_for(number), by=BY, today=TODAY)
    _read_again(living)


def _write_tags(living: Living, number: int) -> None:
    tag_source(living.now().opened, SOURCE, Tags(words={"holder": f"County record office {number}"}), None)
    _read_again(living)


def _read_again(living: Living) -> None:
    living.look_again()
    _ = living.now().verdicts
