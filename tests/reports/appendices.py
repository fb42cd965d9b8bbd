"""Appendices of made archives, as the task composes them."""

from dataclasses import replace
from typing import Any

from builders import BY, TODAY, a_claim, a_component, a_date, a_decision, a_feature, an_archive, an_item, seen_on
from public_archives import DAY, an_open_source

from provenance.records.archive import Archive, Caution, Subject
from provenance.records.claims import At
from provenance.records.decisions import MadeDrawing, ModernChange, Panel, Statement
from provenance.records.regions import parse_time_span
from provenance.reports.appendix import compose_appendix
from provenance.reports.appendix_values import Appendix
from provenance.rules.public_view import public_view


def the_appendix(archive: Archive, *, draft: bool = False) -> Appendix:
    """The appendix of the panel `lamp`."""
    return compose_appendix(public_view(archive, DAY), "lamp", printed=a_date(str(DAY)), draft=draft)


def a_panel(*statements: tuple[str, tuple[str, ...]], **fields: Any) -> Panel:
    """The panel `lamp`: each statement with the features that it speaks of."""
    told = tuple(Statement(text=text, features=features) for text, features in statements)
    defaults = {"title": "How it was lit", "components": ("headlamp",), **fields}
    return Panel(id="lamp", by=BY, date=TODAY, statements=told, **defaults)


def with_panel(archive: Archive, *statements: tuple[str, tuple[str, ...]], **fields: Any) -> Archive:
    """The archive with that panel."""
    panel = a_panel(*statements, **fields)
    return replace(
        archive,
        subject=Subject(name="Velling petrol railcar", claims_to_be="reproduction"),
        panels={panel.id: panel},
    )


def a_whole_archive(words: str = "as it was") -> Archive:
    """Evidence for and against, a recording, a changed part, conjecture, a hazard; `words` stand where people write."""
    photo = an_open_source("photo", created="1934-06-12", creator=words, title=words, holder=words, reference=words)
    manual = an_open_source("manual", "manual", title="Handbook", created="1933~", issue="2", creator="Tamlin Works")
    tape = an_open_source("tape", "oral-history", title="Talk", creator="Ada Penrith", hazards=("nitrate-film",))
    electric = a_claim(
        "electric",
        an_item("photo", "shows", seen=seen_on("9", "1934-06-12"), page=1, quote=words),
        an_item("manual", page=14),
        an_item("tape", at=At(time=parse_time_span("00:12:31"), who="Ada Penrith")),
        an_item("manual", stance="contradicts", page=15),
    )
    oil = a_claim("oil", "manual", to="3")
    sister = a_claim("glass cord", "manual", about="headlamp/lagging", to="3")
    part = a_component(
        "headlamp",
        a_feature(),
        a_feature("lagging", "text", "material", name="Lagging"),
        a_feature("hood", "presence", "presence", name="Hood"),
        a_feature("paint", "text", "finish", name="Paint"),
        name=f"Headlamp {words}",
        hazards=("asbestos",),
        made_as="reproduction",
    )
    changed = a_decision(
        "lag",
        "headlamp/lagging",
        build="glass wool",
        modern_change=ModernChange(reason="safety", note=f"{words}."),
        stamp="R9.",
        drawings=(MadeDrawing(number="R9-1", issue="A"), MadeDrawing(number="R9-2")),
        tolerance="1 mm",
        why=words,
    )
    painted = a_decision("paint", "headlamp/paint", build=words)
    archive = an_archive(photo, manual, tape, electric, oil, sister, part, changed, painted)
    caution = Caution(hazard="asbestos", text=words, consult="the safety officer", jurisdiction="Orrin")
    statements = ((words, ("headlamp/type", "headlamp/hood")), ("It was lit.", ()))
    return replace(with_panel(archive, *statements, title=words), cautions=(caution,))
