"""Two passages of text laid under one another word by word, with a mark under every letter that differs."""

from collections.abc import Iterator
from difflib import SequenceMatcher
from itertools import zip_longest

from provenance.reports.layout import plain

_NAMES = ("A  ", "B  ")
_GAP = "   "
_MARK = "^"


def aligned_lines(one: str, other: str, width: int) -> list[str]:
    """Lay two passages under one another; the first is named A, the second B.

    Args:
        one: a passage, as it was read.
        other: the passage that looks like it.
        width: of the page, in characters.

    Returns:
        For each stretch a line of each passage, with a line of marks between them where they differ. Words that only
        one of the two has stand over or under nothing.
    """
    lines: list[str] = []
    for stretch in aligned_stretches(one, other, width - len(_GAP)):
        rows = [" ".join(words).rstrip() for words in zip(*(_column(*pair) for pair in stretch), strict=True)]
        above, marks, below = rows
        lines += [f"{_NAMES[0]}{above}", *([f"{_GAP}{marks}"] if marks else []), f"{_NAMES[1]}{below}", ""]
    return lines[:-1]


def aligned_stretches(one: str, other: str, width: int) -> Iterator[list[tuple[str, str]]]:
    """The words of two passages side by side, in stretches that take no more than so many characters.

    A word that only one of the two has stands beside an empty one.
    """
    return _stretches(_columns(plain(one).split(), plain(other).split()), width)


def _columns(one: list[str], other: list[str]) -> Iterator[tuple[str, str]]:
    """The words of both, side by side; empty where one of them has none."""
    for how, start, end, there, until in SequenceMatcher(None, one, other, autojunk=False).get_opcodes():
        if how == "equal":
            yield from zip(one[start:end], other[there:until], strict=True)
        else:
            yield from zip_longest(one[start:end], other[there:until], fillvalue="")


def _stretches(columns: Iterator[tuple[str, str]], width: int) -> Iterator[list[tuple[str, str]]]:
    stretch: list[tuple[str, str]] = []
    used = 0
    for pair in columns:
        needed = max(map(len, pair)) + 1
        if stretch and used + needed > width:
            yield stretch
            stretch, used = [], 0
        stretch.append(pair)
        used += needed
    if stretch:
        yield stretch


def _column(above: str, below: str) -> tuple[str, str, str]:
    """A word of each, and what is marked between them, all equally long."""
    length = max(len(above), len(below))
    pairs = zip_longest(above, below, fillvalue="")
    marks = "".join(" " if one == other else _MARK for one, other in pairs)
    return above.ljust(length), marks.ljust(length), below.ljust(length)
