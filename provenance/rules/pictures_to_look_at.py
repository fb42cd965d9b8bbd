"""The pictures in which nobody has looked yet for what tells the options of a choice apart."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from provenance.records.archive import Archive
from provenance.records.claims import Seen
from provenance.records.kinds import KnownBy, SourceKind
from provenance.records.sources import Source
from provenance.rules.applicability import Reach, reach_of_sighting
from provenance.rules.grades import Category
from provenance.rules.standpoint import standpoint_of
from provenance.rules.verdicts import Verdict
from provenance.rules.weights import weights_of

_PICTURES = frozenset({SourceKind.PHOTOGRAPH, SourceKind.FILM})
_NEARNESS = {category: rank for rank, category in enumerate(Category)}


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureToLookAt:
    """A photograph or film of which no sign has been reported.

    Attributes:
        source: its id.
        title: its title.
        nearness: how near the machine in it comes to the one represented; `unknown` where none is named.
        shows: that in words; empty where none is named.
        is_tagged: whether somebody confirmed that it speaks of the component.
    """

    source: str
    title: str
    nearness: Category
    shows: str
    is_tagged: bool


def pictures_to_look_at(archive: Archive, verdict: Verdict, looked_at: Collection[str]) -> tuple[PictureToLookAt, ...]:
    """Give the photographs and films that are tagged for the component or show a machine, and were not looked at yet.

    The nearest to the machine represented come first, then those that are tagged, then by id.

    Args:
        archive: the archive.
        verdict: on the feature for which they are looked at.
        looked_at: ids of the sources of which a sign has been reported.
    """
    standpoint = standpoint_of(archive, archive.components[verdict.component], verdict.asked)
    same_time = weights_of(archive).same_time
    out = withdrawn_sources(archive)
    found = []
    for source_id in archive.sources.keys() - set(looked_at) - out:
        source = archive.sources[source_id]
        if source.kind in _PICTURES:
            sightings = _sightings(source, verdict.component)
            reached = [reach_of_sighting(seen, standpoint, same_time, out) for seen in sightings]
            found += _to_look_at(source, reached, is_tagged=verdict.component in source.topics)
    return tuple(sorted(found, key=lambda each: (_NEARNESS[each.nearness], not each.is_tagged, each.source)))


def _sightings(source: Source, component: str) -> list[Seen]:
    """The machines that a picture shows, but for those that it shows another part of."""
    return [
        Seen(example=shown.example, when=shown.when, known_by=shown.known_by or KnownBy.CAPTION)
        for shown in source.shows
        if shown.example is not None and shown.component in (None, component)
    ]


def _to_look_at(source: Source, reached: Sequence[Reach], *, is_tagged: bool) -> list[PictureToLookAt]:
    """A picture by the nearest machine that it shows; none where it shows none and is not tagged."""
    nearest = min(reached, key=lambda reach: _NEARNESS[reach.category], default=None)
    if nearest is None and not is_tagged:
        return []
    return [
        PictureToLookAt(
            source=source.id,
            title=source.title,
            nearness=nearest.category if nearest else Category.UNKNOWN,
            shows=nearest.reason if nearest else "",
            is_tagged=is_tagged,
        )
    ]


def withdrawn_sources(archive: Archive) -> frozenset[str]:
    """Give the ids of the sources that were withdrawn."""
    return frozenset(each for each, source in archive.sources.items() if source.withdrawn is not None)
