"""From our query to Whoosh's, in its plain ways."""

from collections.abc import Iterator, Sequence
from itertools import islice
from typing import Any

from whoosh import query as whoosh_query

from provenance.search.grammar import PLACES, Part, Query
from provenance.search.layout import EXACT
from provenance.search.numbers import Misread
from provenance.search.tokens import stem
from provenance.search.weighting import closeness, count_holding

MOST_BEGINNINGS = 64
"""Words that one beginning stands for at most; the shortest are taken, then those first in order."""


def translate(query: Query, searcher: Any, misread: Misread, notes: list[str]) -> Any:
    """Translate a query that looks for something; what had to be cut short is added to the notes.

    Args:
        query: as typed.
        searcher: Whoosh's.
        misread: under which keys the numbers of the query stand misread; what is excluded is excluded as typed only.
        notes: are added to.
    """
    required = [translate_part(part, searcher, notes, misread) for part in query.required]
    wanted = [translate_part(part, searcher, notes, misread) for part in query.wanted]
    if required and wanted:
        looked_for = whoosh_query.AndMaybe(whoosh_query.And(required), whoosh_query.Or(wanted))
    else:
        looked_for = whoosh_query.And(required) if required else whoosh_query.Or(wanted)
    if query.excluded:
        excluded = [translate_part(part, searcher, notes) for part in query.excluded]
        looked_for = whoosh_query.AndNot(looked_for, whoosh_query.Or(excluded))
    return looked_for


def translate_part(part: Part, searcher: Any, notes: list[str], misread: Misread | None = None) -> Any:
    """Translate one word, phrase or beginning in its field; a number also as it may have been misread."""
    field = "words" if not part.field or part.field in PLACES else part.field
    if part.begins:
        *before, beginning = part.words
        spelt = [[*before, term] for term in _standing_for(part, field, beginning, searcher, notes)]
    else:
        spelt = [list(part.words)] + ([[part.joined]] if part.joined else [])
    looked_for = whoosh_query.Or([side_by_side(field, words) for words in spelt])
    if misread and part in misread:
        known = misread[part].keys.items()
        keys = whoosh_query.Or([whoosh_query.Term("codes", key, boost=closeness(apart)) for key, apart in known])
        looked_for = whoosh_query.Or([looked_for, whoosh_query.AndNot(keys, looked_for)])
    if part.field in PLACES:
        # not Whoosh's Require: in 2.7.4 it keeps what it should leave out
        return whoosh_query.And([looked_for, whoosh_query.Term("what", PLACES[part.field])])
    return looked_for


def side_by_side(field: str, words: Sequence[str]) -> Any:
    """Words that follow one another; none at all are found nowhere."""
    if not words:
        return whoosh_query.NullQuery
    return whoosh_query.Phrase(field, list(words)) if len(words) > 1 else whoosh_query.Term(field, words[0])


def _standing_for(part: Part, field: str, beginning: str, searcher: Any, notes: list[str]) -> list[str]:
    """The words that a beginning stands for: stems that begin so, and fuller words whose stem does not."""
    reader = searcher.reader()
    stems = [term.decode() for term in reader.expand_prefix(field, beginning)]
    fuller = [term.decode() for term in reader.expand_prefix(field, EXACT + beginning)]
    fuller = [term for term in fuller if not stem(term.removeprefix(EXACT)).startswith(beginning)]
    terms = sorted(stems + fuller, key=lambda term: (len(term.removeprefix(EXACT)), term))
    found = list(islice(_living(searcher, field, terms), MOST_BEGINNINGS + 1))
    if len(found) > MOST_BEGINNINGS:
        notes.append(f"`{part.said}` stands for very many words; the {MOST_BEGINNINGS} shortest were looked for")
    return found[:MOST_BEGINNINGS]


def _living(searcher: Any, field: str, terms: Sequence[str]) -> Iterator[str]:
    """Leave out words that stand in deleted entries only, which lie in the index until they are merged away."""
    has_deletions = searcher.reader().has_deletions()
    for term in terms:
        if not has_deletions or count_holding(searcher, field, term.encode()):
            yield term
