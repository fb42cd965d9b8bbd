"""Open an archive: read its records, and set aside what cannot be judged on."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from provenance.errors import ArchiveError, Problem
from provenance.records.archive import Archive, Target
from provenance.records.uninterrupted import uninterrupted
from provenance.reports.standing import LeftOut, Standing
from provenance.rules.checks import usable_part
from provenance.store.loading import Loaded, find_archive, load, locate_all


@dataclass(frozen=True, slots=True)
class _Read:
    """What was read of the folder, and the part of it that can be judged on."""

    loaded: Loaded
    usable: Archive
    left_out: tuple[LeftOut, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """An opened archive.

    Attributes:
        archive: the records that can be judged on.
        left_out: the records that cannot, in order of file; empty when every record could be read.
        read: what it was opened from, so that only what changed need be read again; None where it came from no folder.
        shown: by record file, relative to the archive, the SHA-256 of what somebody was shown of it who writes now
            (None: there was no such file); a write is refused where one says something else. Empty for commands, which
            show nothing first.
    """

    folder: Path
    archive: Archive
    left_out: tuple[LeftOut, ...]
    read: _Read | None = field(default=None, repr=False, compare=False)
    shown: Mapping[str, str | None] = field(default_factory=dict, repr=False, compare=False)

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


Where = Path | Opened
"""The folder of an archive, or one inside it; or the archive as it was opened before."""


def open_folder(start: Path) -> Opened:
    """Open the archive that a folder lies in.

    Raises:
        ArchiveNotFoundError: there is no archive.yaml here or in any folder above.
        NewerFormatError: a later version of this tool wrote it.
        ArchiveError: archive.yaml cannot be read.
    """
    folder = find_archive(start)
    return _opened(folder, load(folder))


def opened_at(where: Where) -> Opened:
    """Open the archive of a folder; of one that was opened before, read only what changed since.

    What comes back is the same either way. Records that did not change are the very same values, and so is the whole
    archive where nothing did.

    Raises:
        ArchiveNotFoundError: there is no archive.yaml, or no longer.
        NewerFormatError: a later version of this tool wrote it.
        ArchiveError: archive.yaml cannot be read.
    """
    if isinstance(where, Path):
        return open_folder(where)
    if where.read is None:
        opened = open_folder(where.folder)
    else:
        opened = _opened(where.folder, load(where.folder, earlier=where.read.loaded), where.read)
    return replace(opened, shown=where.shown) if where.shown else opened


def _opened(folder: Path, loaded: Loaded, earlier: _Read | None = None) -> Opened:
    if earlier is not None and _says_the_same(earlier.loaded, loaded):
        read = replace(earlier, loaded=loaded)
    else:
        with uninterrupted():
            usable, broken = usable_part(loaded.archive, unreadable=frozenset(loaded.left_out))
        read = _Read(loaded, usable, _left_out(loaded.left_out, loaded.problems, folder, broken))
    return Opened(folder=folder, archive=read.usable, left_out=read.left_out, read=read)


def _says_the_same(before: Loaded, now: Loaded) -> bool:
    return now.archive is before.archive and (now.left_out, now.problems) == (before.left_out, before.problems)


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
