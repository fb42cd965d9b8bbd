"""What people type, read into a query: never refused, and what was not understood is said.

    bracket height          any of the words; the more of them and the rarer, the higher
    "type A"                the words side by side
    +bracket                has to be there
    -lamp  -"type B"        must not be there
    title:handbook          in that field alone: title, reference, creator, holder, kind, component,
    text:"type A"           or on a page's own text, or in a claim
    brack*                  every word that begins so

A word that is cut into several tokens, such as `H-204` or `1/2"`, is looked for side by side. A quotation mark right
after a figure means inches unless it closes a quotation.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from provenance.search.tokens import Token, tokenise

FIELDS = ("title", "reference", "creator", "holder", "kind", "component")
"""Fields that are searched on their own."""
PLACES = {"text": "page", "claim": "claim"}
"""Names that keep free words to one sort of entry."""
MOST_WORDS = 48
"""Words looked for at once; the rest of a longer query is left out, and that is said."""

_LONGEST_QUERY = 10_000
_SHORTEST_BEGINNING = 2
_SIGN = r"(?P<sign>[+-](?=\S))?"
_FIELD = r"(?:(?P<field>[^\W\d_]{2,20}):(?=\S))?"
_LEAD = re.compile(rf'{_SIGN}{_FIELD}(?P<quote>")?')
_SPACE = re.compile(r"\s*")
_BARE = re.compile(r"\S*")
_END_OF_QUOTATION = re.compile(r'"(?=\s|$)')
_OPENING = re.compile(r'\s"\S')
_JOINING = re.compile(r"[-./'\":_*]*")
_QUOTES = dict.fromkeys(map(ord, "\u201c\u201d\u201e\u201f\u00ab\u00bb"), '"')
_OPERATORS = {"AND", "OR", "NOT"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One thing looked for: a word, words side by side, or a beginning.

    Attributes:
        said: as it was typed, without sign and quotation marks.
        words: folded tokens, side by side in this order; never empty.
        joined: another spelling as one word, for a word with a hyphen; empty when there is none.
        begins: the last of the words is only the beginning of one.
        field: one of `FIELDS` or `PLACES`; empty for everywhere.
    """

    said: str = field(compare=False)
    words: tuple[str, ...]
    joined: str = ""
    begins: bool = False
    field: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Query:
    """A query as understood.

    Attributes:
        wanted: any of these; they rank.
        required: all of these; they rank too.
        excluded: none of these.
        notes: sentences on what was ignored or taken otherwise than typed.
    """

    wanted: tuple[Part, ...] = ()
    required: tuple[Part, ...] = ()
    excluded: tuple[Part, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def sought(self) -> tuple[Part, ...]:
        """Everything that a hit may show: what is required, then what is wanted."""
        return self.required + self.wanted


@dataclass(frozen=True, slots=True)
class _Item:
    """One item as typed, before its words are cut."""

    sign: str
    field: str
    said: str
    quoted: bool


def parse_query(typed: str) -> Query:
    """Read what was typed; any text at all is read, and one with nothing to look for says so in its notes."""
    notes: list[str] = []
    signed: dict[str, list[Part]] = {"": [], "+": [], "-": []}
    words = 0
    for item in _items(_tidy(typed, notes), notes):
        for part in _parts_of(item, notes):
            if part not in signed[item.sign]:
                words += len(part.words)
                signed[item.sign].extend([part] if words <= MOST_WORDS else [])
    if words > MOST_WORDS:
        notes.append(f"the query is long; only its first {MOST_WORDS} words were looked for")
    if not signed[""] and not signed["+"]:
        notes.append(_nothing(signed["-"]))
    return Query(
        wanted=tuple(part for part in signed[""] if part not in signed["+"]),
        required=tuple(signed["+"]),
        excluded=tuple(signed["-"]),
        notes=tuple(dict.fromkeys(notes)),
    )


def _nothing(excluded: Sequence[Part]) -> str:
    if excluded:
        return "there is nothing to look for, only what must not be there; add a word to look for"
    return "there is nothing to look for; type a word, a number or a phrase"


def _tidy(typed: str, notes: list[str]) -> str:
    """Fold quotation marks, keep to a sensible length, and say what operators of other searches mean here."""
    if len(typed) > _LONGEST_QUERY:
        notes.append(f"the query is long; only its first {_LONGEST_QUERY} characters were read")
    tidy = typed[:_LONGEST_QUERY].translate(_QUOTES)
    if said := sorted(_OPERATORS & set(tidy.split())):
        notes.append(f"{' and '.join(said)}: plain words here; write +word for what must be there, -word for what not")
    return tidy


def _items(text: str, notes: list[str]) -> Iterator[_Item]:
    """Cut a query at its white space, keeping quotations whole."""
    at = _end_of(_SPACE, text, 0)
    while at < len(text):
        lead = _LEAD.match(text, at)
        sign, name, start = (lead["sign"] or "", lead["field"] or "", lead.end()) if lead else ("", "", at)
        if name and name.lower() not in FIELDS and name.lower() not in PLACES:
            notes.append(f"`{name}:` is no field; searched as words")
            yield _Item(sign, "", name, quoted=False)
            name = ""
        quoted = text[start - 1 : start] == '"' and start > at
        if quoted:
            end, after = _closing(text, start, notes)
        else:
            end = after = _end_of(_BARE, text, start)
        yield _Item(sign, name.lower(), text[start:end], quoted=quoted)
        at = _end_of(_SPACE, text, after)


def _end_of(pattern: re.Pattern[str], text: str, start: int) -> int:
    """Where a pattern that may match nothing stops matching."""
    match = pattern.match(text, start)
    return match.end() if match else start


def _closing(text: str, start: int, notes: list[str]) -> tuple[int, int]:
    """Where a quotation ends, and where the query goes on.

    A mark after a figure is inches when the next one closes the quotation, as in `"1/2" bolt"`.
    """
    mark = _END_OF_QUOTATION.search(text, start)
    while mark:
        following = _END_OF_QUOTATION.search(text, mark.end())
        if not following or not _is_inches(text, mark.start(), following.start()):
            return mark.start(), mark.end()
        mark = following
    notes.append("a quotation was not closed; it was read to the end")
    return len(text), len(text)


def _is_inches(text: str, mark: int, following: int) -> bool:
    """Whether a mark stands after a figure, the next one does not, and no quotation was opened between them."""
    is_after_figure = text[mark - 1].isdigit() and not text[following - 1].isdigit()
    return is_after_figure and not _OPENING.search(text, mark + 1, following)


def _parts_of(item: _Item, notes: list[str]) -> Iterator[Part]:
    """The parts of one item: a quotation is one, a word is one unless commas and the like stand in it."""
    tokens = tokenise(item.said)
    if not tokens and item.said:
        notes.append(f"`{_shortened(item.said)}` has nothing in it to search for")
    begins = item.said.endswith("*") and not item.quoted
    if "*" in item.said[: -1 if begins else None]:
        notes.append("`*` counts only at the end of a word that stands by itself")
    runs = [tokens] if item.quoted else _runs(item.said, tokens)
    for run in runs:
        if run:
            is_last = run is runs[-1]
            yield _part(item, run, begins=begins and is_last and _is_long_enough(run, notes))


def _runs(said: str, tokens: Sequence[Token]) -> list[Sequence[Token]]:
    """Split the tokens of a word where something stands between them that joins nothing."""
    runs: list[list[Token]] = [[]]
    end = 0
    for token in tokens:
        if runs[-1] and not _JOINING.fullmatch(said, min(end, token.start), token.start):
            runs.append([])
        runs[-1].append(token)
        end = max(end, token.end)
    return [*runs]


def _is_long_enough(run: Sequence[Token], notes: list[str]) -> bool:
    if len(run[-1].form) >= _SHORTEST_BEGINNING:
        return True
    notes.append(f"`{run[-1].form}*` is too short a beginning; searched as the word `{run[-1].form}`")
    return False


def _part(item: _Item, run: Sequence[Token], *, begins: bool) -> Part:
    single = [token for token in run if not token.joined]
    words = [token.text for token in single]
    whole = [t.text for t in run if t.joined and (t.start, t.end) == (single[0].start, single[-1].end)]
    if begins:
        words[-1] = single[-1].form
    return Part(
        said=item.said if item.quoted else item.said[run[0].start : max(t.end for t in run)] + "*" * begins,
        words=tuple(words),
        joined=whole[0] if whole and not begins else "",
        begins=begins,
        field=item.field,
    )


def _shortened(said: str) -> str:
    return said if len(said) <= 40 else said[:40] + "..."
