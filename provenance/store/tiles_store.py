"""The pages that were cut into tiles, kept under `.derived/tiles/<sha256>/p0001-<key>.tiles`.

What a file holds is the matter of whoever cuts the tiles; here is only where it lies. It is derived data: it can be
thrown away at will, and what is written here is not waited for until it is on the disk.
"""

from pathlib import Path

from provenance.store.by_original import ByOriginal
from provenance.store.safe_writing import put_derived

TILES = Path(".derived") / "tiles"
"""Where the tiles of the originals of an archive lie, relative to it."""

_ENDING = "tiles"


class TilesStore(ByOriginal):
    """The tiles of one archive, by digest of the original, page within it, and key of which tiles, cut how."""

    __slots__ = ()

    def __init__(self, folder: Path) -> None:
        """Look after the tiles of the archive in `folder`; nothing is read or made yet."""
        super().__init__(folder / TILES, _ENDING)

    def place(self, sha256: str, page: int, key: str) -> Path:
        """Where the file lies, if it is there.

        Raises:
            ValueError: the digest or the key is none.
        """
        return self._place(sha256, page, key, _ENDING)

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
