"""Lay out plain text: wrapped paragraphs with a hanging indent, and lists."""

import textwrap
from collections.abc import Iterable


def paragraph(text: str, width: int, *, indent: str = "", hang: str | None = None) -> list[str]:
    """Wrap a text; the first line begins with `indent`, the others with `hang` (None: the same)."""
    following = indent if hang is None else hang
    wrapped = textwrap.wrap(
        text, width, initial_indent=indent, subsequent_indent=following, break_long_words=False, break_on_hyphens=False
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
