"""Asking the index: hits ranked by one formula, their exact number, and notes on what was left out."""

import json
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import takewhile
from math import inf
from typing import Any

from whoosh import query as whoosh_query

from provenance.records.reference_numbers import Tier
from provenance.search.entries import What
from provenance.search.grammar import Part, Query, parse_query
from provenance.search.layout import UNDATED
from provenance.search.numbers import Misread, StandIns, as_it_stands, misread_numbers
from provenance.search.opening import Index
from provenance.search.tokens import tokenise
from provenance.search.translating import side_by_side, translate, translate_part

_EQUAL = 9
"""Scores that agree to so many decimals are equal; then source and page decide."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Filters:
    """What hits are kept to; everything absent keeps to nothing.

    Attributes:
        components: ids of components, any of which the entry is tagged with.
        kind: kind of the source, exactly.
        holder: words that stand side by side in the holder's name.
        since: first day asked for, as yyyymmdd; entries that may be from then or later are kept.
        until: last day asked for, as yyyymmdd; entries that may be from then or earlier are kept.
        state: state of the source, exactly.
    """

    components: tuple[str, ...] = ()
    kind: str | None = None
    holder: str | None = None
    since: int | None = None
    until: int | None = None
    state: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Hit:
    """One entry that was found.

    Attributes:
        key: of the entry.
        source: id of its source; empty for a claim without evidence.
        page: counted from 1; None where it is no page.
        what: a page, a source or a claim.
        score: see `weighting`; comparable within one answer only.
        matched: what of the query stands in it, as it was typed, in the order of the query.
        title: of the entry.
        components: ids of the components that it is tagged with.
        text: of the entry, to cut a snippet from.
        tier: how well a number of the query stands in it, the worst of several; None where it has none of them.
        read_as: the numbers that were misread or are only near, as they stand there; verified in its text.
    """

    key: str
    source: str
    page: int | None
    what: What
    score: float
    matched: tuple[str, ...]
    title: str
    components: tuple[str, ...]
    text: str
    tier: Tier | None = None
    read_as: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What was found.

    Attributes:
        query: as it was understood.
        total: how many entries match; exact, and not cut by the limit.
        hits: the best of them, by falling score, then source, page and key; where only numbers were asked for, those
            that stand somewhere misread come after all that stand there as typed.
        notes: sentences on what was ignored or left out.
    """

    query: Query
    total: int
    hits: tuple[Hit, ...]
    notes: tuple[str, ...]


def ask(index: Index, typed: str, filters: Filters | None = None, *, limit: int = 20, skip: int = 0) -> Answer:
    """Find what was typed; any text is taken, and where there is nothing to look for the notes say so.

    Args:
        index: that is asked.
        typed: the query.
        filters: what the hits are kept to.
        limit: how many hits are given at most.
        skip: how many of the best are passed over first, as on a second page of hits.
    """
    query = parse_query(typed)
    notes = list(query.notes)
    if not query.sought:
        return Answer(query=query, total=0, hits=(), notes=tuple(notes))
    kept = filters or Filters()
    misread = misread_numbers(query, index)
    looked_for = translate(query, index.searcher, misread, notes)
    matches = _in_time(index, _search(index.searcher, looked_for, kept), kept, notes)
    passed = max(skip, 0)
    ahead = _ahead(index.searcher, query, misread, kept)
    best = _best_in_tiers(index, matches, ahead, passed + max(limit, 0))[passed:]
    documents = sorted(document for document, _ in best)
    matched = _matched(index, query, misread, documents)
    numbers = _numbers(index, misread, documents)
    hits = tuple(_hit(index, match, matched[match[0]], numbers[match[0]]) for match in best)
    return Answer(query=query, total=len(matches), hits=hits, notes=tuple(dict.fromkeys(notes)))


def matching(index: Index, typed: str) -> Mapping[tuple[str, bool], int]:
    """Count all that was typed finds, by what it belongs to: for each how many entries.

    An entry belongs to its source, and a claim to itself: the key says which, and whether it is the key of a claim. A
    claim without evidence is among them as well; nothing is kept to anything.
    """
    query = parse_query(typed)
    if not query.sought:
        return {}
    looked_for = translate(query, index.searcher, misread_numbers(query, index), [])
    order = index.column("order")
    found: Counter[tuple[str, bool]] = Counter()
    for document, _ in _search(index.searcher, looked_for, Filters()):
        source, _, what, key = order(document).decode().split("\0")
        found[(key, True) if what == What.CLAIM else (source, False)] += 1
    return found


_Match = tuple[int, float]
"""Whoosh's number of a document, and its score."""


def _search(searcher: Any, looked_for: Any, kept: Filters) -> list[_Match]:
    """All matches by falling score, kept to what the filters ask for."""
    required = list(_required(kept))
    allowed = set(searcher.docs_for_query(whoosh_query.And(required))) if required else None
    if allowed is not None and not allowed:
        return []  # Whoosh takes an empty set for no filter at all
    return list(searcher.search(looked_for, limit=None, filter=allowed).items())


