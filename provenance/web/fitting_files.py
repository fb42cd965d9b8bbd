"""What the pages of the fittings show and hand out: pieces of pages, figures, and the printed dossier."""

from dataclasses import replace

from flask import Blueprint, Response, make_response, request

from provenance.errors import WriteRefusedError
from provenance.reports.evidence import Evidence
from provenance.rules.clearance import NotCleared
from provenance.rules.public_values import PublicArchive
from provenance.tasks.cutting_out import NoCutOut, Wanted
from provenance.tasks.dossiers import print_dossier
from provenance.tasks.evidence import evidence_for
from provenance.tasks.living import Current
from provenance.tasks.public_evidence import not_cleared_for, public_answer
from provenance.tasks.showing_features import drawing_of, photograph_of_made, place_of_item
from provenance.web.asking import current, failed, shown
from provenance.web.fitting_asking import feature_shown
from provenance.web.pieces import cutting

files = Blueprint("fitting_files", __name__)

FORMATS = {
    "pdf": "application/pdf",
    "html": "text/html; charset=utf-8",
    "docx": "application/vnd.openxmlformats-officedocument.wordprocessingml.document",
}
"""In which formats a dossier is printed, and what each is called between programs."""

AUDIENCES = ("team", "workshop", "contractor", "public")
_OUTSIDE = frozenset({"contractor", "public"})
_DRAWING_POLICY = "default-src 'none'; style-src 'unsafe-inline'; sandbox"


@files.get("/cut-outs/claims/<claim>/<int:number>")
def cut_out_of_item(claim: str, number: int) -> Response:
    """Show the place that an item of evidence names."""
    now = current()
    return _picture(now, place_of_item(now.opened, claim, number))


@files.get("/cut-outs/made/<component>/<feature>/<int:number>")
def cut_out_of_made(component: str, feature: str, number: int) -> Response:
    """Show a photograph of a piece that was made."""
    now = current()
    return _picture(now, photograph_of_made(feature_shown(now, f"{component}/{feature}"), number))


def _picture(now: Current, wanted: Wanted) -> Response:
    piece = cutting().give(now.opened, wanted)
    if isinstance(piece, NoCutOut):
        return Response(f"There is no picture of it: {piece.why}.\n", 404, content_type="text/plain; charset=utf-8")
    return _kept(piece.data, piece.media_type)


@files.get("/figures/<component>/<feature>/<name>.svg")
def figure(component: str, feature: str, name: str) -> Response:
    """Show a figure of our own."""
    that = feature_shown(current(), f"{component}/{feature}")
    answer = _kept(drawing_of(that, name), "image/svg+xml")
    answer.headers["Content-Security-Policy"] = _DRAWING_POLICY
    return answer


def _kept(data: bytes, media_type: str) -> Response:
    """A picture that a browser may keep, and asks each time whether it is still so."""
    answer = make_response(data)
    answer.content_type = media_type
    answer.headers["Cache-Control"] = "private, no-cache"
    answer.add_etag()
    return answer.make_conditional(request)  # type: ignore[return-value]  # werkzeug's and flask's are one here


@files.get("/fittings/<component>/dossier.<wanted>")
def dossier_of_component(component: str, wanted: str) -> Response:
    """Print the dossier of a component."""
    return _printed(component, wanted)


@files.get("/fittings/<component>/<feature>/dossier.<wanted>")
def dossier_of_feature(component: str, feature: str, wanted: str) -> Response:
    """Print the dossier of one feature."""
    return _printed(f"{component}/{feature}", wanted)


def _printed(place: str, wanted: str) -> Response:
    audience, draft = request.args.get("for", "team"), "draft" in request.args
    without = request.args.getlist("without")
    if wanted not in FORMATS:
        return failed(f"no dossier is printed as “{wanted}”", f"the formats are: {', '.join(FORMATS)}", 404)
    if audience not in AUDIENCES:
        return failed(f"there is no reader called “{audience}”", f"the readers are: {', '.join(AUDIENCES)}", 400)
    if draft and audience not in _OUTSIDE:
        return failed("a draft is for what a contractor or the public is shown", "leave out “as a draft”", 400)
    now = current()
    try:
        view, answer = _answer(now, place, audience, without, draft=draft)
        data = print_dossier(now.opened, answer, wanted, view=view, draft=draft).data
    except WriteRefusedError as error:
        return _refused(now, place, audience, wanted, error)
    name = "-".join([*place.split("/"), audience, *(["draft"] if draft else [])])
    answered = make_response(data)
    answered.content_type = FORMATS[wanted]
    answered.headers["Content-Disposition"] = f'attachment; filename="{name}.{wanted}"'
    return answered


def _answer(
    now: Current, place: str, audience: str, without: list[str], *, draft: bool
) -> tuple[PublicArchive | None, Evidence]:
    if audience in _OUTSIDE:
        day = now.today.isoformat()
        return public_answer(now.opened, place, audience=audience, day=day, without=without, draft=draft)
    return None, replace(evidence_for(now.opened, place, without=without), audience=audience)


def _refused(now: Current, place: str, audience: str, wanted: str, error: WriteRefusedError) -> Response:
    """Say why it is not printed: where rights are not cleared, whom to ask about what."""
    cleared: tuple[NotCleared, ...] = ()
    if audience in _OUTSIDE:
        cleared = not_cleared_for(now.opened, place, audience=audience, day=now.today.isoformat())
    page = shown(
        "fitting_refused.html",
        place=place,
        audience=audience,
        wanted=wanted,
        not_cleared=cleared,
        what=error.what,
        mend=error.mend,
    )
    return make_response(page, 409)
