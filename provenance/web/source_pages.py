"""Sources: the list of them, each with all that is on record of it, and each of its pages with what it says."""

import re
from collections.abc import Iterator
from io import BufferedReader
from urllib.parse import urlencode

from flask import Blueprint, Response, request

from provenance.errors import UnreadableOriginalError
from provenance.records.archive import Archive
from provenance.records.regions import RegionError, TimeSpanError, parse_region, parse_time_span
from provenance.reports.copied_words import person_words, ruling_words
from provenance.reports.descended_svg import descended_svg
from provenance.reports.descended_text import descended_text
from provenance.reports.descent_drawn import drawn_title
from provenance.reports.source_shown import SourceShown, captions_of
from provenance.rules.cautions import cautions_for
from provenance.rules.source_words import kind_in_words
from provenance.tasks.listing_sources import SourcesList
from provenance.tasks.showing_sources import SourcesShown, open_recording, show_page
from provenance.web.asking import current, not_found, shown
from provenance.web.pieces import SMALL, piece

pages = Blueprint("source_pages", __name__)

LISTED = 30
"""How many sources stand on one page of the list."""

_GROUPS = {"kind": "Kind", "component": "Speaks of", "holder": "Held by", "state": "State"}
_MEDIA_TYPE = re.compile(r"[a-z]+/[A-Za-z0-9.+-]{1,80}")
_WIDTH = 100_000
_PIECE = 1 << 16
_LONGEST = 1000


@pages.get("/sources")
def sources() -> str:
    """List sources, narrowed as the address says."""
    now = current()
    chosen = {name: request.args[name][:_LONGEST] for name in _GROUPS if request.args.get(name, "").strip()}
    page = _number(request.args.get("page", "")) or 1
    listing = now.remembered("sources", lambda: SourcesList(now.archive))
    listed = listing.narrowed(chosen, limit=LISTED, skip=(page - 1) * LISTED)

    def address(**changed: str | int) -> str:
        kept = {**chosen, **changed}
        pairs = {name: value for name, value in kept.items() if value not in {"", 1}}
        return f"/sources?{urlencode(pairs, errors='replace')}" if pairs else "/sources"

    return shown(
        "sources.html",
        listed=listed,
        chosen=[
            (_GROUPS[group.name], choice.name, address(**{group.name: ""}))
            for group in listed.groups
            for choice in group.choices
            if choice.is_chosen
        ],
        groups=_GROUPS,
        address=address,
        kind_words=kind_in_words,
        page=page,
        pages=-(-listed.total // LISTED),
        first=(page - 1) * LISTED + 1,
    )


@pages.get("/sources/<source_id>")
def source(source_id: str) -> str:
    """Show a source."""
    now = current()
    told = _shown(source_id)
    return shown(
        "source.html",
        told=told,
        descent=descended_text(told.descended, _WIDTH),
        drawn=drawn_title(told.descended),
        resting=[(_address_of(now.archive, each.record), each) for each in told.used.rests],
        ruled=[(pair, _other(pair.between, source_id), ruling_words(pair, now.archive)) for pair in told.pairs],
        withdrawn_by=person_words(now.archive, told.source.withdrawn.by) if told.source.withdrawn else "",
    )


@pages.get("/sources/<source_id>/pages/<int:number>")
def source_page(source_id: str, number: int) -> str:
    """Show a page of a source, with what was read on it; `q` marks the words of a query, `region` a part of it."""
    now = current()
    query = request.args.get("q", "")[:_LONGEST]
    region = None
    if request.args.get("region"):
        try:
            region = parse_region(request.args["region"])
        except RegionError:
            region = None  # the page is shown all the same
    told = show_page(now.opened, now.readings, source_id, number, query=query, region=region)
    place = told.pages.index(number)
    return shown(
        "source_page.html",
        told=told,
        query=query,
        warned=cautions_for(now.archive, told.source.hazards),
        before=told.pages[place - 1] if place else None,
        after=told.pages[place + 1] if place + 1 < len(told.pages) else None,
    )


@pages.get("/figures/source-descent/<source_id>.svg")
def descent_figure(source_id: str) -> Response:
    """Draw the descent of a source."""
    drawing = descended_svg(_shown(source_id).descended)
    return Response(drawing, mimetype="image/svg+xml")


@pages.get("/sources/<source_id>/heard/<name>.vtt")
def captions(source_id: str, name: str) -> Response:
    """Give what is said on a recording, for a player."""
    heard = next((each for each in _shown(source_id).heard if each.name == name), None)
    if heard is None:
        return not_found("Nothing of that name was written down", "look at the page of the source")
    return Response(captions_of(heard), mimetype="text/vtt")


@pages.get("/cut-outs/page")
def whole_page() -> Response:
    """Show a page as one picture."""
    return piece()


@pages.get("/cut-outs/small")
def small_page() -> Response:
    """Show a page as a small picture."""
    return piece(most=SMALL)


@pages.get("/originals/<source_id>/<int:number>")
def original(source_id: str, number: int) -> Response:
    """Give a recording to be played, or a stretch of it."""
    try:
        file, opened = open_recording(current().opened, source_id, number)
    except UnreadableOriginalError as error:
        return not_found(error.what, error.mend)
    media_type = file.media_type if _MEDIA_TYPE.fullmatch(file.media_type) else "application/octet-stream"
    answer = Response(_InPieces(opened), mimetype=media_type, direct_passthrough=True)
    size = opened.seek(0, 2)
    opened.seek(0)
    answer.content_length = size
    answer.set_etag(file.sha256)
    answer.headers["Cache-Control"] = "private, no-cache"
    try:
        answer.make_conditional(request, accept_ranges=True, complete_length=size)
    except BaseException:  # a stretch that the file does not have
        opened.close()
        raise
    return answer


class _InPieces:
    """A file as a server sends it: a piece at a time, from where it stands."""

    def __init__(self, file: BufferedReader) -> None:
        self._file = file
        self.close, self.seek, self.seekable, self.tell = file.close, file.seek, file.seekable, file.tell

    def __iter__(self) -> Iterator[bytes]:
        return self

    def __next__(self) -> bytes:
        piece = self._file.read(_PIECE)
        if not piece:
            raise StopIteration
        return piece


def _shown(source_id: str) -> SourceShown:
    now = current()
    try:
        time = parse_time_span(request.args["time"]) if request.args.get("time") else None
    except TimeSpanError:
        time = None  # the source is shown all the same
    shelf = now.remembered("shelf", lambda: SourcesShown(now.opened, now.readings, now.verdicts))
    if time is not None or source_id not in now.archive.sources:
        return shelf.show(source_id, time)
    return now.remembered(f"source {source_id}", lambda: shelf.show(source_id))


def _address_of(archive: Archive, record: str) -> str:
    """Where a record that rests on a source is shown; empty where it has no page of its own."""
    kind, _, name = record.removesuffix(".yaml").partition("/")
    if kind == "claims" and name in archive.claims:
        return f"/fittings/{archive.claims[name].about}"
    if kind == "decisions" and name in archive.decisions:
        return f"/fittings/{archive.decisions[name].about}"
    return {
        "sources": f"/sources/{name}",
        "components": f"/fittings/{name}",
        "copies": f"/copies/{name}",
        "panels": f"/panels/{name}",
    }.get(kind, "")


def _other(between: tuple[str, str], source_id: str) -> str:
    return between[1] if between[0] == source_id else between[0]


def _number(text: str) -> int | None:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 6 else None