def _required(kept: Filters) -> Iterator[Any]:
    """What the filters ask for, but for the time."""
    if kept.components:
        yield whoosh_query.Or([whoosh_query.Term("component_id", name) for name in kept.components])
    if kept.kind is not None:
        yield whoosh_query.Term("kind_id", kept.kind)
    if kept.state is not None:
        yield whoosh_query.Term("state_id", kept.state)
    if kept.holder is not None:
        yield side_by_side("holder", [token.text for token in tokenise(kept.holder) if not token.joined])


def _in_time(index: Index, matches: list[_Match], kept: Filters, notes: list[str]) -> list[_Match]:
    """Keep what may be from the time asked for; say how many have no date at all."""
    if kept.since is None and kept.until is None:
        return matches
    since = -inf if kept.since is None else kept.since
    until = inf if kept.until is None else kept.until
    earliest, latest = index.column("earliest"), index.column("latest")
    dated = [match for match in matches if latest(match[0]) != UNDATED]
    if undated := len(matches) - len(dated):
        notes.append(f"{undated} without a date {'was' if undated == 1 else 'were'} left out")
    return [match for match in dated if earliest(match[0]) <= until and latest(match[0]) >= since]


def _ahead(searcher: Any, query: Query, misread: Misread, kept: Filters) -> set[int] | None:
    """The documents that go before the rest, whatever the scores: those with a number as it was typed.

    None where words were asked for too: then the scores decide.
    """
    if not misread or any(part not in misread for part in query.sought):
        return None
    return {document for document, _ in _search(searcher, translate(query, searcher, {}, []), kept)}


def _best_in_tiers(index: Index, matches: list[_Match], first: set[int] | None, limit: int) -> list[_Match]:
    if first is None:
        return _best(index, matches, limit)
    ahead = _best(index, [match for match in matches if match[0] in first], limit)
    behind = [match for match in matches if match[0] not in first]
    return ahead + _best(index, behind, limit - len(ahead))


def _best(index: Index, matches: list[_Match], limit: int) -> list[_Match]:
    """The first of all matches, which come by falling score; equals in order of source and page, as `_EQUAL` says."""
    if not matches or not limit:
        return []
    lowest = matches[:limit][-1][1] - 10**-_EQUAL
    first = [(document, round(score, _EQUAL)) for document, score in takewhile(lambda m: m[1] >= lowest, matches)]
    order = index.column("order")
    return sorted(first, key=lambda match: (-match[1], order(match[0])))[:limit]


def _matched(index: Index, query: Query, misread: Misread, documents: Sequence[int]) -> dict[int, tuple[str, ...]]:
    """What of the query stands in each of these documents, which are in rising order."""
    said: dict[int, list[str]] = {document: [] for document in documents}
    for part in query.sought:
        looked_for = translate_part(part, index.searcher, [], misread)
        for document in _standing_in(index.searcher, looked_for, documents):
            said[document].append(part.said)
    return {document: tuple(parts) for document, parts in said.items()}


_Numbers = list[tuple[Part, StandIns | None]]
"""The numbers of the query that stand in one entry, each with what it may stand there as; None as typed."""


def _numbers(index: Index, misread: Misread, documents: Sequence[int]) -> dict[int, _Numbers]:
    """Which numbers stand in each of these documents, as typed or misread."""
    standing: dict[int, _Numbers] = {document: [] for document in documents}
    for part, stand_ins in misread.items():
        exact = set(_standing_in(index.searcher, translate_part(part, index.searcher, []), documents))
        for document in _standing_in(index.searcher, translate_part(part, index.searcher, [], misread), documents):
            standing[document].append((part, None if document in exact else stand_ins))
    return standing


def _standing_in(searcher: Any, looked_for: Any, documents: Sequence[int]) -> Iterator[int]:
    for leaf, offset in searcher.leaf_searchers():
        matcher = looked_for.matcher(leaf, leaf.context(needs_current=True))
        for document in documents:
            if not offset <= document < offset + leaf.doc_count_all():
                continue
            if matcher.is_active() and matcher.id() < document - offset:
                matcher.skip_to(document - offset)
            if matcher.is_active() and matcher.id() == document - offset:
                yield document


def _hit(index: Index, match: _Match, matched: tuple[str, ...], numbers: _Numbers) -> Hit:
    document, score = match
    shown = json.loads(index.searcher.stored_fields(document)["shown"])
    tiers = [stand_ins.tier if stand_ins else Tier.EXACT for _, stand_ins in numbers]
    return Hit(
        key=shown["key"],
        source=shown["source"],
        page=shown["page"],
        what=What(shown["what"]),
        score=score,
        matched=matched,
        title=shown["title"],
        components=tuple(shown["components"]),
        text=shown["text"],
        tier=max(tiers, key=list(Tier).index, default=None),
        read_as=_read_as(numbers, f"{shown['title']}\n{shown['text']}"),
    )


def _read_as(numbers: _Numbers, text: str) -> tuple[str, ...]:
    read = (as_it_stands(part, stand_ins, text) for part, stand_ins in numbers if stand_ins)
    return tuple(dict.fromkeys(text for texts in read for text in texts))
