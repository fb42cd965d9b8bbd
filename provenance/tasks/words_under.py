"""The words that stand in a part of a page, as they were read, to be quoted."""

from collections.abc import Iterator

from provenance.errors import UsageRefusedError
from provenance.records.readings import Origin, PageReading, Word
from provenance.records.regions import Region, RegionError, RegionUnit, parse_region
from provenance.records.sources import Source
from provenance.tasks.page_readings import Readings, pages_of
from provenance.tasks.quotations import find_passage

_MOSTLY = 0.5
"""A word stands in a part of a page where more than this share of its box does."""


def words_under(readings: Readings, source: Source, page: int, region: str) -> str:
    """The words of a page of which more than half stands in a part of it, in reading order.

    Where a person wrote down what the page says, the words are that person's, and the machine's reading says which.

    Args:
        readings: of the archive.
        source: which one.
        page: counted from 1.
        region: in percent of the page, such as `percent:12.5,40,30,8`.

    Returns:
        Empty where no word stands there, or the page was not read.

    Raises:
        UsageRefusedError: the region is none, or is not given in percent.
    """
    try:
        part = parse_region(region)
    except RegionError as error:
        raise UsageRefusedError(error.what, error.mend) from error
    if part.unit is not RegionUnit.PERCENT:
        raise UsageRefusedError("the words under a region in pixels are not known", "draw the region on the picture")
    held = next((each for each in pages_of(source, readings.archive) if each.page == page), None)
    if held is None:
        return ""
    machine, counted = readings.reading_of(held), readings.words_of(held)
    read = " ".join(_inside(machine, part)) if machine else ""
    if not read or counted is None or counted.origin is not Origin.TRANSCRIPT:
        return read
    written = find_passage(counted, read)
    return written.text if written.stands_there else read


def _inside(reading: PageReading, part: Region) -> Iterator[str]:
    yield from (word.text for word in reading.words if _share(word, part) > _MOSTLY)


def _share(word: Word, part: Region) -> float:
    """How much of the box of a word stands in a part of the page, from 0 to 1; 0 for a word without a place."""
    box = word.box
    if box is None or not box.w or not box.h:
        return 0.0
    across = min(box.x + box.w, float(part.x + part.w)) - max(box.x, float(part.x))
    down = min(box.y + box.h, float(part.y + part.h)) - max(box.y, float(part.y))
    return max(0.0, across) * max(0.0, down) / (box.w * box.h)
