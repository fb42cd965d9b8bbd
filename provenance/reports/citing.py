"""Citations and references as a style of the Citation Style Language writes them.

The processor knows nothing of what its fields hold, and marks nothing up: what is to stand in italics is put between
two characters that are no letters of any script (Unicode's noncharacters U+FDD0 to U+FDEF, which texts that are handed
on do not hold) and comes out as runs. So no word of a title can become markup, and none has to be escaped.
"""

import re
import warnings
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from string import ascii_lowercase
from typing import Any, TypeAlias

from citeproc import Citation, CitationItem, CitationStylesBibliography, CitationStylesStyle, Locator
from citeproc.frontend import CitationStylesXML
from citeproc.source import BibliographySource, LiteralDate, Name, Reference
from citeproc.string import String

from provenance.errors import UsageRefusedError
from provenance.reports.document import Run, Words
from provenance.reports.style_sheets import Manner, StyleSheet, look_over, refused

_SLANTED, _UPRIGHT, _STRONG, _PLAIN, _HYPHEN = "\ufdd0\ufdd1\ufdd2\ufdd3\ufdd4"
_FIGURES = "\ufdd5\ufdd6\ufdd7\ufdd8\ufdd9\ufdda\ufddb\ufddc\ufddd\ufdde"
_NO_LETTERS = re.compile("[\ufdd0-\ufdef]")
_ENDS = re.compile(f"([.?!])([{_UPRIGHT}{_PLAIN}]+)\\.")
_PLACE_HIDDEN = str.maketrans("0123456789-", _FIGURES + _HYPHEN)
_PLACE_SHOWN = str.maketrans(_FIGURES + _HYPHEN, "0123456789-")
_TURNS = re.compile(f"([{_SLANTED}{_UPRIGHT}{_STRONG}{_PLAIN}])")
_AT_FAULT = re.compile(r"^<string>:(\d+):\d+:", re.MULTILINE)


_UNDATED = "undated"

