"""What rests on a record: everything that would have to be looked at again if it were wrong.

From a source the way goes on to the sources that derive from it, the claims that cite any of them, the decisions that
are based on those claims, what was made to them, the panels that speak of their features, and what was printed of
those. A container passes on no descent, a later issue stands by itself, a decision that sets a claim aside does not
rest on it, and what a source says of a whole component bears on verdicts, not on claims: these are named, and the way
ends there.
"""

from collections import defaultdict, deque
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from provenance.records.archive import Archive
from provenance.records.claims import Claim, EvidenceItem
from provenance.records.components import Component
from provenance.records.decisions import Decision, Panel
from provenance.records.kinds import Ruling
from provenance.rules.references import CLAIMS, COMPONENTS, COPIES, DECISIONS, FEATURES, PANELS, SOURCES

QUERIES = "queries"
LEADS = "leads"
KINDS = (SOURCES, COMPONENTS, FEATURES, CLAIMS, COPIES, DECISIONS, QUERIES, PANELS, LEADS)


@dataclass(frozen=True, slots=True, order=True)
class Thing:
    """A record or a feature: its kind as its folder is called (`features` for a feature), and its id."""

    kind: str
    id: str

    @property
    def record(self) -> str:
        """Its record file; of a feature that of its component."""
        if self.kind == FEATURES:
            return f"{COMPONENTS}/{self.id.partition('/')[0]}.yaml"
        return f"{self.kind}/{self.id}.yaml"


@dataclass(frozen=True, slots=True, kw_only=True)
class Resting:
    """A record that rests on something, and how, in words.

    Attributes:
        record: its file, relative to the archive.
    """

    record: str
    how: str


@dataclass(frozen=True, slots=True)
class _Step:
    """One record that rests on another; `goes_on` where what rests on it in turn rests on the other too."""

    thing: Thing
    how: str
    goes_on: bool = True


Steps = Mapping[Thing, Sequence[_Step]]
"""What rests at once on each thing."""


def things_named(archive: Archive, name: str) -> tuple[Thing, ...]:
    """What a name may mean: an id, `component/feature` or a record's file; empty where nothing is so named."""
    plain = name.removesuffix(".yaml")
    holders: tuple[tuple[str, Mapping[str, object]], ...] = (
        (SOURCES, archive.sources),
        (COMPONENTS, archive.components),
        (FEATURES, archive.features),
        (CLAIMS, archive.claims),
        (COPIES, archive.copies),
        (DECISIONS, archive.decisions),
        (QUERIES, archive.queries),
        (PANELS, archive.panels),
        (LEADS, archive.leads),
    )
    named = (
        Thing(kind, record_id)
        for kind, records in holders
        for record_id in (name, plain.removeprefix(f"{kind}/") if plain.startswith(f"{kind}/") else name)
        if record_id in records
    )
    return tuple(dict.fromkeys(named))


def what_rests_on(archive: Archive, asked: Thing, steps: Steps | None = None) -> tuple[Resting, ...]:
    """Everything that rests on a record or a feature, the nearest first; each way of resting is told once.

    Args:
        archive: the archive.
        asked: the record or the feature.
        steps: of the same archive, where they are at hand; None to have them gathered.
    """
    steps = all_steps(archive) if steps is None else steps
    reached = {asked}
    waiting = deque([asked])
    found: dict[Resting, None] = {}
    while waiting:
        thing = waiting.popleft()
        for step in steps.get(thing, ()):
            found.setdefault(Resting(record=step.thing.record, how=step.how))
            if step.goes_on and step.thing not in reached:
                reached.add(step.thing)
                waiting.append(step.thing)
    return tuple(found)


def all_steps(archive: Archive) -> Steps:
    """Gather what rests on what at once in the whole archive, to be asked of several records."""
    steps: dict[Thing, list[_Step]] = defaultdict(list)  # asked by `get`, which adds nothing
    for gathered in (_of_sources, _of_components, _of_claims, _of_copies, _of_decisions, _of_panels, _of_queries):
        for below, step in gathered(archive):
            steps[below].append(step)
    return steps


_Pairs = Iterator[tuple[Thing, _Step]]


def _of_sources(archive: Archive) -> _Pairs:
    for source_id in sorted(archive.sources):
        source = archive.sources[source_id]
        this = Thing(SOURCES, source_id)
        for parent in source.derives_from:
            yield Thing(SOURCES, parent.source), _Step(this, f"derives from {parent.source} ({parent.how})")
        if source.within is not None:
            yield Thing(SOURCES, source.within.source), _Step(this, f"is kept in {source.within.source}", goes_on=False)
        if source.replaces is not None:
            yield Thing(SOURCES, source.replaces), _Step(this, f"is a later issue of {source.replaces}", goes_on=False)
        for topic in source.topics:
            yield Thing(COMPONENTS, topic), _Step(this, f"speaks of {topic}", goes_on=False)


def _of_components(archive: Archive) -> _Pairs:
    for component_id in sorted(archive.components):
        component = archive.components[component_id]
        this = Thing(COMPONENTS, component_id)
        if component.part_of is not None:
            yield Thing(COMPONENTS, component.part_of), _Step(this, f"is part of {component.part_of}")
        for feature in component.features:
            name = f"{component_id}/{feature.id}"
            yield this, _Step(Thing(FEATURES, name), f"{name} is a feature of {component_id}")
            for mate in feature.mates:
                how = f"{name} has to fit {mate.mate} ({mate.rule})"
                yield Thing(FEATURES, mate.mate), _Step(Thing(FEATURES, name), how, goes_on=False)
        yield from _said_by_sources(component, this)
    for lead_id in sorted(archive.leads):
        for feature_name in archive.leads[lead_id].hoped_for:
            step = _Step(Thing(LEADS, lead_id), f"is hoped to tell of {feature_name}", goes_on=False)
            yield Thing(FEATURES, feature_name), step


