"""Which record is meant: `sources/scan-1`, or `scan-1` where only one record is called so."""

from dataclasses import dataclass
from typing import Any

from provenance.errors import UnknownRecordError, UsageRefusedError
from provenance.records.archive import Archive
from provenance.records.wording import quote
from provenance.store.record_kinds import RecordKind, kind_of_folder
from provenance.tasks.nearest import nearest_mend


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """A record, found by its name."""

    kind: RecordKind
    id: str
    record: Any

    @property
    def file(self) -> str:
        """Its file, relative to the archive."""
        return self.kind.file_of(self.id)


def find_record(archive: Archive, name: str, kinds: tuple[RecordKind, ...]) -> Named:
    """Find a record by folder and id, or by its id alone.

    Args:
        archive: the archive.
        name: as typed, such as `sources/scan-1` or `scan-1`.
        kinds: those that are looked through.

    Raises:
        UnknownRecordError: there is none of these kinds.
        UsageRefusedError: more than one record is called so.
    """
    folder, stroke, rest = name.removesuffix(".yaml").rpartition("/")
    wanted = kind_of_folder(folder) if stroke else None
    looked_through = [kind for kind in kinds if not stroke or kind is wanted]
    found = [
        Named(kind=kind, id=rest, record=records[rest])
        for kind in looked_through
        if rest in (records := getattr(archive, kind.folder))
    ]
    if len(found) > 1:
        ways = " or ".join(f"`{each.kind.folder}/{each.id}`" for each in found)
        raise UsageRefusedError(f"more than one record is called {quote(rest)}", f"write {ways}")
    if not found:
        known = [each for kind in looked_through or kinds for each in getattr(archive, kind.folder)]
        places = ", ".join(kind.folder for kind in kinds)
        raise UnknownRecordError(f"there is no record {quote(name)}", nearest_mend(rest, known, f"look in {places}"))
    return found[0]
