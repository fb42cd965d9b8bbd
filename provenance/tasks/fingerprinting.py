"""Take the fingerprints of the pictures on pages that have none yet, each page in a worker, and keep them."""

import hashlib
from collections.abc import Callable, Iterable
from contextlib import closing
from dataclasses import dataclass
from functools import cache

from provenance.likeness.page_prints import PrintJob, has_pages, print_page
from provenance.likeness.picture_parts import PARTS_METHOD
from provenance.likeness.print_bytes import from_bytes, to_bytes
from provenance.likeness.prints import METHOD
from provenance.likeness.values import PicturePrint
from provenance.records.readings import DOUBTFUL_BELOW, Box
from provenance.store.prints_store import PrintsStore
from provenance.tasks.page_readings import Readings, SourcePage, pages_of
from provenance.workers.outcomes import FaultKind, Outcome
from provenance.workers.running import run_in_workers

PAGE_SECONDS = 120.0
PAGE_BYTES = 1_500_000_000

_KEY_LENGTH = 16
_SAYS_NOTHING = frozenset({FaultKind.ENDED, FaultKind.NO_ROOM})


@cache
def print_key() -> str:
    """The key under which fingerprints of today's method and engine are kept."""
    return hashlib.sha256(f"{METHOD}\n{PARTS_METHOD}".encode()).hexdigest()[:_KEY_LENGTH]


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintsTaken:
    """What came of taking fingerprints.

    Attributes:
        pages: of how many pages they were taken by this call; pages without a picture are counted.
        failed: of how many pages they could not be taken, now or before.
        unread: how many pages wait until they are read: by its words a page of text is told from a picture.
    """

    pages: int
    failed: int
    unread: int


class Prints:
    """The fingerprints of an archive's pages, looked up by page."""

    def __init__(self, readings: Readings) -> None:
        """Look up the fingerprints of the archive that these readings are of."""
        self._readings = readings
        self.store = PrintsStore(readings.folder)
        self._taken: dict[str, frozenset[int]] = {}

    def of_page(self, page: SourcePage) -> tuple[PicturePrint, ...]:
        """The fingerprints of the pictures on a page; empty where there is none, none was taken, or it is damaged."""
        data = self.store.get(page.file.sha256, page.in_file, print_key())
        try:
            return from_bytes(data) if data else ()
        except ValueError:
            return ()

    def is_taken(self, page: SourcePage) -> bool:
        """Whether fingerprints of today's method were taken of a page; asked of the disk once for each file."""
        sha256 = page.file.sha256
        if sha256 not in self._taken:
            self._taken[sha256] = self.store.pages(sha256, print_key())[0]
        return page.in_file in self._taken[sha256]

    def is_sound(self, page: SourcePage) -> bool:
        """Whether the page has fingerprints of today's method that are not damaged."""
        data = self.store.get(page.file.sha256, page.in_file, print_key())
        try:
            return data is not None and from_bytes(data) is not None
        except ValueError:
            return False

    def take_missing(
        self,
        sources: Iterable[str],
        *,
        workers: int | None = None,
        afresh: bool = False,
        on_progress: Callable[[str, int, int], None],
    ) -> PrintsTaken:
        """Take the fingerprints of every page of the sources that has none of today's method.

        An original that is not here is left alone. What is taken is kept at once, so that an interrupted call loses at
        most the pages under way. A page that failed is not tried again but afresh; one that nobody has tried to read
        yet waits.

        Args:
            sources: ids.
            workers: how many pages at a time; None for one a core.
            afresh: try what failed before as well, and take again what is damaged.
            on_progress: told how far it is.

        Raises:
            WriteRefusedError: the disk takes no more; what was kept so far stays.
        """
        missing, failed, unread = self._missing(sources, afresh=afresh)
        under_way: dict[PrintJob, SourcePage] = {}

        def begin(page: SourcePage) -> PrintJob:
            job = self._job(page)
            under_way[job] = page
            return job

        taken = done = 0
        outcomes = run_in_workers(
            print_page,
            map(begin, missing),
            workers=workers,
            seconds_each=PAGE_SECONDS,
            memory_bytes=PAGE_BYTES,
            on_wait=lambda: on_progress("fingerprinting", done, len(missing)),
        )
        with closing(outcomes):
            for done, outcome in enumerate(outcomes, start=1):
                is_taken = self._keep(under_way.pop(outcome.job), outcome)
                taken, failed = taken + is_taken, failed + (not is_taken)
                on_progress("fingerprinting", done, len(missing))
        return PrintsTaken(pages=taken, failed=failed, unread=unread)

    def _missing(self, sources: Iterable[str], *, afresh: bool) -> tuple[list[SourcePage], int, int]:
        """The pages without fingerprints, each once; how many failed before, and how many were not read yet."""
        archive, found, passed_over, unread = self._readings.archive, dict[tuple[str, int], SourcePage](), 0, 0
        for source in (archive.sources[each] for each in sources):
            of_file: tuple[frozenset[int], frozenset[int]] = frozenset(), frozenset()
            for page in pages_of(source):
                if not has_pages(page.file.media_type):
                    continue
                if page.in_file == 1:
                    self.store.clean(page.file.sha256)
                    of_file = self.store.pages(page.file.sha256, print_key())
                done, failed = of_file
                if page.in_file in done and (not afresh or self.is_sound(page)):
                    continue
                if page.in_file in failed and not afresh:
                    passed_over += 1
                elif self._readings.key_of(page) is None and self._readings.failure_of(page) is None:
                    unread += 1
                elif (self._readings.folder / page.file.path).is_file():
                    found[page.file.sha256, page.in_file] = page
        return list(found.values()), passed_over, unread

    def _job(self, page: SourcePage) -> PrintJob:
        return PrintJob(
            path=self._readings.folder / page.file.path,
            media_type=page.file.media_type,
            page=page.in_file,
            words=self._sure_places(page),
        )

    def _sure_places(self, page: SourcePage) -> tuple[Box, ...]:
        """Where words were read with confidence: by them a page of text is told from a picture."""
        reading = self._readings.reading_of(page)
        words = reading.words if reading else ()
        sure = [word for word in words if word.confidence is None or word.confidence >= DOUBTFUL_BELOW]
        return tuple(word.box for word in sure if word.box and any(map(str.isalnum, word.text)))

    def _keep(self, page: SourcePage, outcome: Outcome[PrintJob, tuple[PicturePrint, ...]]) -> bool:
        place = (page.file.sha256, page.in_file, print_key())
        if outcome.value is not None:
            self.store.put(*place, to_bytes(outcome.value))
            self._taken.pop(page.file.sha256, None)
            return True
        if outcome.fault is not None and outcome.fault.kind not in _SAYS_NOTHING:
            self.store.put_failure(*place, outcome.fault.what)
        return False
