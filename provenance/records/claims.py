"""A claim: one value for one feature, with the evidence for and against it."""

from dataclasses import dataclass

from provenance.records.dates import EdtfDate
from provenance.records.examples import ExampleSet
from provenance.records.kinds import Condition, How, KnownBy, Legibility, SignSeen, Stance
from provenance.records.regions import Region, TimeSpan
from provenance.records.sources import Withdrawal


@dataclass(frozen=True, slots=True, kw_only=True)
class AppliesTo:
    """What a statement itself says it covers: exactly one of examples, batch and related.

    Attributes:
        related: the name of a related type in archive.yaml.
        since: `from` in the record; None for no beginning said.
        until: None for no end said.
    """

    examples: ExampleSet | None = None
    batch: str | None = None
    related: str | None = None
    since: EdtfDate | None = None
    until: EdtfDate | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class At:
    """The place in a source.

    Attributes:
        page: counted from 1, running on over the files of the source; None where there are no pages or none is named.
        page_label: the number printed on the page.
        file: counted from 1, for a source of several files without pages.
        who: who speaks there.
    """

    page: int | None = None
    page_label: str | None = None
    region: Region | None = None
    time: TimeSpan | None = None
    file: int | None = None
    who: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """The individual machine that was actually seen.

    Attributes:
        example: its number, or the name of a related type.
        known_by: absent in the record is `caption`.
        signs: the signs that it was told by.
    """

    example: str
    when: EdtfDate | None = None
    known_by: KnownBy = KnownBy.CAPTION
    signs: tuple[str, ...] = ()
    why: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class EvidenceItem:
    """One place in one source that speaks for the claim's value or against it.

    Attributes:
        applies_to: where it covers something else than its claim; None to take the claim's.
        via: the parent through which it descends; None when that is not known.
        signs: what was seen of each sign, as pairs of sign id and what was seen.
        by: who entered it; None when it is the claim's.
        date: when; None when it is the claim's.
    """

    source: str
    stance: Stance
    how: How
    at: At = At()
    legibility: Legibility = Legibility.CLEAR
    condition: Condition = Condition.SOUND
    quote: str | None = None
    seen: Seen | None = None
    applies_to: AppliesTo | None = None
    via: str | None = None
    signs: tuple[tuple[str, SignSeen], ...] = ()
    by: str | None = None
    date: EdtfDate | None = None
    withdrawn: Withdrawal | None = None
    note: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """A value for one feature, with its evidence.

    Attributes:
        about: `component/feature`.
        value: as written.
        uncertainty: half-width as written; None when none is given.
        uncertainty_standard: whether `uncertainty` is a standard uncertainty; else it is rectangular.
        reasoning: interpretation, apart from observation.
    """

    id: str
    about: str
    value: str
    applies_to: AppliesTo
    evidence: tuple[EvidenceItem, ...]
    by: str
    date: EdtfDate
    uncertainty: str | None = None
    uncertainty_standard: bool = False
    reasoning: str | None = None
    withdrawn: Withdrawal | None = None
    note: str | None = None
