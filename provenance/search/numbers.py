"""Reference numbers of a query that stand in the index misread: as folded or likely misread, else as near.

The index holds the keys of all numbers, and the trigrams of these keys. The entries that share most trigrams with a
number of the query are looked at more closely: each of their keys is compared with its key, by `misreading_distance`.

Near numbers are told only where the number stands nowhere, neither as typed nor misread in a likely way: they are then
another number at least as often as the same one, and every hit says how it reads.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from heapq import nsmallest
from math import inf
from typing import Any, TypeAlias

from provenance.records.misreading import FOUND_WITHIN, boundary_trigrams
from provenance.records.reference_numbers import (
    LONGEST_KEY,
    SHORTEST_FOLDED,
    Tier,
    can_be_near,
    compare_references,
    distance_of_keys,
    numbers_in,
    reference_key,
)
from provenance.search.grammar import PLACES, Part, Query
from provenance.search.layout import keys_held
from provenance.search.opening import Index
from provenance.search.weighting import count_holding, rarity

MOST_LOOKED_AT = 300
"""Entries whose keys are compared at most: those that share the most, and the rarest, trigrams with the number."""
MOST_STAND_INS = 16
"""Keys that are taken for one number at most, the nearest first."""


@dataclass(frozen=True, slots=True)
class StandIns:
    """What in the index may be a number of the query, misread.

    Attributes:
        tier: `folded` or `near`; the same for all of them.
        keys: how far each is from the key of the number; never empty.
    """

    tier: Tier
    keys: Mapping[str, float]


Misread: TypeAlias = Mapping[Part, StandIns]
"""The numbers of a query that stand misread somewhere, or may; see `misread_numbers`."""


def misread_numbers(query: Query, index: Index) -> dict[Part, StandIns]:
    """Find under which keys the numbers of a query stand in the index; a number that is found nowhere is left out."""
    found = {}
    for part in query.sought:
        key = number_key(part)
        if stand_ins := _stand_ins(key, index) if key else None:
            found[part] = stand_ins
    return found


def number_key(part: Part) -> str:
    """The key of a part of a query that is a reference number; empty where it is none."""
    if part.begins or (part.field and part.field not in PLACES):
        return ""
    key = reference_key(part.said)
    is_whole = any(read.key == key for read in numbers_in(part.said))
    return key if is_whole and SHORTEST_FOLDED <= len(key) <= LONGEST_KEY else ""


def as_it_stands(part: Part, stand_ins: StandIns, text: str) -> tuple[str, ...]:
    """The places in a text that are this number misread, as they stand there, each once."""
    reads = (read.text for read in numbers_in(text) if read.key in stand_ins.keys)
    return tuple(dict.fromkeys(read for read in reads if compare_references(part.said, read) is stand_ins.tier))


def _stand_ins(key: str, index: Index) -> StandIns | None:
    near = dict(_keys_near(key, index)) if can_be_near(key) else {}
    if _is_held(key, index.searcher):
        near[key] = 0.0
    tier = Tier.FOLDED if min(near.values(), default=1.0) <= FOUND_WITHIN else Tier.NEAR
    kept = [(apart, other) for other, apart in near.items() if tier is Tier.NEAR or apart <= FOUND_WITHIN]
    return StandIns(tier, {other: apart for apart, other in nsmallest(MOST_STAND_INS, kept)}) if kept else None


def _keys_near(key: str, index: Index) -> Iterator[tuple[str, float]]:
    """The other keys in the index that are near one, each with its distance."""
    trigrams = [(trigram, place) for place, trigram in enumerate(boundary_trigrams(key))]
    held = index.column("held")
    compared = {key}
    for document in _sharing(sorted(set(boundary_trigrams(key))), index):
        for other in keys_held(held(document), trigrams):
            if other not in compared:
                compared.add(other)
                if (apart := distance_of_keys(key, other)) < inf:
                    yield other, apart


def _sharing(trigrams: Sequence[str], index: Index) -> list[int]:
    """Which entries have keys with some of these trigrams: those with the most and the rarest first."""
    shared: defaultdict[int, float] = defaultdict(float)
    for leaf, offset in index.searcher.leaf_searchers():
        reader = leaf.reader()
        for trigram in trigrams:
            term = ("trigrams", trigram.encode())
            if term in reader:
                weight = rarity(index.size, reader.doc_frequency(*term))
                for document in reader.postings(*term).all_ids():
                    shared[document + offset] += weight
    return nsmallest(MOST_LOOKED_AT, shared, key=lambda document: (-shared[document], document))


def _is_held(key: str, searcher: Any) -> bool:
    return ("codes", key.encode()) in searcher.reader() and count_holding(searcher, "codes", key.encode()) > 0
