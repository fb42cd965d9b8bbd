"""Which pages an archive has, and what was read on each."""

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from provenance.errors import ToolMissingError
from provenance.reading.keys import possible_keys
from provenance.reading.settings import ReadingSettings
from provenance.records.archive import Archive
from provenance.records.readings import Box, Origin, PageReading, Word
from provenance.records.regions import Region, RegionUnit
from provenance.records.sources import OriginalFile, Source
from provenance.store.failed_readings import FailedReading, FailedReadings
from provenance.store.readings_store import ReadingsStore
from provenance.store.transcripts import page_transcript, read_transcript

PERSON = "a person"

_KEY_LENGTH = 16


@dataclass(frozen=True, slots=True, kw_only=True)
class SourcePage:
    """One page of a source.

    Attributes:
        page: counted from 1, running on over the files of the source; of a source that is kept within another the
            page of that container.
        in_file: the same page counted from 1 within its file.
        holder: the source whose file it is; the source itself unless it is kept within another.
        region: the part of the page that the source is; None for the whole page.
    """

    source: Source
    file: OriginalFile
    page: int
    in_file: int
    holder: Source
    region: Region | None = None


def pages_of(source: Source, archive: Archive | None = None) -> Iterator[SourcePage]:
    """Every page of a source, in order; none where it has no file, or files without pages.

    Args:
        source: which one.
        archive: where its container is looked up, if it is kept within another source; None for its own files alone.
    """
    if source.within and archive is not None:
        yield from _pages_within(source, archive)
        return
    page = 0
    for file in source.files:
        for in_file in range(1, (file.pages or 0) + 1):
            page += 1
            yield SourcePage(source=source, file=file, page=page, in_file=in_file, holder=source)


def _pages_within(source: Source, archive: Archive) -> Iterator[SourcePage]:
    """The pages of the container that a source is kept on; containers may lie in containers."""
    ranges, container, seen = [], source, {source.id}
    while container.within and container.within.source in archive.sources:
        ranges.append(container.within.pages)
        container = archive.sources[container.within.source]
        if container.id in seen:
            return
        seen.add(container.id)
    region = source.within.region if source.within else None
    for page in pages_of(container):
        if all(each is None or each.first <= page.page <= each.last for each in ranges):
            yield replace(page, source=source, region=region)


def languages_of(source: Source, archive: Archive) -> tuple[str, ...]:
    """The languages that a reader of the source is told: its own, else those of the archive."""
    return source.language or archive.languages


class Readings:
    """What was read of an archive's pages, looked up by page.

    The folder of readings is listed once for each file; `forget` has it listed again.
    """

    def __init__(self, folder: Path, archive: Archive, settings: ReadingSettings | None = None) -> None:
        """Look up the readings of an archive; without settings those of today count."""
        self.folder = folder
        self.archive = archive
        self.settings = settings or ReadingSettings()
        self.store = ReadingsStore(folder)
        self.failed = FailedReadings(folder)
        self._kept: dict[str, Mapping[int, tuple[str, ...]]] = {}

    def forget(self, sha256: str) -> None:
        """Have the readings of a file looked up anew."""
        self._kept.pop(sha256, None)

    def kept_keys(self, page: SourcePage) -> tuple[str, ...]:
        """The keys of all readings of the page that are kept, whatever their settings."""
        sha256 = page.file.sha256
        if sha256 not in self._kept:
            self._kept[sha256] = self.store.keys(sha256)
        return self._kept[sha256].get(page.in_file, ())

    def wanted_keys(self, page: SourcePage) -> tuple[str, ...]:
        """The keys under which a reading of the page may be kept, the best first."""
        return _keys(page.file.media_type, languages_of(page.source, self.archive), self.settings)

    def key_of(self, page: SourcePage) -> str | None:
        """The key of the reading to go by; None for a page that was not read.

        Where no reading has today's settings, the last of the others by name is taken: an old reading is better
        than none, and `rebuild` makes a new one.
        """
        kept = self.kept_keys(page)
        return next((key for key in self.wanted_keys(page) if key in kept), max(kept, default=None))

    def is_read(self, page: SourcePage) -> bool:
        """Whether the page has a machine's reading under today's settings."""
        kept = self.kept_keys(page)
        return any(key in kept for key in self.wanted_keys(page))

    def is_read_soundly(self, page: SourcePage) -> bool:
        """Whether the page has a reading under today's settings that is not damaged; the whole of it is read."""
        kept = self.kept_keys(page)
        keys = [key for key in self.wanted_keys(page) if key in kept]
        return any(self.store.get(page.file.sha256, page.in_file, key) is not None for key in keys)

    def failure_key(self, page: SourcePage) -> str:
        """The key under which it is remembered that a page could not be read: of all ways in which it may be read."""
        ways = "\n".join(self.wanted_keys(page))
        return hashlib.sha256(ways.encode("ascii")).hexdigest()[:_KEY_LENGTH]

    def failure_of(self, page: SourcePage) -> FailedReading | None:
        """What became of a page when it was tried with today's engine and settings; None where nothing is known."""
        return self.failed.get(page.file.sha256, page.in_file, self.failure_key(page))

    def reading_of(self, page: SourcePage) -> PageReading | None:
        """What was read on the page; None for a page that was not read, or whose reading is damaged."""
        key = self.key_of(page)
        reading = None if key is None else self.store.get(page.file.sha256, page.in_file, key)
        return _cut_out(reading, page.region) if reading and page.region else reading

    def transcript_of(self, page: SourcePage) -> Path | None:
        """The file with a person's corrected reading, the source's own before its container's; None for none."""
        own = page_transcript(self.folder, page.source.id, page.page)
        return own or (None if page.region else page_transcript(self.folder, page.holder.id, page.page))

    def words_of(self, page: SourcePage) -> PageReading | None:
        """The words that count: a person's transcript where there is one, else the machine's reading."""
        transcript = self.transcript_of(page)
        if transcript is None:
            return self.reading_of(page)
        return transcribed(transcript.read_text(encoding="utf-8-sig", errors="replace"), page.page)

    def words_digest(self, page: SourcePage) -> str:
        """What tells the words of a page from others, without reading them; empty where there are none."""
        transcript = self.transcript_of(page)
        if transcript is not None:
            return hashlib.sha256(transcript.read_bytes()).hexdigest()
        key = self.key_of(page)
        return f"{page.file.sha256}/{page.in_file}/{key}/{page.region or ''}" if key else ""


def _cut_out(reading: PageReading, region: Region) -> PageReading:
    """The words whose middle lies in a region; none where it is measured in pixels, which no reading knows."""
    inside = tuple(word for word in reading.words if word.box and _lies_in(word.box, region))
    return replace(reading, words=inside)


def _lies_in(box: Box, region: Region) -> bool:
    x, y = box.x + box.w / 2, box.y + box.h / 2
    left, top = float(region.x), float(region.y)
    is_within = left <= x <= left + float(region.w) and top <= y <= top + float(region.h)
    return region.unit is RegionUnit.PERCENT and is_within


@cache
def _keys(media_type: str, languages: tuple[str, ...], settings: ReadingSettings) -> tuple[str, ...]:
    try:
        return possible_keys(media_type, languages, settings)
    except ToolMissingError:
        return ()


def transcribed(written: str, page: int) -> PageReading:
    """Make a reading of a person's transcript; its words have no places."""
    lines = enumerate(read_transcript(written).text.splitlines(), start=1)
    words = tuple(Word(text=word, line=number) for number, line in lines for word in line.split())
    return PageReading(page=page, words=words, origin=Origin.TRANSCRIPT, engine=PERSON)
