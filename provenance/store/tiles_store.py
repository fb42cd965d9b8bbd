"""The pages that were cut into tiles, kept under `.derived/tiles/<sha256>/p0001-<key>.tiles`.

What a file holds is the matter of whoever cuts the tiles; here is only where it lies. It is derived data: it can be
thrown away at will, and what is written here is not waited for until it is on the disk.
"""

import re
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from provenance.store.derived_leftovers import clean_derived
from provenance.store.safe_writing import put_derived
from provenance.store.staging import is_leftover

TILES = Path(".derived") / "tiles"
"""Where the tiles of the originals of an archive lie, relative to it."""

_SHA256 = re.compile(r"[0-9a-f]{64}")
_KEY = re.compile(r"[a-z0-9]{1,32}")
_FILE = re.compile(r"p([0-9]{4,9})-([a-z0-9]{1,32})\.tiles")


class TilesStore:
    """The tiles of one archive, by digest of the original, page within it, and key of which tiles, cut how."""

    __slots__ = ("_folder",)

    def __init__(self, folder: Path) -> None:
        """Look after the tiles of the archive in `folder`; nothing is read or made yet."""
        self._folder = folder / TILES

    def place(self, sha256: str, page: int, key: str) -> Path:
        """Where the file lies, if it is there.

        Raises:
            ValueError: the digest or the key is none.
        """
        return self._folder / _required(_SHA256, sha256) / f"p{page:04d}-{_required(_KEY, key)}.tiles"

    def put(self, sha256: str, page: int, key: str, data: bytes) -> Path:
        """Keep a file, in the place of an earlier one of the same key.

        Returns:
            Where it is.

        Raises:
            WriteRefusedError: the disk refuses.
        """
        place = self.place(sha256, page, key)
        put_derived(place, data)
        return place

    def clean(self, sha256: str) -> None:
        """Remove the unfinished files that killed writers left beside the tiles of an original."""
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

    def _folders(self) -> tuple[Path, ...]:
        with suppress(OSError):
            return tuple(entry for entry in sorted(self._folder.iterdir()) if _SHA256.fullmatch(entry.name))
        return ()


def _required(pattern: re.Pattern[str], text: str) -> str:
    if not pattern.fullmatch(text):
        raise ValueError(f"{text!r} cannot be part of the place of tiles")
    return text
