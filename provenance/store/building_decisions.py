"""Pairs of copies, decisions, queries, panels and leads, built from typed content that its schema has passed."""

from typing import Any

from provenance.records.dates import parse_edtf
from provenance.records.decisions import (
    AlikePlace,
    CopyPair,
    Decision,
    FoundBy,
    Lead,
    Made,
    MadeDrawing,
    ModernChange,
    Panel,
    Printed,
    Query,
    Release,
    SetAside,
    Statement,
)
from provenance.records.kinds import Derivation, Ruling
from provenance.records.regions import parse_region, parse_time_span
from provenance.store.building_parts import build_date, build_withdrawal


def build_copy(pair_id: str, content: dict[str, Any]) -> CopyPair:
    """Build a pair of copies from sound content."""
    get = content.get
    first, second = content["between"]
    found_by, how = get("found_by"), get("how")
    return CopyPair(
        id=pair_id,
        between=(first, second),
        by=content["by"],
        date=parse_edtf(content["date"]),
        ruling=Ruling(get("ruling", Ruling.OPEN)),
        found_by=None if found_by is None else _found_by(found_by),
        why=get("why"),
        how=None if how is None else Derivation(how),
        why_ruled=get("why_ruled"),
        ruled_by=get("ruled_by"),
        ruled_date=build_date(get("ruled_date")),
        note=get("note"),
    )


def build_decision(decision_id: str, content: dict[str, Any]) -> Decision:
    """Build a decision from sound content."""
    get = content.get
    change, released = get("modern_change"), get("released")
    return Decision(
        id=decision_id,
        about=content["about"],
        status=content["status"],
        build=content["build"],
        by=content["by"],
        date=parse_edtf(content["date"]),
        tolerance=get("tolerance"),
        basis=tuple(get("basis", ())),
        set_aside=tuple(SetAside(claim=entry["claim"], why=entry["why"]) for entry in get("set_aside", ())),
        modern_change=None if change is None else ModernChange(reason=change["reason"], note=change.get("note")),
        drawings=tuple(
            MadeDrawing(number=drawing["number"], issue=drawing.get("issue")) for drawing in get("drawings", ())
        ),
        grade_then=get("grade_then"),
        replaces=get("replaces"),
        stamp=get("stamp"),
        why=get("why"),
        released=None if released is None else Release(by=released["by"], date=parse_edtf(released["date"])),
        made=tuple(_made(entry) for entry in get("made", ())),
        withdrawn=build_withdrawal(get("withdrawn")),
        note=get("note"),
    )


def build_query(query_id: str, content: dict[str, Any]) -> Query:
    """Build a query from sound content."""
    get = content.get
    return Query(
        id=query_id,
        about=content["about"],
        by=content["by"],
        date=parse_edtf(content["date"]),
        grounds=content["grounds"],
        open=get("state") != "answered",
        raised_by=get("raised_by"),
        would_settle=get("would_settle"),
        answer=get("answer"),
        answered_by=get("answered_by"),
        answered_date=build_date(get("answered_date")),
        note=get("note"),
    )


def build_panel(panel_id: str, content: dict[str, Any]) -> Panel:
    """Build an interpretation panel from sound content."""
    get = content.get
    return Panel(
        id=panel_id,
        title=content["title"],
        by=content["by"],
        date=parse_edtf(content["date"]),
        statements=tuple(
            Statement(text=entry["text"], features=tuple(entry.get("features", ()))) for entry in get("statements", ())
        ),
        components=tuple(get("components", ())),
        printed=tuple(Printed(date=parse_edtf(entry["date"]), digest=entry["digest"]) for entry in get("printed", ())),
        note=get("note"),
    )


def build_lead(lead_id: str, content: dict[str, Any]) -> Lead:
    """Build a lead from sound content."""
    get = content.get
    return Lead(
        id=lead_id,
        what=content["what"],
        by=content["by"],
        date=parse_edtf(content["date"]),
        holder=get("holder"),
        place=get("place"),
        reference=get("reference"),
        hoped_for=tuple(get("hoped_for", ())),
        effort=get("effort"),
        cost=get("cost"),
        chance=get("chance"),
        searched=get("state") == "searched",
        outcome=get("outcome"),
        note=get("note"),
    )


def _found_by(content: dict[str, Any]) -> FoundBy:
    return FoundBy(
        method=content["method"],
        version=content.get("version"),
        settings=content.get("settings"),
        score=content.get("score"),
        points=content.get("points"),
        overlap=content.get("overlap"),
        letters=content.get("letters"),
        places=tuple(_alike_place(entry) for entry in content.get("places", ())),
    )


def _alike_place(content: dict[str, Any]) -> AlikePlace:
    region, time = content.get("region"), content.get("time")
    return AlikePlace(
        page=content.get("page"),
        region=None if region is None else parse_region(region),
        time=None if time is None else parse_time_span(time),
    )


def _made(content: dict[str, Any]) -> Made:
    return Made(
        date=parse_edtf(content["date"]),
        by=content.get("by"),
        value=content.get("value"),
        fits=content.get("fits"),
        inspected_by=content.get("inspected_by"),
        photo=content.get("photo"),
        note=content.get("note"),
    )
