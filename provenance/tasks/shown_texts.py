"""What a page showed of a record that somebody is about to change, so that nobody writes over another's change."""

import hashlib
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from provenance.errors import WriteRefusedError
from provenance.store.record_files import read_bytes
from provenance.store.record_kinds import RecordKind, is_file_stem, is_record_id, kind_of_file

_TRANSCRIPT = re.compile(r"transcripts/(?P<source>[a-z0-9-]+)/(p[0-9]{4,10}\.txt|t[0-9]{2,10}\.vtt)")


class ChangedUnderneathError(WriteRefusedError):
    """A record that somebody was shown was changed by somebody else before they wrote.

    Attributes:
        files: which, relative to the archive.
    """

    def __init__(self, files: tuple[str, ...]) -> None:
        """Name the files that say something else by now."""
        super().__init__(
            f"{', '.join(files)} was changed by somebody else meanwhile",
            "look at what it says now, and write again what still holds",
        )
        self.files = files


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordText:
    """What a record file says.

    Attributes:
        sha256: of its bytes; None where there is no such file, or none that may be read.
        text: what it says; empty where there is no such file, or none that may be read.
    """

    sha256: str | None
    text: str


def texts_now(folder: Path, files: Iterable[str]) -> dict[str, RecordText]:
    """What record files say now, for somebody who is about to change them; names of no record file are passed over.

    Args:
        folder: the archive's folder.
        files: of records and transcripts, relative to the archive; there or not.
    """
    return {file: _text_now(folder / file) for file in files if is_record_file(file)}


def is_record_file(file: str) -> bool:
    """Whether a name, relative to the archive, is that of a record or a transcript, whether there or not.

    Such a name may come from an address: what no record can be called is never looked for on the disk.
    """
    kind, transcript = kind_of_file(file), _TRANSCRIPT.fullmatch(file)
    if kind is None:
        return transcript is not None and is_record_id(transcript["source"])
    return kind is RecordKind.ARCHIVE or is_file_stem(kind, PurePosixPath(file).stem)


def require_unchanged(folder: Path, shown: Mapping[str, str | None]) -> None:
    """See that every file that was shown still says what it said.

    Args:
        folder: the archive's folder.
        shown: by record file, relative to the archive, the SHA-256 of what was shown; None for no such file.

    Raises:
        ChangedUnderneathError: somebody else changed one.
    """
    changed = tuple(file for file, digest in sorted(shown.items()) if _text_now(folder / file).sha256 != digest)
    if changed:
        raise ChangedUnderneathError(changed)


def _text_now(path: Path) -> RecordText:
    try:
        data = read_bytes(str(path))
    except OSError:  # what may not be read is left out of the archive too, and a page shows nothing of it
        return RecordText(sha256=None, text="")
    return RecordText(sha256=hashlib.sha256(data).hexdigest(), text=data.decode("utf-8", "replace"))
