"""Adding to the records: a component, a feature, a panel, a statement of one, a lead, a person."""

from collections.abc import Callable, Iterable

from flask import Blueprint, Response, request

from provenance.records.kinds import Aspect, Changes, FeatureKind
from provenance.reports.added import Added
from provenance.reports.feature_words import feature_name
from provenance.reports.written import Written
from provenance.tasks.adding import add_feature, add_person, add_record, add_statement, given_option
from provenance.tasks.deciding import untaken_id
from provenance.web.asking import current, not_found, shown
from provenance.web.typed import typed
from provenance.web.writing import Refused, Writer, before_them, carry_out

pages = Blueprint("adding_pages", __name__)

_WHATS = {
    "component": ("a component", "A part, fitting or assembly of the machine, with its numbers and hazards."),
    "feature": ("a feature of a component", "One thing that must be decided before the part is made."),
    "panel": ("a panel for visitors", "With the parts that it speaks of."),
    "lead": ("holdings that are yet to be searched", "What somebody holds that may tell more, and what a visit costs."),
    "person": ("a person of the team", "Whoever is to be chosen under “Who writes”."),
}
_MADE_AS = ("original", "conserved-original", "reproduction", "substitute", "not-represented")


@pages.get("/add")
def list_forms() -> str:
    """What can be added."""
    return shown("add.html", whats=_WHATS)


@pages.get("/add/<what>")
def show_form(what: str) -> str | Response:
    """The form for one thing."""
    return _form(what, None)


@pages.post("/add/<what>")
def add_one(what: str) -> Response:
    """Add one thing."""
    adding: dict[str, Callable[[Writer], Added]] = {
        "component": _component,
        "feature": _feature,
        "panel": _panel,
        "lead": _lead,
        "person": _person,
    }
    if what not in adding:
        return not_found(f"There is nothing to add that is called {what}", "choose from what can be added")
    return carry_out(
        lambda writer: adding[what](writer).written,
        again=lambda refused: _form(what, refused),
        to=lambda written: _address_of(what, written),
    )


@pages.post("/panels/<panel>/statements")
def add_one_statement(panel: str) -> Response:
    """Add a statement to a panel."""
    return carry_out(
        lambda writer: add_statement(writer.opened, panel, typed("text"), request.form.getlist("feature")).written,
        again=lambda refused: _statement(panel, refused),
        to=lambda _: f"/panels/{panel}",
    )


@pages.get("/panels/<panel>/statements")
def show_statement_form(panel: str) -> str | Response:
    """The form for a statement of a panel."""
    return _statement(panel, None)


def _component(writer: Writer) -> Added:
    fields = {
        **_words("name", "part-of", "made-as", "needed-by", "prominence"),
        "references": _lines("reference"),
        "also_called": _lines("also"),
        "hazards": _hazards(),
    }
    return add_record(writer.opened, "component", _id(), fields, by=writer.by, today=writer.today)


def _feature(writer: Writer) -> Added:
    options = [given_option(each) for each in _lines("option")]
    same = [[part.strip() for part in each.split("|")] for each in _lines("same")]
    fields = _words("name", "aspect", "kind", "unit", "needed", "datum", "changes")
    fields |= {"options": options, "same": same}
    component = typed("component")
    taken = writer.opened.archive.components.get(component)
    known = [each.id for each in taken.features] if taken else []
    return add_feature(writer.opened, f"{component}/{typed('id') or untaken_id(known, typed('name'))}", fields)


def _panel(writer: Writer) -> Added:
    fields = {**_words("title"), "components": request.form.getlist("component")}
    return add_record(writer.opened, "panel", _id("title"), fields, by=writer.by, today=writer.today)


def _lead(writer: Writer) -> Added:
    fields = _words("what", "holder", "place", "reference", "effort", "cost", "chance")
    fields |= {"hoped_for": request.form.getlist("hoped-for")}
    return add_record(writer.opened, "lead", _id("what"), fields, by=writer.by, today=writer.today)


def _person(writer: Writer) -> Added:
    return add_person(writer.opened, typed("id"), typed("name"), typed("credited-as") or None)


def _form(what: str, refused: Refused | None) -> str | Response:
    if what not in _WHATS:
        return not_found(f"There is nothing to add that is called {what}", "choose from what can be added")
    of = request.args.get("component", "")
    files = ["archive.yaml"] if what == "person" else [f"components/{of}.yaml"] if what == "feature" and of else []
    before, now = before_them(files)
    archive = now.archive
    return shown(
        f"add_{what}.html",
        what=_WHATS[what][0],
        before=before,
        refused=refused,
        of=of,
        components=[(each.id, each.name) for each in sorted(archive.components.values(), key=lambda one: one.name)],
        features=_features(),
        made_as=_named(_MADE_AS),
        aspects=_named(Aspect),
        kinds=_named(FeatureKind),
        changes=_named(Changes),
    )


def _statement(panel: str, refused: Refused | None) -> str | Response:
    before, now = before_them([f"panels/{panel}.yaml"])
    if panel not in now.archive.panels:
        return not_found(f"There is no panel {panel}", "look for it among the panels")
    return shown(
        "add_statement.html",
        panel=now.archive.panels[panel],
        before=before,
        refused=refused,
        features=_features(),
        of=[name for name in now.archive.features if name.partition("/")[0] in now.archive.panels[panel].components],
    )


def _address_of(what: str, written: Written) -> str:
    record = written.record
    return {"component": f"/fittings/{record}", "feature": f"/fittings/{record}", "panel": f"/panels/{record}"}.get(
        what, "/next" if what == "lead" else "/add"
    )


def _id(named_by: str = "name") -> str:
    """The id as given, else one made of what the thing is called that no file has yet."""
    folder = f"{request.path.rpartition('/')[2]}s"
    taken: Iterable[str] = getattr(current().archive, folder)
    return typed("id") or untaken_id(taken, typed(named_by))


def _words(*names: str) -> dict[str, object]:
    return {name.replace("-", "_"): typed(name) or None for name in names}


def _lines(name: str) -> list[str]:
    return [line.strip() for line in typed(name).splitlines() if line.strip()]


def _hazards() -> list[str]:
    return list(dict.fromkeys(line.casefold().replace(" ", "-") for line in _lines("hazard")))


def _features() -> list[tuple[str, str]]:
    archive = current().archive
    return [(name, feature_name(name, archive)) for name in archive.features]


def _named(words: Iterable[str]) -> list[tuple[str, str]]:
    return [(str(word), str(word).replace("-", " ")) for word in words]
