"""The pieces that were cut out of pages, kept under `.derived/cut-outs/<sha256>/p0001-<key>.cut`.

A file holds what is said of the piece and the piece itself, behind the digest of both: a damaged one is noticed, and
the piece is cut out again. It is derived data: it can be thrown away at will, and what is written here is not waited
for until it is on the disk.
"""

import hashlib
import json
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from provenance.store.by_original import ByOriginal
from provenance.store.safe_writing import put_derived

CUT_OUTS = Path(".derived") / "cut-outs"
"""Where the pieces that were cut out of the originals of an archive lie, relative to it."""

_ENDING = "cut"
_DIGEST_BYTES = 32


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptCut:
    """A piece as it is kept.

    Attributes:
        said: what is said of it; texts and numbers.
        data: the picture's own file.
    """

    said: Mapping[str, str | int | float]
    data: bytes


class CutOutsStore(ByOriginal):
    """The pieces of one archive, by digest of the original, page within it, and key of what was cut and how."""

    __slots__ = ()

    def __init__(self, folder: Path) -> None:
        """Look after the pieces of the archive in `folder`; nothing is read or made yet."""
        super().__init__(folder / CUT_OUTS, _ENDING)

    def get(self, sha256: str, page: int, key: str) -> KeptCut | None:
        """A piece as it was kept; None where there is none, or it is damaged."""
        with suppress(OSError, ValueError, RecursionError):
            kept = self._place(sha256, page, key, _ENDING).read_bytes()
            digest, content = kept[:_DIGEST_BYTES], kept[_DIGEST_BYTES:]
            if hashlib.sha256(content).digest() == digest:
                said, _, data = content.partition(b"\n")
                return KeptCut(said=json.loads(said), data=data)
        return None

    def put(self, sha256: str, page: int, key: str, cut: KeptCut) -> None:
        """Keep a piece, in the place of an earlier one of the same key.

        Raises:
            WriteRefusedError: the disk refuses.
        """
        said = json.dumps(dict(cut.said), ensure_ascii=True, sort_keys=True).encode("ascii")
        content = said + b"\n" + cut.data
        put_derived(self._place(sha256, page, key, _ENDING), hashlib.sha256(content).digest() + content)
