"""Lay out plain text: wrapped paragraphs with a hanging indent, lists, and texts of others made harmless."""

import re
import textwrap
from collections.abc import Iterable

_BREAKS = re.compile("[\t-\r]+")
# Control characters (a terminal obeys them), breaks that only some programs know, signs that turn the direction of
# writing round, and the halves that stand for bytes of a file name that are no UTF-8.
_UNSEEN = re.compile("[\x00-\x08\x0e-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ud800-\udfff]")


def plain(text: str) -> str:
    r"""Make a text fit to stand on one line of a terminal, whoever wrote it.

    Line breaks and tabs become a space; what a terminal would obey instead of showing is written out, such as `\x1b`.
    Titles, quotations, names of files and words that were read from a scan come from outside.
    """
    return _UNSEEN.sub(lambda found: ascii(found[0])[1:-1], _BREAKS.sub(" ", text))


def paragraph(text: str, width: int, *, indent: str = "", hang: str | None = None) -> list[str]:
    """Wrap a text, made plain; the first line begins with `indent`, the others with `hang` (None: the same)."""
    following = indent if hang is None else hang
    wrapped = textwrap.wrap(
        plain(text),
        width,
        initial_indent=indent,
        subsequent_indent=following,
        break_long_words=False,
        break_on_hyphens=False,
    )
    return wrapped or [indent.rstrip()]


def listed(items: Iterable[str]) -> str:
    """Join items as a sentence does: a, b and c."""
    *before, last = items
    return f"{', '.join(before)} and {last}" if before else last


def counted(number: int, one: str, many: str | None = None) -> str:
    """Write a number with its noun: one page, 3 pages, no pages."""
    if number == 1:
        return f"one {one}"
    return f"{number or 'no'} {many or one + 's'}"
