"""Add evidence to a claim, or start one: a value for a feature, and the place in a source that speaks for it."""

import hashlib
import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from provenance.errors import UnknownRecordError, UsageRefusedError
from provenance.records.archive import Archive
from provenance.records.claims import Claim
from provenance.records.components import Feature
from provenance.records.wording import fold_wording, quote
from provenance.reports.tried import Tried
from provenance.reports.written import Written
from provenance.rules.applicability import seen_in
from provenance.rules.verdicts import Verdict
from provenance.store.editing import AddKey, Append, Change
from provenance.store.naming import slug
from provenance.store.record_kinds import LONGEST_ID, RecordKind
from provenance.tasks.changing import NewRecord, RecordEdit, Step, change
from provenance.tasks.evidence_items import Evidence, claim_of, covers, item_fields
from provenance.tasks.given_values import APPLIES_TO, given_pairs, require_figures, require_record
from provenance.tasks.nearest import nearest_mend
from provenance.tasks.opening import Opened, Where
from provenance.tasks.trying import try_out

ANSWER = "claim"


@dataclass(frozen=True, slots=True, kw_only=True)
class EvidencePlan:
    """What an item of evidence asks for: the claim that it goes to, the steps, and sentences for the writer."""

    claim: str
    steps: tuple[Step, ...]
    said: tuple[str, ...]


def add_evidence(where: Where, evidence: Evidence, *, by: str, today: str) -> Written:
    """Add an item of evidence to the claim of that value and coverage, or start that claim.

    Args:
        where: the archive's folder, or the archive as it was opened before.
        evidence: what is entered.
        by: an id of `people`.
        today: the date that it carries.

    Raises:
        UnknownRecordError: no such feature or source.
        UsageRefusedError: the source has no kind, the quotation does not stand there, or the record would be unsound.
        WriteRefusedError: the record cannot be written.
    """
    made: list[tuple[Opened, EvidencePlan]] = []

    def plan(opened: Opened) -> Sequence[Step]:
        made.append((opened, plan_evidence(opened, evidence, by=by, today=today)))
        return made[-1][1].steps

    written = change(where, plan)
    opened, planned = made[-1]
    return Written(standing=opened.standing, answer=ANSWER, record=planned.claim, written=written, said=planned.said)


def try_evidence(
    opened: Opened, evidence: Evidence, *, by: str, today: str, verdicts: Mapping[str, Verdict] | None = None
) -> Tried:
    """Tell which verdicts an item of evidence would change; nothing is written.

    Args:
        opened: the archive.
        evidence: what would be entered.
        by: an id of `people`.
        today: the date that it would carry.
        verdicts: on every feature of the archive as it is, where they are known; None to judge what is reached.

    Raises:
        UnknownRecordError: no such feature or source.
        UsageRefusedError: as when it is added.
        WriteRefusedError: the claim was written by somebody else since the archive was opened.
    """
    planned = plan_evidence(opened, evidence, by=by, today=today)
    return try_out(opened, planned.steps, answer=ANSWER, record=planned.claim, said=planned.said, verdicts=verdicts)


def plan_evidence(opened: Opened, evidence: Evidence, *, by: str, today: str) -> EvidencePlan:
    """Plan what `add_evidence` writes, from the archive as it stands or as earlier steps would leave it.

    Raises:
        UnknownRecordError: no such feature or source.
        UsageRefusedError: as when it is added.
    """
    archive = opened.archive
    feature = _feature(archive, evidence.feature)
    source = require_record(archive.sources, evidence.source, "source", "sources")
    require_figures(feature, evidence.value, evidence.whole.get("uncertainty"))
    said: list[str] = []
    item = item_fields(opened, evidence, feature, source, said)
    same_value = _claims_of_value(archive, evidence, feature)
    fields: dict[str, object] = {
        "about": evidence.feature,
        "value": evidence.value,
        "evidence": [item],
        "by": by,
        "date": today,
    }
    coverage = _coverage(evidence, fields, archive, same_value, said)
    fields |= {"applies_to": coverage, **evidence.whole}
    new = claim_of(fields)
    claim = next((each for each in same_value if each.applies_to == new.applies_to), None)
    if claim is None:
        claim_id = _free_id(opened, evidence, coverage)
        said.append(f"A new claim: {evidence.feature} is {quote(evidence.value)}, {covers(new)}.")
        step = NewRecord(kind=RecordKind.CLAIM, id=claim_id, fields=fields)
        return EvidencePlan(claim=claim_id, steps=(step,), said=tuple(said))
    changes = (*_added_item(claim, new, item, said), *_added_words(claim, evidence))
    steps = (RecordEdit(kind=RecordKind.CLAIM, id=claim.id, changes=changes),) if changes else ()
    return EvidencePlan(claim=claim.id, steps=steps, said=tuple(said))


