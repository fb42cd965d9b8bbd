"""One page of an original to its reading: the whole way, to be run in a worker."""

from dataclasses import dataclass, field
from pathlib import Path

from provenance.errors import UnreadableOriginalError
from provenance.pages.layer_health import covers_page, is_healthy
from provenance.pages.pdf_look import PageLook, look_at
from provenance.pages.pictures import PagePicture, upright
from provenance.pages.plain_text import read_text
from provenance.pages.rendering import render
from provenance.pages.signatures import JPEG, MARKDOWN, PDF, PLAIN_TEXT, PNG
from provenance.pages.text_layer import layer_engine, text_layer
from provenance.reading.engine import recogniser
from provenance.reading.languages import DEFAULT_LANGUAGES, data_names
from provenance.reading.recognising import recognise
from provenance.reading.settings import ReadingSettings
from provenance.records.readings import Origin, PageReading, Word


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
    if job.media_type == PDF:
        return _read_pdf(job)
    if job.media_type in {JPEG, PNG}:
        _refuse_second_page(job)
        return _recognised(job, upright(job.path, job.media_type))
    if job.media_type in {PLAIN_TEXT, MARKDOWN}:
        _refuse_second_page(job)
        return _read_plain_text(job)
    raise UnreadableOriginalError(
        f"{job.path.name} is {job.media_type}, a kind that is kept and not read", "transcribe it by hand"
    )


def _read_pdf(job: PageJob) -> PageReading:
    """Take the text layer if it is sound and says what the page says; else draw the page and recognise it."""
    look = look_at(job.path, job.page)
    words, why_not = _sound_layer(job, look)
    if words is not None:
        return PageReading(page=job.page, words=words, origin=Origin.TEXT_LAYER, engine=layer_engine(), note=why_not)
    return _recognised(job, render(job.path, job.page, _dpi_for(look, job.settings)), why_not)


def _sound_layer(job: PageJob, look: PageLook) -> tuple[tuple[Word, ...] | None, str]:
    """Give the words of the layer, or None where it cannot be used; and what is to be said of it."""
    if look.objects == 0:
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


def _dpi_for(look: PageLook, settings: ReadingSettings) -> float:
    """Draw a scan at its own resolution, within the limits; what is drawn by lines at the finest."""
    if look.scan_dpi is None:
        return settings.most_dpi
    return min(settings.most_dpi, max(settings.least_dpi, look.scan_dpi))


def _recognised(job: PageJob, picture: PagePicture, *notes: str) -> PageReading:
    data = data_names(job.languages, recogniser().languages)
    return PageReading(
        page=job.page,
        words=recognise(picture, data, job.settings),
        origin=Origin.RECOGNISED,
        engine=recogniser().name,
        languages=job.languages or DEFAULT_LANGUAGES,
        note="; ".join(note for note in (*notes, picture.note) if note),
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


def _refuse_second_page(job: PageJob) -> None:
    if job.page != 1:
        raise UnreadableOriginalError(f"{job.path.name} has 1 page, and no page {job.page}", "correct the page")
