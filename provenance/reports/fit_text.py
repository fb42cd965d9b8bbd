"""Texts of others in a printed document: made fit for any format, with what runs from right to left told apart."""

import re
from collections.abc import Iterator

from provenance.reports.layout import plain

# Unicode 16.0, section 23.7: 66 code points that no text may hold; XML 1.0 forbids two of them, and so do some readers.
_NO_CHARACTER = re.compile(
    "[\ufdd0-\ufdef" + "".join(chr((plane << 16) + 0xFFFE) + chr((plane << 16) + 0xFFFF) for plane in range(17)) + "]"
)
_LINE_END = re.compile("\r\n|[\n-\r\u2028\u2029]")

# The blocks of letters that run from right to left, as the Unicode database lays them out (DerivedBidiClass: what is
# not yet assigned there runs so as well). The signs that turn writing round are no letters; `plain` writes them out.
_TURNED = "\u0590-\u08ff\ufb1d-\ufdcf\ufdf0-\ufdff\ufe70-\ufefe\U00010800-\U00010fff\U0001e800-\U0001efff"
_LETTER = r"[^\W\d_]"
_ANY_TURNED = re.compile(f"[{_TURNED}]")
_FIRST_LETTER = re.compile(_LETTER)
_STRAIGHT_LETTER = re.compile(f"(?![{_TURNED}]){_LETTER}")
_STRETCH = re.compile(rf"[{_TURNED}]+(?:[^\w{_TURNED}]{{1,3}}[{_TURNED}]+)*")

# RFC 5646, section 2.1, without the tags that it keeps for old times' sake.
_LANGUAGE_TAG = re.compile(
    r"""(?:[a-z]{2,3}(?:-[a-z]{3}){0,3}|[a-z]{4,8})  # language, and what extends it
        (?:-[a-z]{4})?                                # script
        (?:-(?:[a-z]{2}|[0-9]{3}))?                   # region
        (?:-(?:[a-z0-9]{5,8}|[0-9][a-z0-9]{3}))*      # variants
        (?:-[0-9a-wyz](?:-[a-z0-9]{2,8})+)*           # extensions
        (?:-x(?:-[a-z0-9]{1,8})+)?                    # private use
        |x(?:-[a-z0-9]{1,8})+""",
    re.IGNORECASE | re.VERBOSE | re.ASCII,
)
_TURNED_LANGUAGES = frozenset({"ar", "arc", "ckb", "dv", "fa", "he", "iw", "ji", "ps", "sd", "syr", "ug", "ur", "yi"})


def shown(text: str) -> str:
    r"""Make a text fit to stand on one line of any format, whoever wrote it.

    As `plain`, and code points that are no characters are written out too, such as `\ufffe`: what comes back can stand
    in XML 1.0. It is not yet escaped.
    """
    return _NO_CHARACTER.sub(lambda found: ascii(found[0])[1:-1], plain(text))


def shown_lines(text: str) -> tuple[tuple[str, ...], ...]:
    """Make a text of several lines fit to stand in any format; between its paragraphs there are empty lines.

    Returns:
        The lines of each paragraph, none of them blank, each made fit by `shown`; empty where there is nothing.
    """
    paragraphs: list[list[str]] = [[]]
    for line in _LINE_END.split(text):
        if line.strip():
            paragraphs[-1].append(shown(line).rstrip())
        elif paragraphs[-1]:
            paragraphs.append([])
    return tuple(tuple(lines) for lines in paragraphs if lines)


def stretches(text: str) -> Iterator[tuple[str, bool]]:
    """Part a text by the way in which it runs, so that a year beside a name does not jump to its other side.

    Some signs between two words that run from right to left belong to them; figures do so only where the whole text
    runs that way, from its first character to its last.

    Yields:
        The pieces in order, none empty, each with whether it runs from right to left.
    """
    if not _ANY_TURNED.search(text):
        yield from [(text, False)] if text else []
        return
    if _ANY_TURNED.match(text) and _ANY_TURNED.match(text[-1]) and not _STRAIGHT_LETTER.search(text):
        yield text, True
        return
    place = 0
    for found in _STRETCH.finditer(text):
        if found.start() > place:
            yield text[place : found.start()], False
        yield found[0], True
        place = found.end()
    if place < len(text):
        yield text[place:], False


def runs_from_the_right(text: str) -> bool:
    """Whether the first letter of a text is one that runs from right to left."""
    first = _FIRST_LETTER.search(text)
    return first is not None and _ANY_TURNED.match(first[0]) is not None


def language_tag(tag: str) -> str:
    """The tag where it is a well-formed one of BCP 47; empty where it is not."""
    return tag if _LANGUAGE_TAG.fullmatch(tag) else ""


def is_turned_language(tag: str) -> bool:
    """Whether a language, by its tag, is commonly written from right to left."""
    parts = tag.lower().split("-")
    return parts[0] in _TURNED_LANGUAGES or not {"arab", "hebr", "syrc", "thaa"}.isdisjoint(parts[1:2])
