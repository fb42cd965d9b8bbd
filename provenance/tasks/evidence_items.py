"""What somebody enters as evidence, made an item of a claim: its usual terms filled in, its quotation looked up."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from provenance.errors import UsageRefusedError
from provenance.records.claims import Claim
from provenance.records.components import Component, Feature
from provenance.records.kinds import Aspect, FeatureKind, SourceKind
from provenance.records.regions import TimeSpanError, parse_time_span
from provenance.records.sources import Source
from provenance.records.wording import quote
from provenance.store.building_claims import build_claim
from provenance.store.document import Document
from provenance.store.record_kinds import RecordKind
from provenance.store.record_reading import read_record
from provenance.store.yaml_writing import record_text
from provenance.tasks.given_values import SEEN, given_pairs
from provenance.tasks.opening import Opened
from provenance.tasks.plans import refusal
from provenance.tasks.quoting import Whereabouts, look_up

_PICTURES = frozenset({SourceKind.PHOTOGRAPH, SourceKind.FILM, SourceKind.ARTWORK})
_THINGS = frozenset({SourceKind.ARTEFACT, SourceKind.SURVEY, SourceKind.ANALYSIS})


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """What somebody enters as evidence.

    Attributes:
        feature: `component/feature`.
        value: as it stands in the source.
        at: the place in the source: page, page_label, region, time, file, who; empty ones are left out.
        item: other fields of the item as in its schema: stance, how, legibility, condition, via, note; empty ones are
            left out.
        quote: what stands there, letter for letter; None to quote nothing.
        applies_to: what the evidence covers, as given; None where that is not said.
        seen: the machine that was seen, as given; None where that is not said.
        signs: each `NAME=seen`, `NAME=not-seen` or `NAME=out-of-view`.
        whole: of the claim itself: uncertainty, reasoning; empty ones are left out.
    """

    feature: str
    value: str
    source: str
    at: Mapping[str, object] = field(default_factory=dict)
    item: Mapping[str, str | None] = field(default_factory=dict)
    quote: str | None = None
    applies_to: str | None = None
    seen: str | None = None
    signs: Sequence[str] = ()
    whole: Mapping[str, str | None] = field(default_factory=dict)


def item_fields(
    opened: Opened, evidence: Evidence, feature: Feature, source: Source, said: list[str]
) -> dict[str, object]:
    """The item as its schema has it; what was filled in is added to `said`.

    Raises:
        UsageRefusedError: the source has no kind or no such page, the quotation does not stand there, or a sign is none
            of the component's.
    """
    _require_usable(source, evidence)
    if source.withdrawn is not None:
        said.append(f"{source.id} was withdrawn ({source.withdrawn.why}), so this counts for nothing as yet.")
    at = {key: value for key, value in evidence.at.items() if value is not None}
    given = {"stance": "supports"} | {key: value for key, value in evidence.item.items() if value is not None}
    if evidence.quote is not None:
        looked = look_up(opened, source, evidence.quote, _whereabouts(at))
        found = {"page": looked.page, "region": looked.region, "time": looked.time, "file": looked.file}
        at = {key: value for key, value in found.items() if value is not None} | at
        said += looked.said
    if "how" not in given:
        given["how"] = usual_how(source, feature)
        said.append(f"Taken as `{given['how']}`, which is usual for the kind {source.kind} (--how says otherwise).")
    return {
        "source": source.id,
        "at": at,
        **given,
        "quote": evidence.quote,
        "seen": given_pairs(evidence.seen, "--seen", SEEN) if evidence.seen else None,
        "signs": _signs(evidence.signs, opened.archive.components[evidence.feature.partition("/")[0]]),
    }


def _whereabouts(at: Mapping[str, object]) -> Whereabouts:
    page, file, time = (at.get(key) for key in ("page", "file", "time"))
    try:
        return Whereabouts(
            page=page if isinstance(page, int) else None,
            file=file if isinstance(file, int) else None,
            time=parse_time_span(time) if isinstance(time, str) else None,
        )
    except TimeSpanError as error:
        raise UsageRefusedError(error.what, error.mend) from error


def usual_how(source: Source, feature: Feature) -> str:
    """How a source of its kind speaks of such a feature."""
    if source.kind in _PICTURES:
        return "shows"
    if source.kind in _THINGS:
        is_figure = feature.aspect is Aspect.DIMENSION or feature.kind is FeatureKind.QUANTITY
        return "measured" if is_figure else "shows"
    return "states"


def _signs(given: Sequence[str], component: Component) -> dict[str, str]:
    """What was seen of each sign; each has to be one that the component defines."""
    defined = [sign.id for sign in component.signs]
    signs = {}
    for each in given:
        name, equals, seen = each.partition("=")
        if not equals or not name or not seen:
            raise UsageRefusedError(
                f"--sign {quote(each)} does not say what was seen",
                "write it such as `--sign conduit-on-cantrail=seen` (or `=not-seen`, `=out-of-view`)",
            )
        if name.strip() not in defined:
            raise UsageRefusedError(
                f"{quote(name.strip())} is no sign of {component.id}",
                f"its signs are: {', '.join(defined) or 'none yet'}; add one under `signs` in "
                f"components/{component.id}.yaml",
            )
        signs[name.strip()] = seen.strip()
    return signs


def _require_usable(source: Source, evidence: Evidence) -> None:
    if source.kind is None:
        raise UsageRefusedError(
            f"it is not said yet what kind of source {source.id} is, so nothing can be claimed from it",
            f"say it first, such as `provenance tag {source.id} --kind photograph`",
        )
    page = evidence.at.get("page")
    if isinstance(page, int) and source.pages is not None and page > source.pages:
        raise UsageRefusedError(
            f"page {page} is beyond the end of {source.id}, which has {source.pages}",
            "pages count from 1 as in the scan; a number printed on the page goes into --page-label",
        )


def claim_of(fields: Mapping[str, object]) -> Claim:
    """The claim as it would be read if it were a record of its own; its id stands for nothing.

    Raises:
        UsageRefusedError: it would be unsound.
    """
    document = read_record(record_text(RecordKind.CLAIM, fields), RecordKind.CLAIM.file_of("new"))
    if not isinstance(document, Document):
        raise refusal(document)
    return build_claim("new", document.content)


def covers(claim: Claim) -> str:
    """What a claim covers, in words that follow its value."""
    applies = claim.applies_to
    if applies.examples is not None:
        named = str(applies.examples)
        what = f"example{'s' if ',' in named or '.' in named else ''} {named}" if named != "all" else "all examples"
    else:
        what = f"the batch {applies.batch}" if applies.batch is not None else f"the related type {applies.related}"
    since = f" from {applies.since}" if applies.since else ""
    until = f" until {applies.until}" if applies.until else ""
    return f"covering {what}{since}{until}"
