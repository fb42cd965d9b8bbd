"""Who is writing: --by, else PROVENANCE_BY, else the local settings file, else asked at a terminal."""

import os
import sys
from pathlib import Path

import click

from provenance.errors import UsageRefusedError

VARIABLE = "PROVENANCE_BY"


def resolve_by(given: str | None, start: Path) -> str:
    """Find out who is writing.

    Args:
        given: what `--by` says; None where it was not used.
        start: a folder in the archive, whose local settings may name somebody.

    Raises:
        UsageRefusedError: nobody is named, and there is no terminal to ask at.
        ArchiveNotFoundError: there is no archive there.
    """
    from provenance.tasks.own_settings import writes_here

    return given or os.environ.get(VARIABLE) or writes_here(start) or ask_who()


def resolve_first_by(given: str | None) -> str:
    """Find out who begins an archive; there are no local settings yet.

    Raises:
        UsageRefusedError: nobody is named, and there is no terminal to ask at.
    """
    return given or os.environ.get(VARIABLE) or ask_who()


def ask_who() -> str:
    """Ask at the terminal who is writing.

    Raises:
        UsageRefusedError: there is no terminal to ask at.
    """
    if not sys.stdin.isatty():
        raise UsageRefusedError(
            "it is not said who is writing",
            f"add `--by ID` (an id of `people` in archive.yaml), or set {VARIABLE}, "
            "or write `by: ID` into .provenance.local.yaml",
        )
    answer: str = click.prompt("Who is writing (an id of `people`)?", err=True)
    return answer
