"""Records as the public may see them: each is written anew from the fields that may be shown, and from no others."""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, replace

from provenance.records.archive import Archive, Caution, Event, Person, RelatedType, Target
from provenance.records.claims import AppliesTo, Claim, EvidenceItem
from provenance.records.components import Component, Feature, Option, Sign
from provenance.records.decisions import (
    PICTURE,
    AlikePlace,
    CopyPair,
    Decision,
    FoundBy,
    Made,
    MadeDrawing,
    ModernChange,
    Panel,
    SetAside,
    Statement,
)
from provenance.records.kinds import Access, FeatureKind
from provenance.records.sources import DerivesFrom, Rights, Shows, Source
from provenance.rules.copy_families import is_of_pictures, places_of

_NOBODY = ""
"""Who made a record is the team's own business."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Censor:
    """What the public form of every record is written with.

    Attributes:
        say: strikes out of a text what must not be said.
        named: gives of a person's name, or of an id of `people`, what stands for it in public.
        kept: ids of the sources that may be shown.
        ids: the public id of each source that is shown, or stands without a name behind one that is, by its own.
        related: what each related type is called in public, by its name.
        claims: the public id of each claim that may be shown, by its own.
        decisions: the public id of each decision that may be shown, by its own.
    """

    say: Callable[[str], str]
    named: Callable[[str], str]
    kept: Collection[str]
    ids: Mapping[str, str]
    related: Mapping[str, str]
    claims: Mapping[str, str]
    decisions: Mapping[str, str]

    def say_if(self, text: str | None) -> str | None:
        """The same for a text that may be absent."""
        return self.say(text) if text else None

    def source_if(self, source: str | None) -> str | None:
        """The public id of a source where it has one, else None."""
        return self.ids.get(source or "")


def public_head(archive: Archive, censor: Censor) -> Archive:
    """The archive's own record, without any others."""
    target, subject = archive.target, archive.subject
    return Archive(
        title=censor.say(archive.title),
        subject=subject and replace(subject, name=censor.say(subject.name), kind=censor.say_if(subject.kind)),
        production=archive.production,
        target=target and Target(example=target.example, as_at=target.as_at, why=censor.say_if(target.why)),
        events=tuple(Event(example=e.example, date=e.date, what=censor.say(e.what)) for e in archive.events),
        related=tuple(RelatedType(name=censor.related[each.name]) for each in archive.related),
        languages=archive.languages,
        weights=archive.weights,
        people=tuple(Person(id=each.id, name=each.credited_as or each.name) for each in archive.people),
        cautions=tuple(_public_caution(each, censor) for each in archive.cautions),
    )


def _public_caution(caution: Caution, censor: Censor) -> Caution:
    return Caution(
        hazard=caution.hazard,
        text=censor.say(caution.text),
        consult=censor.say(caution.consult),
        jurisdiction=censor.say_if(caution.jurisdiction),
    )


def public_source(source: Source, censor: Censor, *, creator: str | None) -> Source:
    """A source that may be shown: what it is, where it is kept, what it was made from; nothing of how it came."""
    rights = source.rights
    return Source(
        id=source.id,
        title=censor.say(source.title),
        by=_NOBODY,
        date=source.date,
        kind=source.kind,
        created=source.created,
        creator=creator,
        occasion=censor.say_if(source.occasion),
        holder=censor.say_if(source.holder),
        reference=censor.say_if(source.reference),
        language=source.language,
        within=source.within if source.within and source.within.source in censor.kept else None,
        derives_from=tuple(
            DerivesFrom(source=censor.ids[each.source], how=each.how)
            for each in source.derives_from
            if each.source in censor.ids
        ),
        origin_stated=source.origin_stated,
        issue=source.issue,
        replaces=censor.source_if(source.replaces),
        executed=source.executed,
        process=source.process,
        altered=source.altered,
        reliability=source.reliability,
        reliability_why=censor.say_if(source.reliability_why),
        shows=tuple(
            Shows(example=each.example, when=each.when, known_by=each.known_by, component=each.component)
            for each in source.shows
        ),
        rights=rights
        and Rights(statement=rights.statement, credit=censor.say_if(rights.credit), publish=rights.publish),
        access=Access.OPEN,
        hazards=source.hazards,
        topics=source.topics,
        tagged=source.tagged,
    )


def public_claim(claim: Claim, feature: Feature, items: tuple[EvidenceItem, ...], censor: Censor) -> Claim:
    """A claim with those of its items that may be shown; without its reasoning, which may speak of the others.

    The value of a choice is written as the option's id, which stays as it is where words are struck out of its name.
    """
    option = feature.option_named(claim.value) if feature.kind is FeatureKind.CHOICE else None
    return Claim(
        id=censor.claims[claim.id],
        about=claim.about,
        value=option.id if option else claim.value,
        applies_to=_public_coverage(claim.applies_to, censor),
        evidence=tuple(_public_item(item, censor) for item in items),
        by=_NOBODY,
        date=claim.date,
        uncertainty=claim.uncertainty,
        uncertainty_standard=claim.uncertainty_standard,
    )


