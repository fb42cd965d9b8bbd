"""Check the records against one another: every fault that one record alone cannot show."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Any

from provenance.errors import Problem, Severity, sort_problems
from provenance.records.archive import Archive
from provenance.rules.archive_checks import gaps, impossible_production
from provenance.rules.date_checks import impossible_dates
from provenance.rules.example_checks import unknown_examples
from provenance.rules.reference_checks import circles, unknown_ids
from provenance.rules.value_checks import (
    copies_out_of_order,
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
    unknown_ids,
    circles,
    unknown_examples,
    impossible_dates,
    impossible_pages,
    impossible_values,
    undefined_signs,
    double_claims,
    several_in_force,
    copies_out_of_order,
    sources_without_kind,
)

_NEEDED_BY_JUDGEMENT: tuple[Callable[[Archive], Iterable[Problem]], ...] = (
    lambda archive: unknown_ids(archive, needed_only=True),
    unknown_examples,
    impossible_values,
    undefined_signs,
)
_JUDGED = ("components", "sources", "claims", "copies", "decisions")


def check_records(archive: Archive) -> tuple[Problem, ...]:
    """Every fault between records, in the order in which a person walks through the files; lines are not filled in."""
    return sort_problems([problem for check in ALL_CHECKS for problem in check(archive)])


def usable_part(archive: Archive) -> tuple[Archive, tuple[Problem, ...]]:
    """Set aside the records that cannot be judged on, and those that name them.

    A record that names something that is not there, or a machine that was never built, cannot be weighed. It is
    left out whole, never in part, and so in turn is whatever names it; the faults come back to be told.
    """
    faults: list[Problem] = []
    while True:
        found = [
            problem
            for check in _NEEDED_BY_JUDGEMENT
            for problem in check(archive)
            if problem.severity is Severity.ERROR and problem.place.file.partition("/")[0] in _JUDGED
        ]
        if not found:
            return archive, sort_problems(faults)
        faults += found
        archive = _without(archive, {problem.place.file for problem in found})


def _without(archive: Archive, files: set[str]) -> Archive:
    return replace(archive, **{folder: _kept(folder, getattr(archive, folder), files) for folder in _JUDGED})


def _kept(folder: str, records: Mapping[str, Any], files: set[str]) -> dict[str, Any]:
    return {record_id: record for record_id, record in records.items() if f"{folder}/{record_id}.yaml" not in files}
