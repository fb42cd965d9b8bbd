"""Take a source, a claim, one item of its evidence or a decision out of judgement; not out of sight."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from provenance.errors import UsageRefusedError
from provenance.records.archive import Archive
from provenance.records.claims import Claim
from provenance.records.decisions import Decision
from provenance.records.wording import quote
from provenance.reports.layout import listed
from provenance.reports.tried import Tried, change_sentences
from provenance.reports.written import Written
from provenance.rules.verdicts import Verdict
from provenance.store.editing import AddKey
from provenance.store.record_kinds import RecordKind
from provenance.tasks.changing import RecordEdit, Step, change, preview
from provenance.tasks.deciding import in_force
from provenance.tasks.naming_records import Named, find_record
from provenance.tasks.opening import Opened, Where
from provenance.tasks.trying import changes_between, try_out

ANSWER = "withdraw"
_KINDS = (RecordKind.SOURCE, RecordKind.CLAIM, RecordKind.DECISION)
_NUMBERED = re.compile(r"(?P<claim>.+)#(?P<number>[0-9]+)")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Planned:
    """A withdrawal that is to be made.

    Attributes:
        step: None where it is made already.
        said: what becomes of the record, in a sentence.
    """

    opened: Opened
    named: Named
    step: RecordEdit | None
    said: tuple[str, ...]


def withdraw(where: Where, name: str, *, why: str, by: str, today: str, source: str | None = None) -> Written:
    """Withdraw a record, or one item of a claim's evidence, and tell which verdicts that changes.

    Args:
        where: the archive's folder, or the archive as it was opened before.
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
    made: list[tuple[_Planned, tuple[str, ...]]] = []

    def plan(opened: Opened) -> Sequence[Step]:
        planned = _planned(opened, name, source, withdrawal)
        made.append((planned, (*planned.said, *_changed(planned))))
        return [planned.step] if planned.step else []

    written = change(where, plan)
    planned, said = made[-1]
    return Written(standing=planned.opened.standing, answer=ANSWER, record=planned.named.id, written=written, said=said)


def try_withdraw(
    opened: Opened,
    name: str,
    *,
    by: str,
    today: str,
    why: str = "tried",
    source: str | None = None,
    verdicts: Mapping[str, Verdict] | None = None,
) -> Tried:
    """Tell which verdicts a withdrawal would change; nothing is written.

    Args:
        opened: the archive.
        name: `kind/id` or the id alone; `CLAIM#2` for the second item of a claim.
        by: an id of `people`.
        today: the date that it would carry.
        why: the reason; it changes no verdict, and need not be known yet.
        source: of a claim, to withdraw the one item that is taken from this source.
        verdicts: on every feature of the archive as it is, where they are known; None to judge what is reached.

    Raises:
        UnknownRecordError: no such record.
        UsageRefusedError: no such item.
        WriteRefusedError: the record cannot be changed without touching the rest, or was written by somebody else
            since the archive was opened.
        ArchiveError: the archive does not say yet what it represents.
    """
    planned = _planned(opened, name, source, {"why": why, "by": by, "date": today})
    is_decision = planned.named.kind is RecordKind.DECISION
    return try_out(
        opened,
        [planned.step] if planned.step else [],
        answer=ANSWER,
        record=planned.named.id,
        said=_changed(planned) if is_decision else planned.said if planned.step is None else (),
        verdicts=verdicts,
    )


def _planned(opened: Opened, name: str, source: str | None, withdrawal: Mapping[str, str]) -> _Planned:
    numbered = _NUMBERED.fullmatch(name)
    kinds = (RecordKind.CLAIM,) if numbered or source else _KINDS
    named = find_record(opened.archive, numbered["claim"] if numbered else name, kinds)
    path: tuple[str | int, ...] = ()
    thing, what = named.record, named.id
    if isinstance(thing, Claim) and (numbered or source):
        index = _item_index(thing, int(numbered["number"]) if numbered else None, source)
        thing, path, what = thing.evidence[index], ("evidence", index), f"item {index + 1} of {named.id}"
    if thing.withdrawn is not None:
        said = (f"{what} is withdrawn already: {thing.withdrawn.why}",)
        return _Planned(opened=opened, named=named, step=None, said=said)
    step = RecordEdit(kind=named.kind, id=named.id, changes=(AddKey(path, "withdrawn", dict(withdrawal)),))
    said = (f"{what} is out of judgement; it stays in the archive, with the reason.",)
    return _Planned(opened=opened, named=named, step=step, said=said)


def _changed(planned: _Planned) -> list[str]:
    """Which verdicts a withdrawal changes, and which decision is then in force, a sentence each."""
    opened, step = planned.opened, planned.step
    if step is None:
        return []
    after = preview(opened, [step]).after
    if planned.named.kind is RecordKind.DECISION:
        return _no_longer_in_force(opened.archive, after, planned.named.record)
    if opened.archive.target is None:
        return ["It is not said yet which example is represented, so no verdict was looked at."]
    changes = changes_between(opened.archive, after, [step.file])
    said = [f"{each.feature}: {'; '.join(change_sentences(each))}." for each in changes]
    return said or ["No verdict changes."]


def _no_longer_in_force(before: Archive, after: Archive, decision: Decision) -> list[str]:
    """What is released in place of a decision that was in force; nothing where it was not."""
    was, now = in_force(before, decision.about), in_force(after, decision.about)
    if was is None or was.id != decision.id:
        return []
    if now is None:
        return [f"It was in force: nothing is released for building for {decision.about} now."]
    return [f"It was in force: {now.id}, which it had replaced, is in force again (build “{now.build}”)."]


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
