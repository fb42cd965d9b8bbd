"""How far the comparing of an archive is: which pages are in the index of pictures, and which sources were compared.

It lies in `.derived/likeness/state.json`, carries the digest of its own content, and is derived data: where it is
missing or damaged, everything is compared once more, and a pair that is on record already is not written again.
"""

import hashlib
import json
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

from provenance.store.prints_store import LIKENESS
from provenance.store.safe_writing import put_derived

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
