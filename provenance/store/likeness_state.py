"""How far the comparing of an archive is: which pages are in the index of pictures, and which sources were compared.

It lies in `.derived/likeness/state.json`, carries the digest of its own content, and is derived data: where it is
missing or damaged, everything is compared once more, and a pair that is on record already is not written again.
"""

import hashlib
import json
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path

from filelock import FileLock, Timeout

from provenance.errors import WriteRefusedError
from provenance.store.prints_store import LIKENESS
from provenance.store.safe_writing import put_derived
from provenance.store.staging import refused_cleanly

STATE = LIKENESS / "state.json"
_FORMAT = 1


@dataclass(slots=True, kw_only=True)
class LikenessState:
    """How far the comparing is.

    Attributes:
        pages: by page (`<sha256>/p0001`), how many pictures on it are in the index, under which method.
        compared: by source id, the digest of what it consisted of when it was compared with all others.
    """

    pages: dict[str, tuple[str, int]] = field(default_factory=dict)
    compared: dict[str, str] = field(default_factory=dict)


@contextmanager
def comparing_lock(folder: Path, *, patience: float = 60.0) -> Iterator[None]:
    """Be the only one who compares, and brings the indexes of pictures and texts up to date.

    It is another lock than the archive's, so that people can write records while much is being compared.

    Args:
        folder: of the archive.
        patience: how many seconds to wait for another who compares.

    Raises:
        WriteRefusedError: another still compares then, or the lock cannot be made.
    """
    place = folder / LIKENESS / "lock"
    with refused_cleanly(place):
        place.parent.mkdir(parents=True, exist_ok=True)
        lock = FileLock(place, timeout=patience)
        try:
            lock.acquire()
        except Timeout as error:
            raise WriteRefusedError(
                f"another command is comparing what {folder} holds, and did not end within {patience:g} seconds",
                "wait until it has ended, then run this again: nothing that was read is lost",
            ) from error
    try:
        yield
    finally:
        lock.release()


def load_state(folder: Path) -> LikenessState:
    """Read how far the comparing of the archive in `folder` is; nothing where it is missing or damaged."""
    with suppress(OSError, ValueError, TypeError, KeyError, AttributeError, RecursionError):
        kept = json.loads((folder / STATE).read_bytes())
        content = kept["content"]
        if kept["digest"] == _digest(content) and content["format"] == _FORMAT:
            pages = {page: (str(method), int(count)) for page, (method, count) in content["pages"].items()}
            return LikenessState(pages=pages, compared={str(k): str(v) for k, v in content["compared"].items()})
    return LikenessState()


def save_state(folder: Path, state: LikenessState) -> None:
    """Keep how far the comparing is.

    Raises:
        WriteRefusedError: the disk refuses.
    """
    content = {"format": _FORMAT, "pages": state.pages, "compared": state.compared}
    kept = {"digest": _digest(json.loads(json.dumps(content))), "content": content}
    put_derived(folder / STATE, json.dumps(kept, ensure_ascii=True, separators=(",", ":")).encode("ascii"))


def _digest(content: object) -> str:
    return hashlib.sha256(json.dumps(content, sort_keys=True, ensure_ascii=True).encode("ascii")).hexdigest()
