"""Check the records against one another: every fault that one record alone cannot show."""

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import replace
from pathlib import PurePosixPath
from typing import TypeVar

from provenance.errors import Problem, sort_problems
from provenance.records.archive import Archive
from provenance.records.sources import Source
from provenance.rules.archive_checks import gaps, impossible_production
from provenance.rules.component_checks import ambiguous_components
from provenance.rules.date_checks import impossible_dates
from provenance.rules.example_checks import unknown_examples
from provenance.rules.hazard_words import hazards_not_named
from provenance.rules.measure_checks import claim_measures, component_measures, decision_measures
from provenance.rules.reference_checks import circles, unknown_ids
from provenance.rules.value_checks import (
    double_claims,
    impossible_pages,
    impossible_values,
    several_in_force,
    sources_without_kind,
    undefined_signs,
)

ALL_CHECKS: tuple[Callable[[Archive], Iterable[Problem]], ...] = (
    gaps,
    impossible_production,
    ambiguous_components,
    circles,
    unknown_examples,
    impossible_dates,
    impossible_pages,
    impossible_values,
    claim_measures,
    component_measures,
    decision_measures,
    undefined_signs,
    double_claims,
    several_in_force,
    sources_without_kind,
    hazards_not_named,
)

_NEEDED_BY_JUDGEMENT: tuple[Callable[[Archive], Iterable[Problem]], ...] = (
    ambiguous_components,
    unknown_examples,
    impossible_values,
    claim_measures,
    undefined_signs,
)
Record = TypeVar("Record")

_LARGE = ("claims", "sources")
_JUDGED = ("components", "sources", "claims", "copies", "decisions")


def check_records(archive: Archive, *, unreadable: frozenset[str] = frozenset()) -> tuple[Problem, ...]:
    """Every fault between records, in the order in which a person walks through the files; lines are not filled in.

    Args:
        archive: the records.
        unreadable: files of records that are there but cannot be used: naming one is told as such.
    """
    dangling = unknown_ids(archive, unreadable=unreadable)
    return sort_problems([*dangling, *(problem for check in ALL_CHECKS for problem in check(archive))])


def check_files(archive: Archive, files: Collection[str]) -> tuple[Problem, ...]:
    """Every fault between records that stands in one of some files: what `check_records` tells of them, and quicker.

    Args:
        archive: the records.
        files: of records, such as `claims/headlamp-kind-electric.yaml`.
    """
    part = _around(archive, files)
    alone = replace(part, components=_named_in("components", part.components, files))
    found = [*unknown_ids(part, among=archive), *circles(archive), *hazards_not_named(alone)]
    others = (check for check in ALL_CHECKS if check not in {circles, hazards_not_named})
    found += (problem for check in others for problem in check(part))
    return sort_problems([problem for problem in found if problem.place.file in files])


def _around(archive: Archive, files: Collection[str]) -> Archive:
    """The claims and sources on which it may depend whether records in these files have faults; all of the rest.

    A claim is held against others about the same feature, and against its sources; a source against those that it
    was made from, lies in or replaces, and it wants a kind where a claim cites it.
    """
    touched = {kind: {PurePosixPath(file).stem for file in files if file.startswith(f"{kind}/")} for kind in _LARGE}
    about = {archive.claims[name].about for name in touched["claims"] if name in archive.claims}
    claims = {
        name: claim
        for name, claim in archive.claims.items()
        if claim.about in about
        or (touched["sources"] and any(item.source in touched["sources"] for item in claim.evidence))
    }
    named = {item.source for claim in claims.values() for item in claim.evidence} | touched["sources"]
    for name in touched["sources"] & archive.sources.keys():
        named |= _led_to(archive.sources[name])
    sources = {name: archive.sources[name] for name in named if name in archive.sources}
    return replace(archive, claims=claims, sources=sources)


def _led_to(source: Source) -> set[str]:
    within = {source.within.source} if source.within else set()
    return (
        {parent.source for parent in source.derives_from} | within | ({source.replaces} if source.replaces else set())
    )


def usable_part(archive: Archive, *, unreadable: frozenset[str] = frozenset()) -> tuple[Archive, tuple[Problem, ...]]:
    """Set aside the records that cannot be judged on, and those that name them.

    A record that names something that is not there, or a machine that was never built, cannot be weighed. It is
    left out whole, never in part, and so in turn is whatever names it; the faults come back to be told.

    Args:
        archive: the records.
        unreadable: files of records that are there but cannot be used: naming one is told as such.
    """
    faults: list[Problem] = []
    while found := _stops_judgement(archive, unreadable):
        faults += found
        left_out = {problem.place.file for problem in found}
        unreadable |= left_out
        archive = _without(archive, left_out)
    return archive, sort_problems(faults)


def _stops_judgement(archive: Archive, unreadable: frozenset[str]) -> list[Problem]:
    dangling = unknown_ids(archive, needed_only=True, unreadable=unreadable)
    others = (problem for check in _NEEDED_BY_JUDGEMENT for problem in check(archive))
    return [problem for problem in (*dangling, *others) if problem.place.file.partition("/")[0] in _JUDGED]


def _without(archive: Archive, files: set[str]) -> Archive:
    return replace(
        archive,
        components=_kept("components", archive.components, files),
        sources=_kept("sources", archive.sources, files),
        claims=_kept("claims", archive.claims, files),
        copies=_kept("copies", archive.copies, files),
        decisions=_kept("decisions", archive.decisions, files),
    )


def _named_in(folder: str, records: Mapping[str, Record], files: Collection[str]) -> dict[str, Record]:
    return {record_id: record for record_id, record in records.items() if f"{folder}/{record_id}.yaml" in files}


def _kept(folder: str, records: Mapping[str, Record], files: set[str]) -> dict[str, Record]:
    return {record_id: record for record_id, record in records.items() if f"{folder}/{record_id}.yaml" not in files}
