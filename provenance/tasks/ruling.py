"""Rule on two sources that look like copies of one another: the one was made from the other, or neither was.

What the later one was made from is written into its own record first, and the ruling after that: where a writer is
killed in between, the pair is still open, and the same command does the rest.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from provenance.errors import ProvenanceError, UsageRefusedError
from provenance.records.archive import Archive
from provenance.records.dates import certainly_before
from provenance.records.kinds import Derivation, Ruling
from provenance.records.sources import Source
from provenance.records.wording import quote
from provenance.reports.copied_words import dated_words, ruling_words
from provenance.reports.ruled import Ruled
from provenance.reports.tried import Tried
from provenance.rules.source_words import derivation_in_words
from provenance.rules.verdicts import Verdict
from provenance.store.document import Document
from provenance.store.editing import AddKey, Append, Change, SetScalar
from provenance.store.record_files import read_bytes
from provenance.store.record_kinds import RecordKind
from provenance.store.record_reading import read_record
from provenance.tasks.changing import NewRecord, RecordEdit, Step, change, preview
from provenance.tasks.comparing_again import compare_again
from provenance.tasks.nearest import nearest_mend
from provenance.tasks.opening import Opened, Where
from provenance.tasks.trying import changes_between, try_out
from provenance.tasks.two_sources import TwoSources, find_two

CONFIRM = "copies-confirm"
RULE_OUT = "copies-rule-out"
NEITHER = "neither"
BY_EYE = "by eye"


@dataclass(frozen=True, slots=True, kw_only=True)
class Confirmation:
    """What was found out about two sources that are copies.

    Attributes:
        why: the reason, which stays with the pair.
        how: how the one was made from the other, one of the defined words; None only where the original is `neither`.
        original: the id of the one that the other was made from; `neither` where both go back to a third that is not
            held; None to go by their dates.
    """

    why: str
    how: str | None = None
    original: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Signed:
    """Who rules, an id of `people`, and the date of the ruling."""

    by: str
    date: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plan:
    two: TwoSources
    steps: tuple[Step, ...]
    said: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Descent:
    """Which of two was made from which, and how that is known, in a sentence."""

    later: Source
    earlier: Source
    known_by: str


def confirm(where: Where, names: tuple[str, str], found: Confirmation, signed: Signed) -> Ruled:
    """Rule that two sources are copies, and write into the later one what it was made from.

    Args:
        where: the archive's folder, or the archive as it was opened before.
        names: the ids of the two sources, in any order.
        found: what was found out.
        signed: who rules, and when.

    Raises:
        UnknownRecordError: there is no such source.
        UsageRefusedError: it cannot be told which is the original, it would go back to itself, or one is withdrawn.
        WriteRefusedError: a record cannot be changed without touching the rest.
    """
    return _carry_out(where, CONFIRM, lambda opened: _confirmed(find_two(opened, names), found, signed))


def try_confirm(
    opened: Opened,
    names: tuple[str, str],
    found: Confirmation,
    signed: Signed,
    *,
    verdicts: Mapping[str, Verdict] | None = None,
) -> Tried:
    """Tell which verdicts that ruling would change; nothing is written.

    Args:
        opened: the archive.
        names: the ids of the two sources, in any order.
        found: what was found out.
        signed: who would rule, and when.
        verdicts: on every feature of the archive as it is, where they are known; None to judge what is reached.

    Raises:
        UnknownRecordError: there is no such source.
        UsageRefusedError: as when it is ruled.
        WriteRefusedError: a record was written by somebody else since the archive was opened.
        ArchiveError: the archive does not say yet what it represents.
    """
    plan = _confirmed(find_two(opened, names), found, signed)
    return try_out(opened, plan.steps, answer=CONFIRM, record=plan.two.id, said=plan.said, verdicts=verdicts)


def rule_out(where: Where, names: tuple[str, str], why: str, signed: Signed) -> Ruled:
    """Rule that neither of two sources is a copy of the other, and see what else may have been tied by that alone.

    Args:
        where: the archive's folder, or the archive as it was opened before.
        names: the ids of the two sources, in any order.
        why: the reason, which stays with the pair.
        signed: who rules, and when.

    Raises:
        UnknownRecordError: there is no such source.
        UsageRefusedError: the one is on record as made from the other.
        WriteRefusedError: the record cannot be changed without touching the rest.
    """
    ruled = _carry_out(where, RULE_OUT, lambda opened: _ruled_out(find_two(opened, names), why, signed))
    return _with_what_came_loose(ruled, where, names, signed) if ruled.written else ruled


def try_rule_out(
    opened: Opened,
    names: tuple[str, str],
    why: str,
    signed: Signed,
    *,
    verdicts: Mapping[str, Verdict] | None = None,
) -> Tried:
    """Tell which verdicts that ruling would change; nothing is written.

    Args:
        opened: the archive.
        names: the ids of the two sources, in any order.
        why: the reason.
        signed: who would rule, and when.
        verdicts: on every feature of the archive as it is, where they are known; None to judge what is reached.

    Raises:
        UnknownRecordError: there is no such source.
        UsageRefusedError: as when it is ruled.
        WriteRefusedError: a record was written by somebody else since the archive was opened.
        ArchiveError: the archive does not say yet what it represents.
    """
    plan = _ruled_out(find_two(opened, names), why, signed)
    return try_out(opened, plan.steps, answer=RULE_OUT, record=plan.two.id, said=plan.said, verdicts=verdicts)


def _with_what_came_loose(ruled: Ruled, where: Where, names: tuple[str, str], signed: Signed) -> Ruled:
    """Compare the two with all others once more, since likenesses that followed from that pair follow no longer."""
    try:
        found = compare_again(where, names, by=signed.by, today=signed.date)
    except ProvenanceError as error:
        error.written = (*ruled.written, *error.written)
        raise
    said = tuple(
        f"{pair.source} looks like {pair.other} too, which followed from this pair until now: {pair.why}"
        for pair in found.suspected
    )
    return replace(ruled, written=(*ruled.written, *found.written), said=(*ruled.said, *said))


def _carry_out(where: Where, answer: str, plan: Callable[[Opened], _Plan]) -> Ruled:
    planned: list[tuple[_Plan, Archive]] = []

    def steps_of(opened: Opened) -> Sequence[Step]:
        made = plan(opened)
        planned.append((made, preview(opened, made.steps).after))
        return made.steps

    written = change(where, steps_of)
    last, after = planned[-1]
    before = last.two.opened.archive
    return Ruled(
        standing=last.two.opened.standing,
        answer=answer,
        record=last.two.id,
        written=written,
        said=last.said,
        changes=changes_between(before, after, written) if before.target is not None else None,
    )


def _confirmed(two: TwoSources, found: Confirmation, signed: Signed) -> _Plan:
    _require_reason(found.why)
    _refuse_withdrawn(two)
    how = _how(found)
    descent = _descent(two, found.original)
    if len(two.links) == 1 and how is not two.links[0].how:
        raise UsageRefusedError(
            f"{two.places()}, as is said there",
            f"say `--how {two.links[0].how}`, or change `how` there by hand first",
        )
    steps: list[Step] = []
    if descent is not None and not two.links:
        entry = {"source": descent.earlier.id, "how": how}
        steps.append(
            RecordEdit(kind=RecordKind.SOURCE, id=descent.later.id, changes=(Append(("derives_from",), entry),))
        )
    ruling = {"ruling": Ruling.COPY.value, "how": how.value if how else None, "why_ruled": found.why}
    ruled, said = _ruling_steps(two, ruling, signed)
    if steps or ruled:
        said = (_confirmed_words(two, descent, how), *((descent.known_by,) if descent is not None else ()), *said)
    return _Plan(two=two, steps=(*steps, *ruled), said=said)


def _ruled_out(two: TwoSources, why: str, signed: Signed) -> _Plan:
    _require_reason(why)
    if two.links:
        raise UsageRefusedError(
            two.places(),
            "if that is wrong, remove the entry of `derives_from` there by hand first; if it is right, it is a copy: "
            f"provenance copies confirm {' '.join(two.ids)} --how {two.links[0].how} --why …",
        )
    ruled, said = _ruling_steps(two, {"ruling": Ruling.DISTINCT.value, "why_ruled": why}, signed)
    if ruled and two.pair is not None and two.pair.how is not None:
        said = (*said, f"`how: {two.pair.how}` stays in its record, and counts for nothing.")
    if ruled:
        said = (f"Ruled: neither {two.one.id} nor {two.other.id} is a copy of the other.", *said)
    return _Plan(two=two, steps=ruled, said=said)


def _require_reason(why: str) -> None:
    if not why.strip():
        raise UsageRefusedError("it is not said why", "give the reason with --why")


def _refuse_withdrawn(two: TwoSources) -> None:
    for source in (two.one, two.other):
        if source.withdrawn is not None:
            raise UsageRefusedError(
                f"sources/{source.id}.yaml: withdrawn: {source.withdrawn.why}",
                "what is made from a withdrawn source goes out of judgement with it, and a withdrawn copy counts for "
                "nothing: if that is meant, write it with `provenance tag ID --derives-from source=…,how=…`",
            )


def _how(found: Confirmation) -> Derivation | None:
    words = [each.value for each in Derivation]
    listing = f"one of {', '.join(words)}"
    if found.how is None:
        if found.original == NEITHER:
            return None
        raise UsageRefusedError("it is not said how the one was made from the other", f"add `--how WORD`, {listing}")
    if found.how not in words:
        what = f"--how: {quote(found.how)} is no way in which one source is made from another"
        raise UsageRefusedError(what, nearest_mend(found.how, words, f"write {listing}"))
    return Derivation(found.how)


def _descent(two: TwoSources, original: str | None) -> _Descent | None:
    """Which was made from which; None where both go back to a third.

    Raises:
        UsageRefusedError: that cannot be told, or what is on record says otherwise.
    """
    if original not in {None, NEITHER, *two.ids}:
        raise UsageRefusedError(
            f"--original: {quote(original or '')} is none of the two", f"write {' or '.join(two.ids)}, or {NEITHER}"
        )
    if two.links:
        return _descent_on_record(two, original)
    if original == NEITHER:
        return None
    if original is not None:
        earlier, later = (two.one, two.other) if original == two.one.id else (two.other, two.one)
        return _Descent(later=later, earlier=earlier, known_by=f"That goes into the record of {later.id}.")
    return _descent_by_dates(two)


def _descent_on_record(two: TwoSources, original: str | None) -> _Descent:
    later, earlier = two.links[0].source, two.links[-1].parent
    sources = two.opened.archive.sources
    if original not in {None, earlier}:
        wanted = "both go back to a third" if original == NEITHER else f"{earlier} was made from {later}"
        raise UsageRefusedError(
            f"{two.places()}; so it cannot be that {wanted}",
            f"say `--original {earlier}`, or remove that entry of `derives_from` by hand first",
        )
    known_by = f"That stands there already, so only the ruling is to be written: {two.places()}."
    return _Descent(later=sources[later], earlier=sources[earlier], known_by=known_by)


def _descent_by_dates(two: TwoSources) -> _Descent:
    for earlier, later in ((two.one, two.other), (two.other, two.one)):
        if earlier.created and later.created and certainly_before(earlier.created, later.created):
            known_by = (
                f"{earlier.id} is the earlier of the two ({dated_words(earlier)}, against {dated_words(later)}). What "
                f"it was made from goes into the record of {later.id}."
            )
            return _Descent(later=later, earlier=earlier, known_by=known_by)
    dates = f"{two.one.id}: {dated_words(two.one)}; {two.other.id}: {dated_words(two.other)}"
    raise UsageRefusedError(
        f"their dates do not say which of the two is the earlier ({dates})",
        f"say which of them the other was made from, `--original {two.one.id}` or `--original {two.other.id}`; or "
        f"`--original {NEITHER}` where both go back to a third that the archive does not hold",
    )


def _confirmed_words(two: TwoSources, descent: _Descent | None, how: Derivation | None) -> str:
    if descent is None or how is None:
        made = f"{two.one.id} and {two.other.id} both go back to a third that is not held"
    elif len(two.links) > 1:
        through = ", ".join(link.parent for link in two.links[:-1])
        made = f"{descent.later.id} goes back to {descent.earlier.id} by way of {through}"
    else:
        made = f"{descent.later.id} {derivation_in_words(how)} {descent.earlier.id}"
    return f"Ruled: {made}. The two count as one witness."


def _ruling_steps(
    two: TwoSources, ruling: Mapping[str, str | None], signed: Signed
) -> tuple[tuple[Step, ...], tuple[str, ...]]:
    """The step that writes a ruling into the pair's record, or begins that; none where it says all of that already."""
    fields = {key: value for key, value in ruling.items() if value is not None}
    whole = {**fields, "ruled_by": signed.by, "ruled_date": signed.date}
    if two.pair is None:
        begun = {
            "between": list(two.ids),
            "found_by": {"method": BY_EYE},
            "why": fields["why_ruled"],
            **whole,
            "by": signed.by,
            "date": signed.date,
        }
        return (NewRecord(kind=RecordKind.COPY, id=two.id, fields=begun),), ()
    there = _content(two)
    before = ruling_words(two.pair, two.opened.archive)
    if all(there.get(key) == value for key, value in fields.items()):
        return (), (f"Already {before}.",)
    changes = [_set(key, value, there) for key, value in whole.items() if there.get(key) != value]
    said = (f"Until now it was {before}.",) if two.pair.ruling is not Ruling.OPEN else ()
    return (RecordEdit(kind=RecordKind.COPY, id=two.id, changes=tuple(changes)),), said


def _set(key: str, value: str, there: Mapping[str, object]) -> Change:
    return SetScalar((key,), value) if key in there else AddKey((), key, value)


def _content(two: TwoSources) -> Mapping[str, object]:
    file = RecordKind.COPY.file_of(two.id)
    document = read_record(read_bytes(str(two.opened.folder / file)), file)
    return document.content if isinstance(document, Document) else {}
