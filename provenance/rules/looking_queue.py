"""Which pictures are to be looked at, in which order, and which of them somebody has looked at already."""

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass

from provenance.records.archive import Archive
from provenance.records.kinds import SourceKind
from provenance.records.sources import Source
from provenance.rules.looked_for import SIGN
from provenance.rules.pictures_to_look_at import pictures_to_look_at
from provenance.rules.sheet_rows import signs_told_by
from provenance.rules.verdicts import Verdict

PICTURES = frozenset({SourceKind.PHOTOGRAPH, SourceKind.FILM})
"""Kinds of source that are looked at; a find that nobody has tagged is too, where its file is a picture."""

Told = Mapping[str, Mapping[str, Collection[str]]]
"""What was looked for in each source, as `points_told` gives it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class InQueue:
    """A picture that is to be looked at.

    Attributes:
        source: its id.
        is_done: whether somebody has looked at it for what it is in the queue for.
    """

    source: str
    is_done: bool


def is_to_be_looked_at(source: Source) -> bool:
    """Say whether a source is a photograph or film, or may be one, that was not withdrawn."""
    may_be = source.kind is None and any(file.media_type.startswith("image/") for file in source.files)
    return source.withdrawn is None and (source.kind in PICTURES or may_be)


def all_pictures(archive: Archive, told: Told) -> tuple[InQueue, ...]:
    """Give all pictures that are to be looked at, in order of id; those in which anything was looked for are done."""
    return _queued((each for _, each in sorted(archive.sources.items())), told, bool)


def pictures_of_lot(archive: Archive, places: Mapping[str, int], told: Told) -> tuple[InQueue, ...]:
    """Give the pictures of a lot in the order in which they came.

    Args:
        archive: the archive.
        places: of the sources that came with it, by id, the place in the lot.
        told: what was looked for in each source.
    """
    names = sorted(places, key=lambda name: (places[name], name))
    return _queued((archive.sources[name] for name in names), told, bool)


def pictures_for(
    archive: Archive, verdicts: Iterable[Verdict], told: Told, more: Collection[str]
) -> tuple[InQueue, ...]:
    """Give the pictures in which features may be seen, the nearest to the machine represented first.

    Args:
        archive: the archive.
        verdicts: on the features, all of one component; one at least.
        told: what was looked for in each source; a picture is done once one of the features, or a sign that tells it,
            was looked for in it.
        more: ids of further sources that may speak of the component; they come last.
    """
    judged = list(verdicts)
    wanted = {verdict.feature for verdict in judged} | {
        f"{verdict.component}/{SIGN}{sign}" for verdict in judged for sign in signs_told_by(verdict.asked)
    }
    near = [each.source for each in pictures_to_look_at(archive, judged[0], ())]
    names = dict.fromkeys((*near, *sorted(more)))
    return _queued((archive.sources[name] for name in names), told, lambda points: not wanted.isdisjoint(points))


def _queued(sources: Iterable[Source], told: Told, is_done: Callable[[Collection[str]], bool]) -> tuple[InQueue, ...]:
    return tuple(
        InQueue(source=source.id, is_done=is_done(told.get(source.id, {}).keys()))
        for source in sources
        if is_to_be_looked_at(source)
    )
