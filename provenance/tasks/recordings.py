"""What is said on the recordings of an archive: people's transcripts with times, and subtitle files among originals."""

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from provenance.errors import Place, Problem, Severity, UnreadableOriginalError
from provenance.pages.plain_text import read_text
from provenance.pages.timed_texts import parse_timed_text
from provenance.records.cue_timing import ARROW
from provenance.records.recordings import TIMED_TYPES, WEBVTT, is_recording
from provenance.records.sources import OriginalFile, Source
from provenance.records.timed_text import Block, BlockKind, TimedText
from provenance.records.timed_text_parsing import lines_of
from provenance.rules.findings import Untranscribed
from provenance.store.transcripts import recording_file, recording_transcripts
from provenance.tasks.page_readings import Readings, SourcePage, pages_of

CUES_TO_A_PASSAGE = 20
"""How much of a recording is one entry of the index: a minute or two of speech, as many words as a page. Common
practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spoken:
    """A text with times that belongs to a source.

    Attributes:
        name: `t01` for a person's transcript of the first recording, `p0001` for a subtitle file that is page 1.
        text: its characters.
        digest: of its characters, and of how they are read.
        media_type: one of the `TIMED_TYPES`.
        original: the recording, or the subtitle file; None for a recording that is not among the files.
        file: the place of the recording among the files of its source, counted from 1; None for the only recording,
            and for a subtitle file.
        page: of a subtitle file, counted from 1 within the source; None for a transcript.
    """

    source: Source
    name: str
    text: str
    digest: str
    media_type: str
    original: OriginalFile | None = None
    file: int | None = None
    page: int | None = None

    @property
    def timed(self) -> TimedText:
        """What is said in it."""
        return _parsed(self.text, self.media_type)


@dataclass(frozen=True, slots=True, kw_only=True)
class Passage:
    """A stretch of a text with times, of up to `CUES_TO_A_PASSAGE` cues; `number` counts from 1."""

    spoken: Spoken
    number: int

    @property
    def key(self) -> str:
        """A name that no other entry of the index has."""
        return f"{self.spoken.source.id}/{self.spoken.name}-{self.number:04}"

    @property
    def blocks(self) -> tuple[Block, ...]:
        """Its cues, and what stands between them; what stands above the first cue of a text is in its first passage."""
        return _cut(self.spoken.text, self.spoken.media_type).get(self.number, ())


def shown_text(blocks: Iterable[Block]) -> str:
    """What is said in some blocks, line by line, with each speaker's name before what they say."""
    return "\n".join(line.shown for block in blocks for line in block.lines)


def recordings_in(source: Source) -> tuple[tuple[int, OriginalFile], ...]:
    """The recordings among the files of a source, in order, each with its place among all files, counted from 1."""
    return tuple((place, file) for place, file in enumerate(source.files, start=1) if is_recording(file.media_type))


def transcripts_of(folder: Path, source: Source) -> Iterator[Spoken]:
    """People's transcripts of a source's recordings, in order; `check` names those that cannot be read."""
    recordings, transcripts = recordings_in(source), recording_transcripts(folder, source.id)
    is_only = max(len(recordings), len(transcripts)) == 1
    for number, path in transcripts:
        text = _characters(path)
        if text is None:
            continue
        place, original = recordings[number - 1] if number <= len(recordings) else (number, None)
        yield Spoken(
            source=source,
            name=path.stem,
            text=text,
            digest=_digest(text, WEBVTT),
            media_type=WEBVTT,
            original=original,
            file=None if is_only else place,
        )


def subtitles_on(readings: Readings, page: SourcePage) -> Spoken | None:
    """The subtitle file that is a page; None for another page, for a file that is not here, and for part of a page.

    A page with a person's transcript is read from that one, which has no times.
    """
    if page.file.media_type not in TIMED_TYPES or page.region or readings.transcript_of(page) is not None:
        return None
    text = _characters(readings.folder / page.file.path)
    if text is None:
        return None
    return Spoken(
        source=page.source,
        name=f"p{page.page:04}",
        text=text,
        digest=_digest(text, page.file.media_type),
        media_type=page.file.media_type,
        original=page.file,
        page=page.page,
    )


