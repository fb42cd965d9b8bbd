"""Open an archive: read its records, and set aside what cannot be judged on."""

from dataclasses import dataclass
from pathlib import Path

from provenance.errors import ArchiveError, Problem
from provenance.records.archive import Archive, Target
from provenance.reports.standing import LeftOut, Standing
from provenance.rules.checks import usable_part
from provenance.store.loading import find_archive, load, locate_all


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """An opened archive.

    Attributes:
        archive: the records that can be judged on.
        left_out: the records that cannot, in order of file; empty when every record could be read.
    """

    folder: Path
    archive: Archive
    left_out: tuple[LeftOut, ...]

    @property
    def standing(self) -> Standing:
        """What every answer about this archive begins with."""
        return Standing(archive=self.archive.title, left_out=self.left_out)

    @property
    def target(self) -> Target:
        """What is represented.

        Raises:
            ArchiveError: archive.yaml does not say it yet, or names a machine that was never built.
        """
        if self.archive.target is None:
            raise ArchiveError(
                "archive.yaml does not say which example is represented, so nothing can be judged",
                'add it, for instance `target: {example: "9", as_at: 1934-06, why: …}`',
            )
        example, order = self.archive.target.example, self.archive.production.order
        if order and example not in self.archive.production:
            raise ArchiveError(
                f"archive.yaml: target.example: there is no example `{example}`, so nothing can be judged",
                f"name one of its order of production: {', '.join(order)}",
            )
        return self.archive.target


def open_folder(start: Path) -> Opened:
    """Open the archive that a folder lies in.

    Raises:
        ArchiveNotFoundError: there is no archive.yaml here or in any folder above.
        NewerFormatError: a later version of this tool wrote it.
        ArchiveError: archive.yaml cannot be read.
    """
    folder = find_archive(start)
    loaded = load(folder)
    archive, broken = usable_part(loaded.archive, unreadable=frozenset(loaded.left_out))
    return Opened(folder=folder, archive=archive, left_out=_left_out(loaded.left_out, loaded.problems, folder, broken))


def _left_out(
    unreadable: tuple[str, ...], problems: tuple[Problem, ...], folder: Path, broken: tuple[Problem, ...]
) -> tuple[LeftOut, ...]:
    reasons: dict[str, str] = {}
    for file in unreadable:
        first = next((problem for problem in problems if problem.place.file == file), None)
        reasons[file] = _in_short(first) if first else "it cannot be read"
    for problem in locate_all(folder, broken):
        reasons.setdefault(problem.place.file, _in_short(problem))
    return tuple(LeftOut(file=file, why=reasons[file]) for file in sorted(reasons))


def _in_short(problem: Problem) -> str:
    where = f"line {problem.place.line}: " if problem.place.line is not None else ""
    return f"{where}{problem.what}"
