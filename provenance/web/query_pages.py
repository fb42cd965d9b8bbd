"""Queries: what is in doubt, and what was answered; a doubt raised, and an answer given."""

from flask import Blueprint, Response, request, url_for

from provenance.records.archive import Archive
from provenance.reports.copied_words import person_words
from provenance.tasks.querying import answer_query, raise_query
from provenance.web.asking import current, not_found, shown
from provenance.web.writing import Refused, before_them, carry_out

pages = Blueprint("query_pages", __name__)


@pages.get("/queries")
def list_queries() -> str:
    """All queries, the open ones first, and a form to raise one."""
    return _list(None)


@pages.post("/queries")
def raise_one() -> Response:
    """Raise a query."""
    given = request.form
    about = given.get("about", "").strip()
    return carry_out(
        lambda writer: raise_query(
            writer.opened,
            about,
            given.get("grounds", "").strip(),
            by=writer.by,
            today=writer.today,
            raised_by=given.get("raised-by", "").strip() or None,
            would_settle=given.get("would-settle", "").strip() or None,
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
    given = request.form
    return carry_out(
        lambda writer: answer_query(
            writer.opened,
            query_id,
            given.get("answer", "").strip(),
            answered_by=given.get("answered-by", "").strip() or writer.by,
            today=writer.today,
        ),
        again=lambda refused: _one(query_id, refused),
        to=lambda _: url_for(".show_query", query_id=query_id),
    )


def _list(refused: Refused | None) -> str:
    archive = current().archive
    queries = sorted(archive.queries.values(), key=lambda query: (not query.open, query.id))
    return shown(
        "queries.html",
        queries=queries,
        about=request.args.get("about", ""),
        doubtable=_doubtable(archive),
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


def _doubtable(archive: Archive) -> list[tuple[str, str]]:
    """Everything that a query may be about, by its name in the records, with what people call it."""
    named = [*archive.features, *archive.decisions, *archive.panels]
    return [(name, _called(archive, name)) for name in named]


def _called(archive: Archive, name: str) -> str:
    if name in archive.features:
        component = archive.components[name.partition("/")[0]]
        return f"{component.name}: {archive.features[name].name}"
    if name in archive.decisions:
        decision = archive.decisions[name]
        return f"the decision to build {decision.build} ({_called(archive, decision.about)})"
    return f"the panel “{archive.panels[name].title}”" if name in archive.panels else name
