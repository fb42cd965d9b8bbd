"""Make anew what is derived: readings and fingerprints that are missing, and the indexes."""

import shutil
from collections.abc import Callable

from provenance.reports.kept import Rebuilt
from provenance.rules.findings import UnreadPage
from provenance.store.cut_outs_store import CutOutsStore
from provenance.store.likeness_state import comparing_lock, load_state
from provenance.store.tiles_store import TilesStore
from provenance.tasks.comparing import PICTURES_INDEX, TEXTS_INDEX, update_indexes
from provenance.tasks.fingerprinting import Prints, print_key
from provenance.tasks.held_pictures import HeldPictures
from provenance.tasks.held_texts import HeldTexts
from provenance.tasks.opening import Opened
from provenance.tasks.own_index import INDEX
from provenance.tasks.page_readings import Readings, pages_of
from provenance.tasks.reading_pages import read_missing_pages
from provenance.tasks.searching import refresh_index
from provenance.tasks.tiling import is_kept


def rebuild(
    opened: Opened,
    *,
    prune: bool = False,
    workers: int | None = None,
    on_progress: Callable[[str, int, int], None] = lambda _step, _done, _total: None,
) -> Rebuilt:
    """Read every page that has no sound reading under today's settings, and build the indexes from nothing.

    Fingerprints that are missing, damaged or of another method are taken anew. No record is touched: what was ruled on
    stays ruled on, and what a new method finds is written down by the next `ingest`. Pages that could not be read
    before are tried again.

    Args:
        opened: the archive.
        prune: also remove readings and fingerprints of files that no source has, or made by other settings and methods,
            and what was cut out of such files, in pieces or tiles.
        workers: how many pages are read at a time; None for one a core.
        on_progress: told the step, how much is done, and of how much.

    Raises:
        ToolMissingError: a page needs a recogniser that is not installed.
    """
    readings = Readings(opened.folder, opened.archive)
    pages = read_missing_pages(
        readings, sorted(opened.archive.sources), workers=workers, afresh=True, on_progress=on_progress
    )
    prints = Prints(readings)
    taken = prints.take_missing(sorted(opened.archive.sources), workers=workers, afresh=True, on_progress=on_progress)
    pruned = _prune(readings, prints) if prune else None
    held = HeldPictures(readings, prints), HeldTexts(readings)
    with comparing_lock(opened.folder):
        for folder in (PICTURES_INDEX, TEXTS_INDEX):
            shutil.rmtree(opened.folder / folder, ignore_errors=True)
        update_indexes(opened, held, readings, load_state(opened.folder), on_progress)
    shutil.rmtree(opened.folder / INDEX, ignore_errors=True)
    changes = refresh_index(opened, readings, on_progress=lambda done, total: on_progress("indexing", done, total))
    faults = tuple(
        UnreadPage(source=source.id, page=page.page, why=why)
        for source in opened.archive.sources.values()
        for page in pages_of(source)
        for in_file, why in pages.faults.get(page.file.sha256, ())
        if in_file == page.in_file
    )
    return Rebuilt(
        standing=opened.standing,
        pages_read=pages.read_now,
        fingerprinted=taken.pages,
        indexed=changes.added,
        pruned=pruned,
        unread=faults,
    )


def _prune(readings: Readings, prints: Prints) -> int:
    kept = _kept(readings)
    of_today = {(digest, page, print_key()) for digest, page, _ in kept}
    gone = readings.store.prune(lambda digest, page, key: (digest, page, key) in kept)
    gone += prints.store.prune(lambda digest, page, key: (digest, page, key) in of_today)
    held = {(digest, page) for digest, page, _ in kept}
    gone += CutOutsStore(readings.folder).prune(lambda digest, page, _key: (digest, page) in held)
    return gone + TilesStore(readings.folder).prune(lambda digest, page, key: (digest, page) in held and is_kept(key))


def _kept(readings: Readings) -> set[tuple[str, int, str]]:
    """The readings that are gone by, and what is remembered of pages that could not be read: file, page and key."""
    pages = (page for source in readings.archive.sources.values() for page in pages_of(source))
    keyed = ((page, readings.key_of(page) or readings.failure_key(page)) for page in pages)
    return {(page.file.sha256, page.in_file, key) for page, key in keyed}
