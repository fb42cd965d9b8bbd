"""A date as a source gives it: seldom one day, often a span, sometimes one of several.

The calendar part of it is in `days`, the reading of text in `edtf_grammar`, comparison in `dates`, which is the door.
"""

from dataclasses import dataclass
from enum import StrEnum

from provenance.records.days import Day, DayPattern
from provenance.records.wording import WordingError


class EdtfError(WordingError):
    """Text that is no date, or a date that cannot be."""


class Bound(StrEnum):
    """What is known of one end of a date: a day, that it is left open (`..`), or that nobody knows it."""

    KNOWN = "known"
    OPEN = "open"
    UNKNOWN = "unknown"


class Kind(StrEnum):
    """What the text of a date says: one date, a time from one to another, one of several, or all of several."""

    DATE = "date"
    INTERVAL = "interval"
    ONE_OF = "one-of"
    ALL_OF = "all-of"


@dataclass(frozen=True, slots=True)
class Span:
    """The days from one to another.

    Attributes:
        earliest: the first day it may be; None = no bound.
        latest: the last day it may be; None = no bound.
        pattern: which days between them it may be; None = all of them.
    """

    earliest: Day | None
    latest: Day | None
    pattern: DayPattern | None = None

    def may_be(self, day: Day) -> bool:
        """Say whether that day is one of the span."""
        if self.pattern is not None:
            return self.pattern.fits(day)
        return (self.earliest is None or self.earliest <= day) and (self.latest is None or day <= self.latest)


@dataclass(frozen=True, slots=True, kw_only=True)
class EdtfDate:
    """A date in EDTF (ISO 8601-2:2019), with the days it may be.

    The bounds are the strict ones: `?`, `~` and `%` are kept and can be shown, and do not widen them, since no standard
    says by how much.

    Attributes:
        text: as typed.
        kind: one date, an interval, one of several or all of several.
        members: the spans that a set names, in the order typed; one span for anything but a set.
        earliest: the first day it may be; None = no bound, because that end is open or unknown.
        latest: the last day it may be; None = no bound. For `[1941,1943]` the bounds run from 1941 to 1943, and 1942 is
            nevertheless no member.
        start: whether the beginning is known, open or unknown.
        end: whether the end is known, open or unknown.
        uncertain: somewhere in it stands `?` or `%`.
        approximate: somewhere in it stands `~` or `%`.
    """

    text: str
    kind: Kind
    members: tuple[Span, ...]
    earliest: Day | None
    latest: Day | None
    start: Bound = Bound.KNOWN
    end: Bound = Bound.KNOWN
    uncertain: bool = False
    approximate: bool = False

    def __str__(self) -> str:
        """Write the date as typed."""
        return self.text

    def may_be(self, day: Day) -> bool:
        """Say whether the date may be that day, or takes it in; an open or unknown end shuts nothing out."""
        return any(member.may_be(day) for member in self.members)
