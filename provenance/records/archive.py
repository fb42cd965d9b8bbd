"""The whole archive as one frozen value: what judgement is given."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cached_property

from provenance.records.claims import Claim
from provenance.records.components import Component, Feature
from provenance.records.dates import EdtfDate
from provenance.records.decisions import CopyPair, Decision, Lead, Panel, Query
from provenance.records.production import Production
from provenance.records.sources import Source


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """The class of machine, and what the finished object claims to be."""

    name: str
    kind: str | None = None
    claims_to_be: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Target:
    """What is represented: one example as it was at one date, and why that one."""

    example: str
    as_at: EdtfDate
    why: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """Something that happened to one example, such as a rebuilding."""

    example: str
    date: EdtfDate
    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RelatedType:
    """A sister type that analogies may be drawn from."""

    name: str
    note: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """Somebody of the team, or an author; `credited_as` is how print names them (None: by name)."""

    id: str
    name: str
    credited_as: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """A caution of the team's own, in addition to the built-in register."""

    hazard: str
    text: str
    consult: str
    jurisdiction: str | None = None


@dataclass(frozen=True, kw_only=True)
class Archive:
    """Everything that the team has recorded, by kind and id.

    Attributes:
        target: None in a new archive that does not say yet what it represents.
        languages: BCP 47 tags for sources that say nothing of theirs.
        weights: what the team changed of the standard weights (`doctrine`): path such as `base.photograph` to number.
    """

    title: str
    subject: Subject | None = None
    production: Production = field(default_factory=Production)
    target: Target | None = None
    events: tuple[Event, ...] = ()
    related: tuple[RelatedType, ...] = ()
    languages: tuple[str, ...] = ("en",)
    weights: Mapping[str, Decimal] = field(default_factory=dict)
    people: tuple[Person, ...] = ()
    cautions: tuple[Caution, ...] = ()
    components: Mapping[str, Component] = field(default_factory=dict)
    sources: Mapping[str, Source] = field(default_factory=dict)
    claims: Mapping[str, Claim] = field(default_factory=dict)
    copies: Mapping[str, CopyPair] = field(default_factory=dict)
    decisions: Mapping[str, Decision] = field(default_factory=dict)
    queries: Mapping[str, Query] = field(default_factory=dict)
    panels: Mapping[str, Panel] = field(default_factory=dict)
    leads: Mapping[str, Lead] = field(default_factory=dict)

    @cached_property
    def claims_by_feature(self) -> Mapping[str, tuple[Claim, ...]]:
        """The claims about each feature, by `component/feature`, in order of their ids."""
        grouped: dict[str, list[Claim]] = defaultdict(list)
        for claim_id in sorted(self.claims):
            claim = self.claims[claim_id]
            grouped[claim.about].append(claim)
        return {about: tuple(claims) for about, claims in grouped.items()}

    @cached_property
    def features(self) -> Mapping[str, Feature]:
        """Every feature by `component/feature`, in order of component id, then as the component lists them."""
        return {
            f"{component_id}/{feature.id}": feature
            for component_id in sorted(self.components)
            for feature in self.components[component_id].features
        }

    @cached_property
    def person_ids(self) -> frozenset[str]:
        """The ids of all people."""
        return frozenset(person.id for person in self.people)
