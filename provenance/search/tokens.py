"""Text into tokens: the same for pages, records and queries.

What a fitter writes has to be found, so nothing is dropped: `1/2 in`, `No. 4`, `type A` and `3 ft 4 1/2` keep every
token. How one thing is spelt makes no difference:

    case, accents, ligatures     Träger, TRAGER             trager
    word endings (English)       brackets, bracketed        bracket
    abbreviations                M.S., MS                   ms
    fractions                    4½, 4 1/2, 4-1/2           4, 1/2
    foot and inch marks          3' 4½", 3 ft 4 1/2 in      3, ft, 4, 1/2, in
    part numbers, sizes          H-204, H 204, h.204, H204  h, 204
    thousands, decimal commas    1,029; 40,5                1029; 40.5
    a word broken at a line end  brac-/ket                  bracket (and brac, ket)
    a word with a hyphen         rail-car                   rail, car (and railcar)
"""

import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from whoosh.lang.snowball.english import EnglishStemmer

FORMAT = 1
"""Number of these rules; an index made by others is built anew."""

_STROKE = "\N{FRACTION SLASH}"
_MARKS = {
    **dict.fromkeys("\u2018\u2019\u201a\u201b\u2032\u00b4", "'"),  # single quotation marks, prime, acute
    **dict.fromkeys("\u201c\u201d\u201e\u201f\u2033\u00ab\u00bb", '"'),  # double ones, double prime, guillemets
    **dict.fromkeys("\u2010\u2011\u2212\u00ad", "-"),  # hyphens, minus, soft hyphen
    _STROKE: "/",
}
_LETTER = r"[^\W\d_]"
_PIECES = re.compile(
    rf"""(?P<fraction> (?<![\d/.]) \d{{1,2}}/[1-9]\d{{0,2}} (?![\d/]) )
    |    (?P<number>   (?<![\w.]) \.\d+ | \d+ (?: [.,]\d+ )* )
    |    (?P<initials> (?<!\w) {_LETTER} (?: \.{_LETTER} )+ (?!\w) )
    |    (?P<word>     {_LETTER}+ (?: '{_LETTER}+ )* )
    |    (?P<opening>  (?<![^\s(\[{{]) (?: "(?=\S) | '(?=[^\s\d]) ) )
    |    (?P<mark>     '' | " | ' (?!{_LETTER}) )
    |    (?P<line>     \n )""",
    re.VERBOSE,
)
_RUNS = re.compile(r"(?P<plain>[\x00-\x7f]+)|.", re.DOTALL)
_BREAK = re.compile(r"-[ \t]*\n\s*")
_THOUSANDS = re.compile(r"\d{1,3}(,\d{3})+(\.\d+)?")
_FINEST = 128
_LONGEST = 64
_stemmer = EnglishStemmer()


class Token(NamedTuple):
    """One token, with the place it came from (a plain tuple: there are hundreds on a page).

    Attributes:
        text: what is compared: folded, and without its English ending when it is a word.
        form: the same with its ending, for a search by beginning.
        position: running number; tokens that stand side by side differ by 1. A joined word shares one with its parts.
        start: first character in the text, from 0.
        end: one past the last character.
        joined: True for the joined spelling of a word with a hyphen, which stands beside its parts.
    """

    text: str
    form: str
    position: int
    start: int
    end: int
    joined: bool = False


class _Piece(NamedTuple):
    """A stretch of folded text and what it is taken for."""

    kind: str
    text: str
    start: int
    end: int


def stem(word: str) -> str:
    """Take the English ending off a folded word (Snowball's English stemmer); two letters and fewer stay."""
    return str(_stemmer.stem(word)) if len(word) > 2 else word


def fold(text: str) -> tuple[str, Sequence[int]]:
    """Fold case, accents and signs; beside it, for every folded character, the one it came from.

    Unicode NFKD without its combining marks, casefolded; `½` is set off from a figure before it.
    """
    if text.isascii():
        return text.lower(), range(len(text))
    folded: list[str] = []
    origins: list[int] = []
    for run in _RUNS.finditer(text):
        if run["plain"]:
            folded.append(run["plain"].lower())
            origins.extend(range(run.start(), run.end()))
        else:
            folded.append(_fold_character(run[0]))
            origins.extend([run.start()] * len(folded[-1]))
    return "".join(folded), origins


@lru_cache(maxsize=10_000)
def _fold_character(character: str) -> str:
    if character in _MARKS:
        return _MARKS[character]
    spread = unicodedata.normalize("NFKD", character)
    plain = "".join(_MARKS.get(c, c) for c in spread if not unicodedata.combining(c)).casefold()
    return f" {plain}" if _STROKE in spread else plain


