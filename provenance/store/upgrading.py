"""Bringing an archive of an earlier format up to today's, step by step.

Format 1 is the first. An archive whose archive.yaml says no format was begun before the number was written down; it is
taken as format 0, and differs from format 1 in nothing but that line. The number is written last, so that an upgrade
that is broken off begins again at the same step: each step must do no harm when it is taken twice.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

from provenance.errors import ArchiveError, ArchiveNotFoundError, NewerFormatError
from provenance.store.document import Document
from provenance.store.editing import AddKey, Change, SetScalar, edit_file
from provenance.store.fixity import sha256_of
from provenance.store.record_kinds import ARCHIVE_FILE, FORMAT
from provenance.store.yaml_text import read_yaml


@dataclass(frozen=True, slots=True, kw_only=True)
class UpgradeResult:
    """What an upgrade did.

    Attributes:
        before: the format that the archive had; 0 where it said none.
        after: the format that it has now.
        written: the files that were changed, relative to the archive, in order; empty when there was nothing to do.
    """

    before: int
    after: int
    written: tuple[str, ...] = ()


Step = Callable[[Path], tuple[str, ...]]


def leave_records(_folder: Path) -> tuple[str, ...]:
    """Change no record: the step to a format that differs in its number alone."""
    return ()


STEPS: Mapping[int, Step] = {0: leave_records}
"""How to go from each format to the next: takes the archive's folder, gives the files that it changed."""


def upgrade(folder: Path, *, steps: Mapping[int, Step] = STEPS, to: int = FORMAT) -> UpgradeResult:
    """Bring an archive up to a format; the caller holds the archive's lock.

    Args:
        folder: the archive's folder.
        steps: the step from each earlier format to the next.
        to: the format wanted.

    Raises:
        ArchiveNotFoundError: there is no archive.yaml in the folder.
        ArchiveError: archive.yaml cannot be read, or its format is no whole number.
        NewerFormatError: the archive has a later format than that.
        WriteRefusedError: the disk refuses, or the file has no place for the number.
    """
    before = format_of(folder)
    if before > to:
        raise NewerFormatError(
            f"the archive has format {before}; this version of the tool knows up to {to}",
            "install a later version of it",
        )
    written: list[str] = []
    for number in range(before, to):
        written += steps[number](folder)
        _write_number(folder, number + 1)
        written.append(ARCHIVE_FILE)
    return UpgradeResult(before=before, after=to, written=tuple(dict.fromkeys(written)))


def format_of(folder: Path) -> int:
    """The number of the format that an archive says it has; 0 where it says none.

    Raises:
        ArchiveNotFoundError: there is no archive.yaml in the folder.
        ArchiveError: archive.yaml cannot be read, or its format is no whole number.
    """
    try:
        document = read_yaml((folder / ARCHIVE_FILE).read_bytes(), ARCHIVE_FILE)
    except FileNotFoundError as error:
        raise ArchiveNotFoundError(f"there is no {ARCHIVE_FILE} in {folder}", "name the archive's folder") from error
    except OSError as error:
        raise ArchiveError(f"{folder / ARCHIVE_FILE} cannot be read: {error.strerror}") from error
    if not isinstance(document, Document):
        raise ArchiveError(f"{document[0].place}: {document[0].what}", document[0].mend)
    number = document.content.get("format", "0")
    if not (isinstance(number, str) and number.isascii() and number.isdecimal()):
        raise ArchiveError(f"{ARCHIVE_FILE}: format {number} is no whole number", f"write `format: {FORMAT}`")
    return int(number)


def _write_number(folder: Path, number: int) -> None:
    path = folder / ARCHIVE_FILE
    has_number = "format" in _keys(path)
    change: Change = SetScalar(("format",), number) if has_number else AddKey((), "format", number, first=True)
    edit_file(path, (change,), expected_sha256=sha256_of(path), within=folder)


def _keys(path: Path) -> frozenset[str]:
    document = read_yaml(path.read_bytes(), ARCHIVE_FILE)
    return frozenset(document.content) if isinstance(document, Document) else frozenset()
