"""One record's file read whole: YAML as typed, typed by its schema, checked against it, all faults in one run."""

from dataclasses import replace

from provenance.errors import Problem
from provenance.store.document import Document, outer_field
from provenance.store.record_kinds import RecordKind, kind_of_file
from provenance.store.schema_check import check_schema
from provenance.store.typing_by_schema import type_content
from provenance.store.yaml_text import read_with_faults


def read_record(written: bytes | str, file: str) -> Document | tuple[Problem, ...]:
    """Read a record: its typed content, or everything that is wrong with it, in order of line.

    Args:
        written: what stands in the file, or is to stand there.
        file: its path relative to the archive, with `/`; the folder says what kind of record it is.

    Raises:
        ValueError: no record stands in that place.
    """
    kind = kind_of_file(file)
    if kind is None:
        raise ValueError(f"{file} is no place of a record")
    document, problems = read_record_with_faults(written, file, kind)
    return problems if document is None or problems else document


def read_record_with_faults(
    written: bytes | str, file: str, kind: RecordKind
) -> tuple[Document | None, tuple[Problem, ...]]:
    """Read a record as far as it can be read; the document is None where nothing can.

    A field that YAML already has a fault with is not judged by the schema too.
    """
    document, faults = read_with_faults(written, file)
    if document is None:
        return None, faults
    document = replace(document, content=type_content(document.content, kind))
    named = {fault.place.field for fault in faults}
    shapes = [problem for problem in check_schema(document, kind) if not _lies_in(problem.place.field, named)]
    return document, tuple(sorted((*faults, *shapes), key=lambda problem: problem.place.line or 0))


def _lies_in(field: str, named: set[str]) -> bool:
    while field:
        if field in named:
            return True
        field = outer_field(field)
    return False
