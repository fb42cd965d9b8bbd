"""Look a quotation up in its source: on which page it stands and where there, or when it is said on a recording."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from provenance.errors import UsageRefusedError
from provenance.records.readings import PageReading
from provenance.records.regions import TimeSpan
from provenance.records.sources import Source
from provenance.records.wording import fold_wording
from provenance.reports.layout import counted, listed, plain
from provenance.store.transcripts import recording_file
from provenance.tasks.opening import Opened
from provenance.tasks.page_readings import Readings, SourcePage, pages_of
from provenance.tasks.quotations import Passage, find_passage
from provenance.tasks.recordings import Spoken, recordings_in, subtitles_on, transcripts_of
from provenance.tasks.spoken_quotations import as_reading, shown_times, times_said, when_said, who_says

_LONGEST_SHOWN = 300


@dataclass(frozen=True, slots=True, kw_only=True)
class Whereabouts:
    """Where a quotation is said to be; page and file are counted from 1, and None is what was not said."""

    page: int | None = None
    file: int | None = None
    time: TimeSpan | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Looked:
    """What came of looking a quotation up.

    Attributes:
        page: on which it stands; None where that is not known, or it is said on a recording.
        region: the part of the page; None where the words of the page have no places.
        time: from when to when it is said; None where it is written, or the time was given.
        file: which file of the source the recording is, counted from 1; None where it has only one.
        said: what the person should know.
    """

    page: int | None
    region: str | None = None
    time: str | None = None
    file: int | None = None
    said: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Place:
    """A page that was read, or what somebody wrote down of a recording; `on page 3`, or `in the transcript t01`.

    Attributes:
        name: in words, such as `page 3`.
        held: the page; None for a recording.
        spoken: the text with times that it is; None for writing and pictures.
    """

    name: str
    words: PageReading
    held: SourcePage | None = None
    spoken: Spoken | None = None

    @property
    def on(self) -> str:
        return f"{'on' if self.held else 'in'} {self.name}"

    @property
    def page(self) -> int | None:
        return self.held.page if self.held else None

    def words_at(self, time: TimeSpan | None) -> PageReading:
        return as_reading(self.spoken, time) if self.spoken and time else self.words


_Found = tuple[_Place, Passage]


def look_up(opened: Opened, source: Source, quotation: str, where: Whereabouts) -> Looked:
    """Find where a quotation stands in a source, or when it is said.

    Args:
        opened: the archive.
        source: the source that is quoted.
        quotation: as typed.
        where: where it is said to be; without a page and a time all of the source is looked at.

    Raises:
        UsageRefusedError: it is not there; or in more than one place, and none was named.
    """
    readings = Readings(opened.folder, opened.archive)
    places = [*_recordings(readings, source, where), *_pages(readings, source, where)]
    found = [(place, find_passage(place.words_at(where.time), quotation)) for place in places]
    if not found:
        return Looked(page=where.page, said=(_not_compared(source, where),))
    standing = [each for each in found if each[1].stands_there]
    standing = [each for each in standing if not each[1].wrong] or standing
    standing = [each for each in standing if each[0].held is None] or standing
    if not standing:
        anywhere = [(place, find_passage(place.words, quotation)) for place in places] if where.time else found
        raise _not_there(source, anywhere, where, unread=_count_unread(readings, source, where))
    if len(standing) > 1:
        raise _in_several(source, [place for place, _ in standing])
    ((place, passage),) = standing
    if place.spoken is not None:
        return _heard(place, place.spoken, passage, quotation, where)
    placed = _with_its_region(readings, place, passage, quotation)
    return Looked(page=place.page, region=placed.region, said=tuple(_sayings(place, placed, asked=where.page)))


def _recordings(readings: Readings, source: Source, where: Whereabouts) -> Iterator[_Place]:
    """People's transcripts of recordings, those of the file that is asked for; none where a page is."""
    for spoken in transcripts_of(readings.folder, source) if where.page is None else ():
        if where.file is None or spoken.file in {None, where.file}:
            yield _Place(name=f"the transcript {spoken.name}", words=as_reading(spoken), spoken=spoken)


def _pages(readings: Readings, source: Source, where: Whereabouts) -> Iterator[_Place]:
    """The pages that were read; where a time is asked for, the subtitle files among them."""
    for page in _asked(readings, source, where):
        spoken = subtitles_on(readings, page)
        words = as_reading(spoken) if spoken else None if where.time else readings.words_of(page)
        if words is not None:
            yield _Place(name=f"page {page.page}", words=words, held=page, spoken=spoken)


def _asked(readings: Readings, source: Source, where: Whereabouts) -> list[SourcePage]:
    return [page for page in pages_of(source, readings.archive) if where.page in {None, page.page}]


def _count_unread(readings: Readings, source: Source, where: Whereabouts) -> int:
    if where.time is not None:
        return 0
    asked = _asked(readings, source, where)
    return sum(subtitles_on(readings, page) is None and readings.words_of(page) is None for page in asked)


