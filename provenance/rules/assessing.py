"""One item after another held against the machine that is represented, before any are compared with one another.

An item that bears signs yields a second one beside it: what these signs tell of the options.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from provenance.records.archive import Archive
from provenance.records.claims import Claim, EvidenceItem, Seen
from provenance.records.components import Feature
from provenance.records.kinds import SignSeen, SourceKind, Stance
from provenance.rules.applicability import Reach, reach_of_sighting, reach_of_statement, seen_in
from provenance.rules.descent import Lineage
from provenance.rules.grades import Category
from provenance.rules.replaced_issues import replacements
from provenance.rules.signs import SignReading, names_of_signs, read_signs
from provenance.rules.standpoint import Standpoint
from provenance.rules.weighing import ACCOUNTS, Weighed, looks_back_to, weigh
from provenance.rules.weights import CARRIED, Weights, weights_of

_IN_WORDS = ACCOUNTS | {SourceKind.LOGBOOK}
"""Kinds of source that tell of a machine in words; any other shows it."""


@dataclass(frozen=True, slots=True)
class Assessed:
    """An item with what was made of it alone.

    Attributes:
        claim: the claim that it stands in.
        item: the record.
        reach: how near it comes to the machine represented.
        weighed: what the scales said; `weight` below is what counts.
        seen: the machine that was seen; None for a statement.
        descent: all that it goes back to.
        left_out: why it is out of judgement; empty when it is in.
        weight: in decibans before carrying over; 0 for one that takes no part.
        key: its place in the order of claim, source and place; what its signs tell comes just after an item.
        reads: for what signs tell, the id of the option that they speak for, whatever the claim's value and the item's
            stance; None for what the record itself says.
        told_by: for what signs tell, the signs reported, with what was seen of each; else empty.
        kind: what its source is; None for one that nobody has tagged, or that the archive does not have.
    """

    claim: Claim
    item: EvidenceItem
    reach: Reach
    weighed: Weighed
    seen: Seen | None
    descent: frozenset[str]
    left_out: str
    weight: float
    key: tuple[str, int]
    reads: str | None = None
    told_by: tuple[tuple[str, SignSeen], ...] = ()
    kind: SourceKind | None = None

    @property
    def supports(self) -> bool:
        """Whether it speaks for a value rather than against it; what signs tell always does."""
        return self.reads is not None or self.item.stance is Stance.SUPPORTS

    @property
    def reasons(self) -> tuple[str, ...]:
        """What was made of it, in words."""
        first = (self.left_out,) if self.left_out else ()
        return (*first, self.reach.reason, *self.weighed.reasons)


class Assessor:
    """Assesses items of one archive; what all of them need is worked out once.

    Args:
        archive: the archive.
        without: sources, `*unstated*` or witnesses that are left out for the asking.
    """

    def __init__(self, archive: Archive, without: frozenset[str]) -> None:
        """Work out what the items of all features need."""
        withdrawn = {source_id for source_id, source in archive.sources.items() if source.withdrawn is not None}
        self._archive = archive
        self._without = without
        self._out = without | withdrawn
        self._replaced = replacements(archive.sources, self._out)
        self.weights: Weights = weights_of(archive)
        self.lineage = Lineage(archive)

    def assess(self, claim: Claim, feature: Feature, standpoint: Standpoint) -> list[Assessed]:
        """Assess all items of a claim; beside each that bears signs, what they tell, where they tell anything."""
        found: list[Assessed] = []
        for item in _in_order(claim.evidence):
            found.append(self._assess(claim, len(found), item, feature, standpoint))
            reading = read_signs(feature, item.signs) if item.signs else None
            if reading is not None:
                found.append(self._told_by_signs(found[-1], reading, feature, standpoint))
        return found

    def _assess(
        self, claim: Claim, rank: int, item: EvidenceItem, feature: Feature, standpoint: Standpoint
    ) -> Assessed:
        source = self._archive.sources.get(item.source)
        seen = seen_in(item, source, standpoint.component)
        if seen is not None:
            in_words = source is not None and source.kind in _IN_WORDS
            reach = reach_of_sighting(seen, standpoint, self.weights.same_time, self._out, in_words=in_words)
        else:
            replaced = self._replaced.get(item.source)
            reach = reach_of_statement(item.applies_to or claim.applies_to, standpoint, replaced, self._out)
        speaks_of = looks_back_to(seen, standpoint.as_at)
        weighed = weigh(item, source, feature, speaks_of=speaks_of, weights=self.weights)
        descent = self.lineage.of_item(item, *((reach.joins,) if reach.joins else ()))
        left_out = self._why_left_out(claim, item, descent)
        weight = weighed.weight if _takes_part(left_out, reach) else 0.0
        kind = source.kind if source else None
        return Assessed(claim, item, reach, weighed, seen, descent, left_out, weight, (claim.id, rank), kind=kind)

    def _told_by_signs(
        self, bearing: Assessed, reading: SignReading, feature: Feature, standpoint: Standpoint
    ) -> Assessed:
        """Make of an item that bears signs the one that stands beside it.

        It is weighed as if the picture showed, or implied, the option: that is the most that its signs can count for.
        """
        item, claim, reach = bearing.item, bearing.claim, bearing.reach
        weighed = weigh(
            replace(item, how=reading.how),
            self._archive.sources.get(item.source),
            feature,
            speaks_of=looks_back_to(bearing.seen, standpoint.as_at),
            weights=self.weights,
        )
        reasons = (self._signs_in_words(reading, standpoint), *weighed.reasons)
        weighed = replace(weighed, weight=min(weighed.weight, reading.weight), reasons=reasons)
        joins = (reach.joins,) if reach.joins else ()
        descent = self.lineage.of_item(item, *joins, *reading.sources)
        left_out = self._why_left_out(claim, item, descent)
        return replace(
            bearing,
            weighed=weighed,
            descent=descent,
            left_out=left_out,
            weight=weighed.weight if _takes_part(left_out, reach) else 0.0,
            key=(claim.id, bearing.key[1] + 1),
            reads=reading.option.id,
            told_by=reading.told_by,
        )

    def _signs_in_words(self, reading: SignReading, standpoint: Standpoint) -> str:
        component = self._archive.components.get(standpoint.component)
        names = {sign.id: sign.name for sign in component.signs} if component else {}
        return f"told by signs: {names_of_signs(reading.told_by, names)}"

    def _why_left_out(self, claim: Claim, item: EvidenceItem, descent: frozenset[str]) -> str:
        if claim.withdrawn is not None:
            return f"its claim was withdrawn: {claim.withdrawn.why}"
        if item.withdrawn is not None:
            return f"withdrawn: {item.withdrawn.why}"
        if descent.isdisjoint(self._out):
            return ""
        source = self._archive.sources.get(item.source)
        if source is not None and source.withdrawn is not None:
            return f"withdrawn: {source.withdrawn.why}"
        asked = descent & self._without
        if asked:
            others = ", ".join(self._title(name) for name in sorted(asked - {item.source}))
            return f"left out for the asking{f', with {others}' if others else ''}"
        names = ", ".join(self._title(name) for name in sorted(descent & self._out))
        return f"out of judgement, since it goes back to what was withdrawn: {names}"

    def _title(self, name: str) -> str:
        source = self._archive.sources.get(name)
        return f"“{source.title}”" if source else name


def _takes_part(left_out: str, reach: Reach) -> bool:
    return not left_out and not reach.circular and reach.category in CARRIED


def is_direct_of(assessed: Assessed, *categories: Category) -> bool:
    """Say whether an item of weight is direct and of one of the categories."""
    return assessed.weight > 0 and assessed.weighed.direct and assessed.reach.category in categories


def _in_order(items: Sequence[EvidenceItem]) -> list[EvidenceItem]:
    """Put the items of a claim in order of source and place; those of one place by all that their records say."""
    if len({_place(item) for item in items}) == len(items):
        return sorted(items, key=_place)
    return sorted(items, key=lambda item: (_place(item), repr(item)))


def _place(item: EvidenceItem) -> tuple[str, int, str, str]:
    """Give the source and the place in it: page, region and time, absent first."""
    at = item.at
    region = "" if at.region is None else str(at.region)
    return item.source, at.page or 0, region, "" if at.time is None else str(at.time)
