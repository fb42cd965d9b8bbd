"""Where on a page a query stands: the matching words, their regions on the picture, and a piece of text to show."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence

from provenance.records.readings import Box, Word
from provenance.records.reference_numbers import numbers_in
from provenance.search.grammar import PLACES, Part, Query
from provenance.search.tokens import Token, tokenise

Span = tuple[int, int]
"""First character, and one past the last; from 0."""

_ELLIPSIS = "…"
_LONGEST_WORD = 40


def matched_spans(query: Query, text: str, read_as: Sequence[str] = ()) -> tuple[Span, ...]:
    """Where the words that a query looks for stand in a text, in order; of a phrase the whole phrase only.

    Parts that are asked in a named field, such as `title:`, are not looked for in a text. Numbers that were misread
    are marked where they stand as `read_as` says.
    """
    parts = [part for part in query.sought if not part.field or part.field in PLACES]
    tokens = tokenise(text)
    spans = {(t.start, t.end) for part in parts for t in _matching(part, tokens)}
    if read_as:
        spans |= {(read.start, read.end) for read in numbers_in(text) if read.text in read_as}
    return tuple(sorted(spans))


def _matching(part: Part, tokens: Sequence[Token]) -> Iterator[Token]:
    """The tokens that a part stands for."""
    if part.joined:
        yield from (token for token in tokens if token.text == part.joined)
    places: dict[int, list[Token]] = {}
    for token in tokens:
        places.setdefault(token.position, []).append(token)
    for first in places:
        found = [_at(places.get(first + step, ()), part, step) for step in range(len(part.words))]
        if all(found):
            yield from (token for tokens in found for token in tokens)


def _at(tokens: Sequence[Token], part: Part, step: int) -> list[Token]:
    """Those of the tokens in one place that are the word at this step of a part."""
    word = part.words[step]
    if part.begins and step == len(part.words) - 1:
        return [token for token in tokens if token.text.startswith(word) or token.form.startswith(word)]
    return [token for token in tokens if token.text == word]


def snippet(text: str, spans: Sequence[Span], width: int = 160) -> str:
    """Cut a piece of about this many characters out of a text, where matches stand closest, as one line.

    Cut at spaces, with an ellipsis where something was left out; from the beginning where nothing matched.
    """
    start = min(_densest(spans, width), max(0, len(text) - width))
    start, end = _at_a_space(text, start, -1), _at_a_space(text, min(len(text), start + width), 1)
    before = _ELLIPSIS + " " if text[:start].strip() else ""
    after = " " + _ELLIPSIS if text[end:].strip() else ""
    return before + " ".join(text[start:end].split()) + after


def _densest(spans: Sequence[Span], width: int) -> int:
    """Where the piece of this width begins that holds most matches, with the matches in its middle."""
    best, held = (0, width), 0
    last = 0
    for first, (start, _) in enumerate(spans):
        last = max(last, first)
        while last + 1 < len(spans) and spans[last + 1][1] <= start + width:
            last += 1
        if last - first + 1 > held:
            best, held = (start, spans[last][1]), last - first + 1
    return max(0, best[0] - max(0, width - (best[1] - best[0])) // 2)


def _at_a_space(text: str, at: int, step: int) -> int:
    """The next place in this direction where no word is cut; a very long word is cut all the same."""
    for moved in range(at, at + _LONGEST_WORD * step, step):
        if not 0 < moved < len(text) or text[moved].isspace() or text[moved - 1].isspace():
            return moved
    return at


def matched_words(query: Query, words: Sequence[Word], read_as: Sequence[str] = ()) -> tuple[int, ...]:
    """Indices, from 0, of the words of a page that a query finds; both halves of a word broken at a line end."""
    text, starts = _join(words)
    found: set[int] = set()
    for start, end in matched_spans(query, text, read_as):
        found.update(range(bisect_right(starts, start) - 1, bisect_left(starts, end)))
    return tuple(sorted(found))


def _join(words: Sequence[Word]) -> tuple[str, list[int]]:
    """The words as lines of text, and where each begins."""
    pieces: list[str] = []
    starts: list[int] = []
    length = 0
    for before, word in zip([None, *words], words, strict=False):
        gap = "" if before is None else " " if before.line == word.line else "\n"
        starts.append(length + len(gap))
        pieces.append(gap + word.text)
        length += len(pieces[-1])
    return "".join(pieces), starts


def regions(words: Sequence[Word], indices: Sequence[int]) -> tuple[str, ...]:
    """Regions of these words as percent fragments; neighbours on one line are one region.

    Words without a box have none. The regions are in the order of the indices.
    """
    joined: list[Box] = []
    before: int | None = None
    for index in indices:
        word = words[index]
        if word.box is None:
            continue
        if before is not None and index == before + 1 and words[before].line == word.line:
            joined[-1] = _around(joined[-1], word.box)
        else:
            joined.append(word.box)
        before = index
    return tuple(box.as_fragment() for box in joined)


def _around(one: Box, other: Box) -> Box:
    """The smallest box around two."""
    x, y = min(one.x, other.x), min(one.y, other.y)
    return Box(
        x=x,
        y=y,
        w=max(one.x + one.w, other.x + other.w) - x,
        h=max(one.y + one.h, other.y + other.h) - y,
    )
