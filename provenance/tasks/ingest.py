"""Take files in: register each as a source, read its pages, see whether they were seen before, make them searchable."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from provenance.pages.signatures import why_unread
from provenance.records.sources import OriginalFile, Source
from provenance.reports.ingested import Ingested, IngestedFile, IngestState
from provenance.tasks.batches import Batch
from provenance.tasks.comparing import compare
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.page_readings import Readings, pages_of
from provenance.tasks.reading_pages import PagesRead, read_missing_pages
from provenance.tasks.receiving import Received, ReceivedState, receive
from provenance.tasks.recordings import untranscribed
from provenance.tasks.searching import refresh_index

ABSENT = "not all of it was read, for its original is not here: bring it back from a copy, then ingest it again"

Progress = Callable[[str, int, int], None]
"""Told the step, how much of it is done, and of how much: `comparing` (files with those held), `registering`,
`reading`, `fingerprinting`, `taking in` (texts), `seeking` (what was seen before), `indexing`."""


def silent(_step: str, _done: int, _total: int) -> None:
    """Say nothing."""


def ingest(
    opened: Opened,
    paths: Sequence[Path],
    *,
    by: str,
    today: str,
    batch: Batch | None = None,
    workers: int | None = None,
    on_progress: Progress = silent,
    on_received: Callable[[Sequence[Received]], None] = lambda _: None,
) -> Ingested:
    """Register the files at the given paths, read their pages, compare them with all held, and bring the index on.

    Every step can be interrupted: what is registered stays registered, what is read is never read again, and the
    next call goes on with the rest.

    Args:
        opened: the archive.
        paths: files and folders.
        by: an id of `people`.
        today: the date that the records carry, and on which the files came.
        batch: what is said of all of them; None for nothing.
        workers: how many pages are read at a time; None for one a core.
        on_progress: told how far it is; about once a second it is told the same again. What it raises ends the call.
        on_received: told what became of every file once all are registered, before a page is read.

    Raises:
        UsageRefusedError: nobody of that id is among `people`, a path does not exist, or what is said of the batch
            cannot be.
        WriteRefusedError: a record or an original cannot be written.
        ToolMissingError: a page needs a recogniser that is not installed.
    """
    received = receive(opened, paths, batch or Batch(), by=by, today=today, on_progress=on_progress)
    on_received(received)
    after = open_folder(opened.folder) if any(item.written for item in received) else opened
    readings = Readings(after.folder, after.archive)
    held = {item.source for item in received if item.source is not None}
    sources = sorted(held & after.archive.sources.keys())
    pages = read_missing_pages(readings, sources, workers=workers, on_progress=on_progress)
    compared = compare(after, readings, by=by, today=today, workers=workers, on_progress=on_progress)
    refresh_index(after, readings, on_progress=lambda done, total: on_progress("indexing", done, total))
    kept = _kept_files(readings, sources)
    return Ingested(
        standing=after.standing,
        files=tuple(_ingested(item, after, pages, kept) for item in received),
        pages_read=pages.read_now,
        compared=compared,
        written=tuple(dict.fromkeys([*(item.written for item in received if item.written), *compared.written])),
    )


@dataclass(frozen=True, slots=True)
class _Kept:
    """A file as the archive holds it, and how many of its pages have a reading."""

    file: OriginalFile
    read: int = 0


def _kept_files(readings: Readings, sources: Iterable[str]) -> Mapping[tuple[str, str], _Kept]:
    """The files of the sources, by id and digest; what was read is counted by what is kept, not by what was tried."""
    kept: dict[tuple[str, str], _Kept] = {}
    for source in (readings.archive.sources[each] for each in sources):
        read = Counter(page.file.sha256 for page in pages_of(source) if readings.key_of(page) is not None)
        kept |= {(source.id, file.sha256): _Kept(file, read[file.sha256]) for file in source.files}
    return kept


def _ingested(item: Received, opened: Opened, pages: PagesRead, kept: Mapping[tuple[str, str], _Kept]) -> IngestedFile:
    if item.source is None:
        return IngestedFile(path=item.path, source=None, state=IngestState.REFUSED, pages=None, read=0, why=item.why)
    source, held = opened.archive.sources.get(item.source), kept.get((item.source, item.sha256))
    file = held.file if held else None
    count, read = (held.file.pages, held.read) if held else (None, 0)
    faults = pages.faults.get(item.sha256, ())
    absent = ABSENT if not faults and read < (count or 0) else ""
    state = IngestState.KNOWN if item.state is ReceivedState.KNOWN else IngestState.REGISTERED
    not_opened = why_unread(file.media_type) if file and file.pages is None and not item.unreadable else ""
    if item.unreadable or faults or absent or not_opened:
        state = IngestState.UNREAD
    notes = [(page, note) for page, note in pages.notes.get(item.sha256, ()) if note not in item.why]
    told = (
        item.unreadable,
        item.why,
        "" if not_opened in item.why else not_opened,
        absent,
        _in_words(faults),
        *_notes_in_words(notes),
        _of_recording(opened, source, file),
    )
    why = "; ".join(part for part in told if part)
    return IngestedFile(path=item.path, source=item.source, state=state, pages=count, read=read, why=why)


def _of_recording(opened: Opened, source: Source | None, file: OriginalFile | None) -> str:
    """What becomes of a recording that nobody has transcribed; empty for any other file."""
    if source is None or file is None:
        return ""
    due = [each for each in untranscribed(opened.folder, [source]) if each.recording == Path(file.path).name]
    return f"a recording, kept as it is; what is said on it belongs in {due[0].transcript}" if due else ""


def _in_words(faults: Sequence[tuple[int, str]]) -> str:
    if not faults:
        return ""
    page, what = faults[0]
    more = f", and {len(faults) - 1} more" if len(faults) > 1 else ""
    return f"page {page} was not read: {what}{more}"


def _notes_in_words(notes: Sequence[tuple[int, str]]) -> Iterator[str]:
    """Each note once, with the page that it is on and how many more have it."""
    of_pages: dict[str, list[int]] = {}
    for page, note in notes:
        of_pages.setdefault(note, []).append(page)
    for note, pages in of_pages.items():
        more = f" and {len(pages) - 1} more" if len(pages) > 1 else ""
        yield f"page {pages[0]}{more}: {note}"