def _feature(archive: Archive, name: str) -> Feature:
    if name in archive.features:
        return archive.features[name]
    component, stroke, _ = name.partition("/")
    own = [each for each in archive.features if each.startswith(f"{component}/")]
    if own:
        mend = (
            nearest_mend(name, own, f"its features are {', '.join(own)}") if stroke else f"name one: {', '.join(own)}"
        )
    else:
        mend = nearest_mend(name, archive.features, "add it with `provenance add feature COMPONENT/ID`")
    raise UnknownRecordError(f"there is no feature {quote(name)}", mend)


def _claims_of_value(archive: Archive, evidence: Evidence, feature: Feature) -> list[Claim]:
    """The claims of the same value that take part: worded just so, or the same option in other words."""
    claims = [each for each in archive.claims_by_feature.get(evidence.feature, ()) if each.withdrawn is None]
    option = feature.option_named(evidence.value)
    return sorted(
        (
            claim
            for claim in claims
            if fold_wording(claim.value) == fold_wording(evidence.value)
            or (option is not None and feature.option_named(claim.value) == option)
        ),
        key=lambda claim: (claim.value != evidence.value, claim.id),
    )


def _coverage(
    evidence: Evidence,
    fields: Mapping[str, object],
    archive: Archive,
    same_value: Sequence[Claim],
    said: list[str],
) -> dict[str, object]:
    """What the claim covers, as given; for a sighting that does not say, the example that was seen."""
    if evidence.applies_to is not None:
        return given_pairs(evidence.applies_to, "--applies-to", APPLIES_TO)
    (item,) = claim_of({**fields, "applies_to": {"examples": "all"}}).evidence
    seen = seen_in(item, archive.sources[item.source], evidence.feature.partition("/")[0])
    if seen is not None and seen.example in archive.production:
        said.append(f"Taken to cover example {seen.example}, the one that was seen (--applies-to says otherwise).")
        return {"examples": seen.example}
    known = "".join(f"; {claim.id} has that value, {covers(claim)}" for claim in same_value)
    raise UsageRefusedError(
        f"it is not said which examples this covers{known}",
        "say what the source itself covers, such as `--applies-to all`, `--applies-to 9`, `--applies-to 5..8` "
        "or `--applies-to batch=third`",
    )


def _added_item(claim: Claim, new: Claim, item: Mapping[str, object], said: list[str]) -> Iterator[Change]:
    """The item for a claim that is there; nothing where it has the same one already."""
    (built,) = new.evidence
    if any(replace(each, by=None, date=None) == built for each in claim.evidence):
        said.append(f"{claim.id} has this item of evidence already; it was not added twice.")
        return
    said.append(f"Added to the claim {claim.id} ({quote(claim.value)}, {covers(claim)}).")
    own = {"by": new.by if new.by != claim.by else None, "date": str(new.date) if new.date != claim.date else None}
    yield Append(("evidence",), {**item, **own})


def _added_words(claim: Claim, evidence: Evidence) -> Iterator[Change]:
    for key, value in evidence.whole.items():
        there = getattr(claim, key)
        if value is not None and there is None:
            yield AddKey((), key, value)
        elif value not in (None, there):
            raise UsageRefusedError(
                f"{claim.id} has another {key} already: {quote(there)}", f"change it in claims/{claim.id}.yaml"
            )


def _free_id(opened: Opened, evidence: Evidence, coverage: Mapping[str, object]) -> str:
    """The id of a new claim: feature and value; with digits of what it says where that one is taken."""
    stem = evidence.feature.replace("/", "-")
    whole = f"{stem}-{slug(evidence.value)}"[:LONGEST_ID].rstrip("-")
    said = json.dumps([evidence.feature, evidence.value, coverage], sort_keys=True)
    digest = hashlib.sha256(said.encode()).hexdigest()
    cut = [f"{whole[: LONGEST_ID - 1 - digits].rstrip('-')}-{digest[:digits]}" for digits in (4, 8, 16)]
    # What was read counts, not what lies on the disk by now: a claim that somebody began meanwhile is to be added to.
    unread = {record.file for record in opened.left_out}
    taken = {*opened.archive.claims, *(each for each in (whole, *cut) if RecordKind.CLAIM.file_of(each) in unread)}
    return next(each for each in (whole, *cut) if each not in taken)
