"""Take files in: register each as a source, read its pages, and make them searchable."""

from collections.abc import Callable, Sequence
from pathlib import Path

from provenance.reports.ingested import Ingested, IngestedFile, IngestState
from provenance.tasks.batches import Batch
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.page_readings import Readings
from provenance.tasks.reading_pages import PagesRead, read_missing_pages
from provenance.tasks.receiving import Received, ReceivedState, receive
from provenance.tasks.searching import refresh_index

Progress = Callable[[str, int, int], None]
"""Told the step (`registering`, `reading`, `indexing`), how much is done, and of how much."""


def _silent(_step: str, _done: int, _total: int) -> None:
    """Say nothing."""


def ingest(
    opened: Opened,
    paths: Sequence[Path],
    *,
    by: str,
    today: str,
    batch: Batch | None = None,
    workers: int | None = None,
    on_progress: Progress = _silent,
) -> Ingested:
    """Register the files at the given paths, read their pages, and bring the index up to date.

    Every step can be interrupted: what is registered stays registered, what is read is never read again, and the
    next call goes on with the rest.

    Args:
        opened: the archive.
        paths: files and folders.
        by: an id of `people`.
        today: the date that the records carry, and on which the files came.
        batch: what is said of all of them; None for nothing.
        workers: how many pages are read at a time; None for one a core.
        on_progress: told how far it is.

    Raises:
        UsageRefusedError: nobody of that id is among `people`, a path does not exist, or what is said of the batch
            cannot be.
        WriteRefusedError: a record or an original cannot be written.
        ToolMissingError: a page needs a recogniser that is not installed.
    """
    received = receive(opened, paths, batch or Batch(), by=by, today=today, on_progress=on_progress)
    after = open_folder(opened.folder) if any(item.written for item in received) else opened
    readings = Readings(after.folder, after.archive)
    held = {item.source for item in received if item.source is not None}
    sources = sorted(held & after.archive.sources.keys())
    pages = read_missing_pages(readings, sources, workers=workers, on_progress=on_progress)
    refresh_index(after, readings, on_progress=lambda done, total: on_progress("indexing", done, total))
    return Ingested(
        standing=after.standing,
        files=tuple(_ingested(item, after, pages) for item in received),
        pages_read=pages.read_now,
        written=tuple(dict.fromkeys(item.written for item in received if item.written)),
    )


def _ingested(item: Received, opened: Opened, pages: PagesRead) -> IngestedFile:
    if item.source is None:
        return IngestedFile(path=item.path, source=None, state=IngestState.REFUSED, pages=None, read=0, why=item.why)
    source = opened.archive.sources.get(item.source)
    file = next((file for file in source.files if file.sha256 == item.sha256), None) if source else None
    count = file.pages if file else None
    faults = pages.faults.get(item.sha256, ())
    read = (count or 0) - len(faults)
    state = IngestState.KNOWN if item.state is ReceivedState.KNOWN else IngestState.REGISTERED
    if item.unreadable or faults:
        state = IngestState.UNREAD
    why = "; ".join(part for part in (item.unreadable, item.why, _in_words(faults)) if part)
    return IngestedFile(path=item.path, source=item.source, state=state, pages=count, read=read, why=why)


def _in_words(faults: Sequence[tuple[int, str]]) -> str:
    if not faults:
        return ""
    page, what = faults[0]
    more = f", and {len(faults) - 1} more" if len(faults) > 1 else ""
    return f"page {page} was not read: {what}{more}"
