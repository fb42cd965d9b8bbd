"""Where the place that an item of evidence names can be seen: on which page of which file, and which part of it."""

from collections.abc import Collection
from dataclasses import dataclass, replace

from provenance.pages.cut_outs import Part, has_pieces
from provenance.records.archive import Archive
from provenance.records.claims import At
from provenance.records.recordings import is_recording
from provenance.records.regions import Region, parse_region
from provenance.records.sources import Source
from provenance.reports.layout import counted
from provenance.store.fixity import FixityState, check_fixity
from provenance.tasks.page_readings import Readings, SourcePage, pages_of
from provenance.tasks.quotations import find_passage

_TEXT = "it is a text, of which there is no picture"


class NothingToShowError(Exception):
    """There is no picture of a place; the message says why, in words that end a sentence."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownPlace:
    """A place that can be seen.

    Attributes:
        page: on which.
        part: which part of the page.
        is_by_quotation: the region is that of the lines quoted, found by their words.
    """

    page: SourcePage
    part: Part
    is_by_quotation: bool = False


class PlacesToShow:
    """The places of an archive's pages, looked up by what items of evidence name; each file is looked at once."""

    def __init__(self, readings: Readings, withheld: Collection[str] = ()) -> None:
        """Look up places in the archive that these readings are of.

        Args:
            readings: of the archive.
            withheld: ids of sources of which nothing may be seen, though they are kept on pages of others.
        """
        self._readings = readings
        self._hidden = _parts_of(readings.archive, withheld)
        self._why_not: dict[str, str] = {}

    def find(self, source_id: str, at: At, quote: str | None) -> ShownPlace:
        """Find the page, and the part of it, that an item of evidence speaks of.

        Args:
            source_id: of the item's source.
            at: the place that the item names.
            quote: what it quotes; where no region is named, its lines are looked for.

        Raises:
            NothingToShowError: there is no picture of it, or its file is not here or not as it was received.
        """
        source = self._readings.archive.sources.get(source_id)
        if source is None:
            raise NothingToShowError("the record of the source cannot be read")
        page = self._page(source, at)
        if not has_pieces(page.file.media_type):
            raise NothingToShowError(_TEXT)
        self._require_here(page)
        lines = self._quoted(page, quote) if quote and at.region is None else None
        part = Part(region=at.region or lines, within=page.region, hidden=self._hidden_on(page))
        return ShownPlace(page=page, part=part, is_by_quotation=lines is not None)

    def _page(self, source: Source, at: At) -> SourcePage:
        if at.time is not None and at.page is None:
            raise NothingToShowError(f"it is said or seen at {at.time} of a recording, of which there is no picture")
        pages = list(pages_of(source, self._readings.archive))
        if not pages:
            raise NothingToShowError(self._why_no_pages(source))
        if at.page is None and at.file is not None and at.file <= len(source.files):
            pages = [page for page in pages if page.file is source.files[at.file - 1]] or pages
        if at.page is not None:
            pages = [page for page in pages if page.page == at.page]
        if not pages:
            raise NothingToShowError(f"the source has no page {at.page}")
        if len(pages) > 1:
            raise NothingToShowError(f"no page is named, and the source has {counted(len(pages), 'page')}")
        return pages[0]

    def _why_no_pages(self, source: Source) -> str:
        if source.within:
            container = source.within.source
            is_there = container in self._readings.archive.sources
            return f"{container}, in which it is kept, {'has no such page' if is_there else 'cannot be read'}"
        if not source.files:
            return "no file of the source is held: it is lost, or was not seen yet"
        if all(is_recording(file.media_type) for file in source.files):
            return "it is a recording, of which there is no picture"
        return f"its file is {source.files[0].media_type}, a kind of which no pages can be shown"

    def _hidden_on(self, page: SourcePage) -> tuple[Region, ...]:
        on_page = self._hidden.get((page.file.sha256, page.in_file), {})
        regions = [region for source, region in on_page.items() if source != page.source.id]
        if None in regions:
            raise NothingToShowError("the page is not to be shown")
        return tuple(sorted((region for region in regions if region), key=str))

    def _require_here(self, page: SourcePage) -> None:
        path = page.file.path
        if path not in self._why_not:
            self._why_not[path] = self._look_at_file(page)
        if self._why_not[path]:
            raise NothingToShowError(self._why_not[path])

    def _look_at_file(self, page: SourcePage) -> str:
        """Why a file cannot be shown, by looking whether it is there and as long as it was; empty where it can."""
        folder, file = self._readings.folder, page.file
        (finding,) = check_fixity(folder, [replace(page.holder, files=(file,))], read=False)
        if finding.state is not FixityState.PRESENT:
            return f"{file.path} cannot be shown: {finding.why}"
        size = (folder / file.path).stat().st_size
        if size != file.size:
            return f"{file.path} is not as it was received: it has {size:,} bytes; {file.size:,} were received"
        return ""

    def _quoted(self, page: SourcePage, quote: str) -> Region | None:
        """The part of a page where a quotation stands; None where it was not read there, or words have no places."""
        for reading in (self._readings.words_of(page), self._readings.reading_of(page)):
            passage = find_passage(reading, quote) if reading else None
            if passage is not None and passage.stands_there and passage.region:
                return parse_region(passage.region)
        return None


def _parts_of(archive: Archive, sources: Collection[str]) -> dict[tuple[str, int], dict[str, Region | None]]:
    """What these sources are of pages of others, by the digest of the file, and the page in it; None for all of it."""
    found: dict[tuple[str, int], dict[str, Region | None]] = {}
    for source in (archive.sources[each] for each in sources if each in archive.sources):
        for page in pages_of(source, archive) if source.within else ():
            found.setdefault((page.file.sha256, page.in_file), {})[source.id] = page.region
    return found
