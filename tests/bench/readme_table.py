"""The README's table of figures, written from a run of the whole benchmark."""

import textwrap
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from bench.figures import Figure

BEGINS = "<!-- written by tests/bench/run.sh -->"
ENDS = "<!-- to here -->"
_HEAD = ("| what | figure | promised | ratio |", "|---|---|---|---|")


def write_table(readme: Path, figures: Iterable[Figure], about: Mapping[str, Any], *, whole: bool) -> None:
    """Put the figures that carry a promise in the place of the table that stands between the two marks.

    Args:
        readme: the file.
        figures: what was measured.
        about: on what.
        whole: whether everything was measured; else the rows of other figures stay as they are.

    Raises:
        ValueError: the marks are not there.
    """
    text = readme.read_text(encoding="utf-8")
    before, begins, rest = text.partition(BEGINS)
    table, ends, after = rest.partition(ENDS)
    if not begins or not ends:
        raise ValueError(f"{readme.name} has no place for the table: {BEGINS} … {ENDS}")
    readme.write_text(
        f"{before}{BEGINS}\n\n{as_table(figures, about, {} if whole else _rows_of(table))}\n{ENDS}{after}",
        encoding="utf-8",
    )


def as_table(figures: Iterable[Figure], about: Mapping[str, Any], others: Mapping[str, str]) -> str:
    """The figures that carry a promise as a Markdown table, behind the rows of others; and what they come from."""
    rows = dict(others)
    for figure in figures:
        if figure.promised is not None:
            measured = f"{figure.value:.3g} {figure.unit} | {_promise(figure)} | {_ratio(figure)}"
            rows[figure.name] = f"| {figure.name} | {measured} |"
    return "\n".join((*_HEAD, *rows.values(), "", _where(about), ""))


def _rows_of(table: str) -> dict[str, str]:
    """The rows that stand in a table, by what they are about."""
    rows = [line for line in table.splitlines() if line.startswith("| ") and line not in _HEAD]
    return {line.split(" | ")[0].removeprefix("| "): line for line in rows}


def _promise(figure: Figure) -> str:
    word = "at least" if figure.more_is_better else "at most"
    return f"{word} {figure.promised:.4g}"


def _ratio(figure: Figure) -> str:
    ratio = figure.value / (figure.promised or 1)
    return f"{ratio:.2f}" if figure.is_reached else f"{ratio:.2f}, short"


def _where(about: Mapping[str, Any]) -> str:
    libraries = ", ".join(f"{name} {version}" for name, version in about["libraries"].items())
    told = (
        f"Measured on {about['machine']}, {about['cores']} cores; Python {about['python']}, {about['tesseract']}, "
        f"{libraries}."
    )
    return textwrap.fill(told, 120, break_on_hyphens=False)
