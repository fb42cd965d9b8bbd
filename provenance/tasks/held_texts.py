"""The texts of an archive that are compared with one another: each page, and what is said on each recording."""

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from provenance.records.readings import PageReading
from provenance.records.sources import Source
from provenance.tasks.page_readings import Readings, SourcePage, pages_of
from provenance.tasks.recordings import Spoken, shown_text, transcripts_of

_DIGEST_LENGTH = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldText:
    """A text of a source.

    Attributes:
        key: names the source, the place in it and what is said there: another reading is another text.
        source: id of the source that it is a text of.
        page: where it is one; None for a transcript of a recording.
        spoken: the transcript; None for a page.
    """

    key: str
    source: str
    page: SourcePage | None = None
    spoken: Spoken | None = None

    def reading(self, readings: Readings) -> PageReading | None:
        """The words of the page with their places; None for a transcript of a recording, or a page not read."""
        return readings.words_of(self.page) if self.page else None

    def text(self, readings: Readings) -> str:
        """What it says; a person's transcript stands before the machine's reading."""
        if self.spoken is not None:
            return shown_text(self.spoken.timed.blocks)
        reading = self.reading(readings)
        return reading.text if reading else ""


class HeldTexts:
    """The texts of every source that is not withdrawn; pages that were not read are none.

    A page of a container that is a source of its own is that source's text alone.
    """

    def __init__(self, readings: Readings) -> None:
        """Go by the records and readings of one archive."""
        self._readings = readings
        self._sources = readings.archive.sources

    @cached_property
    def by_key(self) -> Mapping[str, HeldText]:
        """Every text by its key."""
        return {text.key: text for texts in self.by_source.values() for text in texts}

    @cached_property
    def by_source(self) -> Mapping[str, tuple[HeldText, ...]]:
        """The texts of each source by its id, in order; empty for one that has none."""
        return {source.id: tuple(self._of(source)) for source in self._sources.values() if source.withdrawn is None}

    @cached_property
    def _apart(self) -> frozenset[tuple[str, int]]:
        """The pages, by container and number, that are sources of their own."""
        inside = (source for source in self._sources.values() if source.within and source.withdrawn is None)
        pages = (page for source in inside for page in pages_of(source, self._readings.archive))
        return frozenset((page.holder.id, page.page) for page in pages if page.region is None)

    def _of(self, source: Source) -> Iterator[HeldText]:
        for page in pages_of(source, self._readings.archive):
            digest = self._readings.words_digest(page)
            if digest and not (page.holder is source and (source.id, page.page) in self._apart):
                yield HeldText(key=_key(source.id, f"p{page.page:04}", digest), source=source.id, page=page)
        for spoken in transcripts_of(self._readings.folder, source):
            yield HeldText(key=_key(source.id, spoken.name, spoken.digest), source=source.id, spoken=spoken)


def _key(source: str, name: str, digest: str) -> str:
    return f"{source}/{name}/{hashlib.sha256(digest.encode()).hexdigest()[:_DIGEST_LENGTH]}"
