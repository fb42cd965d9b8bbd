"""Find pages, sources and claims by what they say."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from provenance.errors import DerivedDataError, UsageRefusedError
from provenance.records.dates import EdtfDate, EdtfError, parse_edtf
from provenance.records.kinds import SourceKind
from provenance.reports.found import Found, FoundPage
from provenance.search.asking import Filters, Hit, ask
from provenance.search.building import Changes, bring_up_to_date
from provenance.search.grammar import Query
from provenance.search.opening import open_verified
from provenance.search.snippets import matched_spans, matched_words, regions, snippet
from provenance.tasks.index_entries import WantedEntries, day_number
from provenance.tasks.nearest import nearest_mend
from provenance.tasks.opening import Opened
from provenance.tasks.page_readings import Readings, SourcePage, pages_of

INDEX = Path(".derived") / "search"


@dataclass(frozen=True, slots=True, kw_only=True)
class Narrowing:
    """What the hits must have in common, as typed; None or empty where it does not matter.

    Attributes:
        since: an EDTF date: only what may be of this date or later.
        until: an EDTF date: only what may be of this date or earlier.
        state: `tagged` or `untagged`.
    """

    components: tuple[str, ...] = ()
    kind: str | None = None
    holder: str | None = None
    since: str | None = None
    until: str | None = None
    state: str | None = None


def refresh_index(
    opened: Opened, readings: Readings, *, on_progress: Callable[[int, int], None] | None = None
) -> Changes:
    """Bring the index up to date with the records and readings; damage is noticed, said and mended.

    Raises:
        DerivedDataError: the disk does not let it be written.
    """
    wanted = WantedEntries(readings)
    try:
        return bring_up_to_date(opened.folder / INDEX, wanted.digests, wanted.fetch, on_progress=on_progress)
    except OSError as error:
        raise DerivedDataError(
            f"the search index cannot be written in {opened.folder / INDEX}: {error.strerror or error}",
            "see who may write there and whether the disk is full; .derived may be removed while nothing runs",
        ) from error


def search(
    opened: Opened,
    query: str,
    narrowing: Narrowing | None = None,
    *,
    limit: int = 20,
    on_progress: Callable[[int, int], None] | None = None,
) -> Found:
    """Find what the query asks for; the index is brought up to date first.

    Raises:
        UsageRefusedError: a date that cannot be read, an unknown kind or component.
        DerivedDataError: the index can be neither brought up to date nor opened.
    """
    filters = _filters(opened, narrowing or Narrowing())
    readings = Readings(opened.folder, opened.archive)
    changes = refresh_index(opened, readings, on_progress=on_progress)
    with open_verified(opened.folder / INDEX) as index:
        answer = ask(index, query, filters, limit=limit)
    return Found(
        standing=opened.standing,
        query=query,
        total=answer.total,
        hits=tuple(_found(readings, answer.query, hit) for hit in answer.hits),
        notes=(*_said(changes), *answer.notes),
    )


def _filters(opened: Opened, narrowing: Narrowing) -> Filters:
    kinds = [kind.value for kind in SourceKind]
    if narrowing.kind is not None and narrowing.kind not in kinds:
        raise UsageRefusedError(
            f"there is no kind of source `{narrowing.kind}`",
            nearest_mend(narrowing.kind, kinds, f"the kinds are {', '.join(kinds)}"),
        )
    for component in narrowing.components:
        if component not in opened.archive.components:
            mend = nearest_mend(component, opened.archive.components, "look in the folder components")
            raise UsageRefusedError(f"there is no component `{component}`", mend)
    since, until = _date(narrowing.since), _date(narrowing.until)
    return Filters(
        components=narrowing.components,
        kind=narrowing.kind,
        holder=narrowing.holder,
        since=day_number(since.earliest) if since else None,
        until=day_number(until.latest) if until else None,
        state=narrowing.state,
    )


def _date(written: str | None) -> EdtfDate | None:
    if written is None:
        return None
    try:
        return parse_edtf(written)
    except EdtfError as error:
        raise UsageRefusedError(str(error), error.mend) from error


def _said(changes: Changes) -> tuple[str, ...]:
    return (changes.rebuilt,) if changes.rebuilt else ()


def _found(readings: Readings, query: Query, hit: Hit) -> FoundPage:
    page = _page(readings, hit)
    boxes: tuple[str, ...] = ()
    if page is not None and hit.what == "page":
        boxes = _regions(readings, query, page, hit.read_as)
    return FoundPage(
        what=hit.what.value,
        record=hit.key,
        source=hit.source,
        title=hit.title,
        page=hit.page,
        score=hit.score,
        snippet=snippet(hit.text, matched_spans(query, hit.text, hit.read_as)),
        regions=boxes,
        original=page.file.path if page else None,
        components=hit.components,
        tier=hit.tier.value if hit.tier else None,
        read_as=hit.read_as,
    )


def _page(readings: Readings, hit: Hit) -> SourcePage | None:
    source = readings.archive.sources.get(hit.source)
    if source is None:
        return None
    return next((page for page in pages_of(source, readings.archive) if hit.page in {None, page.page}), None)


def _regions(readings: Readings, query: Query, page: SourcePage, read_as: tuple[str, ...]) -> tuple[str, ...]:
    """The places of the matched words; a transcript has none, so there the machine's reading is looked at."""
    reading = readings.reading_of(page)
    return regions(reading.words, matched_words(query, reading.words, read_as)) if reading else ()
