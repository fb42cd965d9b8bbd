"""An archive made in a moment, whose sources have originals of every kind that can be shown, or cannot."""

import hashlib
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from builders import a_source, an_archive

from provenance.records.claims import At
from provenance.records.readings import Box, Origin, PageReading, Word
from provenance.records.regions import parse_region
from provenance.records.sources import OriginalFile, Source
from provenance.store.readings_store import ReadingsStore
from provenance.tasks.cutting_out import Wanted
from provenance.tasks.opening import Opened

PNG = "image/png"


def an_original(folder: Path, name: str, data: bytes, media_type: str = PNG, pages: int | None = 1) -> OriginalFile:
    """A file that lies in the archive as it was received."""
    path = f"originals/{name}"
    (folder / path).parent.mkdir(parents=True, exist_ok=True)
    (folder / path).write_bytes(data)
    digest = hashlib.sha256(data).hexdigest()
    return OriginalFile(path=path, sha256=digest, size=len(data), media_type=media_type, pages=pages)


def a_source_of(source_id: str, *files: OriginalFile, **fields: Any) -> Source:
    """A source with these files."""
    return a_source(source_id, files=files, **fields)


def an_archive_of(folder: Path, *sources: Source) -> Opened:
    """An archive of these sources, opened."""
    return Opened(folder=folder, archive=an_archive(*sources), left_out=())


def want(source: str, region: str | None = None, page: int | None = 1, quote: str | None = None) -> Wanted:
    """A place that is to be shown."""
    return Wanted(source, At(page=page, region=parse_region(region) if region else None), quote)


def keep_reading(folder: Path, file: OriginalFile, words: Iterable[tuple[str, Box]]) -> None:
    """Have it kept what was read on the first page of a file."""
    read = tuple(Word(text=text, line=1, box=box, confidence=95) for text, box in words)
    reading = PageReading(page=1, words=read, origin=Origin.RECOGNISED, engine="a recogniser")
    ReadingsStore(folder).put(file.sha256, "k1", reading)
