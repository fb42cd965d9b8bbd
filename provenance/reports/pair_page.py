"""What is shown of two sources that look alike: both side by side, what they have in common, and what hangs on it."""

from dataclasses import dataclass

from provenance.records.archive import Archive
from provenance.records.decisions import AlikePlace
from provenance.reports.copied import Copies, ListedPair
from provenance.reports.pair_shown import ShownPair
from provenance.rules.cautions import StandingCaution


@dataclass(frozen=True, slots=True, kw_only=True)
class CopiesPage:
    """Some of the pairs that were asked for.

    Attributes:
        copies: the answer; of its pairs only those of this page.
        total: how many pairs were asked for.
        first: the number of the first pair on this page, counted from 1; 0 where there is none.
        most: how many stand on a page.
        is_by_change: whether the pairs that would change most come first; else they stand in order of their ids, open
            ones first, since it was looked at what would change on this page alone.
    """

    copies: Copies
    total: int
    first: int
    most: int
    is_by_change: bool

    @property
    def page(self) -> int:
        """Which page this is, counted from 1."""
        return max(0, self.first - 1) // self.most + 1

    @property
    def pages(self) -> int:
        """How many there are; at least 1."""
        return max(1, -(-self.total // self.most))


@dataclass(frozen=True, slots=True, kw_only=True)
class PairSide:
    """One of two sources, as it is seen beside the other.

    Attributes:
        source: its id.
        place: where in it the two look alike; None where that is not known.
        page: the page that is shown, counted from 1; None for none.
        why_not: why no page is shown, in words that end a sentence; empty where one is.
        is_outlined: whether a part of the page is outlined.
    """

    source: str
    place: AlikePlace | None
    page: int | None
    why_not: str = ""
    is_outlined: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PairPage:
    """A pair of sources that look alike.

    Attributes:
        archive: whose records they are.
        listed: the pair, and what each ruling would change.
        sides: the one and the other.
        shown: what the two have in common as they are compared now; None where they are not compared.
        why_not: why they are not compared, a sentence; empty where they are, or where it is put off.
        is_put_off: whether they can be compared, which takes some seconds, and nobody has asked for it yet.
        is_laid: whether it is known how the page of the second lies on that of the first.
        descent: how the one goes back to the other by what is on record, link by link, a clause each; empty where
            neither does.
        cautions: for the hazards of the two.
    """

    archive: Archive
    listed: ListedPair
    sides: tuple[PairSide, PairSide]
    shown: ShownPair | None
    why_not: str
    is_put_off: bool
    is_laid: bool
    descent: tuple[str, ...]
    cautions: tuple[StandingCaution, ...]
