"""How a page writes: in whose name, on what it had before it, and what it says where that is refused.

Every write is a plain form, sent by POST. Whoever sent it is led on to a page that says what was written; where it is
refused, the same page comes back with all that was typed, what is wrong, and the mend.
"""

import hashlib
import json
import re
import secrets
from collections import OrderedDict
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from typing import Protocol, TypeVar

from flask import Flask, Response, current_app, make_response, redirect, request
from flask_wtf.csrf import generate_csrf, validate_csrf
from wtforms import ValidationError

from provenance.errors import ProvenanceError, UnknownRecordError, UsageRefusedError, WriteRefusedError
from provenance.records.archive import Person
from provenance.reports.both_versions import BothVersions, both_versions
from provenance.reports.feature_words import feature_name
from provenance.tasks.living import Current, Living
from provenance.tasks.opening import Opened
from provenance.tasks.shown_texts import ChangedUnderneathError, is_record_file, texts_now
from provenance.web.asking import LIVING, current, current_now
from provenance.web.page_words import Labels, page_words, refusal_words

WRITER = "provenance-writer"
"""How the cookie is called that keeps who writes in this browser; with what tells the archive from others behind it."""

_TOLD = "provenance-told"
_ARCHIVE = "provenance-archive"
_MOST_TOLD = 100
_YEAR = 365 * 24 * 3600
Looked = TypeVar("Looked")
_DIGEST = re.compile(r"[0-9a-f]{64}")


class Answered(Protocol):
    """What a writing task answers: which files it wrote, and what the writer should know."""

    @property
    def written(self) -> tuple[str, ...]:
        """Record files, in order; empty where there was nothing to do."""

    @property
    def said(self) -> tuple[str, ...]:
        """Sentences; empty for nothing out of the ordinary."""


Answer = TypeVar("Answer", bound=Answered)


@dataclass(frozen=True, slots=True, kw_only=True)
class Writer:
    """Who writes, on which day, and the archive, with what their page showed of the records that it may change."""

    by: str
    today: str
    opened: Opened


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused:
    """Why a form was not written, or not all of it.

    Attributes:
        changed: the records that somebody else changed meanwhile, as they were and as they are; empty where that is
            not the reason.
        written: the record files that had been written by then; empty for none.
    """

    what: str
    mend: str
    code: int
    changed: tuple[BothVersions, ...] = ()
    written: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What was written last from this browser, to be said once.

    Attributes:
        form: the address that the form was sent to, by which the browser knows which draft is done with.
    """

    form: str
    written: tuple[str, ...]
    said: tuple[str, ...]


def prepare(app: Flask) -> None:
    """Give the pages what they need to write: a secret of this run, and room for what is to be said once."""
    living: Living = app.extensions[LIVING]
    app.extensions[_ARCHIVE] = hashlib.sha256(str(living.folder).encode()).hexdigest()[:8]
    app.secret_key = secrets.token_bytes(32)
    app.config.update(
        SESSION_COOKIE_NAME=f"provenance-page-{app.extensions[_ARCHIVE]}",
        SESSION_COOKIE_SAMESITE="Strict",
        WTF_CSRF_TIME_LIMIT=None,
    )
    app.extensions[_TOLD] = OrderedDict()
    app.jinja_env.globals.update(
        form_token=form_token,
        people=people,
        writer_id=writer_id,
        told_once=told_once,
        in_fields=in_fields,
        sentence=sentence,
        mended=mended,
        feature_called=feature_called,
    )


def form_token() -> str:
    """What a form of this browser carries, so that no other page can send it."""
    token: str = generate_csrf()
    return token


def people() -> tuple[Person, ...]:
    """Who may be chosen as the writer, in the order of archive.yaml."""
    return current().archive.people


def writer_id() -> str:
    """Who writes in this browser: as just chosen, else as kept; empty where nobody of the archive's people."""
    chosen = request.form.get("by", "") or request.cookies.get(_cookie(WRITER), "")
    return chosen if chosen in current().archive.person_ids else ""


def before_them(files: Iterable[str]) -> tuple[str, Current]:
    """What a form carries of the records that it may change, and the archive that is at least as new.

    Args:
        files: of records and transcripts, relative to the archive, whether there or not; all that the write may change.
    """
    texts = texts_now(current().opened.folder, files)
    shown = {file: {"sha256": text.sha256, "text": text.text} for file, text in sorted(texts.items())}
    return json.dumps(shown), current_now()


def carry_out(
    write: Callable[[Writer], Answer],
    *,
    again: Callable[[Refused], str | Response],
    to: Callable[[Answer], str],
) -> Response:
    """Write what a form says, and lead on; or show the form again with what was typed, and say why.

    Args:
        write: calls the task.
        again: makes the page anew with the refusal; it reads what was typed from the request.
        to: the address of the page that is shown when it was written.
    """
    try:
        require_token()
        writer = _writer()
        answered = write(writer)
    except ProvenanceError as error:
        refused = _refused(error)
        return make_response(again(refused), refused.code)
    with suppress(ProvenanceError):  # it is written, whatever else cannot be read by now: that is said where one is led
        current_now()
    answer = make_response(redirect(to(answered), 303))
    answer.set_cookie(_cookie(WRITER), writer.by, max_age=_YEAR, httponly=True, samesite="Strict")
    answer.set_cookie(_cookie(_TOLD), _keep(answered), httponly=True, samesite="Strict")
    return answer


