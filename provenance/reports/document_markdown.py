"""A document as Markdown: CommonMark 0.31 with the tables of GFM, every text of others made harmless."""

import re
import unicodedata
from collections.abc import Iterator

from provenance.reports.document import (
    Block,
    Boxed,
    Document,
    Figure,
    Heading,
    Listing,
    Paragraph,
    Quotation,
    Run,
    Table,
    Terms,
    Together,
    Words,
    flat,
)
from provenance.reports.document_settled import name_of_box, settled
from provenance.reports.fit_text import shown, shown_lines, stretches

# CommonMark 0.31, section 2.4: a backslash before any ASCII punctuation makes it literal. `<`, `>` and `&` become
# character references, since some programs hand HTML on before they look at backslashes; `://`, `www.` and `@` are
# broken up, since some programs make links of them (GFM, section 6.9).
_SPECIAL = re.compile(r"[\\`*_{}\[\]|~^$@!]|(?<=\w):(?=//)|(?<=www)\.", re.IGNORECASE)
_REFERENCES = {"&": "&amp;", "<": "&lt;", ">": "&gt;"}
_BEGINNING = re.compile(r"^(\d{1,9}(?=[.)])|(?=[-+=#:]))")
_LAST_HASH = re.compile(r"#$")
_FIRST_SPACES = re.compile(r"^ +")
_LEFT_TO_RIGHT_MARK = "\u200e"  # Unicode Annex 9: what follows a name that runs from the right stays at its right
_PICTURE = "Picture, which a text file cannot show"


def document_markdown(document: Document) -> str:
    """Write the whole text; the same document gives the same text.

    Links inside the document are plain words, and pictures are told of in words: neither has a form that every program
    takes. What stands on every printed page stands first and last.
    """
    ready = settled(document)
    running = _words((Run(text=ready.running, slanted=True),))
    body, adjacent = [running], 0
    for block in flat(ready.blocks):
        adjacent = adjacent + 1 if isinstance(block, Listing | Terms) else 0
        body.append("\n".join(_block(block, second=adjacent % 2 == 0)))
    return "\n\n".join([*body, running]) + "\n"


def markdown_text(text: str) -> str:
    """Write a text so that Markdown shows it as it is, on one line and wherever it stands."""
    return _line(_inside(text))


def _inside(text: str) -> str:
    """A text that stands after others on a line."""
    pieces = (f"{piece}{_LEFT_TO_RIGHT_MARK}" if turned else piece for piece, turned in stretches(shown(text)))
    escaped = _SPECIAL.sub(r"\\\g<0>", "".join(pieces))
    return "".join(_REFERENCES.get(letter, letter) for letter in escaped)


def _line(inside: str) -> str:
    """What stands first on a line, so that it begins no list, no heading and nothing else."""
    return _BEGINNING.sub(r"\1\\", inside.strip())


def _words(words: Words) -> str:
    texts = [_inside(run.text) for run in words]
    line = ""
    for run, text, following in zip(words, texts, [*texts[1:], ""], strict=True):
        mark = "*" * (2 * run.strong + run.slanted)
        line += _marked(mark, text, line[-1:], following[:1])
    return _line(line)


def _marked(mark: str, text: str, before: str, after: str) -> str:
    """A text between marks that make it stand out; without them where they would be read as stars."""
    inside = text.strip()
    if not mark or not inside or before == "*":
        return text
    first, last = text[: text.index(inside)], text[text.index(inside) + len(inside) :]
    opens = _is_apart(first or before) or not _is_punctuation(inside[0])
    closes = _is_apart(last or after) or not _is_punctuation(inside[-1])
    return f"{first}{mark}{inside}{mark}{last}" if opens and closes else text


def _is_apart(neighbour: str) -> bool:
    """Whether a mark may stand between this and punctuation (CommonMark 0.31, section 6.2)."""
    return not neighbour or neighbour.isspace() or _is_punctuation(neighbour)


def _is_punctuation(letter: str) -> bool:
    return unicodedata.category(letter)[0] in "PS"


def _block(block: Block, *, second: bool) -> Iterator[str]:
    """The lines of a block; of two lists one after the other, the second has other signs, or they would be one."""
    match block:
        case Heading():
            text = _LAST_HASH.sub(r"\#", _inside(block.text).strip())  # it would be taken for the heading's own
            yield f"{'#' * block.level} {text}"
        case Paragraph():
            yield _words(block.words)
        case Boxed():
            between = " " if block.name and block.text else ""
            yield _words((Run(text=name_of_box(block.name), strong=True), Run(text=between + block.text)))
        case Quotation():
            yield from _quotation(block)
        case Listing():
            for number, entry in enumerate(block.entries, 1):
                sign = f"{number}{')' if second else '.'}" if block.numbered else _bullet(second=second)
                yield f"{sign} {_words(entry.words)}"
        case _:
            yield from _larger_block(block, second=second)


def _larger_block(block: Terms | Table | Figure | Together, *, second: bool) -> Iterator[str]:
    match block:
        case Terms():
            for word, meaning in block.pairs:
                named = Run(text=word.strip(), strong=True)
                yield f"{_bullet(second=second)} {_words((named, Run(text=': '), *meaning))}"
        case Table():
            yield from _table(block)
        case Figure():
            yield rf"\[{_PICTURE}: {_inside(block.picture.says).strip()}\]"
            if block.caption:
                yield from ("", _words(block.caption))
        case Together():  # they have been taken apart
            raise AssertionError(block)


def _bullet(*, second: bool) -> str:
    return "+" if second else "-"


def _quotation(block: Quotation) -> Iterator[str]:
    """A quotation, in which every line break and the spaces before a line are kept."""
    for number, lines in enumerate(shown_lines(block.text)):
        if number:
            yield ">"
        written = [f"> {_with_first_spaces(line)}" for line in lines]
        yield from (f"{line}\\" for line in written[:-1])
        yield written[-1]


def _with_first_spaces(line: str) -> str:
    spaces = _FIRST_SPACES.match(line)
    return ("&nbsp;" * len(spaces[0]) if spaces else "") + _line(_inside(line))


def _table(block: Table) -> Iterator[str]:
    if block.caption.strip():
        yield from (_words((Run(text=block.caption, strong=True),)), "")
    yield _row(column.heading for column in block.columns)
    yield f"| {' | '.join('---:' if column.figures else '---' for column in block.columns)} |"
    yield from (_row(row) for row in block.rows)


def _row(texts: Iterator[str] | tuple[str, ...]) -> str:
    return f"| {' | '.join(_inside(text).strip() for text in texts)} |"
