"""Appendices of made archives, as the task composes them."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from builders import BY, TODAY, a_claim, a_component, a_date, a_decision, a_feature, an_archive, an_item, seen_on
from public_archives import DAY, an_open_source

from provenance.exchange.csl_json import csl_items
from provenance.records.archive import Archive, Caution, Subject
from provenance.records.claims import At
from provenance.records.decisions import MadeDrawing, ModernChange, Panel, Statement
from provenance.records.regions import parse_time_span
from provenance.reports.appendix import compose_appendix
from provenance.reports.appendix_values import Account, Appendix, Reading
from provenance.reports.citations import Citation, Citing
from provenance.reports.date_words import date_words
from provenance.reports.document import (
    Boxed,
    Document,
    Heading,
    Listing,
    Paragraph,
    Quotation,
    Table,
    Terms,
    Words,
    flat,
)
from provenance.rules.public_view import public_view
from provenance.tasks.citing_styles import style_sheet


def the_appendix(archive: Archive, *, draft: bool = False, style: str | None = None) -> Appendix:
    """The appendix of the panel `lamp`."""
    view = public_view(archive, DAY)
    citing = Citing(style=style_sheet(style), items=csl_items(view, date_words))
    return compose_appendix(view, "lamp", citing, printed=a_date(str(DAY)), draft=draft)


def plain_text(words: Words) -> str:
    """Some words without their manner, and with plain spaces for those at which no line is broken."""
    return "".join(run.text for run in words).replace("\u00a0", " ")


def marks_of(citations: Iterable[Citation]) -> list[str]:
    """What stands in the text for each citation."""
    return [plain_text(each.mark) for each in citations]


def supported(reading: Reading | None) -> dict[str, list[str]]:
    """The marks of what supports a value, by class of evidence."""
    assert reading is not None
    return {each.said: marks_of(each.citations) for each in reading.supported}


def the_account(archive: Archive) -> Account:
    """The first account of the first statement."""
    return the_appendix(archive).statements[0].accounts[0]


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


def lines_of(document: Document) -> list[str]:
    """What the document says, a line for each thing that stands by itself."""
    lines: list[str] = []
    for block in flat(document.blocks):
        match block:
            case Heading(text=text, level=level):
                lines.append(f"{'#' * level} {text}")
            case Paragraph(words=said):
                lines.append(plain_text(said))
            case Boxed(name=name, text=text):
                lines.append(f"! {name}: {text}")
            case Quotation(text=text):
                lines.append(f"> {text}")
            case Listing(entries=entries, numbered=numbered):
                marks = (f"{n}." if numbered else "-" for n in range(1, len(entries) + 1))
                lines += [f"{mark} {plain_text(entry.words)}" for mark, entry in zip(marks, entries, strict=True)]
            case Terms(pairs=pairs):
                lines += [f"{term}: {plain_text(said)}" for term, said in pairs]
            case Table(caption=caption, columns=columns, rows=rows):
                lines += [caption, *(" | ".join(row) for row in ([column.heading for column in columns], *rows))]
            case _:
                raise AssertionError(block)
    return lines
