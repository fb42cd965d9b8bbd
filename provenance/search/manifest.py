"""The list of what an index consists of: nothing of an index is opened that does not agree with it.

Whoosh keeps pickles in its files, and loading a pickle can run code; it also answers wrongly without a word from a
file in which a block was zeroed. So sizes and SHA-256 of all files stand in `manifest.json`, and are compared first.
The manifest itself is sealed with a secret of whoever built the index (an HMAC, RFC 2104): one that came along with a
folder from elsewhere, however well it agrees with its files, is not believed.
"""

import hashlib
import hmac
import json
import os
import platform
import shutil
import stat
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import whoosh

from provenance.errors import DerivedDataError
from provenance.search import layout, tokens

NAME = "manifest.json"
FILES = "files-"
"""The index of generation 7 lies in the folder `files-7`."""

MEND = "run `provenance rebuild`"


@dataclass(frozen=True, slots=True)
class IndexPlace:
    """Where an index lies, and the secret by which its owner knows it.

    Attributes:
        folder: everything in it is the index's.
        key: the secret of its owner; never written into the index.
    """

    folder: Path
    key: bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """What is known of one entry that was written.

    Attributes:
        digest: of what it was made from.
        length: number of tokens in its `words`.
    """

    digest: str
    length: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Manifest:
    """What an index consists of.

    Attributes:
        generation: counted from 1; names the folder of the files.
        files: size and SHA-256 of every file of the index, by name.
        entries: every entry in the index, by key.
        gone: how many entries are marked as deleted and still lie in the files.
    """

    generation: int
    files: Mapping[str, tuple[int, str]]
    entries: Mapping[str, Written]
    gone: int = 0


def versions() -> dict[str, str]:
    """All that an index depends on besides its entries; where one differs it is built anew."""
    return {
        "layout": str(layout.FORMAT),
        "tokens": str(tokens.FORMAT),
        "whoosh": ".".join(map(str, whoosh.__version__)),
        "python": ".".join(platform.python_version_tuple()[:2]),
        "unicode": unicodedata.unidata_version,
    }


def folder_of(place: IndexPlace, manifest: Manifest) -> Path:
    """The folder in which the files of this manifest lie."""
    return place.folder / f"{FILES}{manifest.generation}"


def list_files(files: Path) -> dict[str, tuple[int, str]]:
    """Size and SHA-256 of every file in a folder.

    Raises:
        DerivedDataError: something in it is no ordinary file.
        OSError: it cannot be read.
    """
    found: dict[str, tuple[int, str]] = {}
    for path in sorted(files.iterdir()):
        if not stat.S_ISREG(path.lstat().st_mode):
            raise DerivedDataError(f"{path.name} is no ordinary file", MEND)
        with path.open("rb") as stream:
            found[path.name] = (path.stat().st_size, hashlib.file_digest(stream, "sha256").hexdigest())
    return found


def verify(place: IndexPlace, manifest: Manifest) -> None:
    """Compare every file with the manifest, before anything is loaded from it.

    Raises:
        DerivedDataError: a file is missing, differs or does not belong there; the first one is named.
    """
    files = folder_of(place, manifest)
    if files.is_symlink() or not files.is_dir():
        raise DerivedDataError(f"the index was damaged ({files.name}/ is missing)", MEND)
    try:
        found = list_files(files)
    except (DerivedDataError, OSError) as fault:
        raise DerivedDataError(f"the index was damaged ({files.name}: {fault})", MEND) from fault
    for name in sorted(found.keys() | manifest.files.keys()):
        if difference := _difference(manifest.files.get(name), found.get(name)):
            raise DerivedDataError(f"the index was damaged ({files.name}/{name} {difference})", MEND)


def _difference(listed: tuple[int, str] | None, found: tuple[int, str] | None) -> str:
    if listed is None:
        return "does not belong there"
    if found is None:
        return "is missing"
    if listed[0] != found[0]:
        return f"has {found[0]} bytes instead of {listed[0]}"
    return "has another SHA-256" if listed[1] != found[1] else ""


def read(place: IndexPlace) -> Manifest:
    """Read the manifest of the index in this place.

    Raises:
        DerivedDataError: there is none, it is damaged or somebody else's, or it is of another version.
    """
    try:
        text = (place.folder / NAME).read_bytes()
    except FileNotFoundError:
        raise DerivedDataError("there is no search index", MEND) from None
    except OSError as fault:
        raise DerivedDataError(f"the index was damaged ({NAME} cannot be read: {fault.strerror})", MEND) from fault
    body = _unsealed(text, place.key)
    if body["versions"] != versions():
        raise DerivedDataError(f"the index was made by another version ({_differing(body['versions'])})", MEND)
    return _manifest(body)


def _unsealed(text: bytes, key: bytes) -> dict[str, Any]:
    """The body of a manifest that carries its owner's seal."""
    try:
        sealed = json.loads(text)
        body = sealed["body"]
        is_sound = hmac.compare_digest(sealed["seal"], seal(body, key)) and isinstance(body["versions"], dict)
    except (ValueError, KeyError, TypeError, RecursionError):
        is_sound, body = False, {}
    if not is_sound:
        raise DerivedDataError(f"the index was damaged ({NAME} does not carry your seal)", MEND)
    return dict(body)


def _manifest(body: dict[str, Any]) -> Manifest:
    try:
        return Manifest(
            generation=int(body["generation"]),
            files={str(name): (int(size), str(digest)) for name, (size, digest) in body["files"].items()},
            entries={
                str(key): Written(digest=str(digest), length=int(length))
                for key, (digest, length) in body["entries"].items()
            },
            gone=int(body["gone"]),
        )
    except (ValueError, KeyError, TypeError, AttributeError) as fault:
        raise DerivedDataError(f"the index was damaged ({NAME} lacks what it should hold)", MEND) from fault


def _differing(made_with: dict[str, Any]) -> str:
    now = versions()
    names = sorted(name for name in now.keys() | made_with.keys() if now.get(name) != made_with.get(name))
    return ", ".join(f"{name} {made_with.get(name, 'unknown')} instead of {now.get(name, 'none')}" for name in names)


def write(place: IndexPlace, manifest: Manifest) -> None:
    """Put a manifest in place of the old one in one step, flushed; the files that it lists are flushed before it."""
    folder = place.folder
    files = folder_of(place, manifest)
    for name in manifest.files:
        _flush(files / name)
    _flush(files)
    body = {
        "versions": versions(),
        "generation": manifest.generation,
        "files": manifest.files,
        "entries": {key: (written.digest, written.length) for key, written in manifest.entries.items()},
        "gone": manifest.gone,
    }
    fresh = folder / f"{NAME}.new"
    with fresh.open("w", encoding="utf-8") as stream:
        json.dump({"seal": seal(body, place.key), "body": body}, stream, ensure_ascii=False)
        stream.flush()
        os.fsync(stream.fileno())
    if (folder / NAME).is_dir():
        shutil.rmtree(folder / NAME)
    fresh.replace(folder / NAME)
    _flush(folder)


def seal(body: Any, key: bytes) -> str:
    """The seal of a manifest's body: HMAC-SHA-256 (RFC 2104) of its canonical JSON, in hexadecimal."""
    canonical = json.dumps(body, ensure_ascii=True, sort_keys=True, separators=(",", ":"))
    return hmac.new(key, canonical.encode(), hashlib.sha256).hexdigest()


def _flush(path: Path) -> None:
    """Have the system put a file or a folder on the disk."""
    descriptor = os.open(path, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
