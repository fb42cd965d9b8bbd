"""Reads the Markdown that we write, by CommonMark 0.31 with the tables of GFM, and refuses all other markup.

Strict rather than whole: a sign of markup that stands bare where no block or emphasis of ours is, is a failure.
"""

import re
from dataclasses import dataclass
from html import unescape

_PUNCTUATION = "!\"#$%&'()*+,-./:;<=>?@[\\]^_`{|}~"  # CommonMark 0.31, section 2.1
_MARKUP = re.compile(r"[`_{}\[\]|~^$@!<>]|https?://|www\.", re.IGNORECASE)
_REFERENCE = re.compile(r"&(?:amp|lt|gt|nbsp);")
_BEGINS_A_BLOCK = re.compile(r"[-+*](?: |$)|\d{1,9}[.)](?: |$)|#{1,6}(?: |$)|>|[-=]+\s*$|(?:\*\s*){3,}$|```|~~~| {4}|:")
_BLOCKS = (
    ("quotation", re.compile(r"> ?")),
    ("table", re.compile(r"\| ")),
    ("heading", re.compile(r"#{1,6} ")),
    ("bullet -", re.compile(r"- ")),
    ("bullet +", re.compile(r"\+ ")),
    ("number .", re.compile(r"\d+\. ")),
    ("number )", re.compile(r"\d+\) ")),
)


@dataclass(frozen=True)
class MarkdownBlock:
    """A block: its kind, what begins each of its lines, and its lines without that."""

    kind: str
    signs: tuple[str, ...]
    lines: tuple[str, ...]


def blocks_of(text: str) -> list[MarkdownBlock]:
    """The blocks of a text, which empty lines part; every line of one begins as its first does."""
    assert text.endswith("\n")
    return [_block(lines.split("\n")) for lines in text.removesuffix("\n").split("\n\n")]


def _block(lines: list[str]) -> MarkdownBlock:
    for kind, sign in _BLOCKS:
        signs = [found[0] for line in lines if (found := sign.match(line))]
        if signs:
            assert len(signs) == len(lines), lines
            rest = tuple(line[len(found) :] for line, found in zip(lines, signs, strict=True))
            return MarkdownBlock(kind, tuple(signs), rest)
    assert len(lines) == 1, lines
    return MarkdownBlock("paragraph", ("",), (lines[0],))


def said(line: str, *, begins: bool = True) -> str:
    """What a reader sees of a line, without marks of emphasis; one that `begins` must begin no block of its own."""
    assert not (begins and _BEGINS_A_BLOCK.match(line)), line
    assert len(re.findall(r"(?<!\\)(?:\\\\)*\*", line)) % 2 == 0, line
    seen, place = "", 0
    while place < len(line):
        reference = _REFERENCE.match(line, place)
        if line[place] == "\\" and place + 1 < len(line) and line[place + 1] in _PUNCTUATION:
            seen += line[place + 1]
            place += 2
        elif reference:
            seen += unescape(reference[0])
            place = reference.end()
        else:
            assert line[place] != "&", line[place:]
            assert not _MARKUP.match(line, place), line[place:]
            seen += "" if line[place] in "*\u200e" else line[place]
            place += 1
    return seen


def cells_of(row: str) -> list[str]:
    """The cells of a row of a table, without its first bar; GFM, section 4.10: a bar after a backslash is none."""
    *cells, last = re.split(r"(?<!\\)\|", row)
    assert last == ""
    return [cell.strip() for cell in cells]
