"""Which kinds of record an archive has, in which folders their files stand, and how they are named."""

import re
from enum import StrEnum
from pathlib import PurePosixPath

FORMAT = 1
"""The number of the format that this tool writes; an archive with a higher one is refused."""

ARCHIVE_FILE = "archive.yaml"
LONGEST_ID = 64

_ID = re.compile(r"(?!(?:con|prn|aux|nul|com[0-9]|lpt[0-9])$)[a-z0-9]+(?:-[a-z0-9]+)*")


class RecordKind(StrEnum):
    """A kind of record; the word is also the stem of its schema."""

    ARCHIVE = "archive"
    COMPONENT = "component"
    SOURCE = "source"
    CLAIM = "claim"
    COPY = "copy"
    DECISION = "decision"
    QUERY = "query"
    PANEL = "panel"
    LEAD = "lead"

    @property
    def folder(self) -> str:
        """The folder of its files inside the archive; empty for the archive's own record."""
        return _FOLDERS[self]

    def file_of(self, record_id: str) -> str:
        """The file of the record of that id, relative to the archive, with `/`."""
        return f"{self.folder}/{record_id}.yaml" if self.folder else ARCHIVE_FILE


_FOLDERS = {
    RecordKind.ARCHIVE: "",
    RecordKind.COMPONENT: "components",
    RecordKind.SOURCE: "sources",
    RecordKind.CLAIM: "claims",
    RecordKind.COPY: "copies",
    RecordKind.DECISION: "decisions",
    RecordKind.QUERY: "queries",
    RecordKind.PANEL: "panels",
    RecordKind.LEAD: "leads",
}
_KINDS = {folder: kind for kind, folder in _FOLDERS.items() if folder}

RECORD_FOLDERS = tuple(_KINDS)
"""The folders that hold records, in the order in which they are read."""


def kind_of_folder(folder: str) -> RecordKind | None:
    """Say which kind of record stands in a folder of the archive; None for a folder that holds no records."""
    return _KINDS.get(folder)


def kind_of_file(file: str) -> RecordKind | None:
    """Say what kind of record a file holds by where it stands, relative to the archive; None for no record."""
    if file == ARCHIVE_FILE:
        return RecordKind.ARCHIVE
    path = PurePosixPath(file)
    return _KINDS.get(str(path.parent)) if path.suffix == ".yaml" else None


def is_record_id(text: str) -> bool:
    """Say whether a text can be an id: small letters, digits, single hyphens, 64 at most, no name of a device."""
    return len(text) <= LONGEST_ID and _ID.fullmatch(text) is not None


def is_file_stem(kind: RecordKind, stem: str) -> bool:
    """Say whether a text can be the stem of a record's file: an id, or for a pair of copies two joined by `--`."""
    if kind is not RecordKind.COPY:
        return is_record_id(stem)
    first, _, second = stem.partition("--")
    return is_record_id(first) and is_record_id(second)
