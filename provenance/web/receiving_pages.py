"""Receiving: files sent or a folder named, what becomes of them, and the finds that nobody has looked at."""

import re
import secrets
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

from flask import Blueprint, Response, jsonify, make_response, request, url_for

from provenance.errors import ProvenanceError, UsageRefusedError, WriteRefusedError
from provenance.records.dates import parse_edtf
from provenance.reports.date_words import date_words
from provenance.reports.looked_over import Find
from provenance.reports.receipts import Fate, Receipt, ReceiptState
from provenance.rules.rights_statements import STATEMENTS
from provenance.tasks.arriving import MOST_BYTES, NoRoomError, TooMuchError
from provenance.tasks.batches import Batch
from provenance.tasks.finds import look_over_finds
from provenance.tasks.receiving import held_digests
from provenance.tasks.receiving_jobs import Begun, Order
from provenance.web.asking import current, current_now, shown
from provenance.web.received_files import arrivals, jobs, keep_files, receive_into, takes_folders
from provenance.web.typed import typed
from provenance.web.writing import Answered, Refused, Writer, carry_out, require_token

pages = Blueprint("receiving_pages", __name__)

LISTED = 40
"""How many finds stand on one page."""

STEPS = {
    "comparing": "Comparing files with those held",
    "registering": "Copying files in and entering them",
    "reading": "Reading pages",
    "fingerprinting": "Looking at pictures",
    "taking in": "Taking texts in",
    "seeking": "Looking for what was seen before",
    "indexing": "Making it searchable",
}
FATES = {
    Fate.COMING: "here, not taken in yet",
    Fate.NEW: "new",
    Fate.KNOWN: "held already",
    Fate.UNREAD: "kept but not read",
    Fate.REFUSED: "left alone",
    Fate.LEFT: "not taken in",
}
STATES = {
    ReceiptState.WAITING: "Waiting",
    ReceiptState.AT_WORK: "At work",
    ReceiptState.DONE: "Done",
    ReceiptState.STOPPED: "Stopped",
    ReceiptState.FAILED: "Ended early",
}

_FILES = "files"
_MARK = re.compile(r"[A-Za-z0-9_-]{12,40}")
_FIGURES = 6


class _Leaf(NamedTuple):
    """The finds of one page of the list."""

    rows: tuple[Find, ...]
    first: int
    last: int
    total: int
    before: str
    after: str


@pages.get("/receive")
def receive() -> str:
    """A form to hand files in, what is being taken in, and what nobody has looked at."""
    return _page(None, secrets.token_urlsafe(12))


@pages.post("/receive")
def begin() -> Response:
    """Take in what was handed in; what was sent is kept where that is refused, and need not be sent again."""
    mark = _mark(request.args.get("mark", ""))
    tray = arrivals().tray(mark)
    receive_into(tray)
    keep_files(tray, _FILES)
    return carry_out(
        lambda writer: _begin(mark, writer),
        again=lambda refused: _page(refused, mark),
        to=_to_receipt,
    )


@pages.post("/receive/files/<mark>")
def receive_one(mark: str) -> Response:
    """Receive a file that a script sends by itself; whether its bytes are held already is said at once."""
    try:
        tray = arrivals().tray(_mark(mark))
        receive_into(tray)
        require_token()
        arrived = keep_files(tray, _FILES)
        current_now()  # what was taken in a moment ago is held too
    except ProvenanceError as error:
        return make_response(jsonify(what=error.what, mend=error.mend), _code_of(error))
    held = _held()
    told = [{"name": each.name, "size": each.size, "known": _known(held.get(each.sha256))} for each in arrived]
    return make_response(jsonify(files=told))


@pages.get("/receive/jobs/<job>")
def show_receipt(job: str) -> Response:
    """How far a work is, and what became of each file."""
    receipt = jobs().receipt(job)
    return make_response(_receipt(receipt, None), 200 if receipt is not None else 404)


@pages.post("/receive/jobs/<job>/stop")
def stop(job: str) -> Response:
    """End a work; what is registered stays."""
    return carry_out(
        lambda _: _stopped(job),
        again=lambda refused: _receipt(jobs().receipt(job), refused),
        to=_to_receipt,
    )


@pages.post("/receive/jobs/<job>/on")
def go_on(job: str) -> Response:
    """Go on with the reading of what was registered before a work ended."""
    return carry_out(
        lambda writer: jobs().go_on(current().opened, job, by=writer.by, today=writer.today),
        again=lambda refused: _receipt(jobs().receipt(job), refused),
        to=_to_receipt,
    )


