"""The machine as one picture, what needs attention, and what to look for next."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, TypeVar
from urllib.parse import urlencode

from flask import Blueprint, Response, request

from provenance.errors import UnknownRecordError
from provenance.records.archive import Archive
from provenance.records.days import Day
from provenance.reports.feature_words import feature_name
from provenance.reports.flagged import ORDERS, Flagged, flagged_summary, in_order
from provenance.reports.looked_next import lift_words
from provenance.reports.looked_next_text import figure, lead_terms, looked_next_summary, where_it_is
from provenance.reports.machine import VIEWS, Part, View, compose_machine, view_of, way_to
from provenance.reports.machine_svg import Links, MachineDrawing, draw_machine
from provenance.reports.mark_patterns import swatch
from provenance.rules.costs import parse_money
from provenance.rules.flag_values import ALL_FLAGS, Flag, Level
from provenance.tasks.flagging import narrowed
from provenance.tasks.living import Current
from provenance.tasks.looking_next import Looking
from provenance.web.asking import current, not_found, shown
from provenance.web.judgeable import why_not_judged

pages = Blueprint("machine_pages", __name__)
for _words in (figure, lead_terms, lift_words, where_it_is):
    pages.add_app_template_filter(_words)

ROWS = 100
"""How many rows of a long table stand on one page."""
ASSEMBLIES = 60
"""How many assemblies the picture's first table names."""
_FULL = 300
"""A picture of more features than this is kept, since it takes longer to draw than to look up."""
_FIGURES = 7
_LONGEST_SUM = 40
_VIEW_WORDS = {"grade": "grade", "needed": "date needed", "prominence": "prominence"}
_HEADS = (("level", "Level"), ("component", "About"), ("rule", "What it is"), ("needed", "Needed by"))

T = TypeVar("T")


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """One page of a long table.

    Attributes:
        rows: what stands on it.
        number: which page it is, from 1.
        first: which row is its first, from 1; 0 where there is none.
        last: which is its last.
        total: how many rows there are in all.
        before: the address of the page before it; empty for none.
        after: the address of the next; empty for none.
    """

    rows: Sequence[Any]
    number: int
    first: int
    last: int
    total: int
    before: str
    after: str


