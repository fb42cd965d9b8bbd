"""A second ranking, by going through every entry: slow, plain, and without an index."""

from collections import Counter
from collections.abc import Iterator, Sequence
from math import log

from provenance.search.entries import Entry, What
from provenance.search.grammar import Part, Query
from provenance.search.tokens import Token, tokenise

FIELDS = ("", "title", "reference", "creator", "holder", "kind", "component")


class SecondRanking:
    """All entries, cut into tokens and counted."""

    def __init__(self, entries: Sequence[Entry]) -> None:
        self._entries = entries
        self._cut = {(entry.key, field): _sections(entry, field) for entry in entries for field in FIELDS}
        self._count = {at: Counter(_spellings_in(sections)) for at, sections in self._cut.items()}
        self._length = {entry.key: sum(map(len, self._cut[entry.key, ""])) for entry in entries}
        self._standing_for: dict[Part, list[tuple[str, ...]]] = {}
        self._average = sum(self._length.values()) / len(entries)

    def rank(self, query: Query) -> dict[str, float]:
        """Score every entry that matches a query, by key."""
        hits: dict[str, float] = {}
        for entry in self._entries:
            required = [self._score(part, entry) for part in query.required]
            wanted = [self._score(part, entry) for part in query.wanted]
            if None in required or not (required or any(score is not None for score in wanted)):
                continue
            if all(self._score(part, entry) is None for part in query.excluded):
                hits[entry.key] = sum(score or 0 for score in required + wanted)
        return hits

    def _score(self, part: Part, entry: Entry) -> float | None:
        """What a part adds to an entry; None where it does not stand in it."""
        if part.field in {"text", "claim"} and entry.what.value != {"text": "page", "claim": "claim"}[part.field]:
            return None
        field = "" if part.field in {"text", "claim"} else part.field
        found = [
            sum(self._word(field, word, entry) for word in words)
            for words in self._spelt(part, field)
            if all(self._count[entry.key, field][word] for word in words)
            and any(_stands_in(words, tokens) for tokens in self._cut[entry.key, field])
        ]
        return sum(found) if found else None

    def _spelt(self, part: Part, field: str) -> list[tuple[str, ...]]:
        """All spellings of a part; those of a beginning are gathered once."""
        if not part.begins:
            return [part.words, (part.joined,)] if part.joined else [part.words]
        if part not in self._standing_for:
            found: set[str] = set()
            for token in (token for entry in self._entries for cut in self._cut[entry.key, field] for token in cut):
                if token.text.startswith(part.words[-1]):
                    found.add(token.text)
                elif token.form.startswith(part.words[-1]):
                    found.add("=" + token.form)
            self._standing_for[part] = [(*part.words[:-1], word) for word in sorted(found)]
        return self._standing_for[part]

    def _word(self, field: str, word: str, entry: Entry) -> float:
        often = self._count[entry.key, field][word]
        share = 1.0 if field else 0.25 + 0.75 * self._length[entry.key] / self._average
        holding = sum(1 for other in self._entries if self._count[other.key, field][word])
        return log(1 + (len(self._entries) - holding + 0.5) / (holding + 0.5)) * often / (often + 1.2 * share)


def _sections(entry: Entry, field: str) -> list[list[Token]]:
    """The texts of an entry that a field stands for, cut into tokens."""
    named = [entry.title, *entry.references]
    names = named + named + named if entry.what is What.SOURCE else named
    rest = [entry.text, entry.creator, entry.holder, entry.kind, *entry.components]
    texts = {
        "": [entry.text] if entry.what is What.PAGE else names + rest,
        "title": [entry.title],
        "reference": list(entry.references),
        "creator": [entry.creator],
        "holder": [entry.holder],
        "kind": [entry.kind],
        "component": list(entry.components),
    }
    return [list(tokenise(text)) for text in texts[field]]


def _spellings_in(sections: Sequence[Sequence[Token]]) -> Iterator[str]:
    """Every token without its ending, and with it where it has one."""
    for token in (token for tokens in sections for token in tokens):
        yield token.text
        if token.form != token.text:
            yield "=" + token.form


def _stands_in(words: Sequence[str], tokens: Sequence[Token]) -> bool:
    """Whether the words stand side by side somewhere."""
    held = {(token.position, word) for token in tokens for word in _spellings_in([[token]])}
    return any(all((start + step, word) in held for step, word in enumerate(words)) for start, _ in held)
