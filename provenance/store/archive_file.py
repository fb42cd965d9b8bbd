"""The archive's own record, archive.yaml: without it nothing else in the folder can be judged."""

from pathlib import Path

from provenance.errors import ArchiveError, ArchiveNotFoundError, NewerFormatError, Place, Problem, Severity
from provenance.store.document import Document, Value
from provenance.store.record_files import read_bytes, unreadable
from provenance.store.record_kinds import ARCHIVE_FILE, FORMAT, RecordKind
from provenance.store.record_reading import read_record_with_faults

_FORMAT_RULE = "record/format"


def read_archive_file(folder: Path) -> tuple[dict[str, Value] | None, tuple[Problem, ...]]:
    """Read archive.yaml: what it says, typed, or None where it cannot be used; and what is wrong with it.

    One that says no format was begun before the number was written down, as format 0: it is read, with a warning.

    Raises:
        ArchiveNotFoundError: there is none.
    """
    try:
        written = read_bytes(str(folder / ARCHIVE_FILE))
    except FileNotFoundError as error:
        raise ArchiveNotFoundError(
            f"there is no archive.yaml in {folder}", "name the archive's folder with --archive"
        ) from error
    except OSError as error:
        return None, (unreadable(ARCHIVE_FILE, error),)
    document, faults = read_record_with_faults(written, ARCHIVE_FILE, RecordKind.ARCHIVE)
    if document is None:
        return None, faults
    written_format = document.content.get("format", 0)
    if isinstance(written_format, int) and written_format > FORMAT:
        return None, (_newer(document, written_format),)
    if written_format == 0:
        faults = (_older(document), *(fault for fault in faults if fault.place.field != "format"))
    usable = all(fault.severity is not Severity.ERROR for fault in faults)
    return (document.content if usable else None), faults


def _older(document: Document) -> Problem:
    return Problem(
        place=Place(file=ARCHIVE_FILE, line=document.line_of("format"), field="format"),
        rule=_FORMAT_RULE,
        what="the archive says no format, as the earliest did not",
        mend=f"run `provenance upgrade`, or write `format: {FORMAT}`",
        severity=Severity.WARN,
    )


def _newer(document: Document, written_format: int) -> Problem:
    return Problem(
        place=Place(file=ARCHIVE_FILE, line=document.line_of("format"), field="format"),
        rule=_FORMAT_RULE,
        what=f"the archive has format {written_format}, and this version reads up to {FORMAT}",
        mend="install the version of this tool that the team writes it with, or a later one",
    )


def refusal(faults: tuple[Problem, ...]) -> ArchiveError:
    """The exception that says why an archive cannot be used, given what is wrong with its archive.yaml."""
    if len(faults) == 1 and faults[0].rule == _FORMAT_RULE:
        return NewerFormatError(faults[0].what, faults[0].mend, problems=faults)
    named = "\n".join(str(fault) for fault in faults)
    return ArchiveError(f"archive.yaml cannot be used\n{named}", "mend archive.yaml first", problems=faults)
