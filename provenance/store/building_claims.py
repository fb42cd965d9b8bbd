"""Claims with their evidence, built from typed content that its schema has passed."""

from typing import Any

from provenance.records.claims import At, Claim, EvidenceItem, Seen
from provenance.records.dates import parse_edtf
from provenance.records.kinds import Condition, How, KnownBy, Legibility, SignSeen, Stance
from provenance.records.regions import parse_region, parse_time_span
from provenance.store.building_parts import build_applies_to, build_date, build_withdrawal

_WHOLE_SOURCE = At()


def build_claim(claim_id: str, content: dict[str, Any]) -> Claim:
    """Build a claim from sound content."""
    get = content.get
    return Claim(
        id=claim_id,
        about=content["about"],
        value=content["value"],
        applies_to=build_applies_to(content["applies_to"]),
        evidence=tuple(_item(item) for item in content["evidence"]),
        by=content["by"],
        date=parse_edtf(content["date"]),
        uncertainty=get("uncertainty"),
        uncertainty_standard=get("uncertainty_kind") == "standard",
        reasoning=get("reasoning"),
        withdrawn=build_withdrawal(get("withdrawn")),
        note=get("note"),
    )


def _item(content: dict[str, Any]) -> EvidenceItem:
    get = content.get
    applies_to = get("applies_to")
    return EvidenceItem(
        source=content["source"],
        stance=Stance(content["stance"]),
        how=How(content["how"]),
        at=_at(get("at")),
        legibility=Legibility(get("legibility", Legibility.CLEAR)),
        condition=Condition(get("condition", Condition.SOUND)),
        quote=get("quote"),
        seen=_seen(get("seen")),
        applies_to=None if applies_to is None else build_applies_to(applies_to),
        via=get("via"),
        signs=tuple((sign, SignSeen(seen)) for sign, seen in get("signs", {}).items()),
        by=get("by"),
        date=build_date(get("date")),
        withdrawn=build_withdrawal(get("withdrawn")),
        note=get("note"),
    )


def _at(content: dict[str, Any] | None) -> At:
    if content is None:
        return _WHOLE_SOURCE
    region, time = content.get("region"), content.get("time")
    return At(
        page=content.get("page"),
        page_label=content.get("page_label"),
        region=None if region is None else parse_region(region),
        time=None if time is None else parse_time_span(time),
        file=content.get("file"),
        who=content.get("who"),
    )


def _seen(content: dict[str, Any] | None) -> Seen | None:
    if content is None:
        return None
    return Seen(
        example=content["example"],
        when=build_date(content.get("when")),
        known_by=KnownBy(content.get("known_by", KnownBy.CAPTION)),
        signs=tuple(content.get("signs", ())),
        why=content.get("why"),
    )
