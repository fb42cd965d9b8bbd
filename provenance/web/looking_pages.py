"""Looking at photographs: which are to be looked at, and a sheet for each, to be answered key by key."""

from urllib.parse import urlencode

from flask import Blueprint, Response, request

from provenance.records.kinds import KnownBy, SourceKind
from provenance.reports.looking_sheet import LookingQueue, QueuedPicture, Which, choices_of
from provenance.rules.source_words import kind_in_words
from provenance.tasks.looking_sheets import LookingSheets
from provenance.tasks.typed_pairs import typed_pairs
from provenance.tasks.writing_sheets import SheetAnswers, write_sheet
from provenance.web.asking import current, shown
from provenance.web.writing import Refused, before_them, carry_out

pages = Blueprint("looking_pages", __name__)

KNOWN_BY = ((KnownBy.NUMBER, "its number"), (KnownBy.CAPTION, "a caption"), (KnownBy.LIKENESS, "likeness"))
"""How a machine may be known, each in words."""

_LOOKED_AT = (SourceKind.PHOTOGRAPH, SourceKind.FILM, SourceKind.ARTWORK, SourceKind.SCALE_MODEL)
_MOST_NAMED = 400
_LISTED = 200
_SEE, _REGION = "see:", "region:"


@pages.get("/look")
def which_pictures() -> str:
    """Which pictures are to be looked at, how many are done, and where to begin or go on."""
    which = _which()
    queue = _queue(which)
    archive = current().archive
    return shown(
        "look.html",
        queue=queue,
        listed=queue.pictures[:_LISTED],
        lots=list(_sheets().lots),
        components=[(component.id, component.name) for component in archive.components.values()],
        features=[
            (f"{which.component}/{feature.id}", feature.name)
            for feature in (archive.components[which.component].features if which.component else ())
        ],
        address=lambda picture: _address(picture.source, which),
        here_again=_address("", which),
    )


@pages.get("/look/<source_id>")
def look_at(source_id: str) -> str | Response:
    """The sheet of one picture."""
    return _sheet(source_id, None)


@pages.post("/look/<source_id>")
def write_down(source_id: str) -> Response:
    """Write down what was answered on a sheet, and go on to the next picture."""
    which = _which()
    return carry_out(
        lambda writer: write_sheet(writer.opened, _answers(source_id), by=writer.by, today=writer.today),
        again=lambda refused: _sheet(source_id, refused),
        to=lambda _: _onward(_queue(which).after(source_id), which, before=source_id),
    )


def _sheet(source_id: str, refused: Refused | None) -> str | Response:
    which = _which()
    before, now = before_them([f"sources/{source_id}.yaml"])
    queue = _queue(which)
    wanted = request.args.getlist("more")
    number = request.args.get("page", "")
    sheet = _sheets().sheet(
        source_id,
        which,
        page=int(number) if number.isascii() and number.isdigit() and len(number) < 6 else None,
        more=[each for each in map(_component_called, wanted) if each],
        before=request.args.get("after", ""),
    )
    components = now.archive.components
    return shown(
        "look_sheet.html",
        sheet=sheet,
        before=before,
        refused=refused,
        place=queue.place_of(source_id),
        queue=queue,
        onward=_onward(queue.after(source_id), which, before=source_id),
        back=_onward(queue.before(source_id), which),
        here_again=_address(source_id, which),
        to_list=_address("", which),
        action=_address(source_id, which, page=sheet.page if len(sheet.pages) > 1 else ""),
        page_address=lambda page: _address(source_id, which, page=page),
        kept={"lot": which.lot, "component": which.component, "feature": which.feature},
        wanted=wanted,
        unknown=[each for each in wanted if not _component_called(each)],
        named=[(each.id, each.name) for each in components.values()] if len(components) <= _MOST_NAMED else [],
        known_by=[(value.value, words) for value, words in KNOWN_BY],
        kinds=[(kind.value, kind_in_words(kind)) for kind in _LOOKED_AT],
        choices_of=choices_of,
        titles={each: components[each].name for each in sorted({row.component for row in sheet.looked_for})},
    )


def _answers(source_id: str) -> SheetAnswers:
    given = {name: value.strip() for name, value in request.form.items() if value.strip()}
    machine = typed_pairs(
        "--shows",
        {"example": given.get("example"), "when": given.get("when"), "known_by": given.get("known-by")},
    )
    page = given.get("page", "")
    return SheetAnswers(
        source=source_id,
        page=int(page) if page.isascii() and page.isdigit() and len(page) < 8 else None,
        answers={name.removeprefix(_SEE): value for name, value in given.items() if name.startswith(_SEE)},
        regions={name.removeprefix(_REGION): value for name, value in given.items() if name.startswith(_REGION)},
        kind=given.get("kind"),
        process=given.get("process"),
        machine=machine or given.get("same"),
        applies_to=given.get("applies-to"),
    )


def _which() -> Which:
    component, feature = request.args.get("component", "").strip(), request.args.get("feature", "").strip()
    if feature and "/" not in feature:
        feature = f"{component}/{feature}" if component else ""
    component = component or feature.partition("/")[0]
    if feature.partition("/")[0] != component:
        feature = ""
    return Which(lot=request.args.get("lot", "").strip(), component=component, feature=feature)


def _sheets() -> LookingSheets:
    now = current()
    return now.remembered("looking", lambda: LookingSheets(now.opened, now.readings, now.verdicts))


def _queue(which: Which) -> LookingQueue:
    return current().remembered(f"looking {which}", lambda: _sheets().queue(which))


def _component_called(given: str) -> str:
    """The id of a component that somebody typed by id or by name; empty for none."""
    components = current().archive.components
    wanted = given.strip().casefold()
    return next((each.id for each in components.values() if wanted in {each.id, each.name.casefold()}), "")


def _onward(picture: QueuedPicture | None, which: Which, *, before: str = "") -> str:
    """The address of a picture; of the list, where there is none."""
    return _address(picture.source, which, after=before) if picture else _address("", which)


def _address(source: str, which: Which, **more: str | int) -> str:
    asked = {"lot": which.lot, "component": which.component, "feature": which.feature, **more}
    pairs = {name: value for name, value in asked.items() if value}
    return f"/look{f'/{source}' if source else ''}{f'?{urlencode(pairs)}' if pairs else ''}"