def _public_coverage(covered: AppliesTo, censor: Censor) -> AppliesTo:
    return (
        replace(covered, related=censor.related.get(covered.related, covered.related)) if covered.related else covered
    )


def _public_item(item: EvidenceItem, censor: Censor) -> EvidenceItem:
    return EvidenceItem(
        source=item.source,
        stance=item.stance,
        how=item.how,
        at=replace(item.at, who=censor.named(item.at.who) if item.at.who else None),
        legibility=item.legibility,
        condition=item.condition,
        quote=censor.say_if(item.quote),
        seen=item.seen
        and replace(item.seen, why=None, example=censor.related.get(item.seen.example, item.seen.example)),
        applies_to=item.applies_to and _public_coverage(item.applies_to, censor),
        via=censor.source_if(item.via),
        signs=item.signs,
    )


def public_component(component: Component, censor: Censor) -> Component:
    """A component with its features; without the team's notes and its programme."""
    return Component(
        id=component.id,
        name=censor.say(component.name),
        by=_NOBODY,
        date=component.date,
        part_of=component.part_of,
        references=tuple(map(censor.say, component.references)),
        also_called=tuple(map(censor.say, component.also_called)),
        hazards=component.hazards,
        made_as=component.made_as,
        common_to=tuple(each for each in component.common_to if each.source in censor.kept),
        prominence=component.prominence,
        features=tuple(_public_feature(feature, censor) for feature in component.features),
        signs=tuple(Sign(id=sign.id, name=censor.say(sign.name)) for sign in component.signs),
    )


def _public_feature(feature: Feature, censor: Censor) -> Feature:
    return replace(
        feature,
        name=censor.say(feature.name),
        datum=censor.say_if(feature.datum),
        note=None,
        options=tuple(_public_option(each, censor) for each in feature.options),
    )


def _public_option(option: Option, censor: Censor) -> Option:
    return replace(
        option,
        name=censor.say(option.name),
        also=tuple(map(censor.say, option.also)),
        signs=tuple(replace(sign, source=censor.source_if(sign.source)) for sign in option.signs),
    )


def public_pair(pair: CopyPair, censor: Censor) -> CopyPair:
    """Two sources that look like copies of one another; without the reasons.

    By what method they were found, and on which pages, says what hangs together.
    """
    (one, at_one), (other, at_other) = sorted(
        ((censor.ids[source], page) for source, page in places_of(pair)), key=lambda place: place[0]
    )
    places = (AlikePlace(page=at_one), AlikePlace(page=at_other))
    return CopyPair(
        id=f"{one}--{other}",
        between=(one, other),
        by=_NOBODY,
        date=pair.date,
        ruling=pair.ruling,
        how=pair.how,
        found_by=FoundBy(method=PICTURE, places=places) if is_of_pictures(pair) else None,
    )


def public_decision(decision: Decision, censor: Censor) -> Decision:
    """A released decision: what is built and why, and when it was made; not who decided, made or inspected it."""
    change = decision.modern_change
    return Decision(
        id=censor.decisions[decision.id],
        about=decision.about,
        status=decision.status,
        build=censor.say(decision.build),
        by=_NOBODY,
        date=decision.date,
        tolerance=censor.say_if(decision.tolerance),
        basis=tuple(censor.claims[each] for each in decision.basis if each in censor.claims),
        set_aside=tuple(
            SetAside(claim=censor.claims[each.claim], why=censor.say(each.why))
            for each in decision.set_aside
            if each.claim in censor.claims
        ),
        modern_change=change and ModernChange(reason=change.reason, note=censor.say_if(change.note)),
        drawings=tuple(
            MadeDrawing(number=censor.say(each.number), issue=censor.say_if(each.issue)) for each in decision.drawings
        ),
        grade_then=decision.grade_then,
        replaces=censor.decisions.get(decision.replaces or ""),
        stamp=censor.say_if(decision.stamp),
        why=censor.say_if(decision.why),
        made=tuple(Made(date=each.date) for each in decision.made),
    )


def public_panel(panel: Panel, censor: Censor) -> Panel:
    """A panel as it hangs: its title, statements and parts, and what was printed of it."""
    return Panel(
        id=panel.id,
        title=censor.say(panel.title),
        by=_NOBODY,
        date=panel.date,
        statements=tuple(Statement(text=censor.say(s.text), features=s.features) for s in panel.statements),
        components=panel.components,
        printed=panel.printed,
    )
