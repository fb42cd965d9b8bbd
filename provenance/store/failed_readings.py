"""Pages that could not be read, kept beside the readings as `.derived/readings/<sha256>/p0001-<key>.unread`.

A page that hung or broke its reader would do so again every night. What became of it is remembered under the key of the
engine, languages and settings that it was to be read with, so that it is tried again as soon as one of those changes,
or when `rebuild` is told to. Like a reading it is derived data, and carries the digest of its own content.
"""

import hashlib
import json
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from provenance.store.readings_store import place_of
from provenance.store.safe_writing import put_derived


@dataclass(frozen=True, slots=True, kw_only=True)
class FailedReading:
    """What became of a page that could not be read.

    Attributes:
        why: one sentence for people.
        kind: what sort of fault it was, such as `time`.
        engine: the recogniser that there was, such as `tesseract 5.3.0`; empty where there was none.
        is_costly: whether trying again would take long or break the reader again, so that only `rebuild` does.
    """

    why: str
    kind: str
    engine: str
    is_costly: bool

    @property
    def why_not_again(self) -> str:
        """Why it was not read, and what would have it tried again."""
        return f"{self.why}; it is not tried again until `provenance rebuild`" if self.is_costly else self.why


class FailedReadings:
    """The pages of one archive that could not be read, by digest of the original, page within it, and key."""

    __slots__ = ("_folder",)

    def __init__(self, folder: Path) -> None:
        """Look after what is remembered of the archive in `folder`; nothing is read or made yet."""
        self._folder = folder

    def get(self, sha256: str, page: int, key: str) -> FailedReading | None:
        """What became of a page when it was last tried under this key; None where nothing is remembered, or damaged."""
        with suppress(OSError, ValueError, TypeError, KeyError):
            kept = json.loads(self._file(sha256, page, key).read_bytes())
            if kept["digest"] == _digest(kept["failed"]):
                return FailedReading(**kept["failed"])
        return None

    def put(self, sha256: str, page: int, key: str, failed: FailedReading) -> None:
        """Remember what became of a page.

        Raises:
            WriteRefusedError: the disk refuses.
        """
        content = {"why": failed.why, "kind": failed.kind, "engine": failed.engine, "is_costly": failed.is_costly}
        kept = {"digest": _digest(content), "failed": content}
        put_derived(self._file(sha256, page, key), json.dumps(kept, ensure_ascii=True).encode("ascii"))

    def forget(self, sha256: str, page: int, key: str) -> None:
        """Forget what became of a page under this key, once it has been read; what cannot be removed stays."""
        with suppress(OSError):
            self._file(sha256, page, key).unlink()

    def _file(self, sha256: str, page: int, key: str) -> Path:
        return place_of(self._folder, sha256, page, key).with_suffix(".unread")


def _digest(content: dict[str, object]) -> str:
    return hashlib.sha256(json.dumps(content, sort_keys=True, ensure_ascii=True).encode("ascii")).hexdigest()
