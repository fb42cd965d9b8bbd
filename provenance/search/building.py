"""Bringing the index up to date: only what changed is written, and the old index stays until the new one is whole.

An index of generation n lies in `files-n`. The next one starts as links to its files (Whoosh never writes into a file
that it has finished) or from nothing, and counts only when the manifest that names it takes the place of the old one.
"""

import os
import shutil
from collections.abc import Callable, Collection, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from filelock import FileLock
from whoosh.index import create_in, open_dir

from provenance.errors import DerivedDataError
from provenance.search import manifest
from provenance.search.entries import Entry
from provenance.search.layout import make_document, make_schema
from provenance.search.manifest import IndexPlace, Manifest, Written

_LOCK = "lock"
_WHOOSH_LOCK = "MAIN_WRITELOCK"
_MOST_GONE = 1 / 3
"""An index of which more is marked as deleted is written from nothing: faster than merging, and it answers faster."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Changes:
    """What bringing an index up to date came to.

    Attributes:
        added: entries that were not in it.
        replaced: entries that were in it with another digest.
        removed: entries that are wanted no longer.
        kept: entries that were left as they were (in a rebuilt index, none).
        rebuilt: why the index that was there could not be used, for people to read; empty when it could, or when
            there was none.
    """

    added: int
    replaced: int
    removed: int
    kept: int
    rebuilt: str = ""


def bring_up_to_date(
    place: IndexPlace,
    entries: Mapping[str, str],
    fetch: Callable[[str], Entry],
    *,
    on_progress: Callable[[int, int], None] | None = None,
) -> Changes:
    """Make the index in a place hold exactly these entries, and say what had to be done.

    Args:
        place: its folder is made when it is not there.
        entries: the digest of every entry wanted, by key.
        fetch: gives the entry of a key; called for what is new or changed, in the order of the keys.
        on_progress: called with how many entries are written, and how many there are to write.

    A second builder waits for the first. What `fetch` raises goes through, and leaves the old index.
    """
    place.folder.mkdir(parents=True, exist_ok=True)
    with FileLock(place.folder / _LOCK):
        old, why = _usable(place)
        before = old.entries if old else {}
        stale = {key for key, written in before.items() if entries.get(key) != written.digest}
        fresh = sorted(key for key, digest in entries.items() if key not in before or key in stale)
        replaced = len(stale & entries.keys())
        changes = Changes(
            added=len(fresh) - replaced,
            replaced=replaced,
            removed=len(stale) - replaced,
            kept=len(before) - len(stale),
            rebuilt=why,
        )
        in_force = old
        try:
            if old is None or stale or fresh:
                in_force = _write(place, old, _Task(entries, stale, fresh, fetch, on_progress or _ignore))
        finally:
            _sweep(place, in_force)
        return changes


def _ignore(_done: int, _total: int) -> None:
    """Report progress to nobody."""


def _usable(place: IndexPlace) -> tuple[Manifest | None, str]:
    """The manifest of an index that can be built upon, else why the one that is there cannot be."""
    if not (place.folder / manifest.NAME).exists():
        unfinished = f"the index was not finished ({manifest.NAME} is missing); rebuilt"
        return None, unfinished if _generations(place.folder) else ""
    try:
        found = manifest.read(place)
        manifest.verify(place, found)
    except DerivedDataError as fault:
        return None, f"{fault.what}; rebuilt"
    return found, ""


@dataclass(frozen=True, slots=True)
class _Task:
    """What is to be written: everything wanted, what to take out, what to put in."""

    entries: Mapping[str, str]
    stale: Collection[str]
    fresh: list[str]
    fetch: Callable[[str], Entry]
    on_progress: Callable[[int, int], None]


def _write(place: IndexPlace, old: Manifest | None, task: _Task) -> Manifest:
    """Write the next generation beside the old one, and put it in force."""
    if old and old.gone + len(task.stale) > _MOST_GONE * (old.gone + len(old.entries)):
        old, task = None, replace(task, stale=(), fresh=sorted(task.entries))
    generation = max(_generations(place.folder), default=0) + 1
    files = place.folder / f"{manifest.FILES}{generation}"
    written, gone = _write_files(files, manifest.folder_of(place, old) if old else None, task)
    kept = {key: known for key, known in old.entries.items() if key not in task.stale} if old else {}
    listed = manifest.list_files(files)
    fresh = Manifest(generation=generation, files=listed, entries={**kept, **written}, gone=gone)
    manifest.write(place, fresh)
    return fresh


def _write_files(files: Path, old: Path | None, task: _Task) -> tuple[dict[str, Written], int]:
    """Write the files of an index, from nothing or upon the old ones; tell what was written, and how many are gone."""
    files.mkdir()
    if old is None:
        index = create_in(str(files), make_schema())
    else:
        for path in sorted(old.iterdir()):
            _link(path, files / path.name)
        index = open_dir(str(files))
    writer = index.writer()
    try:
        _delete(index, writer, task.stale)
        written = {key: _add(writer, task, number) for number, key in enumerate(task.fresh)}
        writer.commit()
        gone = index.doc_count_all() - index.doc_count()
    except BaseException:
        with suppress(Exception):  # what went wrong first is what people have to know
            writer.cancel()
        raise
    finally:
        index.close()
    (files / _WHOOSH_LOCK).unlink(missing_ok=True)
    return written, gone


def _delete(index: Any, writer: Any, keys: Collection[str]) -> None:
    with index.searcher() as searcher:
        for key in sorted(keys):
            writer.delete_by_term("key", key, searcher=searcher)


def _add(writer: Any, task: _Task, number: int) -> Written:
    entry = task.fetch(task.fresh[number])
    if entry.key != task.fresh[number]:
        raise ValueError(f"asked for the entry {task.fresh[number]!r}, got {entry.key!r}")
    document = make_document(entry)
    writer.add_document(**document)
    task.on_progress(number + 1, len(task.fresh))
    return Written(digest=entry.digest, length=document["length"])


def _link(path: Path, twin: Path) -> None:
    """Give a finished file a second name; copy it where the file system has no links."""
    try:
        os.link(path, twin)
    except OSError:
        shutil.copyfile(path, twin)


def _generations(folder: Path) -> list[int]:
    """The generations whose folders are there, whole or not."""
    names = [path.name.removeprefix(manifest.FILES) for path in folder.glob(f"{manifest.FILES}*")]
    return sorted(int(name) for name in names if name.isascii() and name.isdigit())


def _sweep(place: IndexPlace, in_force: Manifest | None) -> None:
    """Clear away every generation but the one in force; what cannot be cleared now goes the next time."""
    generations = _generations(place.folder)
    if in_force and generations == [in_force.generation]:
        return
    try:
        # Not `in_force`: a stop may have come just after the manifest was put in.
        kept = manifest.read(place).generation
    except DerivedDataError:
        kept = 0
    for generation in generations:
        path = place.folder / f"{manifest.FILES}{generation}"
        if generation == kept:
            continue
        if path.is_symlink() or not path.is_dir():
            path.unlink()
        else:
            shutil.rmtree(path, ignore_errors=True)
