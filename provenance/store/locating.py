"""The line of a problem that was found by comparing records, which know their fields and not their lines."""

from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

from provenance.errors import Problem
from provenance.store.document import Document
from provenance.store.record_files import read_bytes
from provenance.store.yaml_text import read_with_faults


def locate(folder: Path, problem: Problem) -> Problem:
    """Give a problem the line of its field; as it is, where it has one already or the file cannot be read."""
    return locate_all(folder, (problem,))[0]


def locate_all(folder: Path, problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Give each problem the line of its field; each file is read once, and the order stays."""
    documents: dict[str, Document | None] = {}
    return tuple(_located(folder, problem, documents) for problem in problems)


def _located(folder: Path, problem: Problem, documents: dict[str, Document | None]) -> Problem:
    place = problem.place
    if place.line is not None or not place.field:
        return problem
    if place.file not in documents:
        documents[place.file] = _read(folder, place.file)
    document = documents[place.file]
    return problem if document is None else replace(problem, place=replace(place, line=document.line_of(place.field)))


def _read(folder: Path, file: str) -> Document | None:
    try:
        return read_with_faults(read_bytes(str(folder / file)), file)[0]
    except OSError:
        return None
