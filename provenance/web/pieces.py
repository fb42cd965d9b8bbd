"""Pieces of pages as pictures that a page shows: cut out by a task, kept, and kept by the browser too."""

import hashlib

from flask import Response, current_app, request

from provenance.records.claims import At
from provenance.records.regions import RegionError, parse_region
from provenance.tasks.cutting_for_readers import CuttingOut
from provenance.tasks.cutting_out import NoCutOut, Wanted
from provenance.web.asking import current

SMALL = 240
"""The longer side of a small picture of a page, in pixels."""

_CUTTING = "cutting out"
_FOR_EVER = "private, max-age=31536000, immutable"
_ASK_AGAIN = "private, no-cache"


def piece(*, is_bare: bool = False, most: int | None = None) -> Response:
    """Answer with the piece that the address names: `source`, `page` and, for a part of it, `region`.

    An address that names the file's bytes too (`of`, the beginning of their SHA-256) is kept by the browser for good.

    Args:
        is_bare: whether the region alone is shown.
        most: the longer side at most, in pixels; None for as large as pieces are.
    """
    named = request.args
    try:
        region = parse_region(named["region"]) if "region" in named else None
    except RegionError as error:
        return _none(str(error))
    page = named.get("page", "")
    if not (page.isascii() and page.isdigit() and len(page) <= 7):
        return _none("the address names no page")
    wanted = Wanted(named.get("source", ""), At(page=int(page), region=region), is_bare=is_bare)
    if most is not None:
        wanted = Wanted(wanted.source, wanted.at, most=most)
    found = cutting().give(current().opened, wanted)
    if isinstance(found, NoCutOut):
        return _none(found.why)
    answer = Response(found.data, mimetype=found.media_type)
    answer.set_etag(hashlib.sha256(found.data).hexdigest()[:32])
    answer.headers["Cache-Control"] = _FOR_EVER if named.get("of") else _ASK_AGAIN
    answer.make_conditional(request)
    return answer


def cutting() -> CuttingOut:
    """What cuts pieces for all readers of these pages."""
    shared: CuttingOut = current_app.extensions.setdefault(_CUTTING, CuttingOut())
    return shared


def _none(why: str) -> Response:
    text = f"There is no picture: {why}.\n"
    return Response(text, 404, content_type="text/plain; charset=utf-8")