def _not_compared(source: Source, where: Whereabouts) -> str:
    if where.time is not None or (recordings_in(source) and where.page is None):
        return f"The quotation could not be compared: there is no transcript of {source.id} with its times."
    name = source.id if where.page is None else f"page {where.page} of {source.id}"
    return f"The quotation could not be compared: {name} has not been read."


def _with_its_region(readings: Readings, place: _Place, passage: Passage, quotation: str) -> Passage:
    """A person's transcript says what stands there, and the machine's reading where: it is asked for the place."""
    machine = readings.reading_of(place.held) if place.held and passage.region is None else None
    placed = find_passage(machine, quotation) if machine else passage
    if placed is not passage and placed.stands_there:
        return replace(placed, wrong=passage.wrong)
    return passage


def _heard(place: _Place, spoken: Spoken, passage: Passage, quotation: str, where: Whereabouts) -> Looked:
    """What a record says of a quotation from a recording: the time of the cues that hold it."""
    times = times_said(spoken, quotation) if where.time is None and not passage.wrong else ()
    if len(times) > 1:
        raise UsageRefusedError(
            f"the quotation is said more than once {place.on} of {spoken.source.id}: at {listed(shown_times(times))}",
            "say with --time which is meant, or quote more",
        )
    span = when_said(spoken, passage)
    return Looked(
        page=place.page,
        time=str(span) if span and where.time is None else None,
        file=spoken.file,
        said=tuple(_sayings_of_recording(place, spoken, passage, span)),
    )


def _sayings_of_recording(place: _Place, spoken: Spoken, passage: Passage, span: TimeSpan | None) -> Iterator[str]:
    speakers, creator = who_says(spoken, passage), spoken.source.creator
    by = f", by {listed(speakers)}" if speakers else ""
    if span is None:
        yield (
            f"The quotation stands in line {passage.words[0].line} of {place.name}, where no time can be used: "
            "listen, and enter the time with --time."
        )
    else:
        yield f"The quotation is said at {span}{by}."
    if speakers and creator and fold_wording(creator) not in map(fold_wording, speakers):
        yield f"The creator of {spoken.source.id} is {creator}: --who says who speaks here."
    if passage.wrong:
        yield (
            f"The transcript has it a little differently ({_letters_of(passage)}): “{plain(passage.text)}”. "
            "Compare it with the recording; the quotation is kept as you typed it."
        )


def _sayings(place: _Place, passage: Passage, *, asked: int | None) -> Iterator[str]:
    if asked is None:
        yield f"The quotation stands {place.on}."
    if passage.wrong:
        yield (
            f"The page was read a little differently ({_letters_of(passage)}): "
            f"“{plain(passage.text)}”. Compare it with the picture; the quotation is kept as you typed it."
        )


def _letters_of(passage: Passage) -> str:
    return f"{counted(passage.wrong, 'letter')} of {passage.letters}"


def _in_several(source: Source, places: Sequence[_Place]) -> UsageRefusedError:
    if all(place.held is None for place in places):
        where = f"in {listed([place.name for place in places])}"
        return UsageRefusedError(
            f"the quotation is said {where} of {source.id}", "say with --file which is meant, or quote more"
        )
    numbers = listed([str(place.page) for place in places])
    return UsageRefusedError(
        f"the quotation stands on pages {numbers} of {source.id}", "say with --page which is meant, or quote more"
    )


def _not_there(source: Source, found: list[_Found], where: Whereabouts, *, unread: int) -> UsageRefusedError:
    place, nearest = min(found, key=lambda each: each[1].wrong)
    one = len(found) == 1
    held = "that was read" if all(place.held for place, _ in found) else "that was read or written down"
    looked = f"{place.on} of {source.id}" if one else f"on any page of {source.id} {held}"
    what = f"the quotation does not stand {looked}" + (f" at {where.time}" if where.time else "")
    if nearest.words and nearest.wrong * 2 <= nearest.letters:
        shown = plain(nearest.text)
        shown = shown if len(shown) <= _LONGEST_SHOWN else shown[:_LONGEST_SHOWN] + "…"
        what += f"; the nearest is{_whereabouts(place, nearest, one=one)}: “{shown}”"
    else:
        what += ", nor anything like it"
    if unread:
        what += f" ({counted(unread, 'page')} not read)"
    return UsageRefusedError(what, f"quote what stands there letter for letter; {_correction(source, place)}")


def _whereabouts(place: _Place, nearest: Passage, *, one: bool) -> str:
    span = when_said(place.spoken, nearest) if place.spoken else None
    return ("" if one else f" {place.on}") + (f" at {span}" if span else "")


def _correction(source: Source, place: _Place) -> str:
    if place.spoken is None:
        return (
            "where the page was misread, correct it first with "
            f"`provenance tag {source.id} --transcript FILE --page {place.page}`"
        )
    if place.held is None:
        return f"where the transcript is wrong, correct transcripts/{source.id}/{place.spoken.name}.vtt first"
    return f"where the subtitles are wrong, write your own transcript in {recording_file(source.id, 1)}"
