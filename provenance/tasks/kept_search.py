"""Search an archive again and again, as people do who look at its pages: the index is brought up to date once."""

import threading
import weakref
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import ExitStack
from dataclasses import replace

from provenance.records.archive import Archive
from provenance.records.claims import At
from provenance.records.kinds import SourceKind
from provenance.records.regions import Region
from provenance.reports.found import Found, FoundPage
from provenance.reports.narrowed import Choice, ChoiceGroup, ShownHit
from provenance.reports.strips import strip_around
from provenance.rules.source_words import kind_in_words
from provenance.search.asking import Filters, matching
from provenance.search.entries import Entry, What
from provenance.search.grammar import Query, parse_query
from provenance.search.keeping import is_kept, laid_words, stands_side_by_side, words_of
from provenance.search.snippets import matched_spans
from provenance.tasks.index_entries import WantedEntries
from provenance.tasks.opening import Opened
from provenance.tasks.own_index import own_index
from provenance.tasks.page_readings import Readings
from provenance.tasks.places_to_show import NothingToShowError, PlacesToShow
from provenance.tasks.searching import Narrowing, OpenSearch, filters_of

STATES = {"untagged": "nobody has looked at it yet", "tagged": "looked at"}
"""The states of sources, as people read them."""

_YEAR = 10_000
_MOST_REMEMBERED = 16
_Weighed = list[tuple[Entry, int]]
"""What was found, each with how many hits it has."""


_NOTHING = Entry(key="", digest="", what=What.SOURCE, source="")


class KeptSearch:
    """A search that stays open for one state of an archive, for several readers, who are answered in turn."""

    def __init__(self, opened: Opened, readings: Readings) -> None:
        """Bring the index up to date with these records and readings, and open it.

        Args:
            opened: the archive.
            readings: of its pages.

        Raises:
            DerivedDataError: there is an index neither to keep nor to make.
        """
        self._lock = threading.Lock()
        self._opened = opened
        wanted = WantedEntries(readings)
        stack = ExitStack()
        index, said = stack.enter_context(own_index(opened.folder, wanted, None))
        weakref.finalize(self, stack.close)
        self._found: dict[str, _Weighed] = {}
        self._open = OpenSearch(opened, wanted, index, said)

    def find(self, query: str, narrowing: Narrowing, *, limit: int = 20, skip: int = 0) -> Found:
        """Find what the query asks for; the same as `search` answers.

        Args:
            query: as typed.
            narrowing: what the hits must have in common.
            limit: how many hits are given at most.
            skip: how many of the best are passed over first.

        Raises:
            UsageRefusedError: a date that cannot be read, an unknown kind or component.
        """
        filters = filters_of(self._opened, narrowing)
        with self._lock:
            return self._open.find(query, filters, limit=limit, skip=skip)

    def choices(self, query: str, narrowing: Narrowing) -> tuple[ChoiceGroup, ...]:
        """Count, over all hits of a query, what they can be narrowed to.

        The hits of a choice are as many as `search` finds with it and what is chosen in the other groups.

        Args:
            query: as typed.
            narrowing: what is chosen now.

        Raises:
            UsageRefusedError: a date that cannot be read, an unknown kind or component.
        """
        filters = filters_of(self._opened, narrowing)
        return _groups(self._opened.archive, self._weighed(query), filters, narrowing)

    def _weighed(self, query: str) -> _Weighed:
        """All that a query finds; the last few queries are remembered, for they are narrowed and leafed through."""
        with self._lock:
            if query not in self._found:
                found = matching(self._open.index, query)
                while len(self._found) >= _MOST_REMEMBERED:
                    del self._found[next(iter(self._found))]
                self._found[query] = [(self._open.wanted.fetch(key), hits) for (key, _), hits in found.items()]
            return self._found[query]


def with_strips(readings: Readings, found: Found) -> tuple[ShownHit, ...]:
    """Say of each hit how it is shown: its words with those that were found marked, and the strip of its page.

    Args:
        readings: of the archive that was searched.
        found: what was found in it.
    """
    query, places = parse_query(found.query), PlacesToShow(readings)
    return tuple(_shown_hit(query, places, hit, _cited(readings.archive, hit)) for hit in found.hits)


def _cited(archive: Archive, hit: FoundPage) -> Region | None:
    """The part of a page that the first evidence of a claim names; None for any other hit."""
    claim = archive.claims.get(hit.record.removeprefix("claims/")) if hit.what == "claim" else None
    return claim.evidence[0].at.region if claim else None


def _shown_hit(query: Query, places: PlacesToShow, hit: FoundPage, cited: Region | None) -> ShownHit:
    pieces = tuple(_pieces(hit.snippet, matched_spans(query, hit.snippet, hit.read_as)))
    if not (hit.regions or cited) or hit.page is None:
        return ShownHit(hit=hit, pieces=pieces)
    try:
        page = places.find(hit.source, At(page=hit.page), None).page
    except NothingToShowError as error:
        return ShownHit(hit=hit, pieces=pieces, no_strip=str(error))
    strip = strip_around(hit.regions, page.region)
    return ShownHit(hit=hit, pieces=pieces, strip=strip, cited=str(cited or ""), digest=page.file.sha256)


