"""What sound records say, kept in one derived file, so that an unchanged record is not taken apart again.

Each is found by the SHA-256 of its file's bytes, never by a date. What is kept serves to build records, and is never
written back into one. Deleting the file costs one slower start; a damaged one is not believed, nor is one that other
code or other schemas made.
"""

import hashlib
import json
from collections.abc import Iterable
from functools import cache
from pathlib import Path
from typing import Any, TypeAlias

from provenance.errors import WriteRefusedError
from provenance.store.document import Value
from provenance.store.record_kinds import RecordKind
from provenance.store.safe_writing import put_derived
from provenance.store.schema_files import schemas_folder

WORTH_KEEPING = 100
"""So many records must have been read anew before the file is written: fewer are read as fast as it is written."""

_STORE = Path(__file__).resolve().parent
_RECORDS = _STORE.parent / "records"
_NAME = "records.json"
_Contents: TypeAlias = dict[str, dict[str, Value]]


class KeptRecords:
    """The kept contents of one archive; what was asked for or added is what will be kept."""

    def __init__(self, folder: Path) -> None:
        """Read what is kept for the archive in a folder; nothing, where nothing usable is."""
        self._file = folder / ".derived" / _NAME
        self._found = _read(self._file)
        self._used: dict[str, _Contents] = {kind: {} for kind in RecordKind}
        self._added = 0

    def find(self, kind: RecordKind, digest: str) -> dict[str, Value] | None:
        """The typed content of a sound record by the SHA-256 of its file's bytes; None where it is not kept."""
        content = self._found.get(kind, {}).get(digest)
        if content is not None:
            self._used[kind][digest] = content
        return content

    def add(self, kind: RecordKind, digest: str, content: dict[str, Value]) -> None:
        """Take in the typed content of a record that was read anew and found sound."""
        self._used[kind][digest] = content
        self._added += 1

    def save(self) -> None:
        """Write the file anew where that is worth it; where it cannot be written, all goes on without."""
        if self._added < WORTH_KEEPING:
            return
        body = json.dumps(self._used, ensure_ascii=False, separators=(",", ":")).encode()
        try:
            self._file.parent.mkdir(exist_ok=True)
            put_derived(self._file, _head(body) + body)
        except (OSError, WriteRefusedError):
            return


def _read(file: Path) -> dict[str, _Contents]:
    try:
        head, _, body = file.read_bytes().partition(b"\n")
    except OSError:
        return {}
    if head + b"\n" != _head(body):
        return {}
    kept: dict[str, _Contents] = json.loads(body)
    return kept


def _head(body: bytes) -> bytes:
    """The first line: who made it, by what schemas, and the digest of the rest."""
    head: dict[str, Any] = {"made_by": _maker(), "sha256": hashlib.sha256(body).hexdigest()}
    return json.dumps(head).encode() + b"\n"


def digest_of_files(files: Iterable[Path]) -> str:
    """The SHA-256 of what stands in several files, in the order given."""
    digest = hashlib.sha256()
    for file in files:
        digest.update(file.read_bytes())
    return digest.hexdigest()


def files_that_decide() -> list[Path]:
    """The schemas, and the code that reads records: a change in any of them may change what is sound."""
    schemas = [schemas_folder() / f"{kind}.schema.json" for kind in RecordKind]
    return [*schemas, *sorted(_RECORDS.glob("*.py")), *sorted(_STORE.glob("*.py"))]


@cache
def _maker() -> str:
    return digest_of_files(files_that_decide())
