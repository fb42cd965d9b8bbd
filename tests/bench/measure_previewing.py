"""How long a page takes to tell which grades would change by what somebody enters, in an archive of 10,000 claims.

It is asked as a page asks: of the archive that is open, with the verdicts that are known already.
"""

from collections.abc import Iterator
from datetime import date
from pathlib import Path

from bench.figures import Figure, seconds
from bench.made_archives import CLAIMS_EACH, make_archive

from provenance.store.loading import load
from provenance.tasks.claiming import try_evidence
from provenance.tasks.evidence_items import Evidence
from provenance.tasks.living import Living
from provenance.tasks.tagging import Tags, try_tags

COMPONENTS = 1_000
CLAIMS = COMPONENTS * CLAIMS_EACH
SOURCE = "s00003"
BY, TODAY = "mh", date(2026, 1, 10).isoformat()
_TIMES = 9


def measure(folder: Path) -> Iterator[Figure]:
    """Judge all once, as the first page does; then preview claims, and tags of a source from which others were made."""
    living = opened_once(folder / "archive")
    took = seconds(lambda: living.now().verdicts)
    yield Figure(name=f"all verdicts, the first time ({CLAIMS:,} claims)", value=took, unit="s")
    components = iter(range(_TIMES))
    took = seconds(lambda: _try_claim(living, next(components)), times=_TIMES)
    yield Figure(name=f"preview of a claim ({CLAIMS:,} claims)", value=took, unit="s", promised=1.0)
    took = seconds(lambda: _try_tags(living), times=_TIMES)
    yield Figure(name=f"preview of tags ({CLAIMS:,} claims)", value=took, unit="s", promised=1.0)


def opened_once(folder: Path) -> Living:
    """An archive of that many claims, open for its readers, that was opened some time before too."""
    load(make_archive(folder, COMPONENTS))
    return Living(folder)


def evidence_for(component: int) -> Evidence:
    """What is entered: a value that nobody claimed yet."""
    return Evidence(feature=f"c{component:04}/f1", value="copper", source=f"s{component:05}", applies_to="all")


def _try_claim(living: Living, component: int) -> None:
    now = living.now()
    try_evidence(now.opened, evidence_for(component), by=BY, today=TODAY, verdicts=now.verdicts)


def _try_tags(living: Living) -> None:
    now = living.now()
    try_tags(now.opened, SOURCE, Tags(words={"kind": "notes"}), None, verdicts=now.verdicts)
