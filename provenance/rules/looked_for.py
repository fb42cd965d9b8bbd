"""What somebody looked for in a picture, whether they could tell a value from it or not.

A claim has a value, and a picture in which the place is out of view speaks for none. So that it is known all the same
that somebody looked, it is kept with what the picture shows: an entry of `shows` for the component, with a note such as
`looked for: rim out of view; sign conduit-on-cantrail not seen`. Judgement does not read it.
"""

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping

from provenance.records.archive import Archive
from provenance.records.claims import Claim, EvidenceItem
from provenance.records.kinds import How, SignSeen
from provenance.records.sources import Shows, Source

BEGINNING = "looked for: "
"""How such a note begins."""

SIGN = "sign:"
"""What stands before the id of a sign, to tell it from a feature."""

_STATES = {each.replace("-", " "): each for each in SignSeen}
_POINT = re.compile(rf"(sign )?([a-z0-9-]+) ({'|'.join(_STATES)})")


def note_of(points: Mapping[str, SignSeen]) -> str:
    """Write the note for one component.

    Args:
        points: what became of each point that was looked for, by its id in the component: a feature's, or `sign:` and
            a sign's; at least one.
    """
    told = (f"{point.replace(SIGN, 'sign ', 1)} {seen.replace('-', ' ')}" for point, seen in sorted(points.items()))
    return f"{BEGINNING}{'; '.join(told)}"


def points_told(archive: Archive) -> Mapping[str, Mapping[str, tuple[str, ...]]]:
    """Give what was looked for in each source; one in which nothing was looked for is not named.

    Returns:
        By source, then by `component/feature` or `component/sign:SIGN`, the ids of the claims that tell it from there,
        in order; none where somebody looked and could tell nothing. What was withdrawn does not count.
    """
    told: dict[str, dict[str, list[str]]] = defaultdict(dict)
    for source in archive.sources.values():
        for point in looked_for(source):
            told[source.id][point] = []
    for _, claim in sorted(archive.claims.items()):
        for item in claim.evidence:
            for point in _points_of(claim, item):
                claims = told[item.source].setdefault(point, [])
                claims += [] if claim.id in claims else [claim.id]
    return {source: {point: tuple(claims) for point, claims in points.items()} for source, points in told.items()}


def _points_of(claim: Claim, item: EvidenceItem) -> Iterator[str]:
    """What an item tells: the signs that it bears, and its feature unless the signs alone tell that."""
    if claim.withdrawn or item.withdrawn:
        return
    component = claim.about.partition("/")[0]
    yield from (f"{component}/{SIGN}{sign}" for sign, _ in item.signs)
    if not item.signs or item.how is not How.IMPLIES:
        yield claim.about


def looked_for(source: Source) -> dict[str, SignSeen]:
    """Give what was looked for so in a source.

    Returns:
        By `component/feature` or `component/sign:SIGN`, what became of it; of two notes on the same the later counts.
    """
    found = {}
    for shown in filter(is_note_of_looking, source.shows):
        for told in (shown.note or "").removeprefix(BEGINNING).split("; "):
            point = _POINT.fullmatch(told)
            if point is not None:
                name = f"{SIGN if point[1] else ''}{point[2]}"
                found[f"{shown.component}/{name}"] = _STATES[point[3]]
    return found


def is_note_of_looking(shown: Shows) -> bool:
    """Say whether an entry of what a source shows tells only that somebody looked for something."""
    has_note = shown.note is not None and shown.note.startswith(BEGINNING)
    return has_note and shown.component is not None and shown.example is None
