"""Put something in doubt, and answer a doubt."""

from collections.abc import Sequence

from provenance.errors import UnknownRecordError, UsageRefusedError
from provenance.reports.written import Written
from provenance.store.document import Document
from provenance.store.editing import AddKey, Change, SetScalar
from provenance.store.record_kinds import RecordKind
from provenance.store.record_reading import read_record
from provenance.tasks.changing import NewRecord, RecordEdit, Step, change
from provenance.tasks.deciding import untaken_id
from provenance.tasks.nearest import nearest_mend
from provenance.tasks.opening import Opened, Where

ANSWER = "query"


def raise_query(
    where: Where,
    about: str,
    grounds: str,
    *,
    by: str,
    today: str,
    raised_by: str | None = None,
    would_settle: str | None = None,
    query_id: str | None = None,
) -> Written:
    """Put a feature, a decision or a panel in doubt.

    Args:
        where: the archive's folder, or the archive as it was opened before.
        about: `component/feature`, or the id of a decision or a panel.
        grounds: on what grounds.
        by: an id of `people`.
        today: the date that the record carries.
        raised_by: who raised it, where that is somebody else.
        would_settle: what would settle it.
        query_id: None to make one of what it is about.

    Raises:
        UnknownRecordError: there is nothing of that name to be doubted.
        UsageRefusedError: the id is taken, or a text is unsound.
        WriteRefusedError: the record cannot be written.
    """
    made: list[str] = []
    read: list[Opened] = []

    def plan(opened: Opened) -> Sequence[Step]:
        read.append(opened)
        _require_doubtable(opened, about)
        made.append(query_id or untaken_id(opened.archive.queries, about, "query"))
        fields = {
            "about": about,
            "raised_by": raised_by,
            "grounds": grounds,
            "would_settle": would_settle,
            "state": "open",
            "by": by,
            "date": today,
        }
        return [NewRecord(kind=RecordKind.QUERY, id=made[-1], fields=fields)]

    written = change(where, plan)
    return Written(standing=read[-1].standing, answer=ANSWER, record=made[-1], written=written)


def answer_query(where: Where, query_id: str, answer: str, *, answered_by: str, today: str) -> Written:
    """Answer a query; it stays in the archive with its answer.

    Args:
        where: the archive's folder, or the archive as it was opened before.
        query_id: an open query.
        answer: the answer.
        answered_by: who answers: an id of `people`, or a name.
        today: the date of the answer.

    Raises:
        UnknownRecordError: there is no such query.
        UsageRefusedError: it has an answer already, or a text is unsound.
        WriteRefusedError: the record cannot be edited.
    """
    read: list[Opened] = []

    def plan(opened: Opened) -> Sequence[Step]:
        read.append(opened)
        _require_open(opened, query_id)
        file = RecordKind.QUERY.file_of(query_id)
        document = read_record((opened.folder / file).read_text(encoding="utf-8-sig"), file)
        is_said = isinstance(document, Document) and "state" in document.content
        state: Change = SetScalar(("state",), "answered") if is_said else AddKey((), "state", "answered")
        said = {"answer": answer, "answered_by": answered_by, "answered_date": today}
        changes = (state, *(AddKey((), key, value) for key, value in said.items()))
        return [RecordEdit(kind=RecordKind.QUERY, id=query_id, changes=changes)]

    written = change(where, plan)
    return Written(standing=read[-1].standing, answer=ANSWER, record=query_id, written=written)


def _require_doubtable(opened: Opened, about: str) -> None:
    archive = opened.archive
    if about in archive.features or about in archive.decisions or about in archive.panels:
        return
    if about in archive.components:
        own = [name for name in archive.features if name.partition("/")[0] == about]
        listing = f"name the feature that is in doubt: {', '.join(own) or 'it has none yet'}"
        raise UnknownRecordError(f"`{about}` is a component, and a query is about a feature of one", listing)
    if about in archive.queries:
        raise UsageRefusedError(f"`{about}` is a query itself", f"answer it: provenance query {about} --answer …")
    known = (*archive.features, *archive.decisions, *archive.panels)
    mend = nearest_mend(about, known, "name a feature (component/feature), a decision or a panel")
    raise UnknownRecordError(f"there is no feature, decision or panel `{about}`", mend)


def _require_open(opened: Opened, query_id: str) -> None:
    query = opened.archive.queries.get(query_id)
    if query is None:
        listing = "the queries are the files in the folder queries"
        raise UnknownRecordError(
            f"there is no query `{query_id}`", nearest_mend(query_id, opened.archive.queries, listing)
        )
    if not query.open or query.answer is not None:
        when = f" on {query.answered_date}" if query.answered_date else ""
        raise UsageRefusedError(
            f"{query_id} was answered{when}: {query.answer or 'without words'}",
            "raise a new query where it is doubted again",
        )
