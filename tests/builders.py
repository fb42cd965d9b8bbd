"""Records made for tests, with defaults, so that only what matters shows.

The invented world: eleven petrol railcars in three batches; No. 9, of the third, is represented as it was in June 1934.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Any

from provenance.records.archive import Archive, Event, Person, RelatedType, Target
from provenance.records.claims import AppliesTo, At, Claim, EvidenceItem, Seen
from provenance.records.components import CommonTo, Component, Feature, Option, OptionSign, Sign
from provenance.records.dates import EdtfDate, parse_edtf
from provenance.records.decisions import CopyPair, Decision, SetAside
from provenance.records.examples import parse_examples
from provenance.records.kinds import (
    Aspect,
    Derivation,
    Expected,
    FeatureKind,
    How,
    KnownBy,
    Ruling,
    SourceKind,
    Stance,
)
from provenance.records.production import Batch, Production
from provenance.records.sources import DerivesFrom, Shows, Source, Withdrawal

BY = "mh"
FEATURE = "headlamp/type"


def a_date(text: str) -> EdtfDate:
    """A date, as written in EDTF."""
    return parse_edtf(text)


TODAY = a_date("2026-11-25")

PRODUCTION = Production(
    batches=(
        Batch(batch="first", examples=("1", "2", "3", "4"), built=a_date("1927/1928")),
        Batch(batch="second", examples=("5", "6", "7", "8"), built=a_date("1930")),
        Batch(batch="third", examples=("9", "10", "11"), built=a_date("1933")),
    )
)


def a_withdrawal(why: str = "found to be a later hoax") -> Withdrawal:
    """That something was taken out of judgement."""
    return Withdrawal(why=why, by=BY, date=TODAY)


def a_source(source_id: str, kind: str | None = "photograph", *, of: Iterable[str] = (), **fields: Any) -> Source:
    """A tagged source.

    Args:
        source_id: its id; the title is made from it unless given.
        kind: None for one that nobody has tagged.
        of: what it derives from, each as `parent` (then by citing it) or `how:parent`.
        fields: any other field of `Source`; `created` may be text.
    """
    created = fields.pop("created", None)
    return Source(
        id=source_id,
        title=fields.pop("title", source_id.replace("-", " ").capitalize()),
        by=BY,
        date=TODAY,
        kind=SourceKind(kind) if kind else None,
        created=a_date(created) if created else None,
        derives_from=tuple(_parent(each) for each in of),
        tagged=fields.pop("tagged", kind is not None),
        **fields,
    )


def shows(
    example: str | None, when: str | None = None, known_by: str | None = None, component: str | None = None
) -> Shows:
    """A machine that a source shows."""
    return Shows(
        example=example,
        when=a_date(when) if when else None,
        known_by=KnownBy(known_by) if known_by else None,
        component=component,
    )


def applies(examples: str | list[str] | None = "all", **fields: Any) -> AppliesTo:
    """What a statement covers; `since` and `until` may be text; examples None for a batch or a related type."""
    for end in ("since", "until"):
        if end in fields:
            fields[end] = a_date(fields[end])
    return AppliesTo(examples=parse_examples(examples) if examples is not None else None, **fields)


def seen_on(example: str, when: str | None = None, known_by: str = "number", signs: Sequence[str] = ()) -> Seen:
    """The machine that was seen, by its number unless said otherwise."""
    return Seen(example=example, when=a_date(when) if when else None, known_by=KnownBy(known_by), signs=tuple(signs))


def an_item(
    source: str, how: str = "states", *, stance: str = "supports", page: int | None = None, **fields: Any
) -> EvidenceItem:
    """One item of evidence; `who` is put in its place, other fields are those of `EvidenceItem`."""
    return EvidenceItem(
        source=source,
        stance=Stance(stance),
        how=How(how),
        at=fields.pop("at", At(page=page, who=fields.pop("who", None))),
        **fields,
    )


def against(source: str, how: str = "states", **fields: Any) -> EvidenceItem:
    """An item that speaks against its claim's value."""
    return an_item(source, how, stance="contradicts", **fields)


def a_claim(
    value: str,
    *evidence: EvidenceItem | str,
    about: str = FEATURE,
    claim_id: str | None = None,
    to: AppliesTo | str | list[str] = "9",
    withdrawn: Withdrawal | None = None,
) -> Claim:
    """A claim about the feature; a source's id alone stands for an item that states it; it covers No. 9 alone."""
    return Claim(
        id=claim_id or f"{about.replace('/', '-')}-{_slug(value)}",
        about=about,
        value=value,
        applies_to=to if isinstance(to, AppliesTo) else applies(to),
        evidence=tuple(an_item(each) if isinstance(each, str) else each for each in evidence),
        by=BY,
        date=TODAY,
        withdrawn=withdrawn,
    )


