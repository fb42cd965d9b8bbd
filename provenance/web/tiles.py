"""Pages of sources as pictures at any size, by the addresses of the IIIF Image API 3.0.

`/iiif/<source>/p<page>/info.json`, and `/iiif/<source>/p<page>/<region>/<size>/0/default.jpg`. Each leads on to the
same address with a tag that stands for just these pixels: what is behind it never changes, and a browser need not ask
for it twice.
"""

import json
import re
from urllib.parse import quote

from flask import Blueprint, Response, current_app, redirect, request
from flask.blueprints import BlueprintSetupState

from provenance.exchange.iiif_image import FORMATS, MEDIA_TYPE, RequestError, describe, read_request
from provenance.tasks.living import Living
from provenance.tasks.places_to_show import NothingToShowError
from provenance.tasks.tiling import TiledPage, Tiling
from provenance.web.asking import LIVING, current, not_found

pages = Blueprint("tiles", __name__)

TILING = "tiling"
"""Under which name the app keeps what cuts pages into tiles."""

_NAMED = re.compile(r"p([1-9][0-9]{0,6})(?:-([0-9a-f]{16}))?")
_FOR_EVER = "private, max-age=31536000, immutable"
_MEND = "look at the source's own page, which says what is held of it"


@pages.record_once
def _prepare(state: BlueprintSetupState) -> None:
    living: Living = state.app.extensions[LIVING]
    state.app.extensions[TILING] = Tiling(living.folder)


@pages.get("/iiif/<source>/<named>")
def base(source: str, named: str) -> Response:
    """Lead from the base address on to the description (section 2)."""
    return _led_to(source, named, "info.json", code=303)


@pages.get("/iiif/<source>/<named>/info.json")
def information(source: str, named: str) -> Response:
    """Describe the picture of a page (section 5); with `again` a page that could not be opened is tried anew."""
    found = _found(source, named)
    if isinstance(found, Response):
        return found
    if "again" in request.args:
        found.try_again()
    if not _is_tagged(found, named):
        return _led_to(source, named, "info.json")
    try:
        about, size = found.about, found.size
    except NothingToShowError as error:
        return _nothing(source, named, str(error))
    address = request.base_url.removesuffix("/info.json")
    described = describe(address, size, tile=found.tile, levels=found.levels, is_lossless=about.is_lossless)
    return _for_ever(json.dumps(described, indent=1).encode("ascii"), MEDIA_TYPE)


@pages.get("/iiif/<source>/<named>/<path:asked>")
def picture(source: str, named: str, asked: str) -> Response:
    """Give a part of a page (section 4)."""
    found = _found(source, named)
    if isinstance(found, Response):
        return found
    if not _is_tagged(found, named):
        return _led_to(source, named, asked)
    try:
        wanted = read_request(asked, found.size)
        return _for_ever(found.draw(wanted), FORMATS[wanted.form])
    except RequestError as error:
        return Response(f"{error}\n", error.code, content_type="text/plain; charset=utf-8")
    except NothingToShowError as error:
        return _nothing(source, named, str(error))


def _found(source: str, named: str) -> TiledPage | Response:
    """The page of an address, or the words that there is none."""
    read = _NAMED.fullmatch(named)
    if not read:
        return not_found("There is no such page", "name it as `p1`, `p2` and so on")
    tiling: Tiling = current_app.extensions[TILING]
    try:
        return tiling.find(current().readings, source, int(read[1]))
    except NothingToShowError as error:
        return _nothing(source, named, str(error))


def _is_tagged(page: TiledPage, named: str) -> bool:
    return named.endswith(f"-{page.tag}")


def _led_to(source: str, named: str, rest: str, *, code: int = 302) -> Response:
    """Lead on to the address with the tag of just these pixels."""
    found = _found(source, named)
    if isinstance(found, Response):
        return found
    bare = named.partition("-")[0]
    answer = redirect(f"/iiif/{quote(source, safe='')}/{bare}-{found.tag}/{quote(rest, safe=',:!^/')}", code=code)
    answer.headers["Cache-Control"] = "private, no-cache"
    return answer  # type: ignore[return-value]  # werkzeug's and flask's are one here


def _nothing(source: str, named: str, why: str) -> Response:
    page = named.partition("-")[0].removeprefix("p")
    return not_found(f"No picture of {source}, page {page}, can be shown: {why}", _MEND)


def _for_ever(data: bytes, media_type: str) -> Response:
    answer = Response(data, content_type=media_type)
    answer.headers["Cache-Control"] = _FOR_EVER
    return answer
