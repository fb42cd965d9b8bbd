"""Make some pages of a source one of their own: what is kept in an album, a bundle, a record office's PDF."""

from provenance.errors import UsageRefusedError
from provenance.records.kinds import Access
from provenance.records.regions import PageRange, PageRangeError, parse_page_range
from provenance.records.sources import Source
from provenance.reports.written import Written
from provenance.store.record_kinds import RecordKind
from provenance.tasks.adding import require_id
from provenance.tasks.changing import NewRecord, change
from provenance.tasks.nearest import nearest_mend
from provenance.tasks.opening import Opened, Where, opened_at


def split_off(
    where: Where, container: str, pages: str, record_id: str, *, title: str | None, by: str, today: str
) -> Written:
    """Make a new source of some pages of another, which it is kept within.

    It has the holder, place, reference, rights and access of its container, since it lies there; not its permissions,
    and no descent from it.

    Args:
        where: the archive's folder, or the archive as it was opened before.
        container: id of the source that has the pages.
        pages: a run of its pages, `3..7` or `3`; the new source's pages keep these numbers.
        record_id: id of the new source.
        title: of the new source; None for the container's, with the pages.
        by: an id of `people`.
        today: the date that the record carries.

    Raises:
        UsageRefusedError: there is no such source or no such pages, or the id cannot be or is taken.
        WriteRefusedError: the record cannot be written.
    """
    require_id(record_id)
    try:
        run = parse_page_range(pages)
    except PageRangeError as error:
        raise UsageRefusedError(error.what, error.mend) from error
    opened = opened_at(where)

    def plan(now: Opened) -> list[NewRecord]:
        whole = _container(now, container)
        fields = {
            **_inherited(whole),
            "title": title or f"{whole.title}, {'page' if run.first == run.last else 'pages'} {run}",
            "within": {"source": container, "pages": str(run)},
            "state": "untagged",
            "by": by,
            "date": today,
        }
        return [NewRecord(kind=RecordKind.SOURCE, id=record_id, fields=fields)]

    written = change(opened, plan)
    said = tuple(_overlaps(opened, container, run))
    return Written(standing=opened.standing, answer="split", record=record_id, written=written, said=said)


def _container(opened: Opened, container: str) -> Source:
    source = opened.archive.sources.get(container)
    if source is None:
        mend = nearest_mend(container, opened.archive.sources, "look in the folder `sources`")
        raise UsageRefusedError(f"there is no source `{container}`", mend)
    if not (source.files or source.within):
        raise UsageRefusedError(f"{container} has no file, and so no pages", "name a source that has")
    return source


def _inherited(whole: Source) -> dict[str, object]:
    fields: dict[str, object] = {"holder": whole.holder, "place": whole.place, "reference": whole.reference}
    if whole.access is not Access.TEAM:
        fields |= {"access": whole.access.value, "access_until": str(whole.access_until or "")}
    if whole.rights:
        held = whole.rights
        publish = held.publish.value if held.publish else None
        rights = {"statement": held.statement, "holder": held.holder, "credit": held.credit, "publish": publish}
        fields["rights"] = {key: value for key, value in rights.items() if value}
    return {key: value for key, value in fields.items() if value}


def _overlaps(opened: Opened, container: str, run: PageRange) -> list[str]:
    """Say which sources stand on some of these pages already."""
    said = []
    for other in opened.archive.sources.values():
        within = other.within
        if within and within.source == container and within.pages:
            first, last = max(run.first, within.pages.first), min(run.last, within.pages.last)
            if first <= last:
                shared = f"page {first} is" if first == last else f"pages {first}..{last} are"
                said.append(f"{shared} also in {other.id}")
    return said
