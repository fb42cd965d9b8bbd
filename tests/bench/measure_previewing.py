"""How long somebody waits who writes in the pages of an archive of 10,000 claims: for the preview, and for the writing.

Both go as the pages do: by the archive that is open, with the verdicts that are known already.
"""

from collections.abc import Iterator
from datetime import date
from pathlib import Path

from bench.figures import Figure, seconds
from bench.made_archives import CLAIMS_EACH, make_archive

from provenance.store.loading import load
from provenance.tasks.claiming import add_evidence, try_evidence
from provenance.tasks.evidence_items import Evidence
from provenance.tasks.living import Living
from provenance.tasks.tagging import Tags, tag_source, try_tags

COMPONENTS = 1_000
_CLAIMS = COMPONENTS * CLAIMS_EACH
_SIGNED = {"by": "mh", "today": date(2026, 1, 10).isoformat()}
_TIMES = 5


def measure(folder: Path) -> Iterator[Figure]:
    """Preview and write a claim, then tags of a source on which much rests, each several times over."""
    make_archive(folder / "archive", COMPONENTS)
    load(folder / "archive")  # so that it is opened as any archive that was opened before
    living = Living(folder / "archive")
    yield Figure(
        name=f"verdicts of {_CLAIMS:,} claims, as the pages are opened",
        value=seconds(lambda: living.now().verdicts),
        unit="s",
    )
    claims = iter(range(COMPONENTS))
    yield Figure(
        name=f"preview of a claim, of {_CLAIMS:,}",
        value=seconds(lambda: _try_claim(living, next(claims)), times=_TIMES),
        unit="s",
        promised=1.0,
    )
    yield Figure(
        name=f"preview of tags, of {_CLAIMS:,} claims",
        value=seconds(lambda: _try_tags(living), times=_TIMES),
        unit="s",
        promised=1.0,
    )
    yield Figure(
        name=f"a claim written and the pages current again, of {_CLAIMS:,}",
        value=seconds(lambda: _write_claim(living, next(claims)), times=_TIMES),
        unit="s",
    )
    numbers = iter(range(_TIMES))
    yield Figure(
        name=f"tags written and the pages current again, of {_CLAIMS:,} claims",
        value=seconds(lambda: _write_tags(living, next(numbers)), times=_TIMES),
        unit="s",
    )


def _evidence(component: int) -> Evidence:
    return Evidence(feature=f"c{component:04}/f1", value="copper", source=f"s{component:05}", applies_to="all")


def _try_claim(living: Living, component: int) -> None:
    now = living.now()
    try_evidence(now.opened, _evidence(component), verdicts=now.verdicts, **_SIGNED)


def _try_tags(living: Living) -> None:
    now = living.now()
    try_tags(now.opened, "s00003", Tags(words={"kind": "notes"}), None, verdicts=now.verdicts)


def _write_claim(living: Living, component: int) -> None:
    add_evidence(living.now().opened, _evidence(component), **_SIGNED)
    _read_again(living)


def _write_tags(living: Living, number: int) -> None:
    tag_source(living.now().opened, "s00003", Tags(words={"holder": f"County record office {number}"}), None)
    _read_again(living)


def _read_again(living: Living) -> None:
    living.look_again()
    _ = living.now().verdicts
