"""Where files that are derived from the pages of originals lie: a folder an original, a file a page and key."""

import re
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from provenance.store.derived_leftovers import clean_derived
from provenance.store.staging import is_leftover

_SHA256 = re.compile(r"[0-9a-f]{64}")
_KEY = re.compile(r"[a-z0-9]{1,32}")


class ByOriginal:
    """Derived files under `<folder>/<sha256>/p0001-<key>.<ending>`; they can be thrown away at will."""

    __slots__ = ("_folder", "_name")

    def __init__(self, folder: Path, *endings: str) -> None:
        """Look after the files with these endings in a folder; nothing is read or made yet."""
        self._folder = folder
        self._name = re.compile(rf"p([0-9]{{4,9}})-([a-z0-9]{{1,32}})\.({'|'.join(endings)})")

    def clean(self, sha256: str) -> None:
        """Remove the unfinished files that killed writers left beside what is derived from an original."""
        clean_derived(self._of(sha256))

    def prune(self, keep: Callable[[str, int, str], bool]) -> int:
        """Throw away all that is not to be kept, and every unfinished file; how many files went.

        Args:
            keep: asked of each with digest, page and key.

        Raises:
            OSError: a file cannot be removed.
        """
        gone = 0
        for folder in self._folders():
            for file in sorted(folder.iterdir()):
                named = self._name.fullmatch(file.name)
                if named and not keep(folder.name, int(named[1]), named[2]):
                    file.unlink()
                    gone += 1
                elif is_leftover(file.name):
                    file.unlink()
            with suppress(OSError):  # what is not empty stays
                folder.rmdir()
        return gone

    def _of(self, sha256: str) -> Path:
        return self._folder / _required(_SHA256, sha256)

    def _place(self, sha256: str, page: int, key: str, ending: str) -> Path:
        return self._of(sha256) / f"p{page:04d}-{_required(_KEY, key)}.{ending}"

    def _folders(self) -> tuple[Path, ...]:
        with suppress(OSError):
            return tuple(entry for entry in sorted(self._folder.iterdir()) if _SHA256.fullmatch(entry.name))
        return ()


def _required(pattern: re.Pattern[str], text: str) -> str:
    if not pattern.fullmatch(text):
        raise ValueError(f"{text!r} cannot be part of the place of what is derived from an original")
    return text
