"""Typed content that its schema has passed, made records; a building that fails after that is a fault of ours."""

from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import Any

from provenance.records.archive import Archive, Caution, Event, Person, RelatedType, Subject, Target
from provenance.records.claims import Claim
from provenance.records.components import Component
from provenance.records.dates import parse_edtf
from provenance.records.decisions import CopyPair, Decision, Lead, Panel, Query
from provenance.records.production import Batch, Production
from provenance.records.sources import Source
from provenance.store.building_claims import build_claim
from provenance.store.building_components import build_component
from provenance.store.building_decisions import build_copy, build_decision, build_lead, build_panel, build_query
from provenance.store.building_sources import build_source
from provenance.store.record_kinds import RecordKind

Record = Component | Source | Claim | CopyPair | Decision | Query | Panel | Lead
Records = Mapping[RecordKind, Mapping[str, Any]]
"""Built records by kind and id."""

_BUILDERS: dict[RecordKind, Callable[[str, dict[str, Any]], Record]] = {
    RecordKind.COMPONENT: build_component,
    RecordKind.SOURCE: build_source,
    RecordKind.CLAIM: build_claim,
    RecordKind.COPY: build_copy,
    RecordKind.DECISION: build_decision,
    RecordKind.QUERY: build_query,
    RecordKind.PANEL: build_panel,
    RecordKind.LEAD: build_lead,
}


def build_record(kind: RecordKind, record_id: str, content: dict[str, Any]) -> Record:
    """Build the record of one file; of any kind but the archive's own."""
    return _BUILDERS[kind](record_id, content)


def build_archive(content: dict[str, Any], records: Records) -> Archive:
    """Build the archive from what archive.yaml says and its records by kind and id."""
    get = content.get
    languages = get("languages")
    return Archive(
        title=content["title"],
        subject=_subject(get("subject")),
        production=Production(batches=tuple(_batch(batch) for batch in get("production", ()))),
        target=_target(get("target")),
        events=tuple(_event(event) for event in get("events", ())),
        related=tuple(RelatedType(name=entry["name"], note=entry.get("note")) for entry in get("related", ())),
        weights=_flatten(get("doctrine", {})),
        people=tuple(_person(person) for person in get("people", ())),
        cautions=tuple(_caution(caution) for caution in get("cautions", ())),
        components=records.get(RecordKind.COMPONENT, {}),
        sources=records.get(RecordKind.SOURCE, {}),
        claims=records.get(RecordKind.CLAIM, {}),
        copies=records.get(RecordKind.COPY, {}),
        decisions=records.get(RecordKind.DECISION, {}),
        queries=records.get(RecordKind.QUERY, {}),
        panels=records.get(RecordKind.PANEL, {}),
        leads=records.get(RecordKind.LEAD, {}),
        **({} if languages is None else {"languages": tuple(languages)}),
    )


def _subject(content: dict[str, Any] | None) -> Subject | None:
    if content is None:
        return None
    return Subject(name=content["name"], kind=content.get("kind"), claims_to_be=content.get("claims_to_be"))


def _batch(content: dict[str, Any]) -> Batch:
    return Batch(batch=content["batch"], examples=tuple(content["examples"]), built=parse_edtf(content["built"]))


def _target(content: dict[str, Any] | None) -> Target | None:
    if content is None:
        return None
    return Target(example=content["example"], as_at=parse_edtf(content["as_at"]), why=content.get("why"))


def _event(content: dict[str, Any]) -> Event:
    return Event(example=content["example"], date=parse_edtf(content["date"]), what=content["what"])


def _person(content: dict[str, Any]) -> Person:
    return Person(id=content["id"], name=content["name"], credited_as=content.get("credited_as"))


def _caution(content: dict[str, Any]) -> Caution:
    return Caution(
        hazard=content["hazard"],
        text=content["text"],
        consult=content["consult"],
        jurisdiction=content.get("jurisdiction"),
    )


def _flatten(doctrine: dict[str, Any], prefix: str = "") -> dict[str, Decimal]:
    """The team's own weights by path, such as `base.photograph`; fields of the team's own are left out."""
    weights: dict[str, Decimal] = {}
    for name, value in doctrine.items():
        if name.startswith("x-"):
            continue
        if isinstance(value, dict):
            weights |= _flatten(value, f"{prefix}{name}.")
        else:
            weights[prefix + name] = Decimal(value)
    return weights
