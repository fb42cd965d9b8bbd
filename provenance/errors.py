"""Faults as values, and the few exceptions that stop a job.

A fault in somebody's data is a `Problem`: collected, sorted, all of them shown.
An exception is for a job that cannot go on; the shell alone turns it into an exit code.

    ProvenanceError             3   the archive
      UsageRefusedError         2   what was asked for cannot be done as asked
      ArchiveError              3
        ArchiveNotFoundError    3   no archive.yaml here or in any folder above
        UnknownRecordError      3   no record of that name
        NewerFormatError        3   written by a later version of this tool
      UnreadableOriginalError   3   one original that cannot be opened; never stops a batch
      WriteRefusedError         4
      ToolMissingError          5   names the program and how to install it
      DerivedDataError          6   what lies under .derived is stale or damaged
"""

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How bad a fault in the data is: an error and a warning make `check` exit 1, a note does not."""

    ERROR = "error"
    WARN = "warn"
    NOTE = "note"


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a fault stands.

    Attributes:
        file: path relative to the archive, with `/`.
        line: counted from 1; None when the fault belongs to the file as a whole.
        field: path inside the record, such as `evidence[0].at.page` (list items from 0); empty for the record.
    """

    file: str
    line: int | None = None
    field: str = ""

    def __str__(self) -> str:
        """Write the place as people follow it: file:line: field."""
        lined = self.file if self.line is None else f"{self.file}:{self.line}"
        return f"{lined}: {self.field}" if self.field else lined


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """A fault in the data: where, which rule, what is wrong, how to mend it.

    Attributes:
        rule: the stable name of the rule, such as `schema/type` or `unknown-id`.
        what: one sentence; what is wrong, with the offending text in it.
        mend: one sentence; what to write instead.
    """

    place: Place
    rule: str
    what: str
    mend: str
    severity: Severity = Severity.ERROR

    def __str__(self) -> str:
        """Write the fault on two lines: the place with what is wrong, then the mend."""
        return f"{self.place}: {self.severity}: {self.what} [{self.rule}]\n  mend: {self.mend}"


def sort_problems(problems: "tuple[Problem, ...] | list[Problem]") -> tuple[Problem, ...]:
    """Put faults in the order in which a person walks through the files."""
    return tuple(sorted(problems, key=lambda p: (p.place.file, p.place.line or 0, p.place.field, p.rule, p.what)))


class ProvenanceError(Exception):
    """A job that cannot go on.

    Attributes:
        what: one sentence; what is wrong.
        mend: one sentence; what to do about it; empty when nothing is known.
        exit_code: what the shell exits with.
        written: the record files that had been written by then, relative to the archive, in order; empty for none.
    """

    exit_code = 3
    written: tuple[str, ...] = ()

    def __init__(self, what: str, mend: str = "") -> None:
        """Name what is wrong, and the mend."""
        super().__init__(what)
        self.what = what
        self.mend = mend

    def __str__(self) -> str:
        """Write what is wrong, and the mend on a line of its own."""
        return f"{self.what}\n  mend: {self.mend}" if self.mend else self.what


class UsageRefusedError(ProvenanceError):
    """What was asked for cannot be done as asked."""

    exit_code = 2


class ArchiveError(ProvenanceError):
    """The archive itself cannot be used.

    Attributes:
        problems: what is wrong in its files, where that is the reason; empty otherwise.
    """

    def __init__(self, what: str, mend: str = "", *, problems: tuple[Problem, ...] = ()) -> None:
        """Name what is wrong, the mend, and the faults behind it."""
        super().__init__(what, mend)
        self.problems = problems


class ArchiveNotFoundError(ArchiveError):
    """There is no archive.yaml here or in any folder above."""


class UnknownRecordError(ArchiveError):
    """No record has that name."""


class NewerFormatError(ArchiveError):
    """The archive was written by a later version of this tool."""


class UnreadableOriginalError(ProvenanceError):
    """One original cannot be opened or read; the batch goes on."""


class WriteRefusedError(ProvenanceError):
    """A write was refused; the files are as they were."""

    exit_code = 4


class ToolMissingError(ProvenanceError):
    """A program that is needed is not installed."""

    exit_code = 5


class DerivedDataError(ProvenanceError):
    """What lies under .derived is stale, damaged or missing."""

    exit_code = 6
