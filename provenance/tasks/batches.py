"""What files that are handed in together have in common: one source, one lot, one provenance, rights and access."""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path, PurePath, PurePosixPath

from provenance.errors import Problem, UsageRefusedError
from provenance.records.archive import Archive
from provenance.store.naming import natural_key
from provenance.store.record_kinds import RecordKind
from provenance.store.record_reading import read_record
from provenance.store.yaml_writing import record_text

LOT = "lot: "
"""How the note begins by which an `acquired` entry names the lot that a source came with."""

_ITEM = re.compile(r"item ([0-9]+)")
# The two sides of a sheet or photograph: their names, taken by the alphabet, would put the back first.
_FRONT = re.compile(r"(?<![a-z])(?:front|recto|obverse)(?![a-z])")
_BACK = re.compile(r"(?<![a-z])(?:back|verso|reverse)(?![a-z])")


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """What is said of all files of one call; nothing where each is a source that stands alone.

    Attributes:
        together: whether they make one source.
        lot: the name of the lot that they came with.
        giver: from whom they came; it never leaves the archive.
        rights: a code of rightsstatements.org or a licence.
        access: `open`, `team` or `closed`.
        names: by path, the name that a file came under where its path does not tell it, with `/` after each folder that
            it lay in there.
    """

    together: bool = False
    lot: str | None = None
    giver: str | None = None
    rights: str | None = None
    access: str | None = None
    names: Mapping[Path, str] = field(default_factory=dict)

    def in_order(self, paths: Iterable[Path]) -> tuple[Path, ...]:
        """Put files in their natural order where that is kept, `scan2` before `scan10` and the front before the back.

        Files that are neither one source nor one lot stay as they come; so do two of the same name.
        """
        if not (self.together or self.lot):
            return tuple(paths)
        return tuple(sorted(paths, key=lambda path: _natural(self.came_as(path))))

    def came_as(self, path: Path) -> PurePath:
        """The name that a file came under, with the folders that it lay in; its path where nothing else is known."""
        return PurePosixPath(self.names[path]) if path in self.names else path

    def title_of(self, paths: Sequence[Path], files: Sequence[Path]) -> str:
        """The title of a source that several files make: their folder's name, where that was named; else a stem.

        Args:
            paths: as they were handed in.
            files: that lie there, in order.
        """
        is_folder = len(paths) == 1 and paths[0].is_dir()
        return (is_folder and paths[0].resolve().name) or self._folder_of(files) or self.came_as(files[0]).stem

    def _folder_of(self, files: Sequence[Path]) -> str:
        """The folder that all files lay in where they came from, when their names alone tell it; else empty."""
        tops = {self.came_as(path).parts[:-1][:1] if path in self.names else () for path in files}
        return "".join(tops.pop()) if len(tops) == 1 else ""

    def acquired(self, day: str, item: int, *, received_as: str | None = None) -> dict[str, object]:
        """The entry of how a source came; empty where nothing was said.

        Args:
            day: when it came in.
            item: its place in the lot, counted from 1.
            received_as: the name that it came under, where that is to be kept.
        """
        if not (self.lot or self.giver or received_as):
            return {}
        note = f"{LOT}{self.lot}\nitem {item}" if self.lot else None
        entry = {"date": day, "from": self.giver, "received_as": received_as, "note": note}
        return {key: value for key, value in entry.items() if value}

    def fields(self, day: str, item: int) -> dict[str, object]:
        """What a new source's record says besides its files."""
        entry = self.acquired(day, item)
        return {
            **({"acquired": [entry]} if entry else {}),
            **({"rights": {"statement": self.rights}} if self.rights else {}),
            **({"access": self.access} if self.access else {}),
        }

    def require_sound(self, day: str) -> None:
        """See that records can say this, before anything is taken in.

        Raises:
            UsageRefusedError: they cannot; with the mend.
        """
        fields = {"title": "trial", "state": "untagged", "by": "trial", "date": day, **self.fields(day, 1)}
        read = read_record(record_text("source", fields), RecordKind.SOURCE.file_of("trial"))
        if isinstance(read, Sequence):
            raise _refusal(read)


def lots_in(notes: Iterable[str | None]) -> Mapping[str, int]:
    """The lots that notes of `acquired` entries name, each with the place in it (0: not said)."""
    lots: dict[str, int] = {}
    for note in notes:
        first, *rest = note.splitlines() if note else ("",)
        if first.startswith(LOT):
            item = _ITEM.fullmatch(rest[0]) if rest else None
            lots[first.removeprefix(LOT)] = int(item[1]) if item else 0
    return lots


def next_item(archive: Archive, lot: str | None) -> int:
    """The place in a lot that is free after all that came with it before."""
    lots = [lots_in(entry.note for entry in source.acquired) for source in archive.sources.values()]
    return 1 + max((each.get(lot, 0) for each in lots), default=0) if lot else 1


def _natural(path: PurePath) -> tuple[object, ...]:
    folder, name = str(path.parent), path.name.lower()
    sided = _BACK.sub("\x02", _FRONT.sub("\x01", name))
    return (natural_key(folder), natural_key(sided), path.name)


def _refusal(problems: Sequence[Problem]) -> UsageRefusedError:
    what = "; ".join(f"{problem.place.field}: {problem.what}" for problem in problems)
    return UsageRefusedError(what, "; ".join(dict.fromkeys(problem.mend for problem in problems)))
