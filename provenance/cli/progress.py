"""How far a long job is, on the error output of a terminal: a bar, pages a minute, time left."""

import sys
import time
from contextlib import AbstractContextManager
from types import TracebackType
from typing import Any

import click

LABELS = {
    "comparing": "Comparing files",
    "registering": "Registering files",
    "reading": "Reading pages",
    "fingerprinting": "Looking at pictures",
    "taking in": "Taking texts in",
    "seeking": "Comparing with all that is held",
    "indexing": "Indexing",
    "cutting out": "Cutting pictures out of pages",
}


class ProgressLines(AbstractContextManager["ProgressLines"]):
    """A bar for each step of a job; steps follow one another."""

    def __init__(self) -> None:
        """Begin without a bar."""
        self._step = ""
        self._bar: Any = None
        self._done = 0
        self._began = 0.0

    def __call__(self, step: str, done: int, total: int) -> None:
        """Show how much of a step is done."""
        if step != self._step:
            self._finish()
            self._begin(step, total)
        self._bar.update(done - self._done, self._pace(done))
        self._done = done

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """End the last bar."""
        self._finish()

    def _begin(self, step: str, total: int) -> None:
        self._step, self._done, self._began = step, 0, time.monotonic()
        self._bar = click.progressbar(
            length=total,
            label=LABELS.get(step, step),
            file=sys.stderr,
            hidden=not sys.stderr.isatty(),
            item_show_func=_as_it_is,
        )
        self._bar.__enter__()

    def _pace(self, done: int) -> str | None:
        if self._step != "reading":
            return None
        minutes = max(time.monotonic() - self._began, 0.001) / 60
        return f"{done / minutes:.0f} pages a minute"

    def _finish(self) -> None:
        if self._bar is not None:
            self._bar.__exit__(None, None, None)
            self._bar = None


def _as_it_is(pace: str | None) -> str | None:
    return pace