def _begin(mark: str, writer: Writer) -> Begun:
    folder = typed("folder")
    files = arrivals().files(mark)
    if folder and files:
        raise UsageRefusedError(
            "a folder is named, and files were sent too",
            "take in the one first, then the other: leave one of the two out",
        )
    batch = Batch(
        together="together" in request.form,
        lot=typed("lot") or None,
        giver=typed("from") or None,
        rights=typed("rights") or None,
        access=typed("access") or None,
        names={each.path: each.name for each in files},
    )
    order = Order(
        paths=(_folder(folder),) if folder else tuple(each.path for each in files),
        batch=batch,
        by=writer.by,
        today=typed("date") or writer.today,
        arrived=files,
        folder=folder,
    )
    tray = arrivals().hand_over(mark)
    try:
        return jobs().begin(current().opened, order, tray)
    except ProvenanceError:
        arrivals().give_back(mark, tray)
        raise


def _folder(named: str) -> Path:
    if not takes_folders():
        raise UsageRefusedError(
            "a folder can be named only in a browser on the machine that serves these pages", "send the files instead"
        )
    path = Path(named)
    if not path.is_absolute():
        raise UsageRefusedError(f"{named} is not the whole path", "begin it with `/`, as in /home/mh/scans")
    try:
        is_there = path.exists()
    except OSError as error:  # too long for a name, or in a folder that may not be entered
        why = (error.strerror or "unknown reason").lower()
        raise UsageRefusedError(f"{named} cannot be looked at: {why}", "name a folder that you may read") from error
    if not is_there:
        raise UsageRefusedError(f"{named} is not there", "name a folder, or a file, that is on this machine")
    return path


def _stopped(job: str) -> Begun:
    jobs().stop(job)
    return Begun(receipt=job, said=("It is being stopped. What is registered stays, and can be read on at any time.",))


def _to_receipt(begun: Answered) -> str:
    receipt = begun.receipt if isinstance(begun, Begun) else ""
    return url_for(".show_receipt", job=receipt)


def _page(refused: Refused | None, mark: str) -> str:
    now = current()
    finds = now.remembered("finds", lambda: look_over_finds(now.opened)).finds
    lots = sorted({lot for find in finds for lot in find.lots})
    return shown(
        "receive.html",
        refused=refused,
        mark=mark,
        waiting=[(each.name, _known(_held().get(each.sha256))) for each in arrivals().files(mark)],
        receipts=jobs().receipts(),
        states=STATES,
        takes_folders=takes_folders(),
        most_bytes=MOST_BYTES,
        today=now.today.isoformat(),
        rights=[(code, f"{words} ({code})") for code, words in STATEMENTS.items()],
        leaf=_leaf(finds),
        lots=[(lot, sum(lot in find.lots for find in finds)) for lot in lots],
        called=_component,
        title_of=_title,
        in_words=lambda date: date_words(parse_edtf(date)),
    )


def _receipt(receipt: Receipt | None, refused: Refused | None) -> str:
    return shown(
        "receive_job.html",
        receipt=receipt,
        refused=refused,
        states=STATES,
        steps=STEPS,
        fates=FATES,
        counts=[(FATES[fate], receipt.count(fate)) for fate in Fate if receipt.count(fate)] if receipt else [],
        title_of=_title,
        is_untagged=_is_untagged,
    )


def _leaf(finds: tuple[Find, ...]) -> _Leaf:
    asked = request.args.get("page", "1")
    number = int(asked) if asked.isascii() and asked.isdigit() and len(asked) < _FIGURES else 1
    number = min(max(number, 1), max(1, -(-len(finds) // LISTED)))
    begin = (number - 1) * LISTED
    rows = finds[begin : begin + LISTED]
    return _Leaf(
        rows=rows,
        first=begin + 1 if rows else 0,
        last=begin + len(rows),
        total=len(finds),
        before=f"/receive?page={number - 1}#finds" if number > 1 else "",
        after=f"/receive?page={number + 1}#finds" if begin + LISTED < len(finds) else "",
    )


def _held() -> Mapping[str, str]:
    now = current()
    return now.remembered("held digests", lambda: held_digests(now.opened))


def _known(source: str | None) -> dict[str, str] | None:
    return None if source is None else {"source": source, "title": _title(source)}


def _title(source: str) -> str:
    known = current().archive.sources.get(source)
    return known.title if known is not None else source


def _is_untagged(source: str) -> bool:
    known = current().archive.sources.get(source)
    return known is not None and not known.tagged


def _component(component: str) -> str:
    known = current().archive.components.get(component)
    return known.name if known is not None else component


def _mark(given: str) -> str:
    if _MARK.fullmatch(given):
        return given
    raise UsageRefusedError("the form was not sent as this page made it", "open the page anew")


def _code_of(error: ProvenanceError) -> int:
    if isinstance(error, TooMuchError):
        return 413
    if isinstance(error, NoRoomError):
        return 507
    return 409 if isinstance(error, WriteRefusedError) else 400
