"""The readings of pages, kept under `.derived/readings/<sha256>/p0001-<key>.json`.

A reading is kept in columns (all texts, all lines, all edges), which is small and quick to read, and carries the
digest of its own content: a damaged file is noticed, and the page is read again. It is derived data: it can be thrown
away at will, and what is written here is not waited for until it is on the disk.
"""

import hashlib
import json
import os
import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

from provenance.records.readings import Box, Origin, PageReading, Word
from provenance.store.derived_leftovers import clean_derived
from provenance.store.safe_writing import put_derived
from provenance.store.staging import is_leftover

READINGS = Path(".derived") / "readings"
"""Where the readings of an archive lie, relative to it."""

_SHA256 = re.compile(r"[0-9a-f]{64}")
_KEY = re.compile(r"[a-z0-9]+(?:[-.][a-z0-9]+)*")
_FILE = re.compile(r"p([0-9]{4,9})-(.+)\.json")
_KEPT_OR_FAILED = re.compile(r"p([0-9]{4,9})-(.+)\.(json|unread)")
_HEAD = b'{"digest":"%s","reading":'
_HEAD_LENGTH = len(_HEAD % (b"0" * 64))
_DIGEST_AT = slice(len(b'{"digest":"'), len(b'{"digest":"') + 64)
_SIDES = ("x", "y", "w", "h")
_UNCOVERED = re.compile(rb'"uncovered":([0-9.]+)')
_UNCOVERED_LENGTH = 40


class ReadingsStore:
    """The readings of one archive, by digest of the original, page within it, and key of how it was read."""

    __slots__ = ("_archive", "_folder")

    def __init__(self, folder: Path) -> None:
        """Look after the readings of the archive in `folder`; nothing is read or made yet."""
        self._archive = folder
        self._folder = folder / READINGS

    def get(self, sha256: str, page: int, key: str) -> PageReading | None:
        """The reading of a page; None where there is none, or it is damaged."""
        with suppress(OSError, ValueError, TypeError, KeyError, AttributeError, RecursionError):
            return _read(self._file(sha256, page, key).read_bytes(), page)
        return None

    def put(self, sha256: str, key: str, reading: PageReading) -> None:
        """Keep the reading of a page, in the place of an earlier one of the same key.

        Raises:
            WriteRefusedError: the disk refuses.
        """
        body = _body(reading)
        digest = hashlib.sha256(body).hexdigest().encode("ascii")
        put_derived(self._file(sha256, reading.page, key), _HEAD % digest + body + b"}")

    def keys(self, sha256: str) -> Mapping[int, tuple[str, ...]]:
        """Which readings of an original there are, by one look into its folder: the keys of each page, in order."""
        found: dict[int, list[str]] = {}
        for page, key in sorted(self._listed(_required(_SHA256, sha256))):
            found.setdefault(page, []).append(key)
        return {page: tuple(keys) for page, keys in found.items()}

    def digest(self, sha256: str, page: int, key: str) -> str | None:
        """The digest of a reading's content as its file states it, without reading the words; None where there is none.

        Equal to `digest_of` of what `get` gives, unless the file is damaged.
        """
        with suppress(OSError), self._file(sha256, page, key).open("rb", buffering=0) as file:
            stated = file.read(_HEAD_LENGTH)[_DIGEST_AT].decode("ascii", "replace")
            return stated if _SHA256.fullmatch(stated) else None
        return None

    def uncovered(self, sha256: str, page: int, key: str) -> float | None:
        """The share of a page's text that no word covers, as its file states it, without reading the words.

        None where there is no such reading, or nothing was recognised.
        """
        with suppress(OSError), self._file(sha256, page, key).open("rb", buffering=0) as file:
            stated = _UNCOVERED.match(file.read(_HEAD_LENGTH + 1 + _UNCOVERED_LENGTH)[_HEAD_LENGTH + 1 :])
            return float(stated[1]) if stated else None
        return None

    def prune(self, keep: Callable[[str, int, str], bool]) -> int:
        """Throw away every reading that is not to be kept, and every unfinished file; how many readings went.

        What is remembered of pages that could not be read goes by the same rule, and is not counted.

        Args:
            keep: asked of each reading with digest, page and key.

        Raises:
            OSError: a file cannot be removed.
        """
        gone = 0
        for folder in self._folders():
            for file in sorted(folder.iterdir()):
                named = _KEPT_OR_FAILED.fullmatch(file.name)
                if named and not keep(folder.name, int(named[1]), named[2]):
                    file.unlink()
                    gone += named[3] == "json"
                elif is_leftover(file.name):
                    file.unlink()
            with suppress(OSError):  # what is not empty stays
                folder.rmdir()
        return gone

    def clean(self, sha256: str) -> None:
        """Remove the unfinished files that killed writers left beside the readings of an original."""
        clean_derived(self._folder / _required(_SHA256, sha256))

    def _file(self, sha256: str, page: int, key: str) -> Path:
        return place_of(self._archive, sha256, page, key)

    def _folders(self) -> tuple[Path, ...]:
        with suppress(OSError):
            return tuple(entry for entry in sorted(self._folder.iterdir()) if _SHA256.fullmatch(entry.name))
        return ()

    def _listed(self, sha256: str) -> Iterator[tuple[int, str]]:
        with suppress(OSError), os.scandir(self._folder / sha256) as entries:
            for entry in entries:
                named = _FILE.fullmatch(entry.name)
                # Of a file that was not yet on the disk when the power failed, many file systems keep the name alone.
                if named and entry.stat(follow_symlinks=False).st_size:
                    yield int(named[1]), named[2]


