"""A thousand sources cited in a style, by the clock: the appendix as a value, with every citation and reference."""

from collections.abc import Iterator
from functools import partial
from pathlib import Path

from bench.figures import Figure, seconds
from builders import BY, TODAY, a_claim, a_component, a_date, an_archive, an_item
from public_archives import DAY, an_open_source

from provenance.exchange.csl_json import csl_items
from provenance.records.archive import Archive
from provenance.records.components import Component
from provenance.records.decisions import Panel, Statement
from provenance.reports.appendix import compose_appendix
from provenance.reports.citations import Citing
from provenance.reports.date_words import date_words
from provenance.rules.public_values import PublicArchive
from provenance.rules.public_view import public_view
from provenance.tasks.citing_styles import our_styles, style_sheet

_MANY = 1_000
_OF_ONE_PART = 10


def measure(_: Path) -> Iterator[Figure]:
    """Compose the appendix of a panel that cites a thousand places in a thousand sources; judgement is not counted."""
    view = public_view(_cited_archive(), DAY)
    items = csl_items(view, date_words)
    for style in our_styles():
        citing = Citing(style=style_sheet(style), items=items)
        spent = seconds(partial(_compose, view, citing))
        yield Figure(name=f"an appendix of {_MANY:,} citations, {style}", value=spent, unit="s", promised=5.0)


def _compose(view: PublicArchive, citing: Citing) -> None:
    compose_appendix(view, "many", citing, printed=a_date(str(DAY)), draft=False)


def _cited_archive() -> Archive:
    """A hundred parts whose one feature ten manuals speak of, each on a page of its own."""
    parts = [_part(number) for number in range(_MANY // _OF_ONE_PART)]
    sources, claims = [], []
    for number, part in enumerate(parts):
        names = [f"s{_OF_ONE_PART * number + each:04}" for each in range(_OF_ONE_PART)]
        sources += [
            an_open_source(
                each, "manual", title=f"Handbook {each}", creator="Tamlin Works", created="1933", holder="Orrin"
            )
            for each in names
        ]
        items = [an_item(each, page=int(each[1:]) + 1) for each in names]
        claims.append(a_claim("electric", *items, about=f"{part.id}/type"))
    statements = tuple(Statement(text=part.name, features=(f"{part.id}/type",)) for part in parts)
    panel = Panel(id="many", title="Many", by=BY, date=TODAY, statements=statements)
    return an_archive(*parts, *sources, *claims, panels={panel.id: panel})


def _part(number: int) -> Component:
    return a_component(f"part-{number:03}", name=f"Part {number}")
