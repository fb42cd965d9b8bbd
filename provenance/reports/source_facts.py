"""What is on record of a source, as the team reads it: terms and what is said under each."""

from collections.abc import Iterator

from provenance.records.archive import Archive
from provenance.records.kinds import Access, KnownBy, Publish
from provenance.records.sources import Acquired, Loan, Permission, Rights, Shows, Source
from provenance.reports.copied_words import person_words
from provenance.reports.date_words import date_words
from provenance.reports.registers_sources import RELIABILITY
from provenance.rules.looked_for import is_note_of_looking
from provenance.rules.rights_statements import statement_words
from provenance.rules.source_words import kind_in_words

Fact = tuple[str, tuple[str, ...]]
"""A term, and what is said under it."""

_ALTERED = {
    "retouched": "retouched",
    "censored": "parts of it were made unreadable by a censor",
    "reversed": "printed the wrong way round",
    "coloured": "coloured later",
}
_KNOWN_BY = {
    KnownBy.NUMBER: "known by its number",
    KnownBy.CAPTION: "known by a caption",
    KnownBy.LIKENESS: "known by likeness",
}
_PUBLISH = {
    Publish.ALLOWED: "may be published",
    Publish.ASK: "permission to publish has still to be asked for",
    Publish.REFUSED: "its publication was refused",
}
_ACCESS = {
    Access.OPEN: "open: anybody may be shown it",
    Access.TEAM: "the team alone",
    Access.CLOSED: "closed: held in confidence",
}


def facts_of(archive: Archive, source: Source) -> tuple[Fact, ...]:
    """Everything that its record says of it, but for its files, its descent and its cautions; nothing left empty."""
    facts: tuple[tuple[str, tuple[str | None, ...]], ...] = (
        ("What it is", (_kind(source), *_remarks(source))),
        ("Made", (date_words(source.created) if source.created else "nobody has said when",)),
        ("By", (source.creator,)),
        ("Occasion", (source.occasion,)),
        ("Held by", (_joined(source.holder, source.place), source.reference)),
        ("Language", (", ".join(source.language),)),
        ("Issue", (source.issue, f"replaces {_titled(archive, source.replaces)}" if source.replaces else None)),
        ("What it shows", shown_words(archive, source)),
        ("Speaks of", tuple(_component(archive, each) for each in source.topics)),
        ("Reliability", (_reliability(source),)),
        ("Rights", tuple(_rights(source.rights)) if source.rights else ("nothing is settled yet",)),
        ("Who may see it", (_access(source),)),
        ("On loan", tuple(_loan(source.loan)) if source.loan else ()),
        ("How it came", tuple(_acquired(each) for each in source.acquired)),
        ("Note", (source.note,)),
        ("Entered", (f"by {person_words(archive, source.by)}, {date_words(source.date)}",)),
    )
    told = ((term, tuple(filter(None, said))) for term, said in facts)
    return tuple((term, said) for term, said in told if said)


def _kind(source: Source) -> str:
    if source.kind is None:
        return "nobody has said yet what it is"
    return kind_in_words(source.kind) if source.tagged else f"{kind_in_words(source.kind)}; not looked at yet"


def _remarks(source: Source) -> Iterator[str]:
    if source.executed is False:
        yield "a design that was never built"
    if source.altered:
        yield _ALTERED.get(source.altered, source.altered)
    if source.process:
        yield f"in {source.process}"
    if source.origin_stated:
        yield "says where its facts come from"


def _reliability(source: Source) -> str | None:
    if source.reliability is None:
        return None
    why = f": {source.reliability_why}" if source.reliability_why else ""
    return f"{source.reliability}, {RELIABILITY[source.reliability]}{why}"


def shown_words(archive: Archive, source: Source) -> tuple[str, ...]:
    """The machines that a source shows or speaks of, each in words."""
    return tuple(_shows(archive, each) for each in source.shows)


def machine_words(shown: Shows, part: str | None = None) -> str:
    """A machine that is shown, in words; `part` is the component that is meant of it, None for all of it."""
    told = (
        f"No. {shown.example}" if shown.example is not None else "a machine, it is not known which",
        part,
        date_words(shown.when) if shown.when else None,
        _KNOWN_BY[shown.known_by] if shown.known_by else None,
        shown.note,
    )
    return ", ".join(filter(None, told))


def _shows(archive: Archive, shown: Shows) -> str:
    component = archive.components.get(shown.component or "")
    part = component.name if component else shown.component
    return f"{part}, {shown.note}" if is_note_of_looking(shown) else machine_words(shown, part)


def _rights(rights: Rights) -> Iterator[str]:
    if rights.statement:
        yield statement_words(rights.statement)
    if rights.holder:
        yield f"rights held by {rights.holder}"
    if rights.credit:
        yield f"to be credited: {rights.credit}"
    yield _PUBLISH[rights.publish] if rights.publish else "whether it may be published is not settled"
    if rights.permission:
        yield _permission(rights.permission)


def _permission(permission: Permission) -> str:
    told = (
        f"from {permission.giver}" if permission.giver else None,
        date_words(permission.date) if permission.date else None,
        f"for {', '.join(permission.scope)}" if permission.scope else None,
        f"until {date_words(permission.until)}" if permission.until else None,
        f"see {permission.file}" if permission.file else None,
    )
    return f"permission {', '.join(filter(None, told))}".rstrip()


def _access(source: Source) -> str:
    until = f", until {date_words(source.access_until)}" if source.access_until else ""
    return f"{_ACCESS[source.access]}{until}"


def _loan(loan: Loan) -> Iterator[str]:
    yield f"belongs to {loan.owner}"
    if loan.returned:
        yield f"went back: {date_words(loan.returned)}"
    else:
        yield f"due back: {date_words(loan.due)}" if loan.due else "no day is agreed on which it goes back"


def _acquired(acquired: Acquired) -> str:
    told = (
        f"from {acquired.giver}" if acquired.giver else None,
        date_words(acquired.date) if acquired.date else None,
        f"received as {acquired.received_as}" if acquired.received_as else None,
        acquired.note,
    )
    return ", ".join(filter(None, told))


def _titled(archive: Archive, source_id: str) -> str:
    source = archive.sources.get(source_id)
    return f"“{source.title}” ({source_id})" if source else source_id


def _component(archive: Archive, component: str) -> str:
    found = archive.components.get(component)
    return found.name if found else component


def _joined(*parts: str | None) -> str | None:
    return ", ".join(filter(None, parts)) or None
