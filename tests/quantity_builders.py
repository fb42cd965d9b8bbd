"""Figures for one dimension made for tests, and what judgement makes of them."""

from collections.abc import Sequence
from dataclasses import replace

from builders import Record, a_claim, a_component, a_feature, a_source, an_archive, an_item, seen_on

from provenance.records.claims import Claim, EvidenceItem
from provenance.records.components import Feature
from provenance.records.kinds import Condition
from provenance.rules.assessing import Assessed, Assessor
from provenance.rules.candidates import Group
from provenance.rules.quantities import group_quantities, quantity_of
from provenance.rules.quantity_values import Quantity
from provenance.rules.standpoint import standpoint_of
from provenance.rules.summing import sum_up

HEIGHT = a_feature(kind="quantity", aspect="dimension", unit="mm")


def in_unit(unit: str | None, **fields: str) -> Feature:
    """The height of the headlamp, to build in that unit; `needed` may be given."""
    return a_feature(kind="quantity", aspect="dimension", unit=unit, **fields)


def a_figure(
    value: str,
    *evidence: EvidenceItem | str,
    claim_id: str | None = None,
    to: str = "9",
    give: str | None = None,
    standard: str | None = None,
) -> Claim:
    """A claim about the height; `give` is its half-width, `standard` its standard uncertainty."""
    claim = a_claim(value, *evidence, claim_id=claim_id, to=to)
    return replace(claim, uncertainty=standard or give, uncertainty_standard=standard is not None)


def measured(source: str, condition: str = "sound", example: str = "9") -> EvidenceItem:
    """That a source measured it on that machine, No. 9 unless said otherwise."""
    return an_item(source, "measured", seen=seen_on(example), condition=Condition(condition))


def assess(feature: Feature, *records: Record) -> tuple[Assessor, dict[str, list[Assessed]]]:
    """Hold the items of all claims about the feature against No. 9."""
    archive = an_archive(a_component("headlamp", feature), *records)
    standpoint = standpoint_of(archive, archive.components["headlamp"], feature)
    assessor = Assessor(archive, frozenset())
    return assessor, {claim.id: assessor.assess(claim, feature, standpoint) for claim in archive.claims.values()}


def clusters(feature: Feature, *records: Record) -> set[tuple[str, ...]]:
    """The ids of the claims that are one value, for each value."""
    return {tuple(group.claims) for group in group_quantities(feature, assess(feature, *records)[1])}


def quantity(feature: Feature, *records: Record) -> Quantity:
    """What the figures of the value with the most claims come to."""
    assessor, assessed = assess(feature, *records)
    group = max(group_quantities(feature, assessed), key=lambda each: len(each.claims))
    found = quantity_of(feature, group, chosen_of(assessor, group))
    assert found is not None
    return found


def chosen_of(assessor: Assessor, group: Group) -> Sequence[Assessed]:
    """The weightiest set of what supports a value."""
    items = sorted((each for each in group.supporting if each.weight > 0), key=lambda each: each.key)
    return sum_up(items, assessor.weights, frozenset(), count=False).chosen


SURVEYS = tuple(a_source(f"survey-{number}", "survey") for number in range(1, 6))
PART = a_source("part", "artefact")
