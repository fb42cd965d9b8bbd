"""Compare once more after a pair was ruled out: what tied two sources to others may have been that pair alone."""

from provenance.records.archive import Archive
from provenance.records.kinds import Ruling
from provenance.reports.compared import Compared
from provenance.store.likeness_state import load_state
from provenance.tasks.comparing import compare
from provenance.tasks.opening import Where, opened_at
from provenance.tasks.page_readings import Readings


def compare_again(where: Where, pair: tuple[str, str], *, by: str, today: str) -> Compared:
    """Compare two sources that were ruled no copies, and the fewer of those that hang together with one of them.

    Only as many pairs are on record as tie a source to all that it looks like. With one of them gone, a likeness that
    followed from it has to stand on record by itself. What was never compared is left for the next `ingest`.

    Args:
        where: the archive's folder, or the archive as it was opened before.
        pair: the ids of the two sources.
        by: an id of `people`, who stands in the records of pairs that are found.
        today: the date that they carry.

    Raises:
        WriteRefusedError: a record, or derived data, cannot be written.
    """
    opened = opened_at(where)
    sides = sorted((_together_with(source, opened.archive) for source in pair), key=len)
    compared = load_state(opened.folder).compared
    due = {source for source in sides[0].union(pair) if source in compared}
    if not due:
        return Compared(sources=0)
    readings = Readings(opened.folder, opened.archive)
    return compare(opened, readings, by=by, today=today, afresh=due)


def _together_with(source: str, archive: Archive) -> set[str]:
    """All that hang together with a source by pairs that are open or ruled copies, itself included."""
    beside: dict[str, set[str]] = {}
    for pair in archive.copies.values():
        if pair.ruling is not Ruling.DISTINCT:
            one, other = pair.between
            beside.setdefault(one, set()).add(other)
            beside.setdefault(other, set()).add(one)
    found, waiting = {source}, [source]
    while waiting:
        fresh = beside.get(waiting.pop(), set()) - found
        found |= fresh
        waiting.extend(fresh)
    return found