def look_ahead(attempt: Callable[[Writer], Looked]) -> tuple[Looked | None, Refused | None]:
    """See what a write would do, or why it would be refused; nothing is written.

    Args:
        attempt: calls the task that only looks. Whoever has not said yet who writes looks in nobody's name.
    """
    now = current()
    somebody = now.archive.people[0].id if now.archive.people else ""
    writer = Writer(by=writer_id() or somebody, today=_today(), opened=now.opened)
    try:
        return attempt(writer), None
    except ProvenanceError as error:
        return None, _refused(error)


def require_token() -> None:
    """See that the form was sent by a page of this browser and this run.

    Raises:
        WriteRefusedError: it was not.
    """
    try:
        validate_csrf(request.form.get("token", ""))
    except ValidationError as error:
        raise WriteRefusedError(
            "this page was opened before the pages were started anew, or in another browser; nothing was written",
            "all that you typed stands here: look at it, and send it again",
        ) from error


def told_once() -> Told | None:
    """What was written just before, where that has not been said yet; None for nothing."""
    key = request.cookies.get(_cookie(_TOLD), "")
    kept: OrderedDict[str, Told] = current_app.extensions[_TOLD]
    return kept.pop(key, None)


def in_fields(text: str, labels: Labels | None = None) -> str:
    """A sentence of a task in the words of the page: its fields for options, names for ids."""
    return page_words(text, current().archive, labels or {})


def sentence(text: str, labels: Labels | None = None) -> str:
    """What is wrong in the same words, beginning with a capital letter, but where a name or a file comes first."""
    said = refusal_words(text, current().archive, labels or {})
    return said[:1].upper() + said[1:] if said.partition(" ")[0].isalpha() else said


def mended(text: str, labels: Labels | None = None) -> str:
    """What is to be done about it, in the same words, with a full stop where it has no mark of its own."""
    said = refusal_words(text, current().archive, labels or {})
    return said if said.endswith((".", "?", "!")) else f"{said}."


def feature_called(name: str) -> str:
    """A feature by the name of its component and its own."""
    return feature_name(name, current().archive)


def _cookie(name: str) -> str:
    """The name of a cookie of this archive: cookies know no port, and a machine may show several archives."""
    return f"{name}-{current_app.extensions[_ARCHIVE]}"


def _writer() -> Writer:
    by = request.form.get("by", "")
    known = current().archive.person_ids
    if not by:
        raise UsageRefusedError("it is not said who is writing", "choose who writes, and send it again")
    if by not in known:
        raise UsageRefusedError(f"nobody of this archive is called {by}", "choose who writes from the list")
    return Writer(by=by, today=_today(), opened=replace(current().opened, shown=_shown()))


def _today() -> str:
    return current().today.isoformat()


def _shown() -> Mapping[str, str | None]:
    """The digests that the form carries of what its page showed."""
    return {file: each["sha256"] for file, each in _carried().items()}


def _carried() -> dict[str, dict[str, str | None]]:
    try:
        carried = json.loads(request.form.get("shown") or "{}")
        return {
            _record_file(file): {"sha256": _digest_or_none(each["sha256"]), "text": str(each["text"])}
            for file, each in carried.items()
        }
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError) as error:
        raise UsageRefusedError("the form was not sent as this page made it", "open the page anew") from error


def _record_file(given: str) -> str:
    if is_record_file(given):
        return given
    raise ValueError(given)


def _digest_or_none(given: object) -> str | None:
    if given is None or (isinstance(given, str) and _DIGEST.fullmatch(given)):
        return given
    raise ValueError(given)


def _refused(error: ProvenanceError) -> Refused:
    changed: tuple[BothVersions, ...] = ()
    if isinstance(error, ChangedUnderneathError):
        before = _carried()
        now = texts_now(current().opened.folder, error.files)
        changed = tuple(both_versions(file, before[file]["text"] or "", now[file].text) for file in now)
        current_now()
    return Refused(what=error.what, mend=error.mend, code=_code_of(error), changed=changed, written=error.written)


def _code_of(error: ProvenanceError) -> int:
    if isinstance(error, WriteRefusedError):
        return 409
    return 404 if isinstance(error, UnknownRecordError) else 400 if isinstance(error, UsageRefusedError) else 500


def _keep(answered: Answered) -> str:
    kept: OrderedDict[str, Told] = current_app.extensions[_TOLD]
    key = secrets.token_urlsafe(9)
    kept[key] = Told(form=request.path, written=answered.written, said=answered.said)
    while len(kept) > _MOST_TOLD:
        kept.popitem(last=False)
    return key
