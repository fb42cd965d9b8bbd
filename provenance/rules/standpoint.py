"""The machine and the day that a feature is judged for."""

from collections.abc import Iterable
from dataclasses import dataclass

from provenance.records.archive import Archive, Event
from provenance.records.claims import AppliesTo
from provenance.records.components import Component, Feature
from provenance.records.dates import EdtfDate
from provenance.records.examples import ExamplesError, ExampleSet
from provenance.records.kinds import Changes
from provenance.records.production import Production


@dataclass(frozen=True, slots=True, kw_only=True)
class Standpoint:
    """What the items about one feature are held against.

    Attributes:
        component: id of the component.
        target: number of the machine that is represented; None while the archive does not say.
        as_at: the date at which it is represented; None while the archive does not say.
        counts: the date that a statement has to hold for: `as_at`, or when the target's batch was built for a feature
            that changes from one machine to the next.
        counts_words: what that date is, in words.
        batch: the machines of the target's batch, with the target.
        production: the production sequence.
        related: the names of the related types.
        events: what happened to the target.
        common: sets of machines, the target among them, over which the component is interchangeable, each with the
            source that says so.
        told_apart_by: the signs that some option of the feature lists.
    """

    component: str
    target: str | None
    as_at: EdtfDate | None
    counts: EdtfDate | None
    counts_words: str
    batch: frozenset[str]
    production: Production
    related: frozenset[str]
    events: tuple[Event, ...]
    common: tuple[tuple[frozenset[str], str], ...]
    told_apart_by: frozenset[str]


def standpoint_of(archive: Archive, component: Component, feature: Feature) -> Standpoint:
    """Say for which machine and day a feature is judged."""
    target, production = archive.target, archive.production
    built = production.batch_of(target.example) if target and target.example in production else None
    at_build = feature.changes is Changes.AT_BUILD and built is not None
    as_at = target.as_at if target else None
    return Standpoint(
        component=component.id,
        target=target.example if target else None,
        as_at=as_at,
        counts=built.built if at_build and built else as_at,
        counts_words="the building of its batch" if at_build else "the day represented",
        batch=frozenset(built.examples) if built else frozenset(),
        production=production,
        related=frozenset(related.name for related in archive.related),
        events=tuple(event for event in archive.events if target and event.example == target.example),
        common=tuple(_common_sets(component, archive)),
        told_apart_by=frozenset(sign.sign for option in feature.options for sign in option.signs),
    )


def examples_of(applies_to: AppliesTo, production: Production) -> frozenset[str] | None:
    """List the machines that a statement is about; None where the record names one that was not built."""
    if applies_to.batch is not None:
        batch = production.batch_named(applies_to.batch)
        return frozenset(batch.examples) if batch else None
    return None if applies_to.examples is None else _expand(applies_to.examples, production)


def _common_sets(component: Component, archive: Archive) -> Iterable[tuple[frozenset[str], str]]:
    for common in component.common_to:
        examples = _expand(common.examples, archive.production)
        if examples and archive.target and archive.target.example in examples:
            yield examples, common.source


def _expand(examples: ExampleSet, production: Production) -> frozenset[str] | None:
    try:
        return frozenset(production.expand(examples))
    except ExamplesError:
        return None
