"""What the public may be shown of an archive, and nothing else: made by `public_view` alone."""

from collections.abc import Mapping
from dataclasses import dataclass

from provenance.records.archive import Archive
from provenance.records.dates import Day
from provenance.rules.clearance import NotCleared
from provenance.rules.verdicts import Verdict

HELD_PRIVATELY = "a source held privately"
IN_CONFIDENCE = "a further source is held in confidence"


@dataclass(frozen=True, slots=True, kw_only=True)
class PublicArchive:
    """An archive as the public sees it on one day. Only `public_view` makes one.

    Attributes:
        archive: without the sources that are withheld, all that goes back to them, donors, notes and the names of those
            who did not agree to be named; claims and decisions carry numbers for ids, since theirs may hold text.
        date: the day for which it was made.
        verdicts: on every feature, judged on what the public may be shown.
        creators: who made each source, as print names them; only sources whose maker is said and may be named.
        held_privately: for each feature how many sources of the team's support the best public value besides.
        in_confidence: features of which the public grade or value is not what it would be with the sources withheld.
        queried: features of which something is in doubt that has not been answered; not what.
        not_cleared: the sources shown whose publication is not cleared, by id.
    """

    archive: Archive
    date: Day
    verdicts: Mapping[str, Verdict]
    creators: Mapping[str, str]
    held_privately: Mapping[str, int]
    in_confidence: frozenset[str]
    queried: frozenset[str]
    not_cleared: Mapping[str, NotCleared]
