"""How hits are ranked: BM25, with the figures of the entries that are in the index now.

    score(entry) = sum over the words of the query of  idf * tf / (tf + k1 * (1 - b + b * length / average))
    idf          = ln(1 + (N - n + 0.5) / (n + 0.5))

tf is how often the word stands in the field, n in how many entries it does, N the number of all entries, length the
number of tokens in the field and average their mean; k1 = 1.2. Free words are looked for in `words`, b = 0.75, where
the title and the references of a source count threefold (see `layout`). In a field that is named, such as `title:`,
b = 0: it is short, and its length says nothing. Words side by side score as their words do, each as often as it is
typed. A number that stands there misread scores half of its key's weight times its `closeness`. A beginning scores as
the sum of the words that it stands for.

Source: S. Robertson and H. Zaragoza, "The Probabilistic Relevance Framework: BM25 and Beyond", Foundations and Trends
in Information Retrieval 3 (2009), equations 3.3 (weight of Robertson and Sparck Jones) and 3.15; the 1 added inside the
logarithm, as Lucene does, keeps the weight of a word that stands in more than half of the entries above 0.

Whoosh's own BM25F is not used: it keeps lengths in one byte, and counts deleted entries until they are merged away.
"""

from dataclasses import dataclass
from math import log
from typing import Any

from whoosh.scoring import BaseScorer, WeightingModel

from provenance.search.grammar import FIELDS

K1 = 1.2
B = 0.75
MISREAD = 0.5
"""What a number that was misread counts against one that stands there as typed; our own choice."""


def rarity(entries: int, holding: int) -> float:
    """The idf of a word that stands in `holding` of so many entries; always above 0."""
    return log(1 + (entries - holding + 0.5) / (holding + 0.5))


def closeness(apart: float) -> float:
    """What a key at this distance, from 0 to 2, counts against the key itself; our own choice."""
    return 1 - apart / 3


@dataclass(frozen=True, slots=True)
class Collection:
    """Figures of all entries.

    Attributes:
        entries: how many there are.
        average: mean number of tokens in their `words`; 1 where there are none.
    """

    entries: int
    average: float


class Weighting(WeightingModel):  # type: ignore[misc]  # Whoosh has no types
    """The formula above as Whoosh calls it."""

    def __init__(self, collection: Collection) -> None:
        """Rank within this collection."""
        self._collection = collection
        self._rarities: dict[tuple[str, bytes], float] = {}
        self._lengths: dict[Any, _Lengths] = {}

    def scorer(self, searcher: Any, fieldname: str, text: bytes, qf: int = 1) -> "_Scorer":
        """Make the scorer of one term in one segment of the index; a field that holds no tokens adds nothing."""
        del qf  # a word typed twice counts once
        if fieldname == "words":
            return _Scorer(self._rarity(searcher, fieldname, text), self._lengths_in(searcher.reader()), self._share)
        share = MISREAD if fieldname == "codes" else float(fieldname in FIELDS)
        return _Scorer(share * self._rarity(searcher, fieldname, text) if share else 0.0)

    @property
    def _share(self) -> float:
        """What one token of length adds to the denominator."""
        return K1 * B / self._collection.average

    def _rarity(self, searcher: Any, fieldname: str, text: bytes) -> float:
        term = (fieldname, text)
        if term not in self._rarities:
            self._rarities[term] = rarity(self._collection.entries, count_holding(searcher.get_parent(), *term))
        return self._rarities[term]

    def _lengths_in(self, leaf: Any) -> "_Lengths":
        if leaf not in self._lengths:
            self._lengths[leaf] = _Lengths(leaf.column_reader("length", translate=False))
        return self._lengths[leaf]


class _Lengths(dict[int, int]):
    """The exact lengths of the entries in one segment; each is read from its column once."""

    def __init__(self, column: Any) -> None:
        super().__init__()
        self._column = column

    def __missing__(self, document: int) -> int:
        length: int = self._column[document]
        self[document] = length
        return length


class _Scorer(BaseScorer):  # type: ignore[misc]  # Whoosh has no types
    """Scores the postings of one term; never skips any, so that totals are exact."""

    def __init__(self, idf: float, lengths: _Lengths | None = None, share: float = 0.0) -> None:
        self._idf = idf
        self._lengths = lengths
        self._share = share

    def score(self, matcher: Any) -> float:
        """Score the entry that the matcher stands on."""
        often: float = matcher.weight()
        if self._lengths is None:
            return self._idf * often / (often + K1)
        return self._idf * often / (often + K1 * (1 - B) + self._share * self._lengths[matcher.id()])

    def max_quality(self) -> float:
        """Give what no score of this term goes beyond."""
        return self._idf


def count_holding(searcher: Any, fieldname: str, text: bytes) -> int:
    """In how many entries a term stands; those that were deleted are not counted, merged away or not."""
    holding = 0
    for leaf, _ in searcher.reader().leaf_readers():
        if (fieldname, text) not in leaf:
            continue
        if leaf.has_deletions():
            holding += sum(1 for _ in leaf.postings(fieldname, text).all_ids())
        else:
            holding += leaf.doc_frequency(fieldname, text)
    return holding
