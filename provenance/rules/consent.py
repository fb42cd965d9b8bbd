"""Who may be named in public: people who wrote or spoke are named only where their account is cleared for print.

Letters, notes, recollections and opinions are private accounts: who wrote them, and whoever speaks in any source,
agreed to be named where the source's rights allow its publication. The authors of what was published, and the makers of
pictures, drawings and pieces, are credited. Somebody who may not be named in one place is named in none as a witness,
so that two accounts of one person stay one witness; the author of a published book is still credited for the book.
"""

from collections.abc import Callable, Iterator, Mapping
from itertools import count

from provenance.records.archive import Archive
from provenance.records.dates import Day
from provenance.records.kinds import SourceKind
from provenance.records.sources import Source
from provenance.rules.clearance import why_not_cleared

_PRIVATE_ACCOUNTS = frozenset({SourceKind.LETTER, SourceKind.NOTES, SourceKind.ORAL_HISTORY, SourceKind.OPINION})
_TELLING = _PRIVATE_ACCOUNTS | {SourceKind.BOOK, SourceKind.WEBSITE}
_NOBODY_KNOWN = "unknown"


def unnamed_people(archive: Archive, kept: Mapping[str, Source], day: Day) -> dict[str, str]:
    """What stands in public for each person who may not be named, by name; in order of the sources.

    Args:
        archive: the archive.
        kept: the sources that the public may be shown.
        day: the day on which rights are looked at.
    """
    name = namer_of_people(archive)
    numbers = count(1)
    stands_for: dict[str, str] = {}
    for source, person in _accounts(archive, kept):
        if name(person) not in stands_for and why_not_cleared(source, day):
            stands_for[name(person)] = f"person {next(numbers)}, who is not named"
    return stands_for


def namer_of_people(archive: Archive) -> Callable[[str], str]:
    """Give what turns an id of `people` into the name that print uses; any other name stays."""
    people = {person.id: person.credited_as or person.name for person in archive.people}
    return lambda person: people.get(person, person)


def tells(source: Source) -> bool:
    """Whether who made a source is a witness to what it tells."""
    return source.kind in _TELLING


def is_private_account(source: Source) -> bool:
    """Whether who made a source may be named only with consent."""
    return source.kind in _PRIVATE_ACCOUNTS


def _accounts(archive: Archive, kept: Mapping[str, Source]) -> Iterator[tuple[Source, str]]:
    """Each private account with who gave it, then each place with who speaks there."""
    for source_id in sorted(kept):
        source = kept[source_id]
        if is_private_account(source) and source.creator and source.creator != _NOBODY_KNOWN:
            yield source, source.creator
    for claim_id in sorted(archive.claims):
        for item in archive.claims[claim_id].evidence:
            if item.source in kept and item.at.who and item.at.who != _NOBODY_KNOWN:
                yield kept[item.source], item.at.who
