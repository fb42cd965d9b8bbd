"""Queries: what is in doubt, and what was answered; a doubt raised, and an answer given."""

from collections import Counter

from flask import Blueprint, Response, request, url_for

from provenance.records.archive import Archive
from provenance.reports.copied_words import person_words
from provenance.reports.feature_words import feature_name
from provenance.tasks.querying import answer_query, raise_query
from provenance.web.asking import current, not_found, shown
from provenance.web.typed import typed
from provenance.web.writing import Refused, before_them, carry_out

pages = Blueprint("query_pages", __name__)


@pages.get("/queries")
def list_queries() -> str:
    """All queries, the open ones first, and a form to raise one."""
    return _list(None)


@pages.post("/queries")
def raise_one() -> Response:
    """Raise a query."""
    return carry_out(
        lambda writer: raise_query(
            writer.opened,
            _meant(writer.opened.archive, typed("about")),
            typed("grounds"),
            by=writer.by,
            today=writer.today,
            raised_by=typed("raised-by") or None,
            would_settle=typed("would-settle") or None,
        ),
        again=_list,
        to=lambda _: url_for(".list_queries"),
    )


@pages.get("/queries/<query_id>")
def show_query(query_id: str) -> str | Response:
    """A query with its answer, or a form to answer it."""
    return _one(query_id, None)


@pages.post("/queries/<query_id>")
def answer_one(query_id: str) -> Response:
    """Answer a query."""
    return carry_out(
        lambda writer: answer_query(
            writer.opened,
            query_id,
            typed("answer"),
            answered_by=typed("answered-by") or writer.by,
            today=writer.today,
        ),
        again=lambda refused: _one(query_id, refused),
        to=lambda _: url_for(".show_query", query_id=query_id),
    )


def _list(refused: Refused | None) -> str:
    archive, asked = current().archive, request.args.get("about", "")
    queries = sorted(archive.queries.values(), key=lambda query: (not query.open, query.id))
    return shown(
        "queries.html",
        queries=queries,
        about=_named_once(archive).get(asked, asked),
        doubtable=_named_once(archive).values(),
        refused=refused,
        called=lambda person: person_words(archive, person),
        said_of=lambda name: _called(archive, name),
    )


def _one(query_id: str, refused: Refused | None) -> str | Response:
    before, now = before_them([f"queries/{query_id}.yaml"])
    query = now.archive.queries.get(query_id)
    if query is None:
        return not_found(f"There is no query {query_id}", "look for it among the queries")
    return shown(
        "query.html",
        query=query,
        before=before,
        refused=refused,
        called=lambda person: person_words(now.archive, person),
        said_of=lambda name: _called(now.archive, name),
    )


def _named_once(archive: Archive) -> dict[str, str]:
    """What people call everything that a query may be about, by its id; with the id where two are called so."""
    called = {name: _called(archive, name) for name in (*archive.features, *archive.decisions, *archive.panels)}
    often = Counter(called.values())
    return {name: words if often[words] == 1 else f"{words}, {name}" for name, words in called.items()}


def _meant(archive: Archive, given: str) -> str:
    """The id of what is doubted, where it was typed or chosen by what people call it; else what was given."""
    return next((name for name, words in _named_once(archive).items() if words == given), given)


def _called(archive: Archive, name: str) -> str:
    if name in archive.decisions:
        decision = archive.decisions[name]
        return f"the decision to build {decision.build} ({feature_name(decision.about, archive)})"
    return f"the panel “{archive.panels[name].title}”" if name in archive.panels else feature_name(name, archive)
