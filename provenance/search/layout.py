"""How an entry lies in the index: its fields, their weights, and the document that is written.

`codes` holds the keys of what may be reference numbers (see `records.reference_numbers`), for those that were misread;
`trigrams` the trigrams of those keys that are long enough to be near another, and `held` these keys themselves.
`words` holds what words without a field are looked for in. What people named a source by counts `NAMED` times: its
title and its references stand in it that often. This is the weighting of fields by repetition of Robertson, Zaragoza
and Taylor, "Simple BM25 extension to multiple weighted fields" (CIKM 2004).
"""

import json
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from whoosh import columns, fields, formats

from provenance.records.misreading import boundary_trigrams
from provenance.records.reference_numbers import can_be_near, numbers_in
from provenance.search.entries import Entry, What
from provenance.search.grammar import FIELDS
from provenance.search.tokens import Token, tokenise

FORMAT = 3
"""Number of this layout; an index laid out otherwise is built anew."""

NAMED = 3
"""How often a title or a reference counts in `words`."""

EXACT = "="
"""Stands before a word with its ending, which is written beside its stem where the two differ."""

UNDATED = -(2**62)
OPEN_AT_END = 2**62
_GAP = 10
FURTHEST_MOVED = 2
"""Characters that come in or are lost before a place in a key that is near another, at most."""


class TokenField(fields.FieldType):  # type: ignore[misc]  # Whoosh has no types
    """A field of tokens, cut before they are handed over, with their positions."""

    def __init__(self) -> None:
        """Keep positions, and no analyzer: tokens come from `tokens.tokenise` alone."""
        # scorable though its rounded lengths are not used: without them Whoosh looks for their file at every posting
        super().__init__(formats.Positions(), analyzer=None, scorable=True)

    def index(self, value: Sequence[Token], **_: Any) -> Iterator[tuple[bytes, int, int, bytes]]:
        """Give Whoosh every distinct term with its frequency, its weight and its positions."""
        places: defaultdict[str, list[int]] = defaultdict(list)
        for token in value:
            places[token.text].append(token.position)
            if token.form != token.text:
                places[EXACT + token.form].append(token.position)
        for term, positions in places.items():
            yield term.encode(), len(positions), len(positions), self.format.encode(positions)


class KeyField(fields.FieldType):  # type: ignore[misc]  # Whoosh has no types
    """A field of keys as they are, each once, of which only is told where they stand."""

    def __init__(self) -> None:
        """Keep nothing beside the keys."""
        super().__init__(formats.Existence(), analyzer=None)

    def index(self, value: Iterable[str], **_: Any) -> Iterator[tuple[bytes, int, float, bytes]]:
        """Give Whoosh every key."""
        for key in value:
            yield key.encode(), 1, 1.0, b""


def make_schema() -> fields.Schema:
    """The fields of the index."""
    return fields.Schema(
        words=TokenField(),
        **{name: TokenField() for name in FIELDS},
        key=fields.ID(unique=True),
        what=fields.ID(),
        kind_id=fields.ID(),
        state_id=fields.ID(),
        component_id=fields.KEYWORD(),
        codes=KeyField(),
        trigrams=KeyField(),
        held=fields.COLUMN(columns.VarBytesColumn()),
        length=fields.COLUMN(columns.NumericColumn("i")),
        earliest=fields.COLUMN(columns.NumericColumn("q", default=UNDATED)),
        latest=fields.COLUMN(columns.NumericColumn("q", default=UNDATED)),
        order=fields.COLUMN(columns.VarBytesColumn()),
        shown=fields.STORED,
    )


def make_document(entry: Entry) -> dict[str, Any]:
    """Make the document of one entry, as Whoosh's writer takes it; `length` is the number of tokens in `words`."""
    words = lay_out(_sections(entry))
    codes = sorted({read.key for section in _sections(entry) for read in numbers_in(section)})
    long = [key for key in codes if can_be_near(key)]
    return {
        "words": words,
        **{name: lay_out(values) for name, values in _fields(entry).items()},
        "key": entry.key,
        "what": entry.what.value,
        "kind_id": entry.kind or None,
        "state_id": entry.state or None,
        "component_id": list(entry.components),
        "codes": codes,
        "trigrams": sorted({trigram for key in long for trigram in boundary_trigrams(key)}),
        "held": "".join(f"^{key}$" for key in long).encode(),
        "length": len(words),
        "earliest": _earliest(entry),
        "latest": _latest(entry),
        "order": f"{entry.source}\0{entry.page or 0:08}\0{entry.what}\0{entry.key}".encode(),
        "shown": _shown(entry),
    }


def keys_held(held: bytes, trigrams: Iterable[tuple[str, int]]) -> set[str]:
    """The keys in the column `held` of an entry that have one of these trigrams, each given with its place in a key.

    It counts where it stands no more than `FURTHEST_MOVED` characters from that place.
    """
    keys: set[str] = set()
    marked = held.decode()
    for trigram, place in trigrams:
        at = marked.find(trigram)
        while at >= 0:
            start, end = marked.rfind("^", 0, at + 1), marked.index("$", at)
            if -FURTHEST_MOVED <= at - start - place <= FURTHEST_MOVED:
                keys.add(marked[start + 1 : end])
            at = marked.find(trigram, end)
    return keys


def lay_out(sections: Iterable[str]) -> list[Token]:
    """Cut several texts into one run of tokens, with a gap between them that no phrase reaches over."""
    laid: list[Token] = []
    base = 0
    for section in sections:
        tokens = tokenise(section)
        laid.extend(token._replace(position=token.position + base) for token in tokens)
        base += (tokens[-1].position if tokens else 0) + _GAP
    return laid


def _sections(entry: Entry) -> tuple[str, ...]:
    """The texts that free words are looked for in: on a page its text alone, and only a source is named by people."""
    if entry.what is What.PAGE:
        return (entry.text,)
    names = (entry.title, *entry.references) * (NAMED if entry.what is What.SOURCE else 1)
    return (*names, entry.text, entry.creator, entry.holder, entry.kind, *entry.components)


def _fields(entry: Entry) -> Mapping[str, Sequence[str]]:
    return {
        "title": (entry.title,),
        "reference": entry.references,
        "creator": (entry.creator,),
        "holder": (entry.holder,),
        "kind": (entry.kind,),
        "component": entry.components,
    }


def _earliest(entry: Entry) -> int:
    return UNDATED if entry.earliest is None else entry.earliest


def _latest(entry: Entry) -> int:
    if entry.latest is not None:
        return entry.latest
    return UNDATED if entry.earliest is None else OPEN_AT_END


def _shown(entry: Entry) -> str:
    """What a hit shows of its entry, kept as JSON so that reading it back runs nothing."""
    names = ("key", "what", "source", "page", "title", "text", "components")
    return json.dumps({name: getattr(entry, name) for name in names}, ensure_ascii=False)
