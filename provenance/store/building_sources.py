"""Sources, built from typed content that its schema has passed."""

from typing import Any

from provenance.records.dates import parse_edtf
from provenance.records.kinds import Access, Derivation, KnownBy, Publish, SourceKind
from provenance.records.regions import parse_page_range, parse_region
from provenance.records.sources import (
    Acquired,
    DerivesFrom,
    Loan,
    OriginalFile,
    Permission,
    Rights,
    Shows,
    Source,
    Within,
)
from provenance.store.building_parts import build_date, build_withdrawal

_EXECUTED = {"built": True, "unbuilt": False, "unknown": None, None: None}


def build_source(source_id: str, content: dict[str, Any]) -> Source:
    """Build a source from sound content."""
    get = content.get
    kind = get("kind")
    state = get("state")
    return Source(
        id=source_id,
        title=content["title"],
        by=content["by"],
        date=parse_edtf(content["date"]),
        kind=None if kind is None else SourceKind(kind),
        created=build_date(get("created")),
        creator=get("creator"),
        occasion=get("occasion"),
        holder=get("holder"),
        place=get("place"),
        reference=get("reference"),
        language=tuple(get("language", ())),
        acquired=tuple(_acquired(entry) for entry in get("acquired", ())),
        loan=_loan(get("loan")),
        files=tuple(_file(file) for file in get("files", ())),
        within=_within(get("within")),
        derives_from=tuple(_derives_from(entry) for entry in get("derives_from", ())),
        origin_stated=get("origin") == "stated",
        issue=get("issue"),
        replaces=get("replaces"),
        executed=_EXECUTED[get("executed")],
        process=get("process"),
        altered=get("altered"),
        reliability=get("reliability"),
        reliability_why=get("reliability_why"),
        shows=tuple(_shows(entry) for entry in get("shows", ())),
        rights=_rights(get("rights")),
        access=Access(get("access", Access.TEAM)),
        access_until=build_date(get("access_until")),
        hazards=tuple(get("hazards", ())),
        topics=tuple(get("topics", ())),
        tagged=kind is not None if state is None else state == "tagged",
        withdrawn=build_withdrawal(get("withdrawn")),
        note=get("note"),
    )


def _acquired(content: dict[str, Any]) -> Acquired:
    return Acquired(
        date=build_date(content.get("date")),
        giver=content.get("from"),
        note=content.get("note"),
        received_as=content.get("received_as"),
    )


def _loan(content: dict[str, Any] | None) -> Loan | None:
    if content is None:
        return None
    return Loan(
        owner=content["owner"], due=build_date(content.get("due")), returned=build_date(content.get("returned"))
    )


def _file(content: dict[str, Any]) -> OriginalFile:
    return OriginalFile(
        path=content["path"],
        received_as=content.get("received_as"),
        sha256=content["sha256"],
        size=content["bytes"],
        media_type=content["media_type"],
        pages=content.get("pages"),
    )


def _within(content: dict[str, Any] | None) -> Within | None:
    if content is None:
        return None
    pages, region = content.get("pages"), content.get("region")
    return Within(
        source=content["source"],
        pages=None if pages is None else parse_page_range(pages),
        region=None if region is None else parse_region(region),
    )


def _derives_from(content: dict[str, Any]) -> DerivesFrom:
    return DerivesFrom(source=content["source"], how=Derivation(content["how"]), note=content.get("note"))


def _shows(content: dict[str, Any]) -> Shows:
    known_by = content.get("known_by")
    return Shows(
        example=content.get("example"),
        when=build_date(content.get("when")),
        known_by=None if known_by is None else KnownBy(known_by),
        component=content.get("component"),
        note=content.get("note"),
    )


def _rights(content: dict[str, Any] | None) -> Rights | None:
    if content is None:
        return None
    publish = content.get("publish")
    return Rights(
        statement=content.get("statement"),
        holder=content.get("holder"),
        credit=content.get("credit"),
        publish=None if publish is None else Publish(publish),
        permission=_permission(content.get("permission")),
    )


def _permission(content: dict[str, Any] | None) -> Permission | None:
    if content is None:
        return None
    return Permission(
        giver=content.get("from"),
        date=build_date(content.get("date")),
        scope=tuple(content.get("scope", ())),
        until=build_date(content.get("until")),
        file=content.get("file"),
    )
