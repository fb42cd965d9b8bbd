"""Archives of sightings, and the values of their feature as judgement gathers them."""

from collections.abc import Sequence
from dataclasses import replace

from builders import FEATURE, a_claim, a_component, a_source, an_archive, an_item, seen_on

from provenance.records.archive import Archive, Target
from provenance.records.claims import Claim, Seen
from provenance.records.components import Feature
from provenance.records.dates import parse_edtf
from provenance.records.production import Batch, Production
from provenance.records.sources import Source
from provenance.rules.assessing import Assessor
from provenance.rules.candidates import Group, group_by_value
from provenance.rules.standpoint import standpoint_of

BUILT = ("1927/1928", "1930", "1933", "1936", "1938")


def a_production(*batches: Sequence[str]) -> Production:
    """The batches in order of building, called a, b, c and so on."""
    return Production(
        batches=tuple(
            Batch(batch="abcde"[number], examples=tuple(examples), built=parse_edtf(BUILT[number]))
            for number, examples in enumerate(batches)
        )
    )


def a_sighting(
    value: str,
    seen: Seen | str,
    *,
    how: str = "shows",
    stance: str = "supports",
    about: str = FEATURE,
    source: str = "",
    kind: str = "photograph",
) -> tuple[Source, Claim]:
    """A source of its own (its name made from what it shows) with the claim; `seen` may be the number alone."""
    sighted = seen_on(seen) if isinstance(seen, str) else seen
    name = source or "-".join([sighted.example, *(value.lower().split()), stance, str(sighted.when or "undated")])
    item = an_item(name, how, stance=stance, seen=sighted)
    return a_source(name, kind), a_claim(value, item, claim_id=f"claim-{name}", to="all", about=about)


def an_archive_of(feature: Feature, *sightings: tuple[Source, Claim], **fields: object) -> Archive:
    """An archive of sightings of the feature of the headlamp; it represents No. 9 of June 1934 unless said."""
    records = [record for sighting in sightings for record in sighting]
    return an_archive(a_component("headlamp", feature), *records, **fields)


def a_target(example: str, as_at: str = "1934-06") -> Target:
    """What is represented."""
    return Target(example=example, as_at=parse_edtf(as_at))


def groups_of(archive: Archive, without: frozenset[str] = frozenset()) -> list[Group]:
    """The values of the feature of the headlamp with the items that speak of each."""
    component = archive.components[FEATURE.partition("/")[0]]
    feature = archive.features[FEATURE]
    assessor, standpoint = Assessor(archive, without), standpoint_of(archive, component, feature)
    claims = archive.claims_by_feature.get(FEATURE, ())
    return group_by_value(feature, {claim.id: assessor.assess(claim, feature, standpoint) for claim in claims})


def backwards(archive: Archive) -> Archive:
    """The same archive with its records entered in the opposite order."""
    sources, claims = list(archive.sources.items()), list(archive.claims.items())
    return replace(archive, sources=dict(sources[::-1]), claims=dict(claims[::-1]))