def an_option(option_id: str, *also: str, signs: Sequence[str] = ()) -> Option:
    """A value of a choice; its name is the id with a capital."""
    return Option(
        id=option_id,
        name=option_id.replace("-", " ").capitalize(),
        also=also,
        signs=tuple(OptionSign(sign=sign, expect=Expected.ALWAYS) for sign in signs),
    )


LAMPS = (an_option("acetylene", "gas lamp", signs=["conduit-on-cantrail"]), an_option("electric"), an_option("oil"))


def a_feature(feature_id: str = "type", kind: str = "choice", aspect: str = "form", **fields: Any) -> Feature:
    """A feature of the headlamp; a choice is between the lamps unless options are given."""
    if kind == "choice":
        fields.setdefault("options", LAMPS)
    return Feature(
        id=feature_id,
        name=fields.pop("name", "Headlamp type"),
        aspect=Aspect(aspect),
        kind=FeatureKind(kind),
        **fields,
    )


def a_component(component_id: str = "headlamp", *features: Feature, **fields: Any) -> Component:
    """The headlamp, with the one feature unless others are given; `needed_by` may be text."""
    needed_by = fields.pop("needed_by", None)
    return Component(
        id=component_id,
        name=fields.pop("name", component_id.capitalize()),
        by=BY,
        date=TODAY,
        features=features or (a_feature(),),
        needed_by=a_date(needed_by) if needed_by else None,
        signs=fields.pop("signs", (Sign(id="conduit-on-cantrail", name="conduit on the cantrail"),)),
        **fields,
    )


def common_over(examples: str | list[str], source: str) -> CommonTo:
    """That the component is interchangeable over these examples, says that source."""
    return CommonTo(examples=parse_examples(examples), source=source)


def an_event(date: str, what: str = "rebuilt after a collision", example: str = "9") -> Event:
    """Something that happened to a machine."""
    return Event(example=example, date=a_date(date), what=what)


def a_pair(one: str, other: str, ruling: str = "open") -> CopyPair:
    """Two sources that look like copies."""
    first, second = sorted((one, other))
    return CopyPair(id=f"{first}--{second}", between=(first, second), by=BY, date=TODAY, ruling=Ruling(ruling))


def a_decision(decision_id: str = "build-the-lamp", about: str = FEATURE, **fields: Any) -> Decision:
    """A released decision; `set_aside` may be pairs of claim and why, `date` text."""
    aside = fields.pop("set_aside", ())
    return Decision(
        id=decision_id,
        about=about,
        status=fields.pop("status", "released"),
        build=fields.pop("build", "acetylene"),
        by=BY,
        date=a_date(fields.pop("date", "2026-01-05")),
        set_aside=tuple(SetAside(claim=claim, why=why) for claim, why in aside),
        **fields,
    )


Record = Source | Claim | Component | CopyPair | Decision


def an_archive(*records: Record, **fields: Any) -> Archive:
    """An archive that represents No. 9 in June 1934; it has the headlamp unless a component is given.

    Args:
        records: in any order; a source that a claim cites and that is not given is a plain drawing.
        fields: any field of `Archive`; `weights` may hold numbers or text; `related` may hold names.
    """
    of_kind: dict[type, dict[str, Any]] = {Source: {}, Claim: {}, Component: {}, CopyPair: {}, Decision: {}}
    for record in records:
        of_kind[type(record)][record.id] = record
    for claim in of_kind[Claim].values():
        for item in claim.evidence:
            of_kind[Source].setdefault(item.source, a_source(item.source, "drawing"))
    if not of_kind[Component]:
        of_kind[Component]["headlamp"] = a_component()
    related = tuple(RelatedType(name=each) if isinstance(each, str) else each for each in fields.pop("related", ()))
    weights = {path: Decimal(str(weight)) for path, weight in fields.pop("weights", {}).items()}
    archive = Archive(
        title="Railcar No. 9",
        production=PRODUCTION,
        target=Target(example="9", as_at=a_date("1934-06")),
        people=(Person(id=BY, name="Mary Holt"),),
        related=related,
        weights=weights,
        sources=of_kind[Source],
        claims=of_kind[Claim],
        components=of_kind[Component],
        copies=of_kind[CopyPair],
        decisions=of_kind[Decision],
    )
    return replace(archive, **fields)


def _parent(written: str) -> DerivesFrom:
    how, _, parent = written.rpartition(":")
    return DerivesFrom(source=parent, how=Derivation(how or "cites"))


def _slug(value: str) -> str:
    return "-".join("".join(letter if letter.isalnum() else " " for letter in value.lower()).split()) or "value"
