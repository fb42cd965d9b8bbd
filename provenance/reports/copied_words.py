"""How people read of a pair of likely copies: how it was found, and what was ruled on it."""

from provenance.records.archive import Archive
from provenance.records.decisions import AlikePlace, CopyPair
from provenance.records.kinds import Ruling
from provenance.records.sources import Source
from provenance.reports.date_words import date_words
from provenance.rules.source_words import kind_in_words

_RULED = {
    Ruling.OPEN: "open: nobody has ruled on it",
    Ruling.COPY: "ruled a copy",
    Ruling.DISTINCT: "ruled distinct",
}


def dated_words(source: Source) -> str:
    """When a source was made, in words."""
    return date_words(source.created) if source.created is not None else "without a date"


def source_words(source: Source) -> str:
    """The title of a source, what it is and when it was made."""
    kind = kind_in_words(source.kind) if source.kind is not None else "of a kind that nobody has said yet"
    withdrawn = "; withdrawn" if source.withdrawn is not None else ""
    return f"“{source.title}” ({kind}, {dated_words(source)}{withdrawn})"


def place_in_words(place: AlikePlace) -> str:
    """Where in a source it looks like another."""
    if place.time is not None:
        return f"at {place.time}"
    where = f"page {place.page}" if place.page is not None else "the whole"
    return f"part of {where}" if place.region is not None else where


def person_words(archive: Archive, person: str) -> str:
    """The name of one of the team; the id where it is not known."""
    return next((each.name for each in archive.people if each.id == person), person)


def ruling_words(pair: CopyPair, archive: Archive) -> str:
    """What was ruled on a pair, how it was made, by whom, when, and why."""
    said = _RULED[pair.ruling]
    if pair.ruling is Ruling.OPEN:
        return said
    how = f" ({pair.how})" if pair.how is not None and pair.ruling is Ruling.COPY else ""
    by = f" by {person_words(archive, pair.ruled_by)}" if pair.ruled_by is not None else ""
    when = f" on {date_words(pair.ruled_date)}" if pair.ruled_date is not None else ""
    why = f": “{pair.why_ruled}”" if pair.why_ruled is not None else ""
    return f"{said}{how}{by}{when}{why}"
