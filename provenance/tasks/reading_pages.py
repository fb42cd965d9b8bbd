"""Read the pages that have no reading yet, each in a worker, and keep what was read."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from contextlib import closing
from dataclasses import dataclass
from typing import TypeAlias

from provenance.errors import ToolMissingError
from provenance.reading.engine import engine_name
from provenance.reading.keys import reading_key
from provenance.reading.page_reading import PageJob, read_page
from provenance.records.readings import PageReading
from provenance.store.failed_readings import FailedReading
from provenance.tasks.page_readings import Readings, SourcePage, languages_of, pages_of
from provenance.workers.outcomes import Fault, FaultKind, Outcome
from provenance.workers.running import run_in_workers

PAGE_SECONDS = 300.0
PAGE_BYTES = 1_500_000_000

_COSTLY = frozenset({FaultKind.TIME, FaultKind.MEMORY, FaultKind.OUTPUT, FaultKind.DIED})
_Place: TypeAlias = tuple[str, int, tuple[str, ...]]
"""A page by digest of its original, number within it, and the ways in which it may be read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PagesRead:
    """What came of reading.

    Attributes:
        read_now: how many pages were read by this call; those read before are not counted.
        faults: pages that could not be read, by digest of their file: (page within the file, why).
        notes: what a person should know of pages that were read by this call, in the same way.
    """

    read_now: int
    faults: Mapping[str, tuple[tuple[int, str], ...]]
    notes: Mapping[str, tuple[tuple[int, str], ...]]


def read_missing_pages(
    readings: Readings,
    sources: Iterable[str],
    *,
    workers: int | None,
    afresh: bool = False,
    on_progress: Callable[[str, int, int], None],
) -> PagesRead:
    """Read every page of the sources that has no reading under today's settings.

    An original that is not here (not fetched, say) is left alone. A page that cannot be read costs nothing but
    itself. What is read is kept at once, so that an interrupted call loses at most the pages under way. A page that
    hung or broke its reader is remembered, and is not tried again with the same engine and settings.

    Args:
        readings: of the archive.
        sources: ids.
        workers: how many pages are read at a time; None for one a core.
        afresh: try what failed before as well, and read again what is damaged.
        on_progress: told how far it is.

    Raises:
        ToolMissingError: a page needs a recogniser, or its data for a language, that is not installed; what needs none
            is read first.
        WriteRefusedError: the disk takes no more readings; those kept so far stay.
    """
    run = _Run(readings)
    missing = run.find_missing(sources, afresh=afresh)
    done = 0
    outcomes = run_in_workers(
        read_page,
        map(run.begin, missing),
        workers=workers,
        seconds_each=PAGE_SECONDS,
        memory_bytes=PAGE_BYTES,
        on_wait=lambda: on_progress("reading", done, len(missing)),
    )
    with closing(outcomes):
        for outcome in outcomes:
            run.settle(outcome)
            done += 1
            on_progress("reading", done, len(missing))
    if run.tool_missing is not None:
        raise run.tool_missing
    return PagesRead(read_now=run.read_now, faults=_in_order(run.faults), notes=_in_order(run.notes))


class _Run:
    """What comes of reading, page by page."""

    def __init__(self, readings: Readings) -> None:
        self._readings = readings
        self._under_way: dict[PageJob, SourcePage] = {}
        self.read_now = 0
        self.faults: dict[str, list[tuple[int, str]]] = defaultdict(list)
        self.notes: dict[str, list[tuple[int, str]]] = defaultdict(list)
        self.tool_missing: ToolMissingError | None = None

    def find_missing(self, sources: Iterable[str], *, afresh: bool) -> list[SourcePage]:
        """The pages to be read, each once; what is passed over because it failed before is noted with the reason."""
        readings, found, passed_over = self._readings, dict[_Place, SourcePage](), set[_Place]()
        is_read = readings.is_read_soundly if afresh else readings.is_read
        for page in (page for source in sources for page in pages_of(readings.archive.sources[source])):
            if page.in_file == 1:
                readings.store.clean(page.file.sha256)
            place = (page.file.sha256, page.in_file, readings.wanted_keys(page))
            if place in found or place in passed_over or is_read(page):
                continue
            failed = None if afresh else readings.failure_of(page)
            if failed is not None and failed.is_costly:
                passed_over.add(place)
                self.faults[page.file.sha256].append((page.in_file, failed.why_not_again))
            elif (readings.folder / page.file.path).is_file():
                found[place] = page
        return list(found.values())

    def begin(self, page: SourcePage) -> PageJob:
        """The job of a page, as it is taken up."""
        job = _job(self._readings, page)
        self._under_way[job] = page
        return job

    def settle(self, outcome: Outcome[PageJob, PageReading]) -> None:
        """Keep what was read, or note why it was not."""
        page = self._under_way.pop(outcome.job)
        if outcome.value is not None:
            self._keep(page, outcome.job, outcome.value)
        elif outcome.fault is not None and isinstance(outcome.fault.error, ToolMissingError):
            self.tool_missing = outcome.fault.error
        elif outcome.fault is not None:
            self.faults[page.file.sha256].append((page.in_file, outcome.fault.what))
            self._remember(page, outcome.fault)

    def _keep(self, page: SourcePage, job: PageJob, reading: PageReading) -> None:
        readings, sha256 = self._readings, page.file.sha256
        readings.store.put(sha256, reading_key(reading.origin, job.languages, readings.settings), reading)
        readings.forget(sha256)
        readings.failed.forget(sha256, page.in_file, readings.failure_key(page))
        self.read_now += 1
        if reading.note:
            self.notes[sha256].append((page.in_file, reading.note))

    def _remember(self, page: SourcePage, fault: Fault) -> None:
        """Remember a fault that lies in the page; what somebody ended, or a full disk, says nothing of the page."""
        if fault.kind in {FaultKind.ENDED, FaultKind.NO_ROOM}:
            return
        failed = FailedReading(
            why=fault.what, kind=fault.kind.value, engine=engine_name(), is_costly=fault.kind in _COSTLY
        )
        self._readings.failed.put(page.file.sha256, page.in_file, self._readings.failure_key(page), failed)


def _in_order(found: Mapping[str, list[tuple[int, str]]]) -> dict[str, tuple[tuple[int, str], ...]]:
    return {digest: tuple(sorted(pages)) for digest, pages in found.items()}


def _job(readings: Readings, page: SourcePage) -> PageJob:
    return PageJob(
        path=readings.folder / page.file.path,
        media_type=page.file.media_type,
        page=page.in_file,
        languages=languages_of(page.source, readings.archive),
        settings=readings.settings,
    )
