"""What the form of a claim carries, as the command takes it."""

from collections.abc import Mapping

from werkzeug.datastructures import MultiDict

from provenance.errors import UsageRefusedError
from provenance.records.archive import Archive
from provenance.records.wording import quote
from provenance.reports.claim_asked import feature_meant
from provenance.tasks.evidence_items import Evidence
from provenance.web.drawn_region import region_of

_SIGN = "sign-"
_SEEN = {"example": "seen", "when": "seen-when", "known_by": "seen-known-by", "why": "seen-why"}
_ITEM = ("how", "stance", "legibility", "condition", "via", "note")

Form = MultiDict[str, str]


def evidence_of(form: Form, archive: Archive, source: str, page: int | None) -> Evidence:
    """The evidence that a form describes.

    Args:
        form: as it was sent.
        archive: in which the feature may be named in words.
        source: the id of the source that the page is of.
        page: that is claimed from; None where the form may name one.

    Raises:
        UsageRefusedError: half a region, or a number that is none.
    """
    at = {
        "page": page if page is not None else _number(form, "page"),
        "page_label": _given(form, "page-label"),
        "region": region_of(form),
        "time": _given(form, "time"),
        "file": _number(form, "file"),
        "who": _given(form, "who"),
    }
    return Evidence(
        feature=feature_meant(archive, form.get("feature", "").strip()),
        value=form.get("value", "").strip(),
        source=source,
        at=at,
        item={name: _given(form, name) for name in _ITEM},
        quote=_given(form, "quote"),
        applies_to=_given(form, "applies-to-words") or _given(form, "applies-to"),
        seen=_seen(form),
        signs=[f"{name.removeprefix(_SIGN)}={form[name]}" for name in form if name.startswith(_SIGN) and form[name]],
        whole={name: _given(form, name) for name in ("uncertainty", "reasoning")},
    )


def _given(form: Mapping[str, str], name: str) -> str | None:
    """What was typed, with the line ends of a record; None for nothing."""
    return form.get(name, "").replace("\r\n", "\n").strip() or None


def _number(form: Mapping[str, str], name: str) -> int | None:
    given = _given(form, name)
    if given is None:
        return None
    if not (given.isascii() and given.isdigit() and 0 < len(given) < 8 and int(given)):
        raise UsageRefusedError(f"--{name} {quote(given)} is no number", "write a plain number from 1 on")
    return int(given)


def _seen(form: Form) -> str | None:
    """The machine that was seen, as `--seen` takes it; None where nothing of it was given."""
    pairs = {key: given for key, name in _SEEN.items() if (given := _given(form, name))}
    signs = form.getlist("seen-signs")
    if signs:
        pairs["signs"] = ", ".join(signs)
    return ",".join(f"{key}={value}" for key, value in pairs.items()) or None
