"""Whether an entry is kept by filters, told from the entry alone: as the index answers, without asking it."""

from collections.abc import Sequence
from functools import lru_cache
from math import inf

from provenance.search.asking import Filters
from provenance.search.entries import Entry
from provenance.search.layout import lay_out
from provenance.search.tokens import tokenise

_MOST_REMEMBERED = 16_384
"""So many names of holders are taken apart only once; with room for fewer than there are, each would be forgotten
before it came again."""


def is_kept(entry: Entry, filters: Filters) -> bool:
    """Whether `ask` with these filters would leave an entry among its hits.

    Args:
        entry: what was found.
        filters: what the hits are kept to; everything absent keeps to nothing.
    """
    return (
        (not filters.components or not set(filters.components).isdisjoint(entry.components))
        and filters.kind in {None, entry.kind}
        and filters.state in {None, entry.state}
        and (filters.holder is None or stands_side_by_side(filters.holder, entry.holder))
        and _may_be_of(entry, filters)
    )


def _may_be_of(entry: Entry, filters: Filters) -> bool:
    """Whether an entry may be of the time asked for; one without any date is of no time."""
    if filters.since is None and filters.until is None:
        return True
    if entry.earliest is None and entry.latest is None:
        return False
    earliest = -inf if entry.earliest is None else entry.earliest
    latest = inf if entry.latest is None else entry.latest
    since = -inf if filters.since is None else filters.since
    until = inf if filters.until is None else filters.until
    return earliest <= until and latest >= since


@lru_cache(maxsize=_MOST_REMEMBERED)
def stands_side_by_side(typed: str, text: str) -> bool:
    """Whether the words typed stand side by side in a text, as words are compared here; no words stand nowhere."""
    words = words_of(typed)
    places: dict[int, set[str]] = {}
    for token in lay_out((text,)):
        places.setdefault(token.position, set()).add(token.text)
    return bool(words) and any(_follow(words, places, first) for first in places)


@lru_cache(maxsize=_MOST_REMEMBERED)
def words_of(typed: str) -> tuple[str, ...]:
    """The words of a text as they are compared here."""
    return tuple(token.text for token in tokenise(typed) if not token.joined)


@lru_cache(maxsize=_MOST_REMEMBERED)
def laid_words(text: str) -> frozenset[str]:
    """All words that may be found in a text, in whatever form they are laid out."""
    return frozenset(token.text for token in lay_out((text,)))


def _follow(words: Sequence[str], places: dict[int, set[str]], first: int) -> bool:
    return all(word in places.get(first + step, ()) for step, word in enumerate(words))
