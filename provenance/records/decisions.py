"""What the team ruled, chose, doubts, shows to visitors and has yet to search."""

from dataclasses import dataclass

from provenance.records.dates import EdtfDate
from provenance.records.kinds import Derivation, Ruling
from provenance.records.regions import Region, TimeSpan
from provenance.records.sources import Withdrawal

PICTURE = "picture"
"""The `found_by.method` of pairs that were found by comparing pictures."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AlikePlace:
    """Where in one of two sources they look alike.

    Attributes:
        page: counted from 1, running on over the files of the source; None where there are no pages.
        region: the part of the page; None for the whole page.
        time: of a recording.
    """

    page: int | None = None
    region: Region | None = None
    time: TimeSpan | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundBy:
    """How two sources were found to look alike; figures as the method gave them.

    Attributes:
        method: `picture` or `text` where they were compared by this tool.
        points: of pictures, how many points of the one lie where they should on the other.
        overlap: of pictures, which share of the smaller one is matched, 0 to 1.
        letters: of texts, how many letters stand side by side that few other texts have.
        places: where in the first and in the second; empty or two.
    """

    method: str
    version: str | None = None
    settings: str | None = None
    score: str | None = None
    points: str | None = None
    overlap: str | None = None
    letters: str | None = None
    places: tuple[AlikePlace, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CopyPair:
    """Two sources that look like copies of one another, and what was ruled.

    Attributes:
        between: the two source ids, in order of their text.
        how: how the one was made from the other, once ruled a copy.
    """

    id: str
    between: tuple[str, str]
    by: str
    date: EdtfDate
    ruling: Ruling = Ruling.OPEN
    found_by: FoundBy | None = None
    why: str | None = None
    how: Derivation | None = None
    why_ruled: str | None = None
    ruled_by: str | None = None
    ruled_date: EdtfDate | None = None
    note: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SetAside:
    """A claim that a decision goes against, and why."""

    claim: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ModernChange:
    """A departure from the evidence that the present day asks for."""

    reason: str
    note: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeDrawing:
    """A drawing that the new part is made to, and its issue."""

    number: str
    issue: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """What was made, and whether it fits."""

    date: EdtfDate
    by: str | None = None
    value: str | None = None
    fits: str | None = None
    inspected_by: str | None = None
    photo: str | None = None
    note: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Release:
    """Who released a decision for building, an id of `people`, and when."""

    by: str
    date: EdtfDate


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision:
    """What the team chose to build for a feature, on what, and why.

    Attributes:
        status: `proposed`, `released` or `withdrawn`.
        basis: claim ids.
        grade_then: the grade of the value when it was decided.
        replaces: the decision that this one replaces.
        released: who released it, and when; None while it is proposed, and where the record does not say.
    """

    id: str
    about: str
    status: str
    build: str
    by: str
    date: EdtfDate
    tolerance: str | None = None
    basis: tuple[str, ...] = ()
    set_aside: tuple[SetAside, ...] = ()
    modern_change: ModernChange | None = None
    drawings: tuple[MadeDrawing, ...] = ()
    grade_then: str | None = None
    replaces: str | None = None
    stamp: str | None = None
    why: str | None = None
    released: Release | None = None
    made: tuple[Made, ...] = ()
    withdrawn: Withdrawal | None = None
    note: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Query:
    """A doubt or a challenge about a feature, a decision or a panel, and its answer."""

    id: str
    about: str
    by: str
    date: EdtfDate
    grounds: str
    open: bool = True
    raised_by: str | None = None
    would_settle: str | None = None
    answer: str | None = None
    answered_by: str | None = None
    answered_date: EdtfDate | None = None
    note: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Statement:
    """A sentence on a panel, and the features that it speaks of."""

    text: str
    features: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Printed:
    """A printing of a panel's appendix: when, and the digest of what it said."""

    date: EdtfDate
    digest: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """An interpretation panel."""

    id: str
    title: str
    by: str
    date: EdtfDate
    statements: tuple[Statement, ...] = ()
    components: tuple[str, ...] = ()
    printed: tuple[Printed, ...] = ()
    note: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Lead:
    """A holding that has not been searched yet.

    Attributes:
        hoped_for: features, as `component/feature`.
        effort: `small`, `medium` or `large`.
        cost: as written.
        chance: as written; a share or a percentage.
    """

    id: str
    what: str
    by: str
    date: EdtfDate
    holder: str | None = None
    place: str | None = None
    reference: str | None = None
    hoped_for: tuple[str, ...] = ()
    effort: str | None = None
    cost: str | None = None
    chance: str | None = None
    searched: bool = False
    outcome: str | None = None
    note: str | None = None
