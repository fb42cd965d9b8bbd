"""What a form offers to whoever enters what a source says of a feature: names instead of codes, the usual first."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from provenance.records.archive import Archive
from provenance.records.claims import AppliesTo, Claim, EvidenceItem, Seen
from provenance.records.components import Component, Feature
from provenance.records.kinds import FeatureKind, How, Stance
from provenance.records.sources import Source
from provenance.records.wording import fold_wording
from provenance.reports.feature_words import feature_name
from provenance.rules.applicability import seen_in
from provenance.rules.askable import Askable, askable

Choice = tuple[str, str]
"""What is written down where it is chosen, and what people read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClaimAsked:
    """What can be said of a feature.

    Attributes:
        feature: None where none was chosen yet, or the name is none of a feature.
        component: that it belongs to; None likewise.
        values: what may be chosen as its value; empty where the value is typed.
        wordings: how the value was worded so far, in order.
        signs: of the component, that tell the options apart.
        parents: of the source, through which it may have what it says.
        makes_sense: what is asked at all.
        taken_seen: the machine that is taken to have been seen where nothing else is said, by the source's own record;
            None where it says none, or may say one for some other component.
    """

    feature: Feature | None
    component: Component | None
    values: tuple[Choice, ...]
    wordings: tuple[str, ...]
    signs: tuple[Choice, ...]
    parents: tuple[Choice, ...]
    makes_sense: Askable
    taken_seen: str | None


def claim_asked(archive: Archive, name: str, source: Source) -> ClaimAsked:
    """Tell what can be said of a feature by a source.

    Args:
        archive: the archive.
        name: `component/feature`; anything else leaves the feature open.
        source: the source.
    """
    feature = archive.features.get(name)
    component = archive.components[name.partition("/")[0]] if feature else None
    parents = [each.source for each in source.derives_from]
    return ClaimAsked(
        feature=feature,
        component=component,
        values=tuple(_values(feature)) if feature else (),
        wordings=tuple(_wordings(archive, name, feature)) if feature else (),
        signs=tuple((sign.id, sign.name) for sign in component.signs) if component else (),
        parents=tuple((each, archive.sources[each].title if each in archive.sources else each) for each in parents),
        makes_sense=askable(feature, source),
        taken_seen=_taken_seen(source, component),
    )


def _taken_seen(source: Source, component: Component | None) -> str | None:
    """As judgement takes it of an item that names no machine of its own."""
    item = EvidenceItem(source=source.id, stance=Stance.SUPPORTS, how=How.SHOWS)
    seen = seen_in(item, source, component.id if component else "")
    return seen.example if seen else None


def _values(feature: Feature) -> Iterator[Choice]:
    if feature.kind is FeatureKind.CHOICE:
        for option in feature.options:
            also = f" ({', '.join(option.also)})" if option.also else ""
            yield option.id, f"{option.name}{also}"
    elif feature.kind is FeatureKind.PRESENCE:
        yield "present", "present"
        yield "absent", "absent"


def _wordings(archive: Archive, name: str, feature: Feature) -> Iterator[str]:
    if feature.kind not in {FeatureKind.TEXT, FeatureKind.QUANTITY}:
        return
    known = [claim.value for claim in archive.claims_by_feature.get(name, ()) if claim.withdrawn is None]
    yield from dict.fromkeys([*known, *(wording for group in feature.same for wording in group)])


def features_to_choose(archive: Archive) -> tuple[Choice, ...]:
    """Every feature by what is typed for it, with its name in the records and the numbers of its component.

    What is typed is the name of the component and its own; its name in the records where two are called alike.
    """
    names = {name: feature_name(name, archive) for name in archive.features}
    often = Counter(map(fold_wording, names.values()))
    return tuple(
        (called if often[fold_wording(called)] == 1 else name, _beside(archive, name)) for name, called in names.items()
    )


def feature_meant(archive: Archive, typed: str) -> str:
    """The feature that somebody means who types its name in the records, or what it is called; else what was typed."""
    if typed in archive.features:
        return typed
    wanted = fold_wording(typed)
    meant = [name for name in archive.features if fold_wording(feature_name(name, archive)) == wanted]
    return meant[0] if len(meant) == 1 else typed


def feature_typed(archive: Archive, name: str) -> str:
    """What is typed for a feature, as `features_to_choose` has it; a name that is none of a feature as it is."""
    if name not in archive.features:
        return name
    called = feature_name(name, archive)
    return called if feature_meant(archive, called) == name else name


def _beside(archive: Archive, name: str) -> str:
    return ", ".join([name, *archive.components[name.partition("/")[0]].references])


def coverage_choices(archive: Archive) -> tuple[Choice, ...]:
    """What a source may say that it covers: all machines, a batch, one machine, a related type."""
    batches = [
        (f"batch={batch.batch}", f"the {batch.batch} batch ({_run(batch.examples)})")
        for batch in archive.production.batches
    ]
    related = [(f"related={each.name}", f"the related type {each.name}") for each in archive.related]
    return (("all", "all machines"), *_machines(archive), *batches, *related)


def seen_choices(archive: Archive) -> tuple[Choice, ...]:
    """Which machine may have been seen."""
    return (*_machines(archive), *((each.name, f"the related type {each.name}") for each in archive.related))


def _machines(archive: Archive) -> Iterator[Choice]:
    """The machine that is represented first, then all in order of building."""
    target = archive.target.example if archive.target else None
    if target is not None and target in archive.production:
        yield target, f"No. {target}, the one that is represented"
    for example in archive.production.order:
        if example != target:
            yield example, f"No. {example}"


def _run(examples: tuple[str, ...]) -> str:
    if len(examples) < 2:
        return f"No. {''.join(examples)}" if examples else "no machine"
    return f"No. {examples[0]} to {examples[-1]}"


def coverage_typed(applies: AppliesTo) -> str:
    """What a claim covers, as it is typed: `all`, `5..8`, `batch=third,from=1934`."""
    dates = {"from": applies.since, "until": applies.until}
    pairs = [f",{key}={date}" for key, date in dates.items() if date is not None]
    if applies.examples is not None:
        terms = applies.examples.terms
        named = "all" if terms is None else ", ".join(str(term) for term in terms)
        return f"examples={named}{''.join(pairs)}" if pairs else named
    key, name = ("batch", applies.batch) if applies.batch is not None else ("related", applies.related)
    return f"{key}={name}{''.join(pairs)}"


def seen_last(claim: Claim, source: str) -> Seen | None:
    """The machine that the last item of a claim from that source names as seen; None where it names none."""
    items = [item for item in claim.evidence if item.source == source and item.withdrawn is None]
    return items[-1].seen if items else None
