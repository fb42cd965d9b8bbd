"""Which files of an archive hold records, and what else lies among them; nothing is passed over in silence."""

import errno
import os
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from provenance.errors import Place, Problem, Severity
from provenance.records.wording import quote
from provenance.store.document import Value
from provenance.store.fault_wording import nearest_name
from provenance.store.record_kinds import LONGEST_ID, RECORD_FOLDERS, RecordKind, is_file_stem, kind_of_folder
from provenance.store.staging import is_leftover
from provenance.store.yaml_text import LARGEST_FILE

_OTHER_FOLDERS = frozenset({"originals", "transcripts"})
_KEEPS_A_FOLDER = ".gitkeep"
_READ_AS_IT_IS = os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK | os.O_CLOEXEC
_ALMOST_YAML = re.compile(r"(?P<stem>.+)\.ya?ml", re.IGNORECASE)
_LINK = "this is a symbolic link, which is not followed"
_NO_LINK = "put what it leads to in the place of the link"
_FORM = "small letters, digits and single hyphens, 64 at most, and no name of a device such as con"
_FORM_OF_PAIR = "the ids of the two sources, in order, joined by --"
_WARN, _NOTE = Severity.WARN, Severity.NOTE
_UNFIT = re.compile(r"[^a-z0-9]+")


@dataclass(frozen=True, slots=True)
class RecordFile:
    """A file that holds a record.

    Attributes:
        file: its path relative to the archive, with `/`.
    """

    kind: RecordKind
    id: str
    file: str


@dataclass(slots=True)
class Listing:
    """What lies in the folders of records.

    Attributes:
        files: the files to read, by folder, then by name in order of code points.
        problems: what lies there besides, each with a mend.
        left_out: paths of what looks like a record, or a whole folder of them, and is not read.
    """

    files: list[RecordFile] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    left_out: list[str] = field(default_factory=list)

    def leave_out(self, problem: Problem) -> None:
        """Take in a problem for which something is not read that looks like a record."""
        self.left_out.append(problem.place.file)
        self.problems.append(problem)


def list_record_files(folder: Path) -> Listing:
    """List the files of records in an archive, without reading any."""
    listing = Listing()
    for entry in _entries(folder):
        kind = kind_of_folder(entry.name)
        if kind is None:
            _look_at_stray_folder(entry, listing)
        elif entry.is_symlink():
            listing.leave_out(_problem(entry.name, "record/link", _LINK, _NO_LINK))
        elif entry.is_dir():
            for inner in _entries(Path(entry.path)):
                _look_at(inner, kind, listing)
        else:
            mend = "move it elsewhere: the folder of that name is for records"
            listing.leave_out(_problem(entry.name, "record/folder", "this is no folder", mend, _WARN))
    listing.files.sort(key=lambda record: (RECORD_FOLDERS.index(record.kind.folder), record.id))
    return listing


def read_bytes(path: str) -> bytes:
    """Read a record's file, at most one byte more than a record may have; no link is followed, no pipe waited for.

    Raises:
        OSError: it cannot be read.
    """
    descriptor = os.open(path, _READ_AS_IT_IS)
    data, due = b"", LARGEST_FILE + 1
    try:
        while due and (more := os.read(descriptor, due)):
            data += more
            due -= len(more)
    finally:
        os.close(descriptor)
    return data


def unreadable(file: str, error: OSError) -> Problem:
    """The problem of a file, by its path relative to the archive, that the system would not read."""
    if error.errno == errno.ELOOP:
        return _problem(file, "record/link", _LINK, _NO_LINK)
    what = f"the file cannot be read: {error.strerror}"
    return Problem(
        place=Place(file=file), rule="record/unreadable", what=what, mend="put a file there that you may read"
    )


def fault_of_pair_name(record_file: RecordFile, content: dict[str, Value]) -> Problem | None:
    """Say what is wrong with the name of a pair of copies, given what its file says; None for every other kind."""
    if record_file.kind is not RecordKind.COPY:
        return None
    between = content["between"]
    due = "--".join(sorted(str(source) for source in between)) if isinstance(between, list) else ""
    if due == record_file.id and between == due.split("--"):
        return None
    return Problem(
        place=Place(file=record_file.file, field="between"),
        rule="record/id",
        what=f"{record_file.id}.yaml is not the name of this pair, or its two ids are not in order",
        mend=f"name the file {due}.yaml, and write `between: [{due.replace('--', ', ')}]`",
    )


def _entries(folder: Path) -> Iterator[os.DirEntry[str]]:
    with os.scandir(folder) as entries:
        yield from sorted(entries, key=lambda entry: entry.name)


def _look_at_stray_folder(entry: os.DirEntry[str], listing: Listing) -> None:
    name = entry.name
    if name.startswith(".") or name in _OTHER_FOLDERS or not entry.is_dir(follow_symlinks=False):
        return
    meant = nearest_name(name, RECORD_FOLDERS)
    if meant is not None:
        mend = f"move what is in it to `{meant}`, or give it a name that is less like that one"
        listing.leave_out(_problem(name, "record/folder", f"{quote(name)} is no folder of records", mend, _WARN))


def _look_at(entry: os.DirEntry[str], kind: RecordKind, listing: Listing) -> None:
    name, file = entry.name, f"{kind.folder}/{entry.name}"
    stem, dot, ending = name.rpartition(".")
    if entry.is_symlink():
        listing.leave_out(_problem(file, "record/link", _LINK, _NO_LINK))
    elif entry.is_dir():
        mend = f"records stand side by side in {kind.folder}: move them there, or the folder elsewhere"
        listing.leave_out(_problem(file, "record/folder", "a folder among records is not read", mend, _WARN))
    elif not entry.is_file():
        mend = "remove it, or move it elsewhere"
        listing.problems.append(_problem(file, "record/file-name", "this is no plain file", mend, _WARN))
    elif dot and ending == "yaml" and is_file_stem(kind, stem):
        listing.files.append(RecordFile(kind, stem, file))
    elif name != _KEEPS_A_FOLDER and not is_leftover(name):
        _look_at_odd_name(name, kind, listing)


def _look_at_odd_name(name: str, kind: RecordKind, listing: Listing) -> None:
    file = f"{kind.folder}/{name}"
    almost = _ALMOST_YAML.fullmatch(name)
    if almost is None or name.startswith("."):
        mend = "remove it, or move it out of the folder of records"
        listing.problems.append(_problem(file, "record/file-name", "this is no record and is not read", mend, _NOTE))
        return
    mend = (
        f"rename it to `{_fit_stem(almost['stem'], kind)}.yaml`: {_FORM_OF_PAIR if kind is RecordKind.COPY else _FORM}"
    )
    if name.endswith(".yaml"):
        what = f"{quote(almost['stem'])} is no id, so this record is not read"
        listing.leave_out(_problem(file, "record/id", what, mend))
    else:
        what = "the name does not end in .yaml, so this record is not read"
        listing.leave_out(_problem(file, "record/file-name", what, mend))


def _fit_stem(stem: str, kind: RecordKind) -> str:
    """A stem that would do, made of what can be kept of the one that does not."""
    if kind is RecordKind.COPY:
        return "first--second"
    kept = _UNFIT.sub("-", stem.lower()).strip("-")[:LONGEST_ID].strip("-")
    return kept if is_file_stem(kind, kept) else f"{kind}-{kept}".strip("-")


def _problem(file: str, rule: str, what: str, mend: str, severity: Severity = Severity.ERROR) -> Problem:
    return Problem(place=Place(file=file), rule=rule, what=what, mend=mend, severity=severity)
