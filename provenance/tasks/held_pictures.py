"""The pictures of an archive that are compared with one another, and the sources that they belong to."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from provenance.likeness.values import Corners, PicturePrint
from provenance.records.readings import Box
from provenance.records.regions import Region, RegionUnit
from provenance.records.sources import Source
from provenance.tasks.fingerprinting import Prints
from provenance.tasks.page_readings import Readings, SourcePage, pages_of

_MOSTLY = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldPicture:
    """A picture on a page.

    Attributes:
        key: names its file, its page and its place among the pictures of the page.
        page: where it is.
        print: its fingerprint.
    """

    key: str
    page: SourcePage
    print: PicturePrint


class HeldPictures:
    """The pictures on the pages of every source that is not withdrawn."""

    def __init__(self, readings: Readings, prints: Prints) -> None:
        """Go by the records and fingerprints of one archive."""
        self._readings = readings
        self._prints = prints
        self._archive = readings.archive

    @cached_property
    def pages(self) -> Mapping[str, tuple[SourcePage, ...]]:
        """By page (`<sha256>/p0001`), the sources that it is a page of: its holder, and those kept on it."""
        found: dict[str, list[SourcePage]] = {}
        for source in self._archive.sources.values():
            if source.withdrawn is None:
                for page in pages_of(source, self._archive):
                    found.setdefault(page_key(page), []).append(page)
        return {key: tuple(pages) for key, pages in found.items()}

    def on_page(self, key: str) -> tuple[tuple[str, PicturePrint], ...]:
        """The pictures on a page of that key, each with its own."""
        page = self.pages[key][0]
        return tuple((f"{key}/{number}", each) for number, each in enumerate(self._prints.of_page(page)))

    def of_source(self, source: Source) -> Iterator[HeldPicture]:
        """The pictures of a source: not those on its pages that are sources of their own."""
        for page in pages_of(source, self._archive):
            for key, each in self.on_page(page_key(page)):
                if page in self.owners(key, _corners(each.part)):
                    yield HeldPicture(key=key, page=page, print=each)

    def is_taken(self, key: str) -> bool:
        """Whether the fingerprints of a page of that key were taken; there may be none on it."""
        return self._prints.is_taken(self.pages[key][0])

    def keys_of(self, source: Source) -> Iterator[str]:
        """Name the pages of a source of which fingerprints were taken, and which part of them it is."""
        for page in pages_of(source, self._archive):
            if self._prints.is_taken(page):
                yield f"{page_key(page)} {page.region or ''}"

    def owners(self, picture_key: str, area: Corners) -> tuple[SourcePage, ...]:
        """Whose picture an area of a page is: of those who are kept just there, else on that page, else its holder's.

        Empty for a page that is not among those of today.
        """
        pages = self.pages.get(picture_key.rpartition("/")[0], ())
        kept_there = [page for page in pages if page.region and _lies_in(area, page.region)]
        kept_on = [page for page in pages if page.region is None and page.source is not page.holder]
        return tuple(kept_there or kept_on or [page for page in pages if page.source is page.holder])

    def by_key(self, picture_key: str) -> PicturePrint | None:
        """The fingerprint of that key; None where there is none now."""
        key, _, number = picture_key.rpartition("/")
        prints = self._prints.of_page(self.pages[key][0]) if key in self.pages else ()
        return prints[int(number)] if int(number) < len(prints) else None


def page_key(page: SourcePage) -> str:
    """Name a page by its file and its place within it: the same for whoever it is a page of."""
    return f"{page.file.sha256}/p{page.in_file:04}"


def _corners(box: Box) -> Corners:
    right, lower = box.x + box.w, box.y + box.h
    return (box.x, box.y), (right, box.y), (right, lower), (box.x, lower)


def _lies_in(area: Corners, region: Region) -> bool:
    """Whether an area lies mostly in a region, or the region mostly in it; not known of a region in pixels."""
    if region.unit is not RegionUnit.PERCENT:
        return False
    across, down = [x for x, _ in area], [y for _, y in area]
    left, top = float(region.x), float(region.y)
    width = min(max(across), left + float(region.w)) - max(min(across), left)
    height = min(max(down), top + float(region.h)) - max(min(down), top)
    shared = max(0.0, width) * max(0.0, height)
    of_area = (max(across) - min(across)) * (max(down) - min(down))
    return shared >= _MOSTLY * max(of_area, 1e-9)
