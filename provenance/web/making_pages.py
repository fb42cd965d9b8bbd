"""Writing down what was made, and whether it fits."""

from flask import Blueprint, Response, request, url_for

from provenance.errors import UsageRefusedError
from provenance.records.kinds import SourceKind
from provenance.reports.to_decide import compose_to_decide, value_words
from provenance.reports.tried import Tried
from provenance.rules.cautions import FITNESS
from provenance.tasks.arriving import ArrivedFile
from provenance.tasks.making import Piece, queried_by_a_misfit, try_made, write_made
from provenance.web.asking import current, shown
from provenance.web.fitting_asking import feature_shown
from provenance.web.received_files import received_file
from provenance.web.typed import is_look, look_first, typed
from provenance.web.writing import Refused, before_them, carry_out

pages = Blueprint("making_pages", __name__)

FITS = (("well", "it fits well"), ("badly", "it does not fit"), ("", "not tried yet"))
"""What may be said of how a piece fits, and the words for it."""

PHOTO = "photo-file"
"""The field of a photograph that is sent."""

MOST_LISTED = 1000
"""So many photographs are offered while one types; of more than that any may be named all the same."""


@pages.get("/fittings/<component>/<feature>/made")
def made(component: str, feature: str) -> str:
    """Show what is decided, and a form for what was made."""
    return _page(f"{component}/{feature}", None, None)


@pages.post("/fittings/<component>/<feature>/made")
def write_down(component: str, feature: str) -> Response:
    """Write down what was made, or tell what would be said of it."""
    about = f"{component}/{feature}"
    with received_file(PHOTO) as photo:
        if is_look():
            return look_first(
                lambda writer: try_made(writer.opened, about, _piece(None), by=writer.by, today=writer.today),
                lambda refused, tried: _page(about, refused, tried),
            )
        return carry_out(
            lambda writer: write_made(writer.opened, about, _piece(photo), by=writer.by, today=writer.today),
            again=lambda refused: _page(about, refused, None),
            to=lambda _: url_for("fitting_pages.one_feature", component=component, feature=feature),
        )


def _page(about: str, refused: Refused | None, tried: Tried | None) -> str:
    that = feature_shown(current(), about)
    decision = that.verdict.decision
    before, now = before_them([f"decisions/{decision.id}.yaml"] if decision else [])
    that = feature_shown(now, about)
    asked = that.verdict.asked
    return shown(
        "made.html",
        that=that,
        verdict=that.verdict,
        stands=compose_to_decide(now.archive, that.verdict),
        queried=queried_by_a_misfit(now.archive, about),
        before=before,
        refused=refused,
        tried=tried,
        fitness=FITNESS,
        fits=FITS,
        photo_field=PHOTO,
        is_photo_sent=bool((sent := request.files.get(PHOTO)) and sent.filename),
        photographs=[
            (each.id, each.title) for each in now.archive.sources.values() if each.kind is SourceKind.PHOTOGRAPH
        ][:MOST_LISTED],
        read_back=value_words(asked, value) if (value := typed("as-made")) else "",
        said_of_build=lambda decided: value_words(asked, decided.build),
    )


def _piece(photo: ArrivedFile | None) -> Piece:
    value, source = typed("as-made"), typed("photo")
    if not value:
        raise UsageRefusedError("it is not said what it was made to", "write it down as it was measured")
    if photo is not None and source:
        raise UsageRefusedError(
            "a photograph is sent, and another one is named", "leave one of them out: a piece has one photograph"
        )
    if source and source not in current().archive.sources:
        raise UsageRefusedError(
            f"there is no source {source}", "choose the photograph from the list, or send a picture of its own"
        )
    return Piece(
        value=value,
        fits=request.form.get("fits") or None,
        inspected_by=typed("inspected-by") or None,
        note=typed("note") or None,
        photo=str(photo.path) if photo is not None else source or None,
        photo_name=photo.name if photo is not None else None,
        seen_in_force=request.form.get("in-force"),
    )
