"""Flags about values chosen for one machine that never applied together: stated for other machines, or other years."""

import heapq
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain

from provenance.records.archive import Archive
from provenance.records.claims import AppliesTo
from provenance.records.dates import Day, EdtfDate
from provenance.records.kinds import Changes, Stance
from provenance.records.production import Production
from provenance.rules.chosen_builds import chosen_build
from provenance.rules.flag_values import Flag, Level
from provenance.rules.grades import Grade
from provenance.rules.replaced_issues import replacements
from provenance.rules.sentences import counted, listed
from provenance.rules.standpoint import examples_of
from provenance.rules.verdicts import Candidate, JudgedItem, Verdict

_SHOWN = 3
_ALWAYS = (None, None)


_Days = tuple[Day | None, Day | None]
"""From a day to a day; None for no beginning or no end said."""

_Reach = frozenset[tuple[str, _Days]]
"""The machines for which a value is stated, each with the days between which it may have held there."""


@dataclass(frozen=True, slots=True)
class _Chosen:
    """A value chosen for a feature, with the machines and years for which what supports it is stated.

    Attributes:
        covers_target: whether it is certainly stated for the machine and the whole of the date represented.
    """

    verdict: Verdict
    candidate: Candidate
    reach: _Reach
    covers_target: bool


def coexistence_flags(
    archive: Archive, verdicts: Iterable[Verdict], everything: Callable[[], Iterable[Verdict]]
) -> Iterator[Flag]:
    """Raise `never-coexisted` about values chosen for the machine that are stated for no machine and day in common.

    What is chosen is what is decided, else what the evidence says. A value is limited where all that supports it are
    statements about some machines or some years; a sighting sets no limit. Of two that exclude each other the flag is
    about the one that is not stated for the machine and day represented; where neither is, about both.

    Args:
        archive: the archive.
        verdicts: on the features that are asked about.
        everything: gives the verdicts on all features, those asked about among them; asked for only where it matters.
    """
    odd = [each for each in _limited(archive, verdicts) if not each.covers_target]
    if not odd:
        return
    by_reach: dict[_Reach, list[_Chosen]] = defaultdict(list)
    for each in _limited(archive, everything()):
        by_reach[each.reach].append(each)
    apart: dict[_Reach, tuple[Sequence[_Chosen], int]] = {}
    for each in odd:
        if each.reach not in apart:
            apart[each.reach] = _apart_from(each.reach, by_reach)
        named, more = apart[each.reach]
        if named:
            yield _flag(each, named, more)


def _apart_from(reach: _Reach, by_reach: Mapping[_Reach, Sequence[_Chosen]]) -> tuple[Sequence[_Chosen], int]:
    """The first in order of feature of the values that a reach excludes, and how many more there are."""
    here = dict(reach)
    excluded = [values for other, values in by_reach.items() if not _meet(here, other)]
    first = heapq.nsmallest(_SHOWN, chain.from_iterable(excluded), key=_feature)
    return first, sum(map(len, excluded)) - len(first)


def _feature(chosen: _Chosen) -> str:
    return chosen.verdict.feature


def _meet(here: Mapping[str, _Days], other: _Reach) -> bool:
    """Whether there may be a machine and a day for which both hold."""
    for example, (first, last) in other:
        days = here.get(example)
        if days is not None and not (_before(days[1], first) or _before(last, days[0])):
            return True
    return False


def _limited(archive: Archive, verdicts: Iterable[Verdict]) -> Iterator[_Chosen]:
    withdrawn = frozenset(each for each, source in archive.sources.items() if source.withdrawn is not None)
    replaced = {each: later.created for each, later in replacements(archive.sources, withdrawn).items()}
    for verdict in verdicts:
        candidate = _chosen_of(verdict)
        reach = _reach_of(archive, verdict, candidate, replaced) if candidate else None
        if candidate is not None and reach:
            yield _Chosen(verdict, candidate, reach, _covers_target(archive, reach))


def _chosen_of(verdict: Verdict) -> Candidate | None:
    if verdict.decision is not None:
        return chosen_build(verdict, verdict.decision).candidate
    return verdict.best if verdict.grade is not Grade.UNSUPPORTED else None


def _reach_of(
    archive: Archive, verdict: Verdict, candidate: Candidate, replaced: Mapping[str, EdtfDate | None]
) -> _Reach | None:
    """The machines and days of all that supports a value, those of one machine from the first to the last.

    None where something sets no limit, or nothing is known.
    """
    held: dict[str, _Days] = {}
    for item in _for_it(candidate):
        if item.seen is not None:
            return None
        applies_to = item.item.applies_to or archive.claims[item.claim].applies_to
        days = _days(applies_to, replaced.get(item.source))
        examples = examples_of(applies_to, archive.production) or frozenset()
        if verdict.asked.changes is Changes.AT_BUILD:
            examples, days = _built_in(examples, days, archive.production), _ALWAYS
        if not examples:
            return None
        held.update({example: _together(held.get(example, days), days) for example in examples})
    return frozenset(held.items())


def _together(one: _Days, other: _Days) -> _Days:
    """The days from the beginning of the one or the other to the end of either."""
    firsts, lasts = (one[0], other[0]), (one[1], other[1])
    return (
        None if None in firsts else min(day for day in firsts if day is not None),
        None if None in lasts else max(day for day in lasts if day is not None),
    )


def _for_it(candidate: Candidate) -> list[JudgedItem]:
    """What speaks for a value, of weight or not: what had ended by then is why it never went with something else."""
    return [item for item in candidate.items if item.stance is Stance.SUPPORTS and not item.left_out]


def _days(applies_to: AppliesTo, ended: EdtfDate | None) -> _Days:
    ends = [date.latest for date in (applies_to.until, ended) if date is not None and date.latest is not None]
    return applies_to.since.earliest if applies_to.since else None, min(ends, default=None)


def _built_in(examples: frozenset[str], days: _Days, production: Production) -> frozenset[str]:
    """The machines that may have been built in those days: what a machine was built with it kept for good."""
    if days == _ALWAYS:
        return examples
    built = {example: production.batch_of(example).built for example in examples}
    first, last = days
    return frozenset(
        example for example, date in built.items() if not (_before(date.latest, first) or _before(last, date.earliest))
    )


def _covers_target(archive: Archive, reach: _Reach) -> bool:
    target = archive.target
    if target is None:
        return True
    days = dict(reach).get(target.example)
    begins, ends = target.as_at.earliest, target.as_at.latest
    return days is not None and not _before(begins, days[0]) and not _before(days[1], ends)


def _before(one: Day | None, other: Day | None) -> bool:
    return one is not None and other is not None and one < other


def _flag(chosen: _Chosen, others: Sequence[_Chosen], more: int) -> Flag:
    verdict, candidate = chosen.verdict, chosen.candidate
    named = [f"“{each.candidate.shown}” for {each.verdict.feature}" for each in others]
    beyond = f", nor with {counted(more, 'value', 'values')} more" if more else ""
    sources = {item.source for each in (chosen, *others) for item in _for_it(each.candidate)}
    return Flag(
        flag="never-coexisted",
        severity=Level.STOP if verdict.decision is not None else Level.WARN,
        about=verdict.feature,
        sentence=f"“{verdict.name}”: by what is stated, “{candidate.shown}” never went with {listed(named)} on one "
        f"machine at one time{beyond}.",
        mend="choose values that went together, or find what says that this one was on the machine represented",
        claims=tuple(sorted({claim for each in (chosen, *others) for claim in each.candidate.claims})),
        sources=tuple(sorted(sources)),
    )
