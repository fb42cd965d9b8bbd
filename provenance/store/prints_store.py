"""The fingerprints of pictures, kept under `.derived/likeness/prints/<sha256>/p0001-<key>.print`.

One file holds those of all pictures on one page. A page whose fingerprints could not be taken has a `.failed` beside,
with the reason, so that it is not tried again every night. Both are derived data: they can be thrown away at will, and
what is written here is not waited for until it is on the disk. The content carries its own digest, which whoever reads
it looks at.
"""

import os
import re
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path

from provenance.store.derived_leftovers import clean_derived
from provenance.store.safe_writing import put_derived
from provenance.store.staging import is_leftover

LIKENESS = Path(".derived") / "likeness"
"""Where all that is derived for comparing lies, relative to the archive."""

PRINTS = LIKENESS / "prints"

_SHA256 = re.compile(r"[0-9a-f]{64}")
_KEY = re.compile(r"[a-z0-9]{1,32}")
_FILE = re.compile(r"p([0-9]{4,9})-([a-z0-9]{1,32})\.(print|failed)")


class PrintsStore:
    """The fingerprints of one archive, by digest of the original, page within it, and key of the method."""

    __slots__ = ("_folder",)

    def __init__(self, folder: Path) -> None:
        """Look after the fingerprints of the archive in `folder`; nothing is read or made yet."""
        self._folder = folder / PRINTS

    def get(self, sha256: str, page: int, key: str) -> bytes | None:
        """The fingerprints of a page as they were written; None where there are none."""
        with suppress(OSError):
            return self._file(sha256, page, key, "print").read_bytes()
        return None

    def put(self, sha256: str, page: int, key: str, data: bytes) -> None:
        """Keep the fingerprints of a page; what was remembered of its failure goes.

        Raises:
            WriteRefusedError: the disk refuses.
        """
        put_derived(self._file(sha256, page, key, "print"), data)
        with suppress(OSError):
            self._file(sha256, page, key, "failed").unlink()

    def put_failure(self, sha256: str, page: int, key: str, why: str) -> None:
        """Remember why the fingerprints of a page could not be taken.

        Raises:
            WriteRefusedError: the disk refuses.
        """
        put_derived(self._file(sha256, page, key, "failed"), why.encode())

    def pages(self, sha256: str, key: str) -> tuple[frozenset[int], frozenset[int]]:
        """Of which pages of an original there are fingerprints of this method, and which were tried in vain."""
        done: dict[str, set[int]] = {"print": set(), "failed": set()}
        for page, of_key, sort in self._listed(_required(_SHA256, sha256)):
            if of_key == key:
                done[sort].add(page)
        return frozenset(done["print"]), frozenset(done["failed"])

    def clean(self, sha256: str) -> None:
        """Remove the unfinished files that killed writers left beside the fingerprints of an original."""
        clean_derived(self._folder / _required(_SHA256, sha256))

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
                named = _FILE.fullmatch(file.name)
                if named and not keep(folder.name, int(named[1]), named[2]):
                    file.unlink()
                    gone += 1
                elif is_leftover(file.name):
                    file.unlink()
            with suppress(OSError):  # what is not empty stays
                folder.rmdir()
        return gone

    def _file(self, sha256: str, page: int, key: str, sort: str) -> Path:
        return self._folder / _required(_SHA256, sha256) / f"p{page:04d}-{_required(_KEY, key)}.{sort}"

    def _folders(self) -> tuple[Path, ...]:
        with suppress(OSError):
            return tuple(entry for entry in sorted(self._folder.iterdir()) if _SHA256.fullmatch(entry.name))
        return ()

    def _listed(self, sha256: str) -> Iterator[tuple[int, str, str]]:
        with suppress(OSError), os.scandir(self._folder / sha256) as entries:
            for entry in entries:
                named = _FILE.fullmatch(entry.name)
                # Of a file that was not yet on the disk when the power failed, many file systems keep the name alone.
                if named and entry.stat(follow_symlinks=False).st_size:
                    yield int(named[1]), named[2], named[3]


def _required(pattern: re.Pattern[str], text: str) -> str:
    if not pattern.fullmatch(text):
        raise ValueError(f"{text!r} cannot be part of the place of a fingerprint")
    return text
