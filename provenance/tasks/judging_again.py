"""Judge an archive that was judged before: only what the changes since can reach; all else is taken over."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, fields

from provenance.records.archive import Archive
from provenance.rules.judging import judge_all
from provenance.rules.verdicts import Verdict
from provenance.tasks.trying import features_citing

_FOLLOWED = ("claims", "sources", "copies", "decisions", "queries", "panels", "leads")
"""The records of which it is known which verdicts they have a part in; the last three kinds have none in any."""

_ALL_ELSE = tuple(each.name for each in fields(Archive) if each.name not in _FOLLOWED)


@dataclass(frozen=True, slots=True)
class Judged:
    """An archive with the verdict on every feature of it."""

    archive: Archive
    verdicts: Mapping[str, Verdict]


def judge_again(archive: Archive, earlier: Judged | None = None) -> Mapping[str, Verdict]:
    """Judge every feature of an archive; what comes back is the same as where nothing was judged before.

    Where archive.yaml or a component says something else than before, everything is judged.

    Args:
        archive: the archive as it is now, which says what is represented.
        earlier: the archive as it was, with its verdicts; None to judge everything.
    """
    if earlier is not None and archive is earlier.archive:
        return earlier.verdicts
    if earlier is None or _is_another(earlier.archive, archive):
        return judge_all(archive)
    before = earlier.archive
    moved = _moved(before, archive)
    reached = {
        *_spoken_of(before, archive),
        *features_citing(before, _hanging_together(before, moved)),
        *features_citing(archive, _hanging_together(archive, moved)),
    }
    new = judge_all(archive, only=reached)
    return {each: new[each] if each in reached else earlier.verdicts[each] for each in archive.features}


def _is_another(before: Archive, now: Archive) -> bool:
    """Whether anything differs that may have a part in any verdict."""
    return any(getattr(before, name) != getattr(now, name) for name in _ALL_ELSE)


def _changed(before: Archive, now: Archive, folder: str) -> Iterator[str]:
    """The ids of the records that came, went, or say something else."""
    old, new = getattr(before, folder), getattr(now, folder)
    yield from (record for record in old if record not in new)
    yield from (record for record, says in new.items() if old.get(record) != says)


def _spoken_of(before: Archive, now: Archive) -> Iterator[str]:
    """The features that are the matter of a claim or a decision that came, went or says something else."""
    for folder in ("claims", "decisions"):
        for record in _changed(before, now, folder):
            for records in (getattr(before, folder), getattr(now, folder)):
                if record in records:
                    yield records[record].about


def _moved(before: Archive, now: Archive) -> frozenset[str]:
    """The sources of which the records say something else, themselves or as one of a pair of likely copies."""
    pairs = [
        pair
        for name in _changed(before, now, "copies")
        for pair in (before.copies.get(name), now.copies.get(name))
        if pair is not None
    ]
    return frozenset(_changed(before, now, "sources")).union(*(pair.between for pair in pairs))


def _hanging_together(archive: Archive, names: Iterable[str]) -> frozenset[str]:
    """Some sources with all that hang together with one of them, by whatever hands, in whichever direction.

    What a verdict depends on goes along such ties (`rules/judged_part.py`), and never along all of them: whatever does
    not hang together with a change is not reached by it.
    """
    tied: dict[str, list[str]] = defaultdict(list)
    for one, other in _ties(archive):
        tied[one].append(other)
        tied[other].append(one)
    found = set(names)
    waiting = list(found)
    while waiting:
        fresh = set(tied.get(waiting.pop(), ())) - found
        found |= fresh
        waiting.extend(fresh)
    return frozenset(found)


def _ties(archive: Archive) -> Iterator[tuple[str, str]]:
    for source in archive.sources.values():
        yield from ((source.id, parent.source) for parent in source.derives_from)
        if source.replaces is not None:
            yield source.id, source.replaces
    yield from (pair.between for pair in archive.copies.values())
