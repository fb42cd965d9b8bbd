"""What the form of a claim carries, as the command takes it."""

from flask import request

from provenance.errors import UsageRefusedError
from provenance.records.archive import Archive
from provenance.records.wording import quote
from provenance.reports.claim_asked import feature_meant
from provenance.tasks.evidence_items import Evidence
from provenance.tasks.typed_pairs import typed_pairs
from provenance.web.drawn_region import region_of
from provenance.web.typed import typed

_SIGN = "sign-"
_SEEN = {"example": "seen", "when": "seen-when", "known_by": "seen-known-by", "why": "seen-why"}
_ITEM = ("how", "stance", "legibility", "condition", "via", "note")


def evidence_of(archive: Archive, source: str, page: int | None) -> Evidence:
    """The evidence that the form describes which was sent.

    Args:
        archive: in which the feature may be named in words.
        source: the id of the source that the page is of.
        page: that is claimed from; None where the form may name one.

    Raises:
        UsageRefusedError: half a region, a number that is none, or words that an option cannot hold.
    """
    at = {
        "page": page if page is not None else _number("page"),
        "page_label": _given("page-label"),
        "region": region_of(request.form),
        "time": _given("time"),
        "file": _number("file"),
        "who": _given("who"),
    }
    return Evidence(
        feature=feature_meant(archive, typed("feature")),
        value=typed("value"),
        source=source,
        at=at,
        item={name: _given(name) for name in _ITEM},
        quote=_given("quote"),
        applies_to=_given("applies-to-words") or _given("applies-to"),
        seen=_seen(),
        signs=[
            f"{name.removeprefix(_SIGN)}={seen}"
            for name in request.form
            if name.startswith(_SIGN) and (seen := typed(name))
        ],
        whole={name: _given(name) for name in ("uncertainty", "reasoning")},
    )


def _given(name: str) -> str | None:
    return typed(name) or None


def _number(name: str) -> int | None:
    given = _given(name)
    if given is None:
        return None
    if not (given.isascii() and given.isdigit() and 0 < len(given) < 8 and int(given)):
        raise UsageRefusedError(f"--{name} {quote(given)} is no number", "write a plain number from 1 on")
    return int(given)


def _seen() -> str | None:
    """The machine that was seen, as `--seen` takes it; None where nothing of it was given."""
    fields = {key: typed(name) for key, name in _SEEN.items()}
    return typed_pairs("--seen", {**fields, "signs": ", ".join(request.form.getlist("seen-signs"))})
