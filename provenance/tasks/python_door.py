"""The door for Python programs: an opened archive with the team's tasks as methods."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from provenance.reports.evidence import Evidence
from provenance.reports.flagged import Flagged
from provenance.reports.found import Found
from provenance.reports.ingested import Ingested
from provenance.tasks.batches import Batch
from provenance.tasks.evidence import evidence_for
from provenance.tasks.flagging import raise_flags
from provenance.tasks.ingest import Progress, ingest, silent
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.searching import Narrowing, search


@dataclass(frozen=True, slots=True)
class OpenArchive:
    """An opened archive. Its methods are the tasks; what they answer is frozen."""

    opened: Opened

    def evidence(self, place: str, *, without: Sequence[str] = ()) -> Evidence:
        """What a component or a feature rests on; `without` judges as if those sources were withdrawn."""
        return evidence_for(self.opened, place, without=without)

    def flags(self, *, today: date | None = None) -> Flagged:
        """What needs attention, the most urgent first; `today` decides which loans are overdue."""
        return raise_flags(self.opened, today=today or date.today())  # noqa: DTZ011  a loan is due by local calendar

    def search(self, query: str, *, narrowing: Narrowing | None = None, limit: int = 20) -> Found:
        """Find pages, sources and claims by what they say."""
        return search(self.opened, query, narrowing, limit=limit)

    def ingest(
        self,
        *paths: Path,
        by: str,
        today: str,
        batch: Batch | None = None,
        workers: int | None = None,
        on_progress: Progress | None = None,
    ) -> Ingested:
        """Register files as sources and read their pages; the answer carries the archive as it is afterwards.

        Args:
            paths: files and folders.
            by: an id of `people`.
            today: the date that the records carry, and on which the files came.
            batch: what is said of all of them: that they are one source, their lot, giver, rights, access; None for
                nothing.
            workers: how many pages are read at a time; None for one a core.
            on_progress: told the step (`comparing`, `registering`, `reading`, `indexing`), how much is done, and of
                how much; None for nobody.
        """
        return ingest(
            self.opened, paths, by=by, today=today, batch=batch, workers=workers, on_progress=on_progress or silent
        )


def open_archive(folder: Path | str) -> OpenArchive:
    """Open the archive that a folder lies in.

    Raises:
        ArchiveNotFoundError: there is no archive.yaml there or in any folder above.
        ArchiveError: it cannot be read.
    """
    return OpenArchive(open_folder(Path(folder)))
