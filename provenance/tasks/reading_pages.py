"""Read the pages that have no reading yet, each in a worker, and keep what was read."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from contextlib import closing
from dataclasses import dataclass

from provenance.errors import ToolMissingError
from provenance.reading.keys import reading_key
from provenance.reading.page_reading import PageJob, read_page
from provenance.tasks.page_readings import Readings, SourcePage, languages_of, pages_of
from provenance.workers.running import run_in_workers

PAGE_SECONDS = 300.0
PAGE_BYTES = 1_500_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class PagesRead:
    """What came of reading.

    Attributes:
        read_now: how many pages were read by this call; those read before are not counted.
        faults: pages that could not be read, by digest of their file: (page within the file, why).
    """

    read_now: int
    faults: Mapping[str, tuple[tuple[int, str], ...]]


def read_missing_pages(
    readings: Readings,
    sources: Iterable[str],
    *,
    workers: int | None,
    on_progress: Callable[[str, int, int], None],
) -> PagesRead:
    """Read every page of the sources that has no reading under today's settings.

    An original that is not here (not fetched, say) is left alone. A page that cannot be read costs nothing but
    itself. What is read is kept at once, so that an interrupted call loses at most the pages under way.

    Raises:
        ToolMissingError: a page needs a recogniser, or its data for a language, that is not installed.
    """
    jobs = {_job(readings, page): page for page in _missing(readings, sources)}
    faults: dict[str, list[tuple[int, str]]] = defaultdict(list)
    outcomes = run_in_workers(
        read_page, list(jobs), workers=workers, seconds_each=PAGE_SECONDS, memory_bytes=PAGE_BYTES
    )
    with closing(outcomes):
        for done, outcome in enumerate(outcomes, start=1):
            page = jobs[outcome.job]
            if outcome.value is not None:
                key = reading_key(outcome.value.origin, outcome.job.languages, readings.settings)
                readings.store.put(page.file.sha256, key, outcome.value)
                readings.forget(page.file.sha256)
            elif outcome.fault is not None:
                if isinstance(outcome.fault.error, ToolMissingError):
                    raise outcome.fault.error
                faults[page.file.sha256].append((page.in_file, outcome.fault.what))
            on_progress("reading", done, len(jobs))
    found = {digest: tuple(sorted(pages)) for digest, pages in faults.items()}
    return PagesRead(read_now=len(jobs) - sum(map(len, found.values())), faults=found)


def _missing(readings: Readings, sources: Iterable[str]) -> list[SourcePage]:
    return [
        page
        for source in sources
        for page in pages_of(readings.archive.sources[source])
        if not readings.is_read(page) and (readings.folder / page.file.path).is_file()
    ]


def _job(readings: Readings, page: SourcePage) -> PageJob:
    return PageJob(
        path=readings.folder / page.file.path,
        media_type=page.file.media_type,
        page=page.in_file,
        languages=languages_of(page.source, readings.archive),
        settings=readings.settings,
    )
