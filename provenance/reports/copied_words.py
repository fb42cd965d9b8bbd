"""How people read of a pair of likely copies: how it was found, and what was ruled on it."""

from provenance.records.archive import Archive
from provenance.records.decisions import CopyPair
from provenance.records.kinds import Ruling
from provenance.records.sources import Source
from provenance.reports.date_words import date_words

_RULED = {
    Ruling.OPEN: "open: nobody has ruled on it",
    Ruling.COPY: "ruled a copy",
    Ruling.DISTINCT: "ruled distinct",
}


def dated_words(source: Source) -> str:
    """When a source was made, in words."""
    return date_words(source.created) if source.created is not None else "without a date"


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
