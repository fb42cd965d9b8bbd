"""Reference numbers of a query that stand in the index misread: first as folded, then within one edit.

One edit is looked for only where the number stands nowhere, neither as typed nor as folded: it is then another number
at least as often as the same one, and every hit says how it reads.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, TypeAlias

from provenance.records.reference_numbers import (
    LONGEST_KEY,
    SHORTEST_FOLDED,
    Tier,
    can_be_near,
    compare_references,
    neighbours,
    numbers_in,
    reference_key,
)
from provenance.search.grammar import PLACES, Part, Query
from provenance.search.weighting import count_holding


@dataclass(frozen=True, slots=True)
class StandIns:
    """What in the index may be a number of the query, misread.

    Attributes:
        tier: `folded` or `near`; the same for all of them.
        keys: never empty.
    """

    tier: Tier
    keys: tuple[str, ...]


Misread: TypeAlias = Mapping[Part, StandIns]
"""The numbers of a query that stand misread somewhere, or may; see `misread_numbers`."""


def misread_numbers(query: Query, searcher: Any) -> dict[Part, StandIns]:
    """Find under which keys the numbers of a query stand in the index; a number that is found nowhere is left out."""
    found = {}
    for part in query.sought:
        key = number_key(part)
        if key and _is_held(key, searcher):
            found[part] = StandIns(Tier.FOLDED, (key,))
        elif key and can_be_near(key):
            near = tuple(other for other in neighbours(key) if can_be_near(other) and _is_held(other, searcher))
            found |= {part: StandIns(Tier.NEAR, near)} if near else {}
    return found


def number_key(part: Part) -> str:
    """The key of a part of a query that is a reference number; empty where it is none."""
    if part.begins or (part.field and part.field not in PLACES):
        return ""
    key = reference_key(part.said)
    is_whole = any(read.key == key for read in numbers_in(part.said))
    return key if is_whole and SHORTEST_FOLDED <= len(key) <= LONGEST_KEY else ""


def as_it_stands(part: Part, tier: Tier, text: str) -> tuple[str, ...]:
    """The places in a text that are this number in this tier, as they stand there, each once."""
    found = (read.text for read in numbers_in(text) if compare_references(part.said, read.text) is tier)
    return tuple(dict.fromkeys(found))


def _is_held(key: str, searcher: Any) -> bool:
    return ("codes", key.encode()) in searcher.reader() and count_holding(searcher, "codes", key.encode()) > 0