def place_of(folder: Path, sha256: str, page: int, key: str) -> Path:
    """Where the reading of a page is kept, in the archive in `folder`.

    Raises:
        ValueError: digest or key cannot be part of a path.
    """
    return folder / READINGS / _required(_SHA256, sha256) / f"p{page:04d}-{_required(_KEY, key)}.json"


def digest_of(reading: PageReading) -> str:
    """The digest of all that a reading says, for an index that must know whether it is still the same."""
    return hashlib.sha256(_body(reading)).hexdigest()


def _required(pattern: re.Pattern[str], text: str) -> str:
    if not pattern.fullmatch(text):
        raise ValueError(f"{text!r} cannot be part of the place of a reading")
    return text


def _body(reading: PageReading) -> bytes:
    words = reading.words
    # First, where it is found without reading the words; left out where nothing was recognised.
    uncovered = {} if reading.uncovered is None else {"uncovered": reading.uncovered}
    content = {
        **uncovered,
        "page": reading.page,
        "origin": reading.origin.value,
        "engine": reading.engine,
        "languages": reading.languages,
        "note": reading.note,
        "text": [word.text for word in words],
        "line": [word.line for word in words],
        "confidence": _column([word.confidence for word in words]),
    }
    for side in _SIDES:
        content[side] = _column([word.box and getattr(word.box, side) for word in words])
    return json.dumps(content, ensure_ascii=True, separators=(",", ":")).encode("ascii")


def _column(values: list[Any]) -> list[Any] | None:
    return None if all(value is None for value in values) else values


def _read(written: bytes, page: int) -> PageReading | None:
    body = written[_HEAD_LENGTH:-1]
    if written != _HEAD % hashlib.sha256(body).hexdigest().encode("ascii") + body + b"}":
        return None
    content = json.loads(body)
    empty = [None] * len(content["text"])
    boxes = [
        None if x is None else Box(x, y, w, h)
        for x, y, w, h in zip(*(content[side] or empty for side in _SIDES), strict=True)
    ]
    words = zip(content["text"], content["line"], boxes, content["confidence"] or empty, strict=True)
    reading = PageReading(
        page=content["page"],
        words=tuple(Word(*word) for word in words),
        origin=Origin(content["origin"]),
        engine=content["engine"],
        languages=tuple(content["languages"]),
        note=content["note"],
        uncovered=content.get("uncovered"),  # those of an earlier format have none
    )
    return reading if reading.page == page else None
