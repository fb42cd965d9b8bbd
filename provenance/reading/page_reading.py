"""One page of an original to its reading: the whole way, to be run in a worker."""

from dataclasses import dataclass, field
from pathlib import Path

from provenance.errors import UnreadableOriginalError
from provenance.pages.layer_health import covers_page, is_healthy
from provenance.pages.page_contents import is_blank_in_earnest
from provenance.pages.pdf_look import PageLook, look_at
from provenance.pages.pictures import PagePicture, upright
from provenance.pages.plain_files import require_plain
from provenance.pages.plain_text import read_text
from provenance.pages.rendering import render
from provenance.pages.signatures import MARKDOWN, PDF, PICTURES, PLAIN_TEXT
from provenance.pages.text_layer import layer_engine, text_layer
from provenance.pages.timed_texts import note_on_faults, read_timed_text
from provenance.reading.engine import recogniser
from provenance.reading.languages import DEFAULT_LANGUAGES, data_names
from provenance.reading.settings import ReadingSettings
from provenance.reading.upright import read_upright
from provenance.records.readings import Origin, PageReading, Word
from provenance.records.recordings import TIMED_TYPES


@dataclass(frozen=True, slots=True, kw_only=True)
class PageJob:
    """A page to be read.

    Attributes:
        path: the file that holds it.
        media_type: as `identify` says.
        page: counted from 1 within the file.
        languages: BCP 47 tags that the recogniser is told; empty for its default.
        settings: of this run.
    """

    path: Path
    media_type: str
    page: int
    languages: tuple[str, ...] = DEFAULT_LANGUAGES
    settings: ReadingSettings = field(default_factory=ReadingSettings)


def read_page(job: PageJob) -> PageReading:
    """Read one page: by its text layer where that can be trusted, else by recognition; a text as it stands.

    Raises:
        UnreadableOriginalError: the page cannot be opened or read, or its kind is not read.
        ToolMissingError: it has to be recognised, and the recogniser or its data are not installed.
    """
    require_plain(job.path)
    if job.media_type == PDF:
        return _read_pdf(job)
    if job.media_type in PICTURES:
        return _recognised(job, upright(job.path, job.media_type, job.page))
    if job.media_type in {PLAIN_TEXT, MARKDOWN}:
        _refuse_second_page(job)
        return _read_plain_text(job)
    if job.media_type in TIMED_TYPES:
        _refuse_second_page(job)
        return _read_timed_text(job)
    raise UnreadableOriginalError(
        f"{job.path.name} is {job.media_type}, a kind that is kept and not read", "transcribe it by hand"
    )


def _read_pdf(job: PageJob) -> PageReading:
    """Take the text layer if it is sound and says what the page says; else draw the page and recognise it."""
    try:
        look = look_at(job.path, job.page)
    except UnreadableOriginalError as error:
        return _by_layer_alone(job, error)
    words, why_not = _sound_layer(job, look)
    if words is not None:
        return PageReading(page=job.page, words=words, origin=Origin.TEXT_LAYER, engine=layer_engine(), note=why_not)
    return _recognised(job, render(job.path, job.page, _dpi_for(look, job.settings)), why_not)


def _by_layer_alone(job: PageJob, fault: UnreadableOriginalError) -> PageReading:
    """Read a page that cannot be drawn by its text layer, if that is sound; else the page is unread for that fault."""
    try:
        words = text_layer(job.path, job.page)
    except UnreadableOriginalError:
        raise fault from None
    if not is_healthy(words):
        raise fault
    note = "it cannot be drawn, and was read by its text layer alone: look at the page"
    return PageReading(page=job.page, words=words, origin=Origin.TEXT_LAYER, engine=layer_engine(), note=note)


def _sound_layer(job: PageJob, look: PageLook) -> tuple[tuple[Word, ...] | None, str]:
    """Give the words of the layer, or None where it cannot be used; and what is to be said of it."""
    if look.objects == 0:
        _refuse_lost_page(job)
        return (), "a blank page"
    if look.characters == 0:
        return None, ""
    try:
        words = text_layer(job.path, job.page)
    except UnreadableOriginalError as error:
        return None, error.what
    if not covers_page(words, look.picture_share):
        return None, ""
    return (words, "") if is_healthy(words) else (None, "its text layer is not sound and was not used")


def _refuse_lost_page(job: PageJob) -> None:
    """A page whose content is damaged is drawn as if it were blank."""
    if not is_blank_in_earnest(job.path, job.page):
        raise UnreadableOriginalError(
            f"page {job.page} of {job.path.name} comes out blank, and its content is damaged or cannot be found",
            "get the file again from where it came",
        )


def _dpi_for(look: PageLook, settings: ReadingSettings) -> float:
    """Draw a scan at its own resolution, within the limits; what is drawn by lines at the finest."""
    if look.scan_dpi is None:
        return settings.most_dpi
    return min(settings.most_dpi, max(settings.least_dpi, look.scan_dpi))


def _recognised(job: PageJob, picture: PagePicture, *notes: str) -> PageReading:
    data = data_names(job.languages, recogniser().languages)
    recognised = read_upright(picture, data, job.settings)
    return PageReading(
        page=job.page,
        words=recognised.words,
        origin=Origin.RECOGNISED,
        engine=recogniser().name,
        languages=job.languages or DEFAULT_LANGUAGES,
        note="; ".join(note for note in (*notes, picture.note, recognised.note) if note),
        uncovered=recognised.uncovered,
    )


def _read_plain_text(job: PageJob) -> PageReading:
    """Read a text: its words, each with the number of the line that it stands on in the file."""
    decoded = read_text(job.path)
    words = tuple(
        Word(word, number)
        for number, line in enumerate(decoded.text.replace("\f", "\n").split("\n"), start=1)
        for word in line.split()
    )
    return PageReading(page=job.page, words=words, origin=Origin.PLAIN_TEXT, engine=decoded.encoding, note=decoded.note)


def _read_timed_text(job: PageJob) -> PageReading:
    """Read a subtitle file: the words that are said, each with the number of its line in the file."""
    timed, decoded = read_timed_text(job.path, job.media_type)
    note = "; ".join(each for each in (decoded.note, note_on_faults(timed)) if each)
    return PageReading(page=job.page, words=timed.words, origin=Origin.TIMED_TEXT, engine=decoded.encoding, note=note)


def _refuse_second_page(job: PageJob) -> None:
    if job.page != 1:
        raise UnreadableOriginalError(f"{job.path.name} has 1 page, and no page {job.page}", "correct the page")