def _said_by_sources(component: Component, this: Thing) -> _Pairs:
    for common in component.common_to:
        how = f"is the same over {common.examples}, says {common.source}: its verdicts may rest on that"
        yield Thing(SOURCES, common.source), _Step(this, how, goes_on=False)
    for feature in component.features:
        name = Thing(FEATURES, f"{component.id}/{feature.id}")
        for option in feature.options:
            for sign in option.signs:
                if sign.source is not None:
                    how = f"{name.id}: {sign.sign} is {sign.expect} seen with {option.id}, says {sign.source}"
                    yield Thing(SOURCES, sign.source), _Step(name, how, goes_on=False)


def _of_claims(archive: Archive) -> _Pairs:
    for claim_id in sorted(archive.claims):
        claim = archive.claims[claim_id]
        this = Thing(CLAIMS, claim_id)
        value = f"claims “{claim.value}” for {claim.about}"
        yield Thing(FEATURES, claim.about), _Step(this, f"{value}{_gone(claim)}")
        for item in claim.evidence:
            goes_on = claim.withdrawn is None and item.withdrawn is None
            how = f"{value}, and {_cites(item)}{_gone(item) or _gone(claim)}"
            yield Thing(SOURCES, item.source), _Step(this, how, goes_on)
            if item.via is not None:
                yield Thing(SOURCES, item.via), _Step(this, f"{value}, by way of {item.via}{_gone(item)}", goes_on)


def _cites(item: EvidenceItem) -> str:
    page = f", page {item.at.page}" if item.at.page is not None else ""
    return f"{item.source}{page} {item.stance} it"


def _gone(record: Claim | EvidenceItem | Decision) -> str:
    return " (withdrawn)" if record.withdrawn is not None else ""


def _of_copies(archive: Archive) -> _Pairs:
    for pair_id in sorted(archive.copies):
        pair = archive.copies[pair_id]
        ruled = {Ruling.OPEN: "may be a copy", Ruling.COPY: "was ruled a copy", Ruling.DISTINCT: "was ruled no copy"}
        for source, other in (pair.between, pair.between[::-1]):
            how = f"{source} {ruled[pair.ruling]} of {other}, or the other way round"
            yield Thing(SOURCES, source), _Step(Thing(COPIES, pair_id), how, goes_on=False)


def _of_decisions(archive: Archive) -> _Pairs:
    for decision_id in sorted(archive.decisions):
        decision = archive.decisions[decision_id]
        this = Thing(DECISIONS, decision_id)
        stands = decision.withdrawn is None
        build = f"builds “{decision.build}” for {decision.about} ({decision.status})"
        yield Thing(FEATURES, decision.about), _Step(this, f"{build}{_gone(decision)}", stands)
        for claim in decision.basis:
            yield Thing(CLAIMS, claim), _Step(this, f"{build}, on {claim}{_gone(decision)}", stands)
        for aside in decision.set_aside:
            yield Thing(CLAIMS, aside.claim), _Step(this, f"sets {aside.claim} aside: {aside.why}", goes_on=False)
        if decision.replaces is not None:
            yield Thing(DECISIONS, decision.replaces), _Step(this, f"replaces {decision.replaces}", goes_on=False)
        for made in decision.made:
            value = f" to “{made.value}”" if made.value else ""
            yield this, _Step(this, f"was made{value} on {made.date}")
            if made.photo in archive.sources:
                how = f"{made.photo} shows what was made on {made.date}"
                yield Thing(SOURCES, made.photo or ""), _Step(this, how, goes_on=False)


def _of_panels(archive: Archive) -> _Pairs:
    for panel_id in sorted(archive.panels):
        panel = archive.panels[panel_id]
        this = Thing(PANELS, panel_id)
        for component in panel.components:
            yield Thing(COMPONENTS, component), _Step(this, f"tells of {component}")
        for feature in dict.fromkeys(name for statement in panel.statements for name in statement.features):
            step = _Step(this, f"states something about {feature}")
            yield Thing(FEATURES, feature), step
            yield from ((below, step) for below in _behind(archive, feature))
        yield from ((this, step) for step in _printed(panel, this))


def _behind(archive: Archive, feature: str) -> Iterator[Thing]:
    """The claims and decisions about a feature: whoever speaks of the feature speaks of what they say."""
    for claim in archive.claims_by_feature.get(feature, ()):
        yield Thing(CLAIMS, claim.id)
    for decision in archive.decisions.values():
        if decision.about == feature:
            yield Thing(DECISIONS, decision.id)


def _printed(panel: Panel, this: Thing) -> Iterator[_Step]:
    for printed in panel.printed:
        yield _Step(this, f"was printed on {printed.date} ({printed.digest[:12]})")


def _of_queries(archive: Archive) -> _Pairs:
    for query_id in sorted(archive.queries):
        query = archive.queries[query_id]
        step = _Step(Thing(QUERIES, query_id), f"{'doubts' if query.open else 'doubted'} {query.about}", goes_on=False)
        kinds = (FEATURES,) if "/" in query.about else (DECISIONS, PANELS)
        for kind in kinds:
            yield Thing(kind, query.about), step
