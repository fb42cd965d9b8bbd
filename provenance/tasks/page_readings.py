"""Which pages an archive has, and what was read on each."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from provenance.errors import ToolMissingError
from provenance.reading.keys import possible_keys
from provenance.reading.settings import ReadingSettings
from provenance.records.archive import Archive
from provenance.records.readings import Origin, PageReading, Word
from provenance.records.sources import OriginalFile, Source
from provenance.store.readings_store import ReadingsStore
from provenance.store.transcripts import page_transcript, read_transcript

PERSON = "a person"


@dataclass(frozen=True, slots=True, kw_only=True)
class SourcePage:
    """One page of a source.

    Attributes:
        page: counted from 1, running on over the files of the source.
        in_file: the same page counted from 1 within its file.
    """

    source: Source
    file: OriginalFile
    page: int
    in_file: int


def pages_of(source: Source) -> Iterator[SourcePage]:
    """Every page of a source, in order; none where it has no file, or files without pages."""
    page = 0
    for file in source.files:
        for in_file in range(1, (file.pages or 0) + 1):
            page += 1
            yield SourcePage(source=source, file=file, page=page, in_file=in_file)


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

    def reading_of(self, page: SourcePage) -> PageReading | None:
        """What was read on the page; None for a page that was not read, or whose reading is damaged."""
        key = self.key_of(page)
        return None if key is None else self.store.get(page.file.sha256, page.in_file, key)

    def transcript_of(self, page: SourcePage) -> Path | None:
        """The file with a person's corrected reading; None where there is none."""
        return page_transcript(self.folder, page.source.id, page.page)

    def words_of(self, page: SourcePage) -> PageReading | None:
        """The words that count: a person's transcript where there is one, else the machine's reading."""
        transcript = self.transcript_of(page)
        if transcript is None:
            return self.reading_of(page)
        return transcribed(transcript.read_text(encoding="utf-8-sig", errors="replace"), page.page)


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
