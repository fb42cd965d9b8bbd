"""The sources appendix of a panel as a value: what every format is written from."""

from dataclasses import dataclass

from provenance.reports.citations import Citation, CitedSource
from provenance.rules.cautions import StandingCaution
from provenance.rules.clearance import NotCleared


@dataclass(frozen=True, slots=True, kw_only=True)
class Witnesses:
    """Evidence of one class: pictures, documents, what people told.

    Attributes:
        said: which class it is, and whether it speaks of another machine, in words.
    """

    said: str
    citations: tuple[Citation, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A value, how sure it is, and what speaks for it and against it.

    Attributes:
        sure: how sure, in words; empty where only what counts for nothing speaks for it.
        supported: by class of evidence, in order of first mention.
        counted: a sentence where there are fewer independent witnesses than sources; else empty.
        opposed: what speaks against it.
        unbuilt: designs that say so and were never built; they count for nothing.
    """

    value: str
    sure: str
    supported: tuple[Witnesses, ...]
    counted: str = ""
    opposed: tuple[Citation, ...] = ()
    unbuilt: tuple[Citation, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Account:
    """What a statement rests on for one feature.

    Attributes:
        name: of the part and the feature.
        best: None where nothing that may be shown supports any value.
        others: other values that something supports or an unbuilt design shows, the likeliest first.
        withheld: sentences on what is held privately or in confidence; they are about the best value.
        remarks: further sentences: that it is shown otherwise here, and that a doubt is open.
    """

    name: str
    best: Reading | None
    others: tuple[Reading, ...]
    withheld: tuple[str, ...]
    remarks: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StatementAccount:
    """A statement of the panel with an account for each feature that it speaks of."""

    text: str
    accounts: tuple[Account, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """One feature of a part as it is shown: what stands there, and how that is known; all in words."""

    name: str
    shown: str
    known: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A part that the panel shows.

    Attributes:
        words: what it is: an original, newly made, something in its place, or not shown.
        standings: its features; none of a part that is not shown.
    """

    name: str
    words: str
    standings: tuple[Standing, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Appendix:
    """The whole appendix.

    Attributes:
        archive: the title of the archive that it was printed from.
        printed: the day that it carries, in words.
        written: the day of the panel's words, in words.
        draft: whether it is marked as a draft on every page.
        object: what is shown, in words: the class of machine and what the object claims to be.
        claimed: the defined word for what it claims to be, and its meaning; None where that is not said.
        period: what is represented, in words; empty where the archive does not say.
        why: why that is represented; None where it is not said.
        never_together: what is shown that may never have been together; a sentence each.
        conjecture: what is conjecture, or known by comparison alone; a sentence each.
        changes: the departures that the present day asks for; a sentence each.
        marked: how new parts are marked, so that they can be told; a sentence each.
        numbered: whether sources go by number.
        names_pages: whether a page is named anywhere.
        style: the name of the style of its citations.
        definitions: words with their meaning.
        not_cleared: the sources shown that are not cleared for print; these are not printed.
    """

    title: str
    archive: str
    printed: str
    written: str
    draft: bool
    object: str
    claimed: tuple[str, str] | None
    period: str
    why: str | None
    never_together: tuple[str, ...]
    cautions: tuple[StandingCaution, ...]
    parts: tuple[Part, ...]
    statements: tuple[StatementAccount, ...]
    conjecture: tuple[str, ...]
    changes: tuple[str, ...]
    marked: tuple[str, ...]
    sources: tuple[CitedSource, ...]
    numbered: bool
    names_pages: bool
    style: str
    definitions: tuple[tuple[str, str], ...]
    not_cleared: tuple[NotCleared, ...]
