"""Which record names which: every reference from one record to another, with its place."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass

from provenance.records.archive import Archive
from provenance.records.claims import Claim
from provenance.records.components import Component, Feature
from provenance.records.decisions import CopyPair, Decision, Lead, Panel, Query
from provenance.records.sources import Source

SOURCES = "sources"
COMPONENTS = "components"
FEATURES = "features"
CLAIMS = "claims"
DECISIONS = "decisions"
PANELS = "panels"
COPIES = "copies"
PEOPLE = "people"
ANYTHING_QUERIED = "features, decisions or panels"


@dataclass(frozen=True, slots=True)
class Reference:
    """One record naming another.

    Attributes:
        folder: the kind of the record that names, as its folder is called, such as `claims`.
        id: of the record that names.
        field: where in it, such as `evidence[0].source`.
        to: what is named: `sources`, `components`, `features`, `claims`, `decisions`, `people`.
        name: the id that is written there.
        needed: whether judgement cannot do without it.
    """

    folder: str
    id: str
    field: str
    to: str
    name: str
    needed: bool = True

    @property
    def file(self) -> str:
        """The file of the record that names."""
        return f"{self.folder}/{self.id}.yaml"

    @property
    def leads_to(self) -> frozenset[str]:
        """The files in which what is named may stand."""
        folders = (FEATURES, DECISIONS, PANELS) if self.to == ANYTHING_QUERIED else (self.to,)
        return frozenset(
            f"{COMPONENTS}/{self.name.partition('/')[0]}.yaml" if folder == FEATURES else f"{folder}/{self.name}.yaml"
            for folder in folders
        )


def references_of(archive: Archive) -> Iterator[Reference]:
    """Every reference in the archive, folder by folder, in order of id."""
    for folder, records, naming in _naming(archive):
        for record_id in sorted(records):
            for field, to, name, needed in naming(records[record_id]):
                yield Reference(folder, record_id, field, to, name, needed)


_Named = tuple[str, str, str, bool]


def _naming(archive: Archive) -> tuple[tuple[str, Mapping[str, object], Callable[..., Iterable[_Named]]], ...]:
    return (
        (CLAIMS, archive.claims, _of_claim),
        (COMPONENTS, archive.components, _of_component),
        (COPIES, archive.copies, _of_copies),
        (DECISIONS, archive.decisions, _of_decision),
        ("leads", archive.leads, _of_lead),
        (PANELS, archive.panels, _of_panel),
        ("queries", archive.queries, _of_query),
        (SOURCES, archive.sources, _of_source),
    )


def _by(person: str | None, field: str = "by") -> Iterator[_Named]:
    if person is not None:
        yield field, PEOPLE, person, False


def _of_claim(claim: Claim) -> Iterator[_Named]:
    yield "about", FEATURES, claim.about, True
    yield from _by(claim.by)
    if claim.withdrawn:
        yield from _by(claim.withdrawn.by, "withdrawn.by")
    for number, item in enumerate(claim.evidence):
        place = f"evidence[{number}]"
        yield f"{place}.source", SOURCES, item.source, True
        if item.via is not None:
            yield f"{place}.via", SOURCES, item.via, True
        yield from _by(item.by, f"{place}.by")
        if item.withdrawn:
            yield from _by(item.withdrawn.by, f"{place}.withdrawn.by")


def _of_component(component: Component) -> Iterator[_Named]:
    yield from _by(component.by)
    if component.part_of is not None:
        yield "part_of", COMPONENTS, component.part_of, False
    for number, common in enumerate(component.common_to):
        yield f"common_to[{number}].source", SOURCES, common.source, True
    for number, feature in enumerate(component.features):
        yield from _of_feature(feature, f"features[{number}]")


def _of_feature(feature: Feature, place: str) -> Iterator[_Named]:
    for number, option in enumerate(feature.options):
        for place_of_sign, sign in enumerate(option.signs):
            if sign.source is not None:
                yield f"{place}.options[{number}].signs[{place_of_sign}].source", SOURCES, sign.source, True
    for number, mate in enumerate(feature.mates):
        yield f"{place}.mates[{number}].with", FEATURES, mate.mate, False


def _of_copies(pair: CopyPair) -> Iterator[_Named]:
    yield from _by(pair.by)
    yield from _by(pair.ruled_by, "ruled_by")
    for number, source in enumerate(pair.between):
        yield f"between[{number}]", SOURCES, source, True


def _of_decision(decision: Decision) -> Iterator[_Named]:
    yield "about", FEATURES, decision.about, True
    yield from _by(decision.by)
    if decision.released:
        yield from _by(decision.released.by, "released.by")
    if decision.withdrawn:
        yield from _by(decision.withdrawn.by, "withdrawn.by")
    for number, claim in enumerate(decision.basis):
        yield f"basis[{number}]", CLAIMS, claim, True
    for number, aside in enumerate(decision.set_aside):
        yield f"set_aside[{number}].claim", CLAIMS, aside.claim, True
    if decision.replaces is not None:
        yield "replaces", DECISIONS, decision.replaces, True


def _of_lead(lead: Lead) -> Iterator[_Named]:
    yield from _by(lead.by)
    for number, feature in enumerate(lead.hoped_for):
        yield f"hoped_for[{number}]", FEATURES, feature, False


def _of_panel(panel: Panel) -> Iterator[_Named]:
    yield from _by(panel.by)
    for number, component in enumerate(panel.components):
        yield f"components[{number}]", COMPONENTS, component, False
    for number, statement in enumerate(panel.statements):
        for place, feature in enumerate(statement.features):
            yield f"statements[{number}].features[{place}]", FEATURES, feature, False


def _of_query(query: Query) -> Iterator[_Named]:
    yield "about", ANYTHING_QUERIED, query.about, False
    yield from _by(query.by)


def _of_source(source: Source) -> Iterator[_Named]:
    yield from _by(source.by)
    if source.withdrawn:
        yield from _by(source.withdrawn.by, "withdrawn.by")
    for number, parent in enumerate(source.derives_from):
        yield f"derives_from[{number}].source", SOURCES, parent.source, True
    if source.within is not None:
        yield "within.source", SOURCES, source.within.source, False
    if source.replaces is not None:
        yield "replaces", SOURCES, source.replaces, True
    for number, shown in enumerate(source.shows):
        if shown.component is not None:
            yield f"shows[{number}].component", COMPONENTS, shown.component, False
    for number, topic in enumerate(source.topics):
        yield f"topics[{number}]", COMPONENTS, topic, False


def known_names(archive: Archive) -> dict[str, frozenset[str]]:
    """What can be named, by what a reference is to."""
    features = frozenset(archive.features)
    return {
        SOURCES: frozenset(archive.sources),
        COMPONENTS: frozenset(archive.components),
        FEATURES: features,
        CLAIMS: frozenset(archive.claims),
        DECISIONS: frozenset(archive.decisions),
        PEOPLE: archive.person_ids,
        ANYTHING_QUERIED: features | frozenset(archive.decisions) | frozenset(archive.panels),
    }
