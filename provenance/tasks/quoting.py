"""Look a quotation up on the pages of its source: on which page it stands, and where there."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from provenance.errors import UsageRefusedError
from provenance.records.sources import Source
from provenance.reports.layout import counted, listed, plain
from provenance.tasks.opening import Opened
from provenance.tasks.page_readings import Readings, SourcePage, pages_of
from provenance.tasks.quotations import Passage, find_passage

_LONGEST_SHOWN = 300


@dataclass(frozen=True, slots=True, kw_only=True)
class Looked:
    """What came of looking a quotation up.

    Attributes:
        page: on which it stands; None where that is not known.
        region: the part of the page; None where the words of the page have no places.
        said: what the person should know.
    """

    page: int | None
    region: str | None = None
    said: tuple[str, ...] = ()


def look_up(opened: Opened, source: Source, quotation: str, page: int | None) -> Looked:
    """Find where a quotation stands in a source.

    Args:
        opened: the archive.
        source: the source that is quoted.
        quotation: as typed.
        page: the page that it is said to stand on, counted from 1; None to look on all of them.

    Raises:
        UsageRefusedError: it does not stand there; or on more than one page, and none was named.
    """
    pages = [each for each in pages_of(source, opened.archive) if page in (None, each.page)]
    readings = Readings(opened.folder, opened.archive)
    found = [(each.page, passage) for each in pages for passage in _passages(readings, each, quotation)]
    if not found:
        where = source.id if page is None else f"page {page} of {source.id}"
        return Looked(page=page, said=(f"The quotation could not be compared: {where} has not been read.",))
    standing = [(number, passage) for number, passage in found if passage.stands_there]
    exact = [(number, passage) for number, passage in standing if not passage.wrong]
    standing = exact or standing
    if not standing:
        raise _not_there(source, found, unread=len(pages) - len(found))
    if len(standing) > 1:
        numbers = listed(str(number) for number, _ in standing)
        raise UsageRefusedError(
            f"the quotation stands on pages {numbers} of {source.id}", "say with --page which is meant, or quote more"
        )
    ((number, passage),) = standing
    return Looked(page=number, region=passage.region, said=tuple(_sayings(number, passage, asked=page)))


def _passages(readings: Readings, page: SourcePage, quotation: str) -> Iterator[Passage]:
    """The nearest passage of a page; none where the page was not read.

    A person's transcript says what stands there, and the machine's reading where: it is asked for the place.
    """
    words = readings.words_of(page)
    if words is None:
        return
    passage = find_passage(words, quotation)
    machine = readings.reading_of(page) if passage.stands_there and passage.region is None else None
    placed = find_passage(machine, quotation) if machine else passage
    if placed is not passage and placed.stands_there:
        passage = replace(placed, wrong=passage.wrong)
    yield passage


def _sayings(number: int, passage: Passage, *, asked: int | None) -> Iterator[str]:
    if asked is None:
        yield f"The quotation stands on page {number}."
    if passage.wrong:
        yield (
            f"The page was read a little differently ({counted(passage.wrong, 'letter')} of {passage.letters}): "
            f"“{plain(passage.text)}”. Compare it with the picture; the quotation is kept as you typed it."
        )


def _not_there(source: Source, found: list[tuple[int, Passage]], *, unread: int) -> UsageRefusedError:
    number, nearest = min(found, key=lambda each: (each[1].wrong, each[0]))
    one = len(found) == 1
    where = f"page {number} of {source.id}" if one else f"any page of {source.id} that was read"
    what = f"the quotation does not stand on {where}"
    if nearest.words and nearest.wrong * 2 <= nearest.letters:
        shown = plain(nearest.text)
        shown = shown if len(shown) <= _LONGEST_SHOWN else shown[:_LONGEST_SHOWN] + "…"
        what += f"; the nearest is{'' if one else f' on page {number}'}: “{shown}”"
    else:
        what += ", nor anything like it"
    if unread:
        what += f" ({counted(unread, 'page')} not read)"
    mend = "quote what stands there letter for letter; where the page was misread, correct it first with "
    return UsageRefusedError(what, mend + f"`provenance tag {source.id} --transcript FILE --page {number}`")
