"""The record of two sources that look like copies of one another, as it is written when they are found."""

from provenance.likeness.prints import METHOD
from provenance.likeness.text_likeness import TEXT_METHOD
from provenance.likeness.values import PictureMatch
from provenance.records.decisions import AlikePlace
from provenance.store.record_kinds import RecordKind
from provenance.tasks.alike import Alike
from provenance.tasks.changing import NewRecord


def pair_id(one: str, other: str) -> str:
    """The id of the record of a pair."""
    return "--".join(sorted((one, other)))


def pair_record(alike: Alike, *, by: str, today: str) -> NewRecord:
    """The record of a likeness that waits for a ruling; its two sources stand in order of their ids."""
    match = alike.match
    if isinstance(match, PictureMatch):
        version, figures = METHOD, {"points": str(match.inliers), "overlap": f"{match.overlap:.2f}"}
    else:
        version, figures = TEXT_METHOD, {"letters": str(match.letters)}
    found_by = {
        "method": alike.method,
        "version": version,
        "score": f"{match.score:.3f}",
        **figures,
        "places": [_written(place) for place in (alike.here, alike.there)],
    }
    fields = {
        "between": [alike.source, alike.other],
        "found_by": found_by,
        "why": match.why,
        "ruling": "open",
        "by": by,
        "date": today,
    }
    return NewRecord(kind=RecordKind.COPY, id=pair_id(alike.source, alike.other), fields=fields)


def _written(place: AlikePlace) -> dict[str, object]:
    found: dict[str, object] = {}
    if place.page is not None:
        found["page"] = place.page
    if place.region is not None:
        found["region"] = str(place.region)
    if place.time is not None:
        found["time"] = str(place.time)
    return found
