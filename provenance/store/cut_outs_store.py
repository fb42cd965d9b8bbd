"""The pieces that were cut out of pages, kept under `.derived/cut-outs/<sha256>/p0001-<key>.cut`.

A file holds what is said of the piece and the piece itself, behind the digest of both: a damaged one is noticed, and
the piece is cut out again. It is derived data: it can be thrown away at will, and what is written here is not waited
for until it is on the disk.
"""

import hashlib
import json
import re
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from provenance.store.derived_leftovers import clean_derived
from provenance.store.safe_writing import put_derived
from provenance.store.staging import is_leftover

CUT_OUTS = Path(".derived") / "cut-outs"
"""Where the pieces that were cut out of the originals of an archive lie, relative to it."""

_SHA256 = re.compile(r"[0-9a-f]{64}")
_KEY = re.compile(r"[a-z0-9]{1,32}")
_FILE = re.compile(r"p([0-9]{4,9})-([a-z0-9]{1,32})\.cut")
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


class CutOutsStore:
    """The pieces of one archive, by digest of the original, page within it, and key of what was cut and how."""

    __slots__ = ("_folder",)

    def __init__(self, folder: Path) -> None:
        """Look after the pieces of the archive in `folder`; nothing is read or made yet."""
        self._folder = folder / CUT_OUTS

    def get(self, sha256: str, page: int, key: str) -> KeptCut | None:
        """A piece as it was kept; None where there is none, or it is damaged."""
        with suppress(OSError, ValueError, RecursionError):
            kept = self._file(sha256, page, key).read_bytes()
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
        put_derived(self._file(sha256, page, key), hashlib.sha256(content).digest() + content)

    def clean(self, sha256: str) -> None:
        """Remove the unfinished files that killed writers left beside the pieces of an original."""
        clean_derived(self._folder / _required(_SHA256, sha256))

    def prune(self, keep: Callable[[str, int, str], bool]) -> int:
        """Throw away all that is not to be kept, and every unfinished file; how many pieces went.

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

    def _file(self, sha256: str, page: int, key: str) -> Path:
        return self._folder / _required(_SHA256, sha256) / f"p{page:04d}-{_required(_KEY, key)}.cut"

    def _folders(self) -> tuple[Path, ...]:
        with suppress(OSError):
            return tuple(entry for entry in sorted(self._folder.iterdir()) if _SHA256.fullmatch(entry.name))
        return ()


def _required(pattern: re.Pattern[str], text: str) -> str:
    if not pattern.fullmatch(text):
        raise ValueError(f"{text!r} cannot be part of the place of a piece")
    return text
