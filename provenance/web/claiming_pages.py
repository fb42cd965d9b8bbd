"""Entering what a source says: the place on its page or recording, the feature, the value; what that would change."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from urllib.parse import urlencode

from flask import Blueprint, Response, make_response, redirect, render_template, request

from provenance.errors import UnknownRecordError, UnreadableOriginalError, UsageRefusedError
from provenance.records.archive import Archive
from provenance.records.claims import Claim
from provenance.records.kinds import Condition, KnownBy, Legibility, SignSeen, Stance
from provenance.records.sources import Source
from provenance.reports.claim_asked import (
    ClaimAsked,
    claim_asked,
    coverage_choices,
    coverage_typed,
    feature_meant,
    feature_typed,
    features_to_choose,
    seen_choices,
    seen_last,
)
from provenance.reports.claimed_here import claimed_here
from provenance.reports.feature_words import feature_name
from provenance.reports.tried import Tried, change_sentences
from provenance.reports.written import Written
from provenance.rules.read_back import ReadBack
from provenance.tasks.claiming import add_evidence, try_evidence
from provenance.tasks.evidence_items import Evidence
from provenance.tasks.living import Current
from provenance.tasks.reading_back import read_figure_back
from provenance.tasks.recordings import recordings_in
from provenance.tasks.showing_sources import open_recording, show_page
from provenance.tasks.words_under import words_under
from provenance.web.asking import current, shown
from provenance.web.claim_form import evidence_of
from provenance.web.drawn_region import region_of
from provenance.web.page_words import HOW
from provenance.web.typed import is_look
from provenance.web.writing import Refused, Writer, before_them, carry_out, look_ahead

pages = Blueprint("claiming_pages", __name__)

MOST_LISTED = 3000
"""So many sources are offered in a list; of more than that the first ones, and any may be named."""

CHOICES = {
    "stance": ((Stance.SUPPORTS, "It speaks for this value"), (Stance.CONTRADICTS, "It speaks against this value")),
    "how": tuple(HOW.items()),
    "legibility": ((Legibility.CLEAR, "clear"), (Legibility.DOUBTFUL, "doubtful")),
    "condition": tuple((each, each.value) for each in Condition),
    "known-by": (
        (KnownBy.NUMBER, "its number can be seen"),
        (KnownBy.CAPTION, "a caption or the record says so"),
        (KnownBy.LIKENESS, "it looks like it"),
    ),
    "sign": (
        (SignSeen.SEEN, "seen"),
        (SignSeen.NOT_SEEN, "not there, though it would be in view"),
        (SignSeen.OUT_OF_VIEW, "out of view"),
    ),
}
"""What is written down where it is chosen, and what people read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ahead:
    """What would come of what was typed so far.

    Attributes:
        shown: what the form then carries of the records that would be written.
        tried: what would change; None where it would be refused, or too little was typed.
        not_yet: why it would be refused; None where it would not.
        understood: the figure read back; None for what is no figure, or cannot be read.
    """

    shown: str = "{}"
    tried: Tried | None = None
    not_yet: Refused | None = None
    understood: ReadBack | None = None


@pages.get("/claim")
def where() -> str | Response:
    """Ask for the source, where somebody comes from a feature; then go on to its page."""
    archive, source = current().archive, request.args.get("source", "").strip()
    feature, page = request.args.get("feature", ""), request.args.get("page", "").strip()
    if source in archive.sources:
        behind = f"?{urlencode({'feature': feature})}" if feature else ""
        pages_of_it = f"/pages/{page}" if page.isascii() and page.isdigit() else ""
        return make_response(redirect(f"/sources/{source}{pages_of_it}/claim{behind}", 303))
    return shown(
        "claim_where.html",
        feature=feature,
        called=feature_name(feature, archive) if feature in archive.features else "",
        missing=f"There is no source {source}: choose one from the list." if source else "",
        sources=[(each.id, each.title) for each in archive.sources.values()][:MOST_LISTED],
    )


@pages.get("/sources/<source_id>/pages/<int:number>/claim")
def from_page(source_id: str, number: int) -> str:
    """Show a page of a source with the form for what it says."""
    return _page(source_id, number)


@pages.post("/sources/<source_id>/pages/<int:number>/claim")
def write_from_page(source_id: str, number: int) -> Response | str:
    """Write down what a page says; or tell what that would change, or take the words under the region."""
    return _sent(source_id, number)


@pages.get("/sources/<source_id>/claim")
def from_source(source_id: str) -> str:
    """Show the form for what a source says that has no pages, or of which no page is named."""
    return _page(source_id, None)


@pages.post("/sources/<source_id>/claim")
def write_from_source(source_id: str) -> Response | str:
    """Write down what a source says; or tell what that would change."""
    return _sent(source_id, None)


@pages.post("/sources/<source_id>/claim/tried")
def tried_part(source_id: str) -> str:
    """Tell what would come of what was typed so far, as a part of the page."""
    return render_template("claim_tried.html", ahead=_look(source_id, _page_number()), sentences=change_sentences)


@pages.post("/sources/<source_id>/claim/asked")
def asked_part(source_id: str) -> str:
    """Ask what makes sense for the feature that is named, as a part of the page."""
    return render_template("claim_asked.html", asked=_asked(current().archive, source_id), choices=CHOICES)


@pages.post("/sources/<source_id>/claim/words")
def words_part(source_id: str) -> Response:
    """Give the words under the region that was drawn."""
    try:
        words = _words(source_id, _page_number())
    except UsageRefusedError:
        words = ""  # what is wrong with the region is said where it is tried
    return Response(words, content_type="text/plain; charset=utf-8")