def _leaf(rows: Sequence[T]) -> Leaf:
    """The page of a table that the address names by `page`; the last where there are not so many."""
    asked = request.args.get("page", "1")
    number = int(asked) if asked.isascii() and asked.isdigit() and len(asked) < _FIGURES else 1
    number = min(max(number, 1), max(1, -(-len(rows) // ROWS)))
    begin = (number - 1) * ROWS
    kept = rows[begin : begin + ROWS]
    return Leaf(
        rows=kept,
        number=number,
        first=begin + 1 if kept else 0,
        last=begin + len(kept),
        total=len(rows),
        before=_with(page=number - 1) if number > 1 else "",
        after=_with(page=number + 1) if begin + ROWS < len(rows) else "",
    )


def _with(**changed: Any) -> str:
    """The address of this page with something else asked; what is None or empty is asked no more."""
    asked = {name: request.args[name] for name in request.args} | changed
    kept = {name: value for name, value in asked.items() if value not in {None, ""}}
    return f"{request.path}?{urlencode(kept)}" if kept else request.path


# The machine


@pages.get("/machine")
def machine() -> str | Response:
    """Draw the whole machine, or one component with all that is part of it, and tell the same in tables."""
    now = current()
    day = Day(now.today.year, now.today.month, now.today.day)
    view = view_of(request.args.get("by", VIEWS[0]), day)
    if view is None:
        return not_found("The machine is not shown in that way", "choose one of the ways on the page of the machine")
    unjudged = why_not_judged(now)
    whole = now.remembered("machine", lambda: compose_machine(now.archive, {} if unjudged else now.verdicts))
    way = way_to(whole, request.args.get("of", ""))
    if not way:
        return not_found("There is no such component", "go to the whole machine and choose one there")
    part = way[-1]
    counts = view.counted(part)
    assemblies = _assemblies(part, view)
    return shown(
        "machine.html",
        unjudged=unjudged,
        part=part,
        way=way[:-1],
        view=view,
        legend=[
            (mark, counts[mark.id], swatch(f"legend-{mark.id}", mark.id)) for mark in view.marks if counts[mark.id]
        ],
        empty_swatch=swatch("legend-empty", "empty"),
        ways=[(_VIEW_WORDS[each], _with(by=each, page=None), each == view.id) for each in VIEWS],
        drawing=_drawing(now, part, view),
        assemblies=assemblies[:ASSEMBLIES],
        more_assemblies=len(assemblies) - ASSEMBLIES,
        leaf=_leaf(tuple(part.all_cells())),
        picture_of=lambda each: _with(of=each, page=None),
    )


def _drawing(now: Current, part: Part, view: View) -> MachineDrawing:
    links = Links(feature="/fittings/", component="/fittings/", part=f"/machine?by={view.id}&of=")
    if part.features <= _FULL:
        return draw_machine(part, view, links)
    return now.remembered(f"machine {view.id} {part.id}", lambda: draw_machine(part, view, links))


def _assemblies(part: Part, view: View) -> list[tuple[Part, int, dict[str, int]]]:
    """What a component is made up of, those with most that is thinly known first, and how much of each is thin.

    Where one part is all there is to it, the parts of that one are meant.
    """
    while len(part.parts) == 1 and not part.cells and part.parts[0].parts:
        part = part.parts[0]
    counted = [
        (each, sum(cell.is_thin for cell in each.all_cells()), view.counted(each))
        for each in part.parts
        if each.features
    ]
    return sorted(counted, key=lambda row: -row[1])


# The flags


@dataclass(frozen=True, slots=True, kw_only=True)
class FlagRow:
    """A flag as the page shows it: what it is about with its address, and each source with its title."""

    flag: Flag
    address: str
    words: str
    sources: tuple[tuple[str, str], ...]


@pages.get("/flags")
def flags() -> str | Response:
    """Show what needs attention, in the order and narrowed to what is asked for."""
    now = current()
    unjudged = why_not_judged(now)
    if unjudged:
        return shown("flags.html", unjudged=unjudged)
    asked = {name: request.args.get(name) or None for name in ("level", "rule", "component")}
    order = request.args.get("sort") or ORDERS[0]
    every = now.flagged
    refused = _refused(now.archive, asked, order)
    if refused:
        return not_found(refused, "go to all flags and choose there")
    level = Level(asked["level"]) if asked["level"] else None
    kept = every
    if any(asked.values()):
        kept = narrowed(now.archive, every, level=level, rule=asked["rule"], component=asked["component"])
    leaf = _leaf(in_order(kept.flags, order))
    return shown(
        "flags.html",
        unjudged=None,
        flagged=kept,
        summary=flagged_summary(kept),
        every=len(every.flags),
        asked=asked,
        order=order,
        rows=[_flag_row(now.archive, flag) for flag in leaf.rows],
        leaf=leaf,
        heads=[(each, words, _with(sort=each, page=None)) for each, words in _HEADS],
        choices=now.remembered("flag choices", lambda: _choices(now.archive, every)),
    )


def _refused(archive: Archive, asked: Mapping[str, str | None], order: str) -> str:
    """What of the address is not known, in a sentence; empty where everything is."""
    if asked["level"] not in {None, *Level} or order not in ORDERS:
        return "There is no such level or order of flags"
    if asked["rule"] is not None and asked["rule"] not in ALL_FLAGS:
        return "There is no flag of that sort"
    return "There is no such component" if asked["component"] not in {None, *archive.components} else ""


def _choices(archive: Archive, every: Flagged) -> dict[str, list[tuple[str, str, int]]]:
    """What the flags can be narrowed to: as it is asked for, in words, and how many flags that leaves."""
    levels = Counter(flag.severity for flag in every.flags)
    rules = Counter(flag.flag for flag in every.flags)
    of_parts = [flag for flag in every.flags if flag.about_kind in {"features", "components"}]
    parts = Counter(flag.about.partition("/")[0] for flag in of_parts)
    named = [(part, archive.components[part].name, number) for part, number in parts.items()]
    return {
        "level": [(level.value, level.value, levels[level]) for level in Level if levels[level]],
        "rule": [(rule, rule.replace("-", " "), rules[rule]) for rule in sorted(rules)],
        "component": sorted(named, key=lambda choice: (choice[1].casefold(), choice[0])),
    }


def _flag_row(archive: Archive, flag: Flag) -> FlagRow:
    address, words = _about(archive, flag)
    known = ((each, archive.sources[each].title) for each in flag.sources if each in archive.sources)
    sources = () if flag.about_kind == "sources" and flag.sources == (flag.about,) else tuple(known)
    return FlagRow(flag=flag, address=address, words=words, sources=sources)


def _about(archive: Archive, flag: Flag) -> tuple[str, str]:
    """Where what a flag is about is shown, and what it is called; no address where nothing shows it."""
    if flag.about_kind == "features" and flag.about in archive.features:
        return f"/fittings/{flag.about}", feature_name(flag.about, archive)
    if flag.about_kind == "components" and flag.about in archive.components:
        return f"/fittings/{flag.about}", archive.components[flag.about].name
    if flag.about_kind == "sources" and flag.about in archive.sources:
        return f"/sources/{flag.about}", archive.sources[flag.about].title
    if flag.about_kind == "panels" and flag.about in archive.panels:
        return f"/panels/{flag.about}", archive.panels[flag.about].title
    return "", flag.about


# What to look for next


@pages.get("/next")
def next_finds() -> str | Response:
    """Show what would lift the weak grades and which leads to follow, within a sum of money where one is given."""
    now = current()
    unjudged = why_not_judged(now)
    if unjudged:
        return shown("next.html", unjudged=unjudged)
    component = request.args.get("component") or None
    written = request.args.get("money", "").strip()
    by_visit = request.args.get("by") == "holder"
    money = parse_money(written) if written and len(written) <= _LONGEST_SUM else None
    try:
        looking = now.remembered(
            f"next {component or ''}",
            lambda: Looking(now.opened, today=now.today, component=component, verdicts=now.verdicts),
        )
        looked = looking.told(money, group=by_visit)
    except UnknownRecordError as error:
        return not_found(error.what, error.mend)
    return shown(
        "next.html",
        unjudged=None,
        looked=looked,
        leads={followed.lead.id: followed for followed in looked.leads},
        features={each.about: each for each in looked.features},
        about=lambda about: feature_name(about, now.archive),
        written=written,
        no_sum=bool(written) and money is None,
        by_visit=by_visit,
        component=now.archive.components[component] if component else None,
        leaf=_leaf(looked.features),
        for_component=lambda each: _with(component=each, page=None),
        summary=looked_next_summary(looked),
    )
