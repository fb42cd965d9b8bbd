"""Look at two sources side by side: what their pictures and their texts have in common, and where."""

from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from provenance.errors import ProvenanceError, UsageRefusedError
from provenance.likeness.page_prints import PrintJob
from provenance.likeness.pair_drawing import DrawJob, draw_pages
from provenance.likeness.values import PictureMatch, TextMatch
from provenance.rules.copy_families import tied
from provenance.store.likeness_state import comparing_lock, load_state
from provenance.tasks.alike import Alike, Seeker
from provenance.tasks.comparing import silent, update_indexes
from provenance.tasks.fingerprinting import PAGE_BYTES, PAGE_SECONDS, Prints
from provenance.tasks.held_pictures import HeldPictures
from provenance.tasks.held_texts import HeldTexts
from provenance.tasks.opening import Opened
from provenance.tasks.page_readings import Readings, SourcePage, pages_of
from provenance.workers.running import run_in_workers


@dataclass(frozen=True, slots=True, kw_only=True)
class PairSeen:
    """What two sources have in common.

    Attributes:
        between: their ids, as asked.
        picture: the likeliest of their pictures; None where none are alike.
        text: the likeliest of their texts; None where none are alike.
        passages: the aligned passages of the two texts, as they are read; empty where no texts are alike.
    """

    between: tuple[str, str]
    picture: Alike | None = None
    text: Alike | None = None
    passages: tuple[str, str] = ("", "")


def look_at_pair(
    opened: Opened,
    one: str,
    other: str,
    *,
    workers: int | None = None,
    on_progress: Callable[[str, int, int], None] = silent,
) -> PairSeen:
    """Compare two sources, whatever is on record of them; no record is written.

    Args:
        opened: the archive.
        one: the id of a source that is not withdrawn.
        other: the id of another.
        workers: how many pages are looked at at a time; None for one a core.
        on_progress: told how far it is.

    Raises:
        WriteRefusedError: derived data cannot be written.
    """
    readings = Readings(opened.folder, opened.archive)
    prints = Prints(readings)
    holders = sorted({page.holder.id for page in _pages(opened, one, other)})
    prints.take_missing(holders, workers=workers, on_progress=on_progress)
    held = HeldPictures(readings, prints), HeldTexts(readings)
    with comparing_lock(opened.folder):
        indexes = update_indexes(opened, held, readings, load_state(opened.folder), on_progress)
    seeker = Seeker(readings, held, indexes, tied(opened.archive).family)
    found = list(seeker.between(opened.archive.sources[one], opened.archive.sources[other]))
    picture = next((alike for alike in found if isinstance(alike.match, PictureMatch)), None)
    text = next((alike for alike in found if isinstance(alike.match, TextMatch)), None)
    return PairSeen(between=(one, other), picture=picture, text=text, passages=_passages(text, held[1], readings))


def draw(opened: Opened, alike: Alike) -> bytes:
    """Draw the two pages of which the pictures are alike, the matched area marked on each, as a PNG.

    Raises:
        UsageRefusedError: an original is not here.
        ProvenanceError: a page cannot be opened.
    """
    match = alike.match
    if not isinstance(match, PictureMatch):
        raise TypeError("texts are not drawn")
    one = page_job(opened, _page(opened, alike.source, alike.here.page))
    other = page_job(opened, _page(opened, alike.other, alike.there.page))
    job = DrawJob(one=one, other=other, match=match, names=(_name(opened, alike.source), _name(opened, alike.other)))
    with closing(run_in_workers(draw_pages, [job], seconds_each=PAGE_SECONDS, memory_bytes=PAGE_BYTES)) as outcomes:
        outcome = next(outcomes)
    if outcome.value is None:
        fault = outcome.fault
        if fault is not None and fault.error is not None:
            raise fault.error
        what = fault.what if fault else "the two pages could not be drawn"
        raise ProvenanceError(what, "look at the two originals themselves")
    return outcome.value


def _pages(opened: Opened, *sources: str) -> list[SourcePage]:
    return [page for source in sources for page in pages_of(opened.archive.sources[source], opened.archive)]


def _page(opened: Opened, source: str, number: int | None) -> SourcePage:
    return next(page for page in _pages(opened, source) if page.page == number)


def page_job(opened: Opened, page: SourcePage) -> PrintJob:
    """What a worker needs to open a page.

    Raises:
        UsageRefusedError: its original is not here.
    """
    path = opened.folder / Path(page.file.path)
    if not path.is_file():
        raise UsageRefusedError(
            f"{page.file.path} is not here, so that it cannot be drawn", "bring the original back from a copy first"
        )
    return PrintJob(path=path, media_type=page.file.media_type, page=page.in_file)


def _name(opened: Opened, source: str) -> str:
    return f"{opened.archive.sources[source].title} ({source})"


def _passages(text: Alike | None, held: HeldTexts, readings: Readings) -> tuple[str, str]:
    if text is None or not isinstance(text.match, TextMatch):
        return "", ""
    of_one = next(each for each in held.by_source[text.source] if each.key == text.own_key)
    of_other = held.by_key[text.other_key]
    (start, end), (there, until) = text.match.one, text.match.other
    return of_one.text(readings)[start:end], of_other.text(readings)[there:until]