_Items: TypeAlias = Mapping[str, Mapping[str, Any]]
"""What is cited, by id, as items of CSL-JSON."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cite:
    """One place in one source, as it is cited.

    Attributes:
        source: its id.
        page: the number of the page; empty where none is named.
        time: of a recording, in words; it stands before a page.
        who: who speaks there; empty where that is not said.
    """

    source: str
    page: str = ""
    time: str = ""
    who: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Referred:
    """A source in the list at the end.

    Attributes:
        source: its id.
        words: the reference as the style writes it, without a number in front.
    """

    source: str
    words: Words


@dataclass(frozen=True, slots=True, kw_only=True)
class Cited:
    """Everything that was cited.

    Attributes:
        marks: of each place what stands in the text, such as `[3, p. 14]`.
        references: in the order of the style.
        numbered: whether sources go by their number in that list, counted from 1.
    """

    marks: Mapping[Cite, Words]
    references: tuple[Referred, ...]
    numbered: bool


class _Marking:
    """What the processor asks for words in some manner; it takes any object with these names."""

    preformat = Light = Underline = Subscript = SmallCaps = staticmethod(str)

    @staticmethod
    def Italic(text: object) -> str:  # noqa: N802  the name that is asked for
        """Words in italics."""
        return f"{_SLANTED}{text}{_UPRIGHT}"

    Oblique = Italic

    @staticmethod
    def Superscript(text: object) -> str:  # noqa: N802  the name that is asked for
        """Raised words, such as the number of a source; in brackets, since runs are not raised."""
        return f"[{text}]"

    @staticmethod
    def Bold(text: object) -> str:  # noqa: N802  the name that is asked for
        """Words that stand out."""
        return f"{_STRONG}{text}{_PLAIN}"


class _Text:
    """The text of a style as the processor reads it: from memory, never from a name that it might look up."""

    def __init__(self, data: bytes) -> None:
        """Begin at its beginning."""
        self._rest = data

    def read(self, size: int = -1) -> bytes:
        """The next bytes, all of them where no size is named."""
        end = len(self._rest) if size < 0 else size
        given, self._rest = self._rest[:end], self._rest[end:]
        return given


def cite(style: StyleSheet, items: _Items, cites: Sequence[Cite]) -> Cited:
    """Write each citation, and the list of all that is cited.

    Args:
        style: how they are written.
        items: every source that is cited, by id, as an item of CSL-JSON whose date is a literal.
        cites: in the order in which they stand in the text; the same place may come again.

    Raises:
        UsageRefusedError: the style cannot be used.
    """
    manner = look_over(style)
    places = tuple(dict.fromkeys(cites))
    try:
        processor = _prepared(style, manner)
        written = _written(processor, items if manner.numbered else _told_apart(processor, items, places), places)
    except UsageRefusedError:
        raise
    except Exception as error:  # the processor breaks in its own ways over a style that its schema lets pass
        why = f"citations cannot be written in it ({type(error).__name__})"
        raise refused(style, why) from error
    return _with_numbers_apart(written) if manner.numbered else written


def _prepared(style: StyleSheet, manner: Manner) -> CitationStylesStyle:
    line = _line_at_fault(style)
    if line is not None:
        raise refused(style, "it does not keep to the schema of the Citation Style Language", line=line)
    return CitationStylesStyle(_Text(style.data), locale=manner.language, validate=False)


@lru_cache(maxsize=16)
def _line_at_fault(style: StyleSheet) -> int | None:
    """In or under which line a style breaks the schema that the processor brings; 0 where that is not known.

    None where it keeps to the schema. What the schema's reader says beside the line leads astray more than it helps.
    """
    with warnings.catch_warnings(record=True) as told:
        warnings.simplefilter("always")
        CitationStylesXML(_Text(style.data))
    faults = [int(line) for each in told for line in _AT_FAULT.findall(str(each.message))]
    return next((line for line in faults if line), 0) if faults else None


def _told_apart(processor: CitationStylesStyle, items: _Items, cites: Sequence[Cite]) -> _Items:
    """The items, with a letter behind the date of each of several that would be cited alike, as ISO 690 asks.

    The processor has no such letters. They follow the order in which the sources are first cited.
    """
    bare = [Cite(source=each) for each in dict.fromkeys(place.source for place in cites)]
    bibliography, citations = _gathered(processor, items, bare)
    marks = {
        place.source: str(bibliography.cite(citation, None)) for place, citation in zip(bare, citations, strict=True)
    }
    alike: dict[str, list[str]] = {}
    for each in bibliography.keys:
        alike.setdefault(marks[each], []).append(each)
    lettered = {
        each: _with_letter(items[each], number)
        for group in alike.values()
        if len(group) > 1
        for number, each in enumerate(group)
    }
    return {**items, **lettered}


def _with_letter(item: Mapping[str, Any], number: int) -> Mapping[str, Any]:
    letter, again = ascii_lowercase[number % 26], number // 26
    date = item["issued"]["literal"] if "issued" in item else _UNDATED
    between = "" if date[-1:].isdecimal() else " "
    return {**item, "issued": {"literal": f"{date}{between}{letter}{again or ''}"}}


def _gathered(
    processor: CitationStylesStyle, items: _Items, cites: Sequence[Cite]
) -> tuple[CitationStylesBibliography, list[Citation]]:
    """The sources that are cited, in the order in which they first are, and a citation of each place."""
    source = BibliographySource()
    for each in dict.fromkeys(place.source for place in cites):
        source.add(_reference(items[each]))
    bibliography = CitationStylesBibliography(processor, source, _Marking)
    citations = [Citation([_citation_item(place)]) for place in cites]
    for citation in citations:
        bibliography.register(citation)
    return bibliography, citations


def _written(processor: CitationStylesStyle, items: _Items, cites: Sequence[Cite]) -> Cited:
    bibliography, citations = _gathered(processor, items, cites)
    bibliography.sort()
    marks = [_words(str(bibliography.cite(citation, None))) for citation in citations]
    listed = [_listed(processor, each) for each in bibliography.items]
    return Cited(
        marks=dict(zip(cites, marks, strict=True)),
        references=tuple(
            Referred(source=key, words=_words(text)) for key, text in zip(bibliography.keys, listed, strict=True)
        ),
        numbered=False,
    )


def _listed(processor: CitationStylesStyle, item: CitationItem) -> str:
    """One entry; a style that has nothing to say of such a source leaves it with its title."""
    written = [str(each) for each in processor.render_bibliography([item]) if each is not None]
    return written[0] if written and written[0].strip() else str(item.reference["title"])


def _with_numbers_apart(cited: Cited) -> Cited:
    """The numbers with which the entries begin, taken off, since a list counts them; left where one has none."""
    begun = [_begin(number, each.words[0].text) for number, each in enumerate(cited.references, 1)]
    if not all(begun):
        return cited
    behind = [replace(each, words=_behind(each.words, end)) for each, end in zip(cited.references, begun, strict=True)]
    return replace(cited, references=tuple(behind), numbered=True)


def _begin(number: int, text: str) -> int:
    """How many characters the number takes with which an entry begins; 0 where it does not begin with its number."""
    found = re.match(rf"\s*[\[(]?{number}(?!\d)[\])]?[.:,]?\s*", text)
    return found.end() if found else 0


def _behind(words: Words, end: int) -> Words:
    first, *others = words
    rest = first.text[end:]
    return (replace(first, text=rest), *others) if rest or not others else tuple(others)


def _reference(item: Mapping[str, Any]) -> Reference:
    said: dict[str, Any] = {}
    for name, value in item.items():
        if name == "author":
            said[name] = [Name(literal=_harmless(each["literal"])) for each in value]
        elif name == "issued":
            said[name] = LiteralDate(String(_harmless(value["literal"])))
        elif name not in {"id", "type"}:
            said[name.replace("-", "_")] = String(_harmless(value))
    return Reference(item["id"], item["type"], **said)


def _citation_item(cite: Cite) -> CitationItem:
    """A place; figures and hyphens of a page are hidden, else `A-3` would be a range, and `12-1` in the plural."""
    said: dict[str, Any] = {}
    if cite.time or cite.page:
        label, place = ("timestamp", cite.time) if cite.time else ("page", cite.page)
        said["locator"] = Locator(label, _harmless(place).translate(_PLACE_HIDDEN))
    if cite.who:
        said["suffix"] = f", {_harmless(cite.who)} speaking"
    return CitationItem(cite.source, **said)


def _harmless(text: str) -> str:
    return _NO_LETTERS.sub("\ufffd", text)


def _words(text: str) -> Words:
    return tuple(_runs(_ENDS.sub(r"\1\2", text.strip()))) or (Run(text=""),)


def _runs(text: str) -> Iterator[Run]:
    slanted = strong = False
    for piece in _TURNS.split(text):
        if piece in {_SLANTED, _UPRIGHT}:
            slanted = piece == _SLANTED
        elif piece in {_STRONG, _PLAIN}:
            strong = piece == _STRONG
        elif piece:
            yield Run(text=piece.translate(_PLACE_SHOWN), slanted=slanted, strong=strong)
