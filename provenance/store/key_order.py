"""The order in which the keys of a record are written."""

from collections.abc import Iterable

_APPLIES_TO = ("examples", "batch", "related", "from", "until")
_WRITTEN = ("by", "date", "note")
_WITHDRAWABLE = ("by", "date", "withdrawn", "note")

# By kind of record, then by the keys on the way down; lists count for nothing on the way.
_ORDERS: dict[str, tuple[str, ...]] = {
    "archive": (
        *("format", "title", "subject", "production", "target", "events", "related", "languages", "doctrine"),
        *("people", "cautions", "note"),
    ),
    "archive.subject": ("name", "kind", "claims_to_be"),
    "archive.production": ("batch", "examples", "built"),
    "archive.target": ("example", "as_at", "why"),
    "archive.events": ("example", "date", "what"),
    "archive.related": ("name", "note"),
    "archive.people": ("id", "name", "credited_as"),
    "archive.cautions": ("hazard", "text", "consult", "jurisdiction"),
    "component": (
        *("name", "part_of", "references", "also_called", "hazards", "made_as", "common_to", "needed_by", "prominence"),
        *("features", "signs", *_WRITTEN),
    ),
    "component.common_to": ("examples", "source"),
    "component.features": (
        *("id", "name", "aspect", "kind", "options", "same", "changes", "unit", "needed", "datum", "mates", "note"),
    ),
    "component.features.options": ("id", "name", "also", "signs"),
    "component.features.options.signs": ("sign", "expect", "source"),
    "component.features.mates": ("with", "rule", "within"),
    "component.signs": ("id", "name"),
    "source": (
        *("title", "kind", "created", "creator", "occasion", "holder", "place", "reference", "language", "acquired"),
        *("loan", "files", "within", "derives_from", "origin", "issue", "replaces", "executed", "process", "altered"),
        *("reliability", "reliability_why", "shows", "rights", "access", "access_until", "hazards", "topics", "state"),
        *_WITHDRAWABLE,
    ),
    "source.acquired": ("date", "from", "received_as", "note"),
    "source.loan": ("owner", "due", "returned"),
    "source.files": ("path", "received_as", "sha256", "bytes", "media_type", "pages"),
    "source.within": ("source", "pages", "region"),
    "source.derives_from": ("source", "how", "note"),
    "source.shows": ("example", "when", "known_by", "component", "note"),
    "source.rights": ("statement", "holder", "credit", "publish", "permission"),
    "source.rights.permission": ("from", "date", "scope", "until", "file"),
    "claim": (
        *("about", "value", "uncertainty", "uncertainty_kind", "applies_to", "evidence", "reasoning"),
        *_WITHDRAWABLE,
    ),
    "claim.applies_to": _APPLIES_TO,
    "claim.evidence": (
        *("source", "at", "stance", "how", "legibility", "condition", "quote", "seen", "applies_to", "via", "signs"),
        *_WITHDRAWABLE,
    ),
    "claim.evidence.at": ("page", "page_label", "region", "time", "file", "who"),
    "claim.evidence.seen": ("example", "when", "known_by", "signs", "why"),
    "claim.evidence.applies_to": _APPLIES_TO,
    "copy": (*("between", "found_by", "why", "ruling", "how", "why_ruled", "ruled_by", "ruled_date", *_WRITTEN),),
    "copy.found_by": ("method", "version", "settings", "score", "points", "overlap", "letters", "places"),
    "copy.found_by.places": ("page", "region", "time"),
    "decision": (
        *("about", "status", "build", "tolerance", "basis", "set_aside", "modern_change", "drawings", "grade_then"),
        *("replaces", "stamp", "why", "released", "made", *_WITHDRAWABLE),
    ),
    "decision.set_aside": ("claim", "why"),
    "decision.modern_change": ("reason", "note"),
    "decision.drawings": ("number", "issue"),
    "decision.released": ("by", "date"),
    "decision.made": ("date", "by", "value", "fits", "inspected_by", "photo", "note"),
    "query": (
        *("about", "raised_by", "grounds", "would_settle", "state", "answer", "answered_by", "answered_date"),
        *_WRITTEN,
    ),
    "panel": ("title", "statements", "components", "printed", *_WRITTEN),
    "panel.statements": ("text", "features"),
    "panel.printed": ("date", "digest"),
    "lead": (
        *("holder", "place", "what", "reference", "hoped_for", "effort", "cost", "chance", "state", "outcome"),
        *_WRITTEN,
    ),
}
_WITHDRAWN = ("why", "by", "date")


def order_keys(place: str, keys: Iterable[str]) -> tuple[str, ...]:
    """Put the keys of one part of a record in the order in which they are written.

    Keys that the order does not know, such as the team's own `x-` keys and the names of signs, come last as given.

    Args:
        place: the kind of record, then the keys on the way down, with dots: `claim.evidence.at`.
        keys: of that part, each once.
    """
    given = tuple(keys)
    order = known_keys(place)
    return (*(key for key in order if key in given), *(key for key in given if key not in order))


def known_keys(place: str) -> tuple[str, ...]:
    """Every key that has a place of its own in that part of a record, in order; empty for a part without an order."""
    return _WITHDRAWN if place.endswith(".withdrawn") else _ORDERS.get(place, ())
