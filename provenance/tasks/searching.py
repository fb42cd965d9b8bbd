"""Find pages, sources and claims by what they say."""

from collections.abc import Callable
from dataclasses import dataclass

from provenance.errors import UsageRefusedError
from provenance.records.dates import EdtfDate, EdtfError, parse_edtf
from provenance.records.kinds import SourceKind
from provenance.reports.found import Found, FoundPage
from provenance.search.asking import Filters, Hit, ask
from provenance.search.building import Changes
from provenance.search.grammar import Query
from provenance.search.opening import Index
from provenance.search.snippets import matched_spans, matched_words, regions, snippet
from provenance.tasks.index_entries import WantedEntries, day_number
from provenance.tasks.nearest import nearest_mend
from provenance.tasks.opening import Opened
from provenance.tasks.own_index import own_index, refresh_own_index
from provenance.tasks.page_readings import Readings, SourcePage, pages_of
from provenance.tasks.recordings import Passage
from provenance.tasks.spoken_places import place_in


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
    return refresh_own_index(opened.folder, WantedEntries(readings), on_progress)


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
        DerivedDataError: there is an index neither to keep nor to make for this answer.
    """
    filters = filters_of(opened, narrowing or Narrowing())
    wanted = WantedEntries(Readings(opened.folder, opened.archive))
    with own_index(opened.folder, wanted, on_progress) as (index, of_index):
        return OpenSearch(opened, wanted, index, of_index).find(query, filters, limit=limit)


@dataclass(frozen=True, slots=True)
class OpenSearch:
    """An archive whose index is open.

    Attributes:
        opened: the archive.
        wanted: what the index holds.
        index: with exactly that.
        said: what people should know of the index; empty for nothing.
    """

    opened: Opened
    wanted: WantedEntries
    index: Index
    said: str

    def find(self, query: str, filters: Filters, *, limit: int = 20, skip: int = 0) -> Found:
        """Find what the query asks for.

        Args:
            query: as typed.
            filters: what the hits are kept to.
            limit: how many hits are given at most.
            skip: how many of the best are passed over first.
        """
        answer = ask(self.index, query, filters, limit=limit, skip=skip)
        return Found(
            standing=self.opened.standing,
            query=query,
            total=answer.total,
            hits=tuple(_found(self.wanted, answer.query, hit) for hit in answer.hits),
            notes=(*_said(self.said, self.wanted.unread), *answer.notes),
        )


def filters_of(opened: Opened, narrowing: Narrowing) -> Filters:
    """Make of what was typed what the index is asked.

    Raises:
        UsageRefusedError: a date that cannot be read, an unknown kind or component.
    """
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


def _said(of_index: str, unread: int) -> tuple[str, ...]:
    said = (of_index,) if of_index else ()
    if not unread:
        return said
    pages = "One page that was" if unread == 1 else f"{unread} pages that were"
    return (*said, f"{pages} not read cannot be found; `provenance rebuild` reads what it can.")


def _found(wanted: WantedEntries, query: Query, hit: Hit) -> FoundPage:
    readings = wanted.readings
    passage = wanted.passages.get(hit.key)
    if passage is not None:
        return _heard(passage, query, hit)
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
        time=_cited_time(readings, hit),
    )


def _heard(passage: Passage, query: Query, hit: Hit) -> FoundPage:
    """A hit in what is said on a recording: it leads to the text and the time, and has no place on a picture."""
    spoken, place = passage.spoken, place_in(passage, query, hit.read_as)
    return FoundPage(
        what=hit.what.value,
        record=f"{spoken.source.id}/{spoken.name}",
        source=hit.source,
        title=hit.title,
        page=hit.page,
        score=hit.score,
        snippet=place.snippet,
        regions=(),
        original=spoken.original.path if spoken.original else None,
        components=hit.components,
        tier=hit.tier.value if hit.tier else None,
        read_as=hit.read_as,
        time=place.time,
    )


def _cited_time(readings: Readings, hit: Hit) -> str | None:
    """The time in a recording that the first item of a claim cites; None for any other hit."""
    claim = readings.archive.claims.get(hit.key.removeprefix("claims/")) if hit.what == "claim" else None
    time = claim.evidence[0].at.time if claim else None
    return str(time) if time else None


def _page(readings: Readings, hit: Hit) -> SourcePage | None:
    source = readings.archive.sources.get(hit.source)
    if source is None:
        return None
    return next((page for page in pages_of(source, readings.archive) if hit.page in {None, page.page}), None)


def _regions(readings: Readings, query: Query, page: SourcePage, read_as: tuple[str, ...]) -> tuple[str, ...]:
    """The places of the matched words; a transcript has none, so there the machine's reading is looked at."""
    reading = readings.reading_of(page)
    return regions(reading.words, matched_words(query, reading.words, read_as)) if reading else ()
