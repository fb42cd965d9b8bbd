"""Add to the archive by hand: a component, a feature of one, a panel, a lead, a person."""

from collections.abc import Mapping, Sequence

from provenance.errors import UsageRefusedError
from provenance.records.reference_numbers import reference_key
from provenance.records.wording import fold_wording, quote
from provenance.reports.added import Added
from provenance.reports.written import Written
from provenance.store.editing import AddKey, Append
from provenance.store.naming import slug
from provenance.store.record_kinds import LONGEST_ID, RecordKind, is_record_id
from provenance.tasks.changing import NewRecord, RecordEdit, Step, change
from provenance.tasks.given_values import given_date, require_record
from provenance.tasks.nearest import nearest_mend
from provenance.tasks.opening import Opened, Where, opened_at

ANSWER = "add"


def add_record(where: Where, kind: str, record_id: str, fields: Mapping[str, object], *, by: str, today: str) -> Added:
    """Add a component, a panel or a lead as a new record.

    Args:
        where: the archive's folder, or the archive as it was opened before.
        kind: `component`, `panel` or `lead`.
        record_id: its id, which is also the stem of its file.
        fields: as its schema has them, without `by` and `date`; None and empty ones are left out.
        by: an id of `people`.
        today: the date that the record carries.

    Raises:
        UsageRefusedError: no id, one that is taken, or a field that names what is not there; nothing is written.
        WriteRefusedError: the record cannot be written.
    """
    require_id(record_id)
    opened = opened_at(where)
    given = dict(fields)
    if given.get("needed_by"):
        given["needed_by"] = given_date(str(given["needed_by"]), "--needed-by")
    new = NewRecord(kind=RecordKind(kind), id=record_id, fields={**given, "by": by, "date": today})
    written = change(opened, lambda _: [new])
    said = _alike(opened, record_id, fields) if new.kind is RecordKind.COMPONENT else ()
    return _answer(opened, record_id, written, said)


def add_feature(where: Where, name: str, fields: Mapping[str, object]) -> Added:
    """Add a feature at the end of its component's, whose file stays as it is otherwise.

    Args:
        where: the archive's folder, or the archive as it was opened before.
        name: `component/feature`.
        fields: as the component's schema has them, without `id`; None and empty ones are left out.

    Raises:
        UsageRefusedError: the component is not there or has that feature already, or a field is unsound.
        WriteRefusedError: the component's file cannot be edited.
    """
    component, stroke, feature = name.partition("/")
    if not stroke:
        raise UsageRefusedError(
            f"{quote(name)} names no feature", "write component and feature, such as `headlamp/bracket-height`"
        )
    require_id(feature)
    given = {key: value for key, value in fields.items() if value}

    def plan(opened: Opened) -> Sequence[Step]:
        _require_free(opened, component, feature)
        appended = Append(("features",), {"id": feature, **given})
        return [RecordEdit(kind=RecordKind.COMPONENT, id=component, changes=(appended,))]

    opened = opened_at(where)
    return _answer(opened, name, change(opened, plan))


def add_statement(where: Where, panel: str, text: str, features: Sequence[str]) -> Added:
    """Add a statement at the end of a panel's, whose file stays as it is otherwise.

    Args:
        where: the archive's folder, or the archive as it was opened before.
        panel: its id.
        text: the sentence as it is to be printed.
        features: those that it speaks of, each as `component/feature`.

    Raises:
        UnknownRecordError: there is no such panel.
        UsageRefusedError: no text, or a feature that is not there.
        WriteRefusedError: the panel's file cannot be edited.
    """
    if not text.strip():
        raise UsageRefusedError("the statement says nothing", "give its words with --text")
    statement = {"text": text} | ({"features": list(features)} if features else {})

    def plan(opened: Opened) -> Sequence[Step]:
        there = require_record(opened.archive.panels, panel, "panel", "panels")
        listed = Append(("statements",), statement) if there.statements else AddKey((), "statements", [statement])
        return [RecordEdit(kind=RecordKind.PANEL, id=panel, changes=(listed,))]

    opened = opened_at(where)
    return _answer(opened, panel, change(opened, plan))


def add_person(where: Where, person_id: str, name: str, credited_as: str | None) -> Added:
    """Add a person to the archive's own record.

    Args:
        where: the archive's folder, or the archive as it was opened before.
        person_id: how records name the person, such as initials.
        name: the person's name.
        credited_as: how print names them; None for by name.

    Raises:
        UsageRefusedError: no id, or somebody has it already.
        WriteRefusedError: archive.yaml cannot be edited.
    """
    require_id(person_id)
    person = {"id": person_id, "name": name} | ({"credited_as": credited_as} if credited_as else {})

    def plan(opened: Opened) -> Sequence[Step]:
        for known in opened.archive.people:
            if known.id == person_id:
                raise UsageRefusedError(f"`{person_id}` is {known.name} already", "give another id")
        return [RecordEdit(kind=RecordKind.ARCHIVE, id="", changes=(Append(("people",), person),))]

    opened = opened_at(where)
    return _answer(opened, person_id, change(opened, plan))


def given_option(typed: str) -> dict[str, str]:
    """An option of a choice as it was given: `ID=NAME`, or its name alone, of which the id is made."""
    given, stroke, name = (part.strip() for part in typed.partition("="))
    if stroke:
        return {"id": given, "name": name or given}
    return {"id": given if is_record_id(given) else slug(given, longest=LONGEST_ID), "name": given}


def require_id(record_id: str) -> None:
    """See that a text can be an id.

    Raises:
        UsageRefusedError: it cannot; with the nearest that can.
    """
    if not is_record_id(record_id):
        raise UsageRefusedError(
            f"{quote(record_id)} is no id: small letters, digits and single hyphens, {LONGEST_ID} at most",
            f"did you mean `{slug(record_id, longest=LONGEST_ID)}`?",
        )


def require_component(opened: Opened, component: str) -> None:
    """See that there is a component, and that it can be used.

    Raises:
        UsageRefusedError: there is none, with the nearest ones; or its record has faults.
    """
    if component in opened.archive.components:
        return
    file = RecordKind.COMPONENT.file_of(component)
    for left_out in opened.left_out:
        if left_out.file == file:
            raise UsageRefusedError(f"{file} cannot be used: {left_out.why}", "mend that record first")
    mend = nearest_mend(component, opened.archive.components, f"add it: `provenance add component {component}`")
    raise UsageRefusedError(f"there is no component {quote(component)}", mend)


def _require_free(opened: Opened, component: str, feature: str) -> None:
    require_component(opened, component)
    known = opened.archive.components[component].feature(feature)
    if known:
        raise UsageRefusedError(
            f"{component} has a feature `{feature}` already: {known.name}", "give the new one another id"
        )


def _alike(opened: Opened, record_id: str, fields: Mapping[str, object]) -> tuple[str, ...]:
    """Say which components are called as a new one is, or have a number that reads as one of its numbers."""
    given = fields.get("references")
    numbers = {reference_key(str(each)) for each in given} if isinstance(given, list | tuple) else set()
    said = []
    for other in opened.archive.components.values():
        if fold_wording(other.name) == fold_wording(str(fields.get("name"))):
            said.append(f"{other.id} is called {other.name} too; is {record_id} another part?")
        said += [
            f"{other.id} has the number {number} too; is {record_id} another part?"
            for number in other.references
            if reference_key(number) in numbers
        ]
    return tuple(said)


def _answer(opened: Opened, record: str, written: tuple[str, ...], said: tuple[str, ...] = ()) -> Added:
    return Added(written=Written(standing=opened.standing, answer=ANSWER, record=record, written=written, said=said))