def passages_of(spoken: Spoken) -> Iterator[Passage]:
    """The passages of a text; at least one. They are counted without reading it: each line with an arrow is a cue."""
    cues = sum(ARROW in line for line in lines_of(spoken.text))
    for number in range(1, max(1, -(-cues // CUES_TO_A_PASSAGE)) + 1):
        yield Passage(spoken=spoken, number=number)


def untranscribed(folder: Path, sources: Iterable[Source]) -> Iterator[Untranscribed]:
    """Recordings that have neither a transcript nor a subtitle file, the second one for the second recording."""
    for source in sources:
        recordings = recordings_in(source)
        if not recordings or source.withdrawn is not None:
            continue
        subtitles = sum(file.media_type in TIMED_TYPES for file in source.files)
        known = {number for number, _ in recording_transcripts(folder, source.id)} | {*range(1, subtitles + 1)}
        for number, (_, file) in enumerate(recordings, start=1):
            if number not in known:
                yield Untranscribed(
                    source=source.id,
                    recording=Path(file.path).name,
                    transcript=recording_file(source.id, number),
                )


def check_recordings(folder: Path, sources: Mapping[str, Source]) -> Iterator[Problem]:
    """Transcripts with times that are not as WebVTT has them, each fault with its line (rule `transcript`)."""
    for source in sources:
        for _, path in recording_transcripts(folder, source):
            file = path.relative_to(folder).as_posix()
            for line, what, mend in _faults_in(path):
                place = Place(file=file, line=line)
                yield Problem(place=place, rule="transcript", what=what, mend=mend, severity=Severity.WARN)


def _faults_in(path: Path) -> Iterator[tuple[int | None, str, str]]:
    """What is wrong with a transcript: the line, None for the whole; what; and the mend."""
    try:
        decoded = read_text(path)
    except UnreadableOriginalError as error:
        yield None, error.what, error.mend
        return
    except OSError as error:
        yield None, f"it cannot be read: {error.strerror}", "see to its permissions"
        return
    if decoded.encoding != "utf-8":
        yield None, f"it is not UTF-8 text, as WebVTT is; it was read as {decoded.encoding}", "save it as UTF-8"
    yield from ((fault.line, fault.what, fault.mend) for fault in parse_timed_text(decoded.text, WEBVTT).faults)


def _characters(path: Path) -> str | None:
    """The characters of a text; None where it is not here, or is none."""
    try:
        return read_text(path).text
    except (UnreadableOriginalError, OSError):
        return None


def _digest(text: str, media_type: str) -> str:
    return hashlib.sha256(f"{media_type}\n{text}".encode(errors="surrogatepass")).hexdigest()


@lru_cache(maxsize=4)
def _parsed(text: str, media_type: str) -> TimedText:
    """A text is read once for all that is asked of it in turn."""
    return parse_timed_text(text, media_type)


@lru_cache(maxsize=4)
def _cut(text: str, media_type: str) -> Mapping[int, tuple[Block, ...]]:
    """The blocks of a text by passage, counted from 1; what stands above the first cue is in the first passage."""
    found: dict[int, list[Block]] = {}
    cues = 0
    for block in _parsed(text, media_type).blocks:
        cues += block.kind is BlockKind.CUE
        found.setdefault(max(cues - 1, 0) // CUES_TO_A_PASSAGE + 1, []).append(block)
    return {number: tuple(blocks) for number, blocks in found.items()}


def spoken_texts(readings: Readings, source: Source) -> Iterator[Spoken]:
    """Every text with times of a source: people's transcripts, then subtitle files."""
    yield from transcripts_of(readings.folder, source)
    for page in pages_of(source, readings.archive):
        spoken = subtitles_on(readings, page)
        if spoken is not None:
            yield spoken
