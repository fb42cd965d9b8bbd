"""What is shown of the hits of a query, what they can be narrowed to, and how many hits each way leaves."""

from dataclasses import dataclass

from provenance.reports.found import FoundPage
from provenance.reports.strips import Strip


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownHit:
    """A hit as a page shows it.

    Attributes:
        pieces: of its snippet, in order, each with whether it is among what was looked for.
        strip: of its page, around the words; None where no word has a place, or there is no picture.
        no_strip: why there is no picture though words have places; empty where there is one, and where none has.
        cited: of a claim, the part of the page that its first evidence names; empty where it names none, and where
            there is no picture.
        digest: SHA-256 of the file that the strip, or what is cited, is cut from; empty without either.
    """

    hit: FoundPage
    pieces: tuple[tuple[str, bool], ...]
    strip: Strip | None = None
    no_strip: str = ""
    cited: str = ""
    digest: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One way to narrow the hits.

    Attributes:
        value: as it is asked for.
        name: as people read it.
        hits: how many hits are left with it, beside what was chosen in other groups.
        is_chosen: whether the hits are kept to it now.
    """

    value: str
    name: str
    hits: int
    is_chosen: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class ChoiceGroup:
    """Ways to narrow of one sort.

    Attributes:
        name: `kind`, `component`, `holder`, `decade` or `state`.
        choices: those with hits, and those that were chosen.
    """

    name: str
    choices: tuple[Choice, ...]
