"""What would lift the grade of a feature: found by trying, with evidence that nobody has found yet.

A hypothetical find, independent of all that is held, is added to the records and judged by the same rules as everything
else; the slightest kind that lifts the grade is named. What lifts it without a journey comes first: a ruling on sources
that look like copies of one another.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import chain

from provenance.records.archive import Archive, Target
from provenance.records.claims import AppliesTo, Claim
from provenance.records.components import Feature
from provenance.records.decisions import CopyPair
from provenance.records.examples import ExampleSet
from provenance.records.kinds import FeatureKind
from provenance.rules.candidates import PRESENT
from provenance.rules.chosen_builds import chosen_build
from provenance.rules.descent import Lineage
from provenance.rules.grades import STRENGTH, Grade
from provenance.rules.hoped_finds import HopedFind, as_records, hoped_finds, in_words
from provenance.rules.judged_part import JudgedParts
from provenance.rules.judging import grade_feature
from provenance.rules.open_pairs import OpenPairs, pairs_behind, ruled_distinct
from provenance.rules.sentences import listed, namer
from provenance.rules.verdicts import Verdict

WEAK = frozenset(STRENGTH[: STRENGTH.index(Grade.PROBABLE)])
"""The grades that ask for more evidence. `probable` can still be lifted, but is not weak."""

_UNUSED = "~hoped-for"  # no record has such an id, and it sorts after those that have
_SOME_TEXT = "as found"
_ALONE = 12  # of a family of a thousand pictures nobody rules on every pair in turn before anything is lifted


@dataclass(frozen=True, slots=True, kw_only=True)
class Lift:
    """Something that would lift a grade.

    Attributes:
        what: in words, such as `a photograph of No. 9 by its number that shows it`.
        becomes: the grade that it would come to.
        at_home: whether it asks for no journey: a ruling on what is held already.
    """

    what: str
    becomes: Grade
    at_home: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Lifting:
    """What would lift the grade of one feature.

    Attributes:
        lifts: first what rulings would do, since they ask for no journey; then the smallest find that lifts it at all,
            and what lifts it further, each the smallest for its grade, until it is `probable`, or `established` where
            it was probable before. Empty where no ruling and no find lifts it, nor two finds of a kind.
        set_aside: for a contested feature, whether the decision in force sets all the other claims aside, with why.
    """

    lifts: tuple[Lift, ...]
    set_aside: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class _Try:
    """What may be ruled or found, in words, and the records as they would be."""

    what: str
    archive: Archive
    at_home: bool


class Lifter:
    """Finds what would lift the grades of the features of one archive.

    Features on which no claim was entered differ only in what sort they are, so each sort is tried once.

    Args:
        archive: the archive; it says what is represented.
        without: what the verdicts were judged without.
    """

    def __init__(self, archive: Archive, *, without: frozenset[str] = frozenset()) -> None:
        """Take in the archive."""
        self._archive = archive
        self._without = without
        self._parts = JudgedParts(archive)
        self._pairs = OpenPairs(archive, Lineage(archive))
        self._name = namer(archive.sources)
        self._bare: dict[tuple[object, ...], Lifting] = {}

    def lifting_of(self, verdict: Verdict) -> Lifting:
        """Say what would lift the grade of a verdict, as the archive gives it."""
        component = self._archive.components[verdict.component]
        if verdict.feature in self._archive.claims_by_feature or component.common_to:
            return self._try(verdict)
        asked = verdict.asked
        sort = (asked.aspect, asked.kind, asked.changes, asked.unit)
        if sort not in self._bare:
            self._bare[sort] = self._try(verdict)
        return self._bare[sort]

    def _try(self, verdict: Verdict) -> Lifting:
        part = self._parts.of(verdict.feature)
        lifts = [*self._lifts(verdict, self._rulings(part, verdict))]
        if part.target is not None:
            singles, pairs = (_finds(part, part.target, verdict, count) for count in (1, 2))
            lifts += self._lifts(verdict, chain(singles, pairs))
        return Lifting(lifts=tuple(lifts), set_aside=_is_set_aside(verdict))

    def _rulings(self, part: Archive, verdict: Verdict) -> Iterator[_Try]:
        """Each open pair that matters ruled distinct alone, the first few of many; then all of them together."""
        waiting = pairs_behind(verdict, self._pairs)
        for pairs in [[pair] for pair in waiting[:_ALONE]] + ([waiting] if len(waiting) > 1 else []):
            what = f"ruling, if it is so, that {listed([self._pair(pair) for pair in pairs])}"
            yield _Try(what=what, archive=ruled_distinct(part, pairs), at_home=True)

    def _pair(self, pair: CopyPair) -> str:
        one, other = pair.between
        return f"{self._name(one)} and {self._name(other)} are no copies of one another"

    def _lifts(self, verdict: Verdict, tries: Iterator[_Try]) -> Iterator[Lift]:
        """Those of the tries that lift the grade higher than any before, until that is enough."""
        stands = STRENGTH.index(verdict.grade)
        enough = STRENGTH.index(Grade.PROBABLE if verdict.grade in WEAK else Grade.ESTABLISHED)
        for each in tries:
            if stands >= enough:
                return
            becomes = grade_feature(each.archive, verdict.feature, without=self._without)
            if STRENGTH.index(becomes) > stands:
                stands = STRENGTH.index(becomes)
                yield Lift(what=each.what, becomes=becomes, at_home=each.at_home)


def _is_set_aside(verdict: Verdict) -> bool:
    """Whether the decision in force sets aside, with a why, every claim that supports a rival."""
    if verdict.grade is not Grade.CONTESTED or verdict.decision is None:
        return False
    rivals = [each for each in verdict.candidates if each is not verdict.best and each.grade is Grade.CONTESTED]
    return chosen_build(verdict, verdict.decision).sets_aside_value(*rivals)


def _finds(part: Archive, target: Target, verdict: Verdict, count: int) -> Iterator[_Try]:
    """That many finds of each kind, from the slightest kind to the strongest."""
    for find in hoped_finds(verdict.asked):
        archive = _with_find(part, target, verdict, find, count)
        if archive is not None:
            second = ", and a second one independent of it," if count > 1 else ""
            what = f"{in_words(find, target.example, verdict.shown)}{second}"
            yield _Try(what=what, archive=archive, at_home=False)


def _with_find(part: Archive, target: Target, verdict: Verdict, find: HopedFind, count: int) -> Archive | None:
    """The part with that many finds of a kind, independent of all else; None where no machine can show it."""
    value, uncertainty, is_standard = _value_sought(part, verdict)
    sources, items = dict(part.sources), []
    for number in range(count):
        records = as_records(find, f"{_UNUSED}-{number}", part.production, target)
        if records is None:
            return None
        source, item = records
        sources[source.id] = source
        items.append(item)
    claim = Claim(
        id=_UNUSED,
        about=verdict.feature,
        value=value,
        applies_to=AppliesTo(examples=ExampleSet((target.example,))),
        evidence=tuple(items),
        by="",
        date=target.as_at,
        uncertainty=uncertainty,
        uncertainty_standard=is_standard,
    )
    return replace(part, sources=sources, claims={**part.claims, claim.id: claim})


def _value_sought(part: Archive, verdict: Verdict) -> tuple[str, str | None, bool]:
    """The value that a find would speak for, and its half-width: the best, else one of which nothing is said yet."""
    best, asked = verdict.best, verdict.asked
    if best is not None and asked.kind is FeatureKind.QUANTITY:
        # As written and with its own half-width, so that the new figure surely falls in with it.
        written = part.claims[best.claims[0]]
        return written.value, written.uncertainty, written.uncertainty_standard
    if best is not None:
        return best.value, None, False
    return _some_value(asked, {candidate.value for candidate in verdict.candidates}), None, False


def _some_value(asked: Feature, spoken_of: set[str]) -> str:
    """A value that the feature may have, if possible none of those that something was said of already."""
    if asked.kind is FeatureKind.PRESENCE:
        return PRESENT
    if asked.kind is FeatureKind.QUANTITY:
        return f"1 {asked.unit or 'mm'}"
    options = [option.id for option in asked.options]
    return next((option for option in options if option not in spoken_of), options[0] if options else _SOME_TEXT)