def _sent(source_id: str, number: int | None) -> Response | str:
    if "ask" in request.form:
        return _page(source_id, number)
    if "words" in request.form:
        return _with_words(source_id, number)
    if is_look():
        return _page(source_id, number, ahead=_look(source_id, number))
    return carry_out(
        lambda writer: _write(writer, source_id, number),
        again=lambda refused: _page(source_id, number, refused=refused),
        to=lambda written: _address_after(source_id, number, written),
    )


def _write(writer: Writer, source_id: str, number: int | None) -> Written:
    evidence = evidence_of(writer.opened.archive, source_id, number)
    return add_evidence(writer.opened, evidence, by=writer.by, today=writer.today)


def _with_words(source_id: str, number: int | None) -> str:
    try:
        return _page(source_id, number, quote=_words(source_id, number))
    except UsageRefusedError as error:
        return _page(source_id, number, ahead=Ahead(not_yet=Refused(what=error.what, mend=error.mend, code=400)))


def _words(source_id: str, number: int | None) -> str:
    now, region = current(), region_of(request.form)
    source = now.archive.sources.get(source_id)
    if source is None or number is None or region is None:
        return ""
    return words_under(now.readings, source, number, region)


def _look(source_id: str, number: int | None) -> Ahead:
    """Look at what was typed as if it were written, on the archive as it stands when that is shown."""
    if not request.form.get("feature", "").strip() or not request.form.get("value", "").strip():
        return Ahead()
    now = current()
    ahead, files = _tried(now, source_id, number)
    before, newer = before_them(files)
    if newer.opened is not now.opened:  # somebody wrote a second ago: then what is shown is to be of that
        ahead, files = _tried(newer, source_id, number)
        before, _ = before_them(files)
    return replace(ahead, shown=before)


def _tried(now: Current, source_id: str, number: int | None) -> tuple[Ahead, tuple[str, ...]]:
    found: list[Evidence] = []

    def attempt(writer: Writer) -> Tried:
        found.append(evidence_of(writer.opened.archive, source_id, number))
        verdicts = now.verdicts
        return try_evidence(writer.opened, found[-1], by=writer.by, today=writer.today, verdicts=verdicts)

    tried, not_yet = look_ahead(attempt)
    understood = read_figure_back(now.archive, found[-1]) if found else None
    return Ahead(tried=tried, not_yet=not_yet, understood=understood), tried.files if tried else ()


def _page_number() -> int | None:
    given = request.form.get("on-page", "")
    return int(given) if given.isascii() and given.isdigit() and len(given) < 8 else None


def _feature(archive: Archive) -> str:
    return feature_meant(archive, request.form.get("feature", request.args.get("feature", "")).strip())


def _asked(archive: Archive, source_id: str) -> ClaimAsked:
    source = archive.sources.get(source_id)
    if source is None:
        raise UnknownRecordError(f"there is no source `{source_id}`", "look for it among the sources")
    return claim_asked(archive, _feature(archive), source)


def _page(
    source_id: str,
    number: int | None,
    *,
    refused: Refused | None = None,
    ahead: Ahead | None = None,
    quote: str | None = None,
) -> str:
    now = current()
    archive = now.archive
    asked = _asked(archive, source_id)
    source = archive.sources[source_id]
    before = archive.claims.get(request.args.get("after", ""))
    return shown(
        "claim.html",
        source=source,
        number=number,
        told=show_page(now.opened, now.readings, source_id, number) if number is not None else None,
        asked=asked,
        feature=feature_typed(archive, _feature(archive)),
        features=now.remembered("features to choose", lambda: features_to_choose(archive)),
        coverages=coverage_choices(archive),
        machines=seen_choices(archive),
        recordings=list(recordings_in(source)),
        playable=list(_playable(now, source)),
        choices=CHOICES,
        kept=_kept(before, source_id),
        quote=quote if quote is not None else request.form.get("quote", request.args.get("quote", "")),
        here_already=claimed_here(archive, source_id, number),
        ahead=ahead or Ahead(),
        refused=refused,
        sentences=change_sentences,
        address=f"/sources/{source_id}/pages/{number}/claim" if number is not None else f"/sources/{source_id}/claim",
    )


def _playable(now: Current, source: Source) -> Iterator[int]:
    """The places of the recordings that are here."""
    for place, _ in recordings_in(source):
        try:
            _, opened = open_recording(now.opened, source.id, place)
        except UnreadableOriginalError:
            continue
        opened.close()
        yield place


def _kept(before: Claim | None, source_id: str) -> dict[str, str]:
    """What the claim before this one said that is likely to hold of the next too."""
    if before is None:
        return {}
    seen = seen_last(before, source_id)
    return {"applies-to": coverage_typed(before.applies_to)} | (
        {
            "seen": seen.example,
            "seen-known-by": seen.known_by.value,
            "seen-when": str(seen.when or ""),
            "seen-why": seen.why or "",
        }
        if seen
        else {}
    )


def _address_after(source_id: str, number: int | None, written: Written) -> str:
    """The page that was claimed from, with the place of the new item marked."""
    claim = current().archive.claims.get(written.record)
    items = [item for item in claim.evidence if item.source == source_id] if claim else []
    at = items[-1].at if items else None
    asked = {"region": at.region if at else None, "time": at.time if at else None, "after": written.record}
    behind = urlencode({name: str(value) for name, value in asked.items() if value is not None}, safe=":,/")
    page = number if number is not None else at.page if at else None
    return f"/sources/{source_id}/pages/{page}?{behind}" if page is not None else f"/sources/{source_id}?{behind}"
