"""The text of a cue: its tags and escapes taken off, and who speaks.

WebVTT's cue spans are those of the W3C standard, section "WebVTT cue text parsing rules" (from memory); SubRip's tags
are common practice. On purpose otherwise than the standard, so that no word is lost: what looks like a tag and is none
that is known (`<laughs>`) is text and is named, where a player drops it; a `<` that is not closed on its line is text;
an escape counts only with its semicolon, as whoever writes one has to write it.
"""

import html
import re
from collections.abc import Iterator
from dataclasses import dataclass

from provenance.records.wording import quote

WEBVTT_TAGS = frozenset({"c", "i", "b", "u", "ruby", "rt", "v", "lang"})
SUBRIP_TAGS = frozenset({"i", "b", "u", "s", "font", "br"})

_TAG = re.compile(r"<([^<>]*)>")
_NAME = re.compile(r"(/?)([A-Za-z]+)(?:\.[^\s.]*)*(?:/|\s+(.*))?")
_TIME = re.compile(r"(?:[0-9]{2,}:)?[0-9]{2}:[0-9]{2}\.[0-9]{3}")
_ESCAPE = re.compile(r"&(?:#[0-9]{1,7}|#[xX][0-9a-fA-F]{1,6}|[A-Za-z][A-Za-z0-9]{1,31});")
_PLACING = re.compile(r"\{\\[^{}]*\}")
_MARKS = str.maketrans("", "", "\u200e\u200f")  # of writing direction: seen by nobody, and no part of a word
_APART = frozenset({"v", "br"})


@dataclass(frozen=True, slots=True, kw_only=True)
class CueLine:
    """One line of a cue without its tags.

    Attributes:
        text: what is said.
        shown: the same with each speaker's name before what they say.
        speakers: in order.
        faults: what is wrong with its tags, each with its mend.
    """

    text: str
    shown: str
    speakers: tuple[str, ...]
    faults: tuple[tuple[str, str], ...]


def read_cue_line(line: str, tags: frozenset[str]) -> CueLine:
    r"""Take the tags and escapes off one line of a cue.

    Args:
        line: as written.
        tags: those that are known; `SUBRIP_TAGS` also takes off codes of placing such as `{\an8}`.
    """
    text, shown, speakers, faults = [], [], [], []
    for piece, inside in _pieces(_PLACING.sub("", line) if tags == SUBRIP_TAGS else line):
        if "<" in piece:
            faults.append(("a `<` that is not closed on its line", "close the tag with `>`; for the sign write `&lt;`"))
        said = _unescaped(piece)
        text.append(said)
        shown.append(said)
        if inside is None:
            continue
        name, speaker = _known(inside, tags)
        if name is None:
            written = f"<{inside}>"
            faults.append((f"{quote(written)} is no tag", "write `[…]` for what is not said, such as `[laughs]`"))
            text.append(written)
            shown.append(written)
        elif name in _APART:
            text.append(" ")
            shown.append(f" {speaker}: " if speaker else " ")
            speakers += [speaker] if speaker else []
            if speaker == "":
                faults.append(("a voice tag that names nobody", "write who speaks, such as `<v Interviewer>`"))
    return CueLine(
        text=_spaced(text), shown=_spaced(shown), speakers=tuple(speakers), faults=tuple(dict.fromkeys(faults))
    )


def _pieces(line: str) -> Iterator[tuple[str, str | None]]:
    """The text before each tag with what stands in the tag; last, what follows them, with None."""
    at = 0
    for found in _TAG.finditer(line):
        yield line[at : found.start()], found[1]
        at = found.end()
    yield line[at:], None


def _known(inside: str, tags: frozenset[str]) -> tuple[str | None, str | None]:
    """The name of a tag, None for an unknown one; and whom a voice tag names: empty for nobody, None for no voice."""
    if _TIME.fullmatch(inside) or inside == "/":
        return "time", None
    found = _NAME.fullmatch(inside)
    name = found[2].lower() if found else ""
    if found is None or name not in tags:
        return None, None
    if name == "v" and not found[1]:
        return name, " ".join(_unescaped(found[3] or "").split())
    return name, None


def _unescaped(text: str) -> str:
    return _ESCAPE.sub(lambda found: html.unescape(found[0]), text).translate(_MARKS)


def _spaced(pieces: list[str]) -> str:
    return " ".join("".join(pieces).split())