def _pieces(text: str, spans: Iterable[tuple[int, int]]) -> Iterator[tuple[str, bool]]:
    done = 0
    for start, end in spans:
        if start >= done:
            yield from [(text[done:start], False)] if start > done else []
            yield text[start:end], True
            done = end
    if done < len(text):
        yield text[done:], False


def _groups(archive: Archive, weighed: _Weighed, filters: Filters, narrowing: Narrowing) -> tuple[ChoiceGroup, ...]:
    components = {each.id: each.name for each in archive.components.values()}
    kinds = {kind.value: kind_in_words(kind, several=True) for kind in SourceKind}
    ways = {
        "kind": Filters(kind=filters.kind),
        "component": Filters(components=filters.components),
        "holder": Filters(holder=filters.holder),
        "decade": Filters(since=filters.since, until=filters.until),
        "state": Filters(state=filters.state),
    }
    left = _left_by_group(weighed, {name: each for name, each in ways.items() if each != Filters()})
    decade = narrowing.since if narrowing.since == narrowing.until else None
    return (
        _group("kind", _counted(left("kind"), lambda entry: [entry.kind]), kinds, {narrowing.kind}),
        _group(
            "component",
            _counted(left("component"), lambda entry: entry.components),
            components,
            set(narrowing.components),
        ),
        _group("holder", _by_holder(left("holder")), {}, {narrowing.holder}),
        _decades(left("decade"), decade),
        _group("state", _counted(left("state"), lambda entry: [entry.state]), STATES, {narrowing.state}),
    )


def _left_by_group(weighed: _Weighed, ways: Mapping[str, Filters]) -> Callable[[str], _Weighed]:
    """Give what is left for each group: what the choices of all other groups keep."""
    against = [[name for name, way in ways.items() if not is_kept(entry, way)] if ways else [] for entry, _ in weighed]

    def left(group: str) -> _Weighed:
        return [each for each, names in zip(weighed, against, strict=True) if not names or names == [group]]

    return left


def _counted(weighed: _Weighed, values: Callable[[Entry], Iterable[str]]) -> Counter[str]:
    counts: Counter[str] = Counter()
    for entry, hits in weighed:
        for value in values(entry):
            counts[value] += hits
    return counts


def _group(name: str, counts: Mapping[str, int], names: Mapping[str, str], chosen: set[str | None]) -> ChoiceGroup:
    """The choices by falling number of hits; those that were chosen are among them with none, too."""
    values = {value for value in (*counts, *chosen) if value}
    choices = [
        Choice(value=value, name=names.get(value, value), hits=counts.get(value, 0), is_chosen=value in chosen)
        for value in values
    ]
    return ChoiceGroup(name=name, choices=tuple(sorted(choices, key=lambda each: (-each.hits, each.name, each.value))))


def _by_holder(weighed: _Weighed) -> Counter[str]:
    """The hits of each holder's name: of all whose holder's name holds its words side by side, as they are found."""
    exact = _counted(weighed, lambda entry: [entry.holder])
    with_word: dict[str, set[str]] = {}
    for holder in filter(None, exact):
        for word in laid_words(holder):
            with_word.setdefault(word, set()).add(holder)
    counts: Counter[str] = Counter()
    for holder in filter(None, exact):
        words = words_of(holder)
        # Only what has the rarest of its words can hold all of them: a thousand names are not held against each other.
        near = min((with_word.get(word, set()) for word in words), key=len, default=set())
        counts[holder] = sum(exact[each] for each in near if stands_side_by_side(holder, each))
    return Counter({holder: hits for holder, hits in counts.items() if hits})


def _decades(weighed: _Weighed, chosen: str | None) -> ChoiceGroup:
    """The decades that the hits may be of, the oldest first; an end that is open reaches no further than the others."""
    dated: Counter[tuple[int | None, int | None]] = Counter()
    for entry, hits in weighed:
        dated[entry.earliest, entry.latest] += hits
    days = [day for bounds in dated for day in bounds if day is not None]
    first, last = (min(days) // _YEAR // 10, max(days) // _YEAR // 10) if days else (0, -1)
    found = []
    for decade in range(max(first, 0), min(last, 999) + 1):
        spelt = f"{decade:03}X"
        asked = Filters(since=decade * 10 * _YEAR + 101, until=(decade * 10 + 9) * _YEAR + 1231)
        hits = sum(
            number
            for (earliest, latest), number in dated.items()
            if is_kept(replace(_NOTHING, earliest=earliest, latest=latest), asked)
        )
        if hits or spelt == chosen:
            found.append(Choice(value=spelt, name=f"{decade:03}0s", hits=hits, is_chosen=spelt == chosen))
    return ChoiceGroup(name="decade", choices=tuple(found))
