"""Take a source, a claim, one item of its evidence or a decision out of judgement; not out of sight."""

import re
from collections.abc import Sequence
from pathlib import Path

from provenance.errors import UsageRefusedError
from provenance.records.claims import Claim
from provenance.records.wording import quote
from provenance.reports.layout import listed
from provenance.reports.tried import change_sentences
from provenance.reports.written import Written
from provenance.store.editing import AddKey
from provenance.store.record_kinds import RecordKind
from provenance.tasks.changing import RecordEdit, Step, change, preview
from provenance.tasks.naming_records import find_record
from provenance.tasks.opening import Opened
from provenance.tasks.trying import changes_between

ANSWER = "withdraw"
_KINDS = (RecordKind.SOURCE, RecordKind.CLAIM, RecordKind.DECISION)
_NUMBERED = re.compile(r"(?P<claim>.+)#(?P<number>[0-9]+)")


def withdraw(folder: Path, name: str, *, why: str, by: str, today: str, source: str | None = None) -> Written:
    """Withdraw a record, or one item of a claim's evidence, and tell which verdicts that changes.

    Args:
        folder: the archive's folder.
        name: `kind/id` or the id alone; `CLAIM#2` for the second item of a claim.
        why: the reason, which stays with the record.
        by: an id of `people`.
        today: the date that it carries.
        source: of a claim, to withdraw the one item that is taken from this source.

    Raises:
        UnknownRecordError: no such record.
        UsageRefusedError: no such item, or no reason.
        WriteRefusedError: the record cannot be changed without touching the rest.
    """
    if not why.strip():
        raise UsageRefusedError("it is not said why", "give the reason with --why")
    withdrawal = {"why": why, "by": by, "date": today}
    made: list[tuple[Opened, str, tuple[str, ...]]] = []

    def plan(opened: Opened) -> Sequence[Step]:
        step, record, said = _plan(opened, name, source, withdrawal)
        made.append((opened, record, said))
        return [step] if step else []

    written = change(folder, plan)
    opened, record, said = made[-1]
    return Written(standing=opened.standing, answer=ANSWER, record=record, written=written, said=said)


def _plan(
    opened: Opened, name: str, source: str | None, withdrawal: dict[str, str]
) -> tuple[RecordEdit | None, str, tuple[str, ...]]:
    numbered = _NUMBERED.fullmatch(name)
    kinds = (RecordKind.CLAIM,) if numbered or source else _KINDS
    named = find_record(opened.archive, numbered["claim"] if numbered else name, kinds)
    path: tuple[str | int, ...] = ()
    thing, what = named.record, named.id
    if isinstance(thing, Claim) and (numbered or source):
        index = _item_index(thing, int(numbered["number"]) if numbered else None, source)
        thing, path, what = thing.evidence[index], ("evidence", index), f"item {index + 1} of {named.id}"
    if thing.withdrawn is not None:
        return None, named.id, (f"{what} is withdrawn already: {thing.withdrawn.why}",)
    step = RecordEdit(kind=named.kind, id=named.id, changes=(AddKey(path, "withdrawn", withdrawal),))
    after = preview(opened, [step]).after
    changes = changes_between(opened.archive, after, [step.file])
    said = [f"{what} is out of judgement; it stays in the archive, with the reason."]
    said += (f"{each.feature}: {'; '.join(change_sentences(each))}." for each in changes)
    if opened.archive.target is None:
        said.append("It is not said yet which example is represented, so no verdict was looked at.")
    elif not changes and named.kind is not RecordKind.DECISION:
        said.append("No verdict changes.")
    return step, named.id, tuple(said)


def _item_index(claim: Claim, number: int | None, source: str | None) -> int:
    """Which item of a claim is meant, counted from 0."""
    items = [
        index
        for index, item in enumerate(claim.evidence)
        if number in (None, index + 1) and source in (None, item.source)
    ]
    if len(items) == 1:
        return items[0]
    each = listed(f"{claim.id}#{index + 1} ({item.source})" for index, item in enumerate(claim.evidence))
    meant = " and ".join(
        [
            *([f"the number {number}"] if number is not None else []),
            *([f"the source {quote(source)}"] if source else []),
        ]
    )
    what = "more than one item" if items else "no item"
    raise UsageRefusedError(f"{what} of {claim.id} has {meant}", f"its items are {each}")
