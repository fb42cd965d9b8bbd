"""Show a source and its pages: the record, the readings with their doubts, the recordings, and what hangs on it."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from io import BufferedReader

from provenance.errors import UnknownRecordError, UnreadableOriginalError
from provenance.pages.plain_files import open_plain
from provenance.records.claims import At
from provenance.records.readings import Origin, PageReading, Word, doubtful_words
from provenance.records.recordings import is_recording
from provenance.records.regions import Region, RegionUnit, TimeSpan
from provenance.records.sources import OriginalFile, Source
from provenance.records.timed_text import Block
from provenance.reports.claimed_here import ClaimedHere, claimed_here
from provenance.reports.source_facts import facts_of
from provenance.reports.source_shown import FileShown, Heard, PageShown, ShownCue, ShownWord, SourceShown
from provenance.rules.descent import Lineage
from provenance.rules.resting import Steps, all_steps
from provenance.rules.verdicts import Verdict
from provenance.search.grammar import parse_query
from provenance.search.snippets import matched_words
from provenance.store.fixity import FixityState, check_fixity
from provenance.store.transcripts import read_transcript
from provenance.tasks.descending import AtHand, descent_of
from provenance.tasks.findings import why_unread
from provenance.tasks.nearest import nearest_mend
from provenance.tasks.opening import Opened
from provenance.tasks.page_readings import Readings, SourcePage, pages_of
from provenance.tasks.places_to_show import NothingToShowError, PlacesToShow
from provenance.tasks.recordings import Spoken, recordings_in, spoken_texts
from provenance.tasks.using import used

_ORIGINS = {
    Origin.TEXT_LAYER: "the text that the file itself carries",
    Origin.RECOGNISED: "read by a machine",
    Origin.PLAIN_TEXT: "the text of the file",
    Origin.TIMED_TEXT: "the text of the file",
}


class SourcesShown:
    """The sources of one state of an archive, one after another: what they all need is worked out once."""

    def __init__(self, opened: Opened, readings: Readings, verdicts: Mapping[str, Verdict]) -> None:
        """Gather what rests on what, and what goes back to what.

        Args:
            opened: the archive.
            readings: of its pages.
            verdicts: on every feature; empty where nothing can be judged.
        """
        self._opened, self._readings = opened, readings
        self._steps = all_steps(opened.archive)
        self._at_hand = AtHand(verdicts, Lineage(opened.archive))

    def show(self, source_id: str, time: TimeSpan | None = None) -> SourceShown:
        """Show a source, the same as `show_source`."""
        return show_source(self._opened, self._readings, source_id, time, at_hand=self._at_hand, steps=self._steps)


def show_source(
    opened: Opened,
    readings: Readings,
    source_id: str,
    time: TimeSpan | None = None,
    *,
    at_hand: AtHand | None = None,
    steps: Steps | None = None,
) -> SourceShown:
    """Show a source.

    Args:
        opened: the archive.
        readings: of its pages.
        source_id: of the source.
        time: of its recording, that is looked for; None for none.
        at_hand: for the descent; None to have it worked out.
        steps: what rests on what; None to have it gathered.

    Raises:
        UnknownRecordError: there is no such source.
    """
    source = _required(opened, source_id)
    return SourceShown(
        source=source,
        facts=facts_of(opened.archive, source),
        pages=tuple(page.page for page in pages_of(source, opened.archive)),
        files=tuple(_files(opened, source)),
        heard=tuple(_heard(opened, readings, source, time)),
        descended=descent_of(opened, source_id, at_hand),
        used=used(opened, f"sources/{source_id}", steps),
        pairs=tuple(pair for _, pair in sorted(opened.archive.copies.items()) if source_id in pair.between),
    )


def show_page(
    opened: Opened, readings: Readings, source_id: str, number: int, *, query: str = "", region: Region | None = None
) -> PageShown:
    """Show a page of a source.

    Args:
        opened: the archive.
        readings: of its pages.
        source_id: of the source.
        number: of the page, counted from 1.
        query: whose words are marked on the page; empty for none.
        region: a part of the page that is marked; None for none.

    Raises:
        UnknownRecordError: there is no such source, or it has no such page.
    """
    source = _required(opened, source_id)
    pages = {page.page: page for page in pages_of(source, opened.archive)}
    if number not in pages:
        has = f"its pages are {min(pages)} to {max(pages)}" if pages else "it has no pages"
        raise UnknownRecordError(f"“{source.title}” has no page {number}", has)
    page = pages[number]
    counted = readings.words_of(page)
    machine = readings.reading_of(page)
    is_by_a_person = counted is not None and counted.origin is Origin.TRANSCRIPT
    words = _words(counted, query)
    no_picture = ""
    try:
        PlacesToShow(readings).find(source_id, At(page=number), None)
    except NothingToShowError as error:
        no_picture = str(error)
    return PageShown(
        source=source,
        page=number,
        pages=tuple(pages),
        digest=page.file.sha256,
        origin=_origin(readings, page, counted),
        lines=tuple(_lines(counted, words)),
        over=tuple(word for word in _words(machine, query) if word.box is not None),
        doubtful=sum(word.is_doubtful for word in words),
        is_by_a_person=is_by_a_person,
        within=_in_percent(page.region),
        marked=_in_percent(region),
        cited=tuple(_cited(opened, source, number, is_alone=len(pages) == 1)),
        no_picture=no_picture,
        unread="" if counted is not None else why_unread(readings, page),
    )


def _cited(opened: Opened, source: Source, number: int, *, is_alone: bool) -> Iterator[ClaimedHere]:
    yield from claimed_here(opened.archive, source.id, number)
    for each in claimed_here(opened.archive, source.id, None) if is_alone else ():
        yield replace(each, number=None)


def open_recording(opened: Opened, source_id: str, number: int) -> tuple[OriginalFile, BufferedReader]:
    """Open a recording to be played; whoever asked closes it.

    Args:
        opened: the archive.
        source_id: of the source.
        number: the place of the recording among the files of its source, counted from 1.

    Raises:
        UnknownRecordError: no recording is registered there.
        UnreadableOriginalError: it is not here, is not the file itself, or lies outside of the archive.
    """
    file = dict(recordings_in(_required(opened, source_id))).get(number)
    if file is None:
        raise UnknownRecordError(f"{source_id} has no recording {number}", "the page of the source lists its files")
    path = opened.folder / file.path
    if not path.resolve().is_relative_to(opened.folder.resolve()):
        raise UnreadableOriginalError(f"{file.path} lies outside of the archive", "correct its path")
    return file, open_plain(path)


def _in_percent(region: Region | None) -> Region | None:
    return region if region is not None and region.unit is RegionUnit.PERCENT else None


def _required(opened: Opened, source_id: str) -> Source:
    source = opened.archive.sources.get(source_id)
    if source is None:
        mend = nearest_mend(source_id, opened.archive.sources, "look for it among the sources")
        raise UnknownRecordError(f"there is no source `{source_id}`", mend)
    return source


def _words(reading: PageReading | None, query: str) -> tuple[ShownWord, ...]:
    if reading is None:
        return ()
    doubtful: Collection[int] = {id(word) for word in doubtful_words(reading)}
    asked = parse_query(query) if query.strip() else None
    found = set(matched_words(asked, reading.words)) if asked and asked.sought else set()
    return tuple(
        ShownWord(text=word.text, box=word.box, is_doubtful=id(word) in doubtful, is_found=place in found)
        for place, word in enumerate(reading.words)
    )


def _lines(reading: PageReading | None, words: tuple[ShownWord, ...]) -> Iterator[tuple[ShownWord, ...]]:
    lines: dict[int, list[ShownWord]] = {}
    read: tuple[Word, ...] = reading.words if reading else ()
    for word, shown in zip(read, words, strict=True):
        lines.setdefault(word.line, []).append(shown)
    yield from map(tuple, lines.values())


def _origin(readings: Readings, page: SourcePage, reading: PageReading | None) -> str:
    if reading is None:
        return ""
    if reading.origin is not Origin.TRANSCRIPT:
        sure = f", on average {reading.confidence:.0f} % sure" if reading.confidence is not None else ""
        engine = f" ({reading.engine})" if reading.engine else ""
        note = f"; {reading.note}" if reading.note else ""
        return f"{_ORIGINS[reading.origin]}{engine}{sure}{note}"
    path = readings.transcript_of(page)
    written = read_transcript(path.read_text(encoding="utf-8-sig", errors="replace")) if path else None
    names = {person.id: person.name for person in readings.archive.people}
    by = names.get(written.by, written.by) if written and written.by else "somebody who is not named"
    date = f", {written.date}" if written and written.date else ""
    return f"written down by {by}{date}"


def _files(opened: Opened, source: Source) -> Iterator[FileShown]:
    findings = {each.path: each for each in check_fixity(opened.folder, [source], read=False)}
    for number, file in enumerate(source.files, start=1):
        finding = findings[file.path]
        why = "" if finding.state is FixityState.PRESENT else finding.why
        yield FileShown(number=number, file=file, why_not=why)


def _heard(opened: Opened, readings: Readings, source: Source, time: TimeSpan | None) -> Iterator[Heard]:
    why_not = {each.number: each.why_not for each in _files(opened, source)}
    places = dict(recordings_in(source))
    told = set[int]()
    for spoken in spoken_texts(readings, source):
        file = _place_of(spoken, places)
        told.update([file] if file else [])
        yield Heard(
            name=spoken.name,
            file=file,
            original=places[file] if file else None,
            not_here=why_not[file] if file else "the recording is not among the files of the source",
            is_by_a_person=spoken.page is None,
            cues=tuple(_cue(block, time) for block in spoken.timed.blocks if block.lines),
        )
    for file, original in places.items():
        if file not in told:
            yield Heard(name="", file=file, original=original, not_here=why_not[file], is_by_a_person=False, cues=())


def _place_of(spoken: Spoken, places: dict[int, OriginalFile]) -> int | None:
    """Which of the recordings a text belongs to: a subtitle file to the only one, where there is only one."""
    if spoken.original is not None and is_recording(spoken.original.media_type):
        return next(place for place, file in places.items() if file is spoken.original)
    return next(iter(places)) if spoken.page is not None and len(places) == 1 else None


def _cue(block: Block, time: TimeSpan | None) -> ShownCue:
    span = block.span
    is_marked = span is not None and time is not None and _share(span, time)
    return ShownCue(
        start=span.start if span else None,
        end=span.end if span else None,
        time=str(span) if span else "",
        lines=tuple(line.shown for line in block.lines if line.shown),
        is_marked=is_marked,
    )


def _share(one: TimeSpan, other: TimeSpan) -> bool:
    """Whether two stretches have more in common than the instant in which the one ends and the other begins."""
    begin, end = max(one.start, other.start), min(one.end, other.end)
    return begin < end or (begin == end and (one.start == one.end or other.start == other.end))