def tokenise(text: str) -> tuple[Token, ...]:
    """Cut text into tokens, in reading order."""
    folded, origins = fold(text)
    pieces = list(_pieces(folded))
    tokens: list[Token] = []
    at = position = 0
    while at < len(pieces):
        chain = [[pieces[at]]]
        if pieces[at].kind == "word" and folded.startswith("-", pieces[at].end):
            chain = _chain(pieces[at:], folded, text, origins)
        tokens.extend(_tokens_of(chain, position, origins))
        at += sum(map(len, chain))
        position += len(chain)
    return tuple(tokens)


def _pieces(folded: str) -> Iterator[_Piece]:
    """The words and figures; a quotation mark after a figure is feet or inches unless it closes a quotation."""
    opened = ""
    figure_end = -1
    for match in _PIECES.finditer(folded):
        kind, found, start = match.lastgroup or "", match[0], match.start()
        if kind == "opening":
            opened = found
        elif kind == "line":
            opened = ""
        elif kind == "mark":
            if found == opened:
                opened = ""
            elif start == figure_end:
                yield _Piece("mark", "ft" if found == "'" else "in", start, match.end())
        else:
            yield from _FIGURES[kind](found, start) if kind in _FIGURES else (_Piece(kind, found, start, match.end()),)
            figure_end = match.end() if kind in _FIGURES else -1


def _fraction(found: str, start: int) -> Iterator[_Piece]:
    """A proper fraction is one piece; anything else with a stroke is two figures."""
    above, below = found.split("/")
    if 0 < int(above) < int(below) <= _FINEST:
        yield _Piece("fraction", f"{int(above)}/{below}", start, start + len(found))
    else:
        yield from _figures(found, start)


def _number(found: str, start: int) -> Iterator[_Piece]:
    """A figure with at most one decimal sign is one piece; `12.5.34` is three."""
    if _THOUSANDS.fullmatch(found):
        yield _Piece("number", found.replace(",", ""), start, start + len(found))
    elif found.count(".") + found.count(",") == 1:
        yield _Piece("number", ("0" + found if found[0] == "." else found).replace(",", "."), start, start + len(found))
    else:
        yield from _figures(found, start)


def _figures(found: str, start: int) -> Iterator[_Piece]:
    for digits in re.finditer(r"\d+", found):
        yield _Piece("number", digits[0], start + digits.start(), start + digits.end())


_FIGURES: dict[str, Callable[[str, int], Iterator[_Piece]]] = {"fraction": _fraction, "number": _number}

_Chain = list[list[_Piece]]
"""What hyphens join: in the inner lists the parts of a broken word, in the outer one the words of a compound."""


def _chain(pieces: Iterable[_Piece], folded: str, text: str, origins: Sequence[int]) -> _Chain:
    """The chain that begins with the first of the pieces."""
    following = iter(pieces)
    chain = [[next(following)]]
    for piece in following:
        joint = _joint(chain[-1][-1], piece, folded, text[origins[piece.start]])
        if joint == "broken":
            chain[-1].append(piece)
        elif joint == "hyphen":
            chain.append([piece])
        else:
            break
    return chain


def _joint(before: _Piece, piece: _Piece, folded: str, first: str) -> str:
    """How two pieces are joined; a capital after a line end begins another word."""
    if before.kind != "word" or piece.kind != "word":
        return ""
    gap = folded[before.end : piece.start]
    if gap == "-":
        return "hyphen"
    return "broken" if first.islower() and _BREAK.fullmatch(gap) else ""


def _tokens_of(chain: _Chain, position: int, origins: Sequence[int]) -> Iterator[Token]:
    """The joined spellings first, then the parts; a broken word's parts share its place."""
    if len(chain) > 1:
        yield _token([piece for word in chain for piece in word], position, origins)
    for offset, word in enumerate(chain):
        if len(word) > 1:
            yield _token(word, position + offset, origins)
        for piece in word:
            yield _token([piece], position + offset, origins)


def _token(parts: Sequence[_Piece], position: int, origins: Sequence[int]) -> Token:
    first, last = parts[0], parts[-1]
    joined = first is not last
    text, form = _spell(first.kind, "".join([part.text for part in parts]) if joined else first.text)
    return Token(text, form, position, origins[first.start], origins[last.end - 1] + 1, joined)


@lru_cache(maxsize=100_000)
def _spell(kind: str, found: str) -> tuple[str, str]:
    """What is compared, and the same with its ending."""
    if kind == "word":
        return stem(found[:_LONGEST]).replace("'", ""), found.replace("'", "")[:_LONGEST]
    spelt = found.replace(".", "") if kind == "initials" else found
    return spelt[:_LONGEST], spelt[:_LONGEST]
