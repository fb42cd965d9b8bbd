"""The sources appendix of a panel as a value: what files, terminal and pages are written from."""

from dataclasses import dataclass

from provenance.reports.citations import Citation, NumberedSource
from provenance.rules.cautions import StandingCaution
from provenance.rules.clearance import NotCleared


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A value, how sure it is, and what speaks for it and against it."""

    value: str
    sure: str
    supported: tuple[Citation, ...]
    opposed: tuple[Citation, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Account:
    """What a statement rests on for one feature.

    Attributes:
        name: of the part and the feature.
        best: None where nothing that may be shown supports any value.
        others: other values that something supports, the likeliest first.
        remarks: further sentences: what is held privately or in confidence.
    """

    name: str
    best: Reading | None
    others: tuple[Reading, ...]
    remarks: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StatementAccount:
    """A statement of the panel with an account for each feature that it speaks of."""

    text: str
    accounts: tuple[Account, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A part that the panel shows, and what it is in words."""

    name: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Appendix:
    """The whole appendix.

    Attributes:
        printed: the day that it carries, in words.
        draft: whether it is marked as a draft on every page.
        object: what is shown, in words: the class of machine and what the object claims to be.
        period: what is represented, in words; empty where the archive does not say.
        why: why that is represented; None where it is not said.
        conjecture: what is conjecture, or known by comparison alone; a sentence each.
        changes: the departures that the present day asks for; a sentence each.
        definitions: words with their meaning.
        not_cleared: the sources shown that are not cleared for print; these are not printed.
    """

    title: str
    printed: str
    draft: bool
    object: str
    period: str
    why: str | None
    cautions: tuple[StandingCaution, ...]
    parts: tuple[Part, ...]
    statements: tuple[StatementAccount, ...]
    conjecture: tuple[str, ...]
    changes: tuple[str, ...]
    sources: tuple[NumberedSource, ...]
    definitions: tuple[tuple[str, str], ...]
    not_cleared: tuple[NotCleared, ...]
