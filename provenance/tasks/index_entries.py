"""What the search index should hold: an entry for each page, passage of a recording, source and claim."""

import hashlib
from collections.abc import Mapping
from dataclasses import replace
from functools import cached_property

from provenance.records.archive import Archive
from provenance.records.claims import Claim
from provenance.records.dates import EdtfDate
from provenance.records.days import Day
from provenance.records.sources import Source
from provenance.search.entries import Entry, What
from provenance.store.transcripts import transcribed_sources
from provenance.tasks.page_readings import Readings, SourcePage, pages_of
from provenance.tasks.recordings import Passage, Spoken, passages_of, shown_text, subtitles_on, transcripts_of

ENTRY_FORMAT = 1


class WantedEntries:
    """The entries that belong in the index, each with a digest of all that it is made of.

    The digest of a page names its reading instead of holding its words, so that asking whether the index is up to
    date reads no page.
    """

    def __init__(self, readings: Readings) -> None:
        """Go by the records and readings of one archive."""
        self.readings = readings
        self._archive = readings.archive

    @cached_property
    def _components(self) -> Mapping[str, tuple[str, ...]]:
        return components_of_sources(self._archive)

    @cached_property
    def _pages(self) -> Mapping[str, SourcePage]:
        """Every page but the subtitle files, which are told passage by passage."""
        return {key: page for key, page in self._held_pages.items() if key not in self._subtitles}

    @cached_property
    def _subtitles(self) -> Mapping[str, Spoken]:
        """The subtitle files that are here, by the key of their page."""
        looked = ((key, subtitles_on(self.readings, page)) for key, page in self._held_pages.items())
        return {key: spoken for key, spoken in looked if spoken is not None}

    @cached_property
    def passages(self) -> Mapping[str, Passage]:
        """Every passage of what is said on recordings, by key."""
        folder, sources = self.readings.folder, self._archive.sources
        written_down = sorted(transcribed_sources(folder) & sources.keys())
        spoken = [each for source in written_down for each in transcripts_of(folder, sources[source])]
        spoken += self._subtitles.values()
        return {passage.key: passage for each in spoken for passage in passages_of(each)}

    @cached_property
    def _held_pages(self) -> Mapping[str, SourcePage]:
        """Every page once: one that is a whole source within another is told as that source's alone."""
        pages = [page for source in self._archive.sources.values() for page in pages_of(source, self._archive)]
        apart = {(page.holder.id, page.page) for page in pages if page.source != page.holder and not page.region}
        return {
            f"{page.source.id}/p{page.page:04}": page
            for page in pages
            if page.source != page.holder or (page.holder.id, page.page) not in apart
        }

    @cached_property
    def _records(self) -> Mapping[str, Entry]:
        """Sources by id, then claims: a claim takes over what its source says of itself."""
        return self._sources | {entry.key: entry for entry in map(self._claim_entry, self._archive.claims.values())}

    @cached_property
    def _sources(self) -> dict[str, Entry]:
        return {source.id: self._source_entry(source) for source in self._archive.sources.values()}

    @cached_property
    def digests(self) -> Mapping[str, str]:
        """Every wanted entry's key with its digest; pages that were not read are not among them."""
        wanted = {key: entry.digest for key, entry in self._records.items()}
        for key, page in self._pages.items():
            words = self.readings.words_digest(page)
            if words:
                wanted[key] = _digest(words, self._sources[page.source.id].digest)
        for key, passage in self.passages.items():
            wanted[key] = _digest(passage.spoken.digest, self._sources[passage.spoken.source.id].digest)
        return wanted

    @property
    def unread(self) -> int:
        """How many pages nothing was read of yet, so that no search finds what they say."""
        return len(self._pages.keys() - self.digests.keys())

    def fetch(self, key: str) -> Entry:
        """Make the entry of that key.

        Raises:
            KeyError: no such entry is wanted.
        """
        if key in self._records:
            return self._records[key]
        return self._passage_entry(key) if key in self.passages else self._page_entry(key)

    def _page_entry(self, key: str) -> Entry:
        page = self._pages[key]
        reading = self.readings.words_of(page)
        return replace(
            self._sources[page.source.id],
            key=key,
            digest=self.digests[key],
            what=What.PAGE,
            page=page.page,
            text=reading.text if reading else "",
            references=(),
        )

    def _passage_entry(self, key: str) -> Entry:
        passage = self.passages[key]
        return replace(
            self._sources[passage.spoken.source.id],
            key=key,
            digest=self.digests[key],
            what=What.PAGE,
            page=passage.spoken.page,
            text=shown_text(passage.blocks),
            references=(),
        )

    def _source_entry(self, source: Source) -> Entry:
        earliest, latest = _bounds(source.created)
        created = str(source.created) if source.created else None
        facts = [source.kind, created, source.creator, source.holder, source.place, source.reference, source.occasion]
        parts = [*facts, *(shown.note for shown in source.shows), source.note]
        return _sealed(
            Entry(
                key=source.id,
                digest="",
                what=What.SOURCE,
                source=source.id,
                title=source.title,
                text="; ".join(part for part in parts if part),
                references=(source.reference,) if source.reference else (),
                creator=source.creator or "",
                holder=source.holder or "",
                kind=source.kind.value if source.kind else "",
                state="tagged" if source.tagged else "untagged",
                components=self._components.get(source.id, ()),
                earliest=earliest,
                latest=latest,
            )
        )

    def _claim_entry(self, claim: Claim) -> Entry:
        """The entry of a claim; it leads to the first place that is cited for it."""
        first = claim.evidence[0]
        cited = self._sources[first.source]
        component = self._archive.components[claim.about.partition("/")[0]]
        feature = self._archive.features[claim.about]
        quotes = [item.quote for item in claim.evidence if item.quote]
        said = [claim.value, component.name, feature.name, claim.reasoning or "", *quotes]
        return _sealed(
            replace(
                cited,
                key=f"claims/{claim.id}",
                digest="",
                what=What.CLAIM,
                page=first.at.page,
                title=f"{claim.about}: {claim.value}",
                text="; ".join(line for line in said if line),
                references=(),
                components=(component.id,),
            )
        )


def _sealed(entry: Entry) -> Entry:
    return replace(entry, digest=_digest(repr(entry)))


def components_of_sources(archive: Archive) -> dict[str, tuple[str, ...]]:
    """The components that each source is tagged with, or is cited for."""
    found: dict[str, set[str]] = {source.id: set(source.topics) for source in archive.sources.values()}
    for claim in archive.claims.values():
        for item in claim.evidence:
            found.setdefault(item.source, set()).add(claim.about.partition("/")[0])
    return {source: tuple(sorted(components)) for source, components in found.items()}


def _bounds(date: EdtfDate | None) -> tuple[int | None, int | None]:
    return (None, None) if date is None else (day_number(date.earliest), day_number(date.latest))


def day_number(day: Day | None) -> int | None:
    """Write a day as one number, yyyymmdd; None stays None."""
    return None if day is None else day.year * 10_000 + day.month * 100 + day.day


def _digest(*parts: str) -> str:
    return hashlib.sha256("\n".join((str(ENTRY_FORMAT), *parts)).encode()).hexdigest()
