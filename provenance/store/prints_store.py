"""The fingerprints of pictures, kept under `.derived/likeness/prints/<sha256>/p0001-<key>.print`.

One file holds those of all pictures on one page. A page whose fingerprints could not be taken has a `.failed` beside,
with the reason, so that it is not tried again every night. Both are derived data: they can be thrown away at will, and
what is written here is not waited for until it is on the disk. The content carries its own digest, which whoever reads
it looks at.
"""

import os
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from provenance.store.by_original import ByOriginal
from provenance.store.safe_writing import put_derived

LIKENESS = Path(".derived") / "likeness"
"""Where all that is derived for comparing lies, relative to the archive."""

PRINTS = LIKENESS / "prints"


class PrintsStore(ByOriginal):
    """The fingerprints of one archive, by digest of the original, page within it, and key of the method."""

    __slots__ = ()

    def __init__(self, folder: Path) -> None:
        """Look after the fingerprints of the archive in `folder`; nothing is read or made yet."""
        super().__init__(folder / PRINTS, "print", "failed")

    def get(self, sha256: str, page: int, key: str) -> bytes | None:
        """The fingerprints of a page as they were written; None where there are none."""
        with suppress(OSError):
            return self._place(sha256, page, key, "print").read_bytes()
        return None

    def put(self, sha256: str, page: int, key: str, data: bytes) -> None:
        """Keep the fingerprints of a page; what was remembered of its failure goes.

        Raises:
            WriteRefusedError: the disk refuses.
        """
        put_derived(self._place(sha256, page, key, "print"), data)
        with suppress(OSError):
            self._place(sha256, page, key, "failed").unlink()

    def put_failure(self, sha256: str, page: int, key: str, why: str) -> None:
        """Remember why the fingerprints of a page could not be taken.

        Raises:
            WriteRefusedError: the disk refuses.
        """
        put_derived(self._place(sha256, page, key, "failed"), why.encode())

    def pages(self, sha256: str, key: str) -> tuple[frozenset[int], frozenset[int]]:
        """Of which pages of an original there are fingerprints of this method, and which were tried in vain."""
        done: dict[str, set[int]] = {"print": set(), "failed": set()}
        for page, of_key, sort in self._listed(sha256):
            if of_key == key:
                done[sort].add(page)
        return frozenset(done["print"]), frozenset(done["failed"])

    def _listed(self, sha256: str) -> Iterator[tuple[int, str, str]]:
        folder = self._of(sha256)
        with suppress(OSError), os.scandir(folder) as entries:
            for entry in entries:
                named = self._name.fullmatch(entry.name)
                # Of a file that was not yet on the disk when the power failed, many file systems keep the name alone.
                if named and entry.stat(follow_symlinks=False).st_size:
                    yield int(named[1]), named[2], named[3]
