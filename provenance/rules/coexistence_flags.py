"""Flags about values chosen for one machine that never applied together: stated for other machines, or other years."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from provenance.records.archive import Archive
from provenance.records.claims import AppliesTo
from provenance.records.dates import Day, EdtfDate
from provenance.records.kinds import Changes, Stance
from provenance.rules.chosen_builds import chosen_build
from provenance.rules.flag_values import Flag, Level
from provenance.rules.grades import Grade
from provenance.rules.replaced_issues import replacements
from provenance.rules.sentences import counted, listed
from provenance.rules.standpoint import examples_of
from provenance.rules.verdicts import Candidate, JudgedItem, Verdict

_SHOWN = 3


@dataclass(frozen=True, slots=True)
class _Span:
    """Machines over which a statement holds, from a day to a day; None for no beginning or no end said."""

    examples: frozenset[str]
    first: Day | None
    last: Day | None

    def meets(self, other: "_Span") -> bool:
        """Whether there may be a machine and a day for which both hold."""
        apart = _before(self.last, other.first) or _before(other.last, self.first)
        return not apart and bool(self.examples & other.examples)


_Reach = frozenset[_Span]


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
    apart: dict[_Reach, list[_Chosen]] = {}
    for each in odd:
        if each.reach not in apart:
            excluded = [other for other in by_reach if not _meet(each.reach, other)]
            found = [one for reach in excluded for one in by_reach[reach]]
            apart[each.reach] = sorted(found, key=lambda one: one.verdict.feature)
        if apart[each.reach]:
            yield _flag(each, apart[each.reach])


def _meet(reach: _Reach, other: _Reach) -> bool:
    return any(one.meets(two) for one in reach for two in other)


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
    """The spans of all that supports a value; None where something sets no limit, or nothing is known."""
    spans = []
    for item in _for_it(candidate):
        if item.seen is not None:
            return None
        applies_to = item.item.applies_to or archive.claims[item.claim].applies_to
        span = _span(examples_of(applies_to, archive.production) or frozenset(), applies_to, replaced.get(item.source))
        spans.append(_for_life(span, archive) if verdict.asked.changes is Changes.AT_BUILD else span)
    return frozenset(spans) if all(span.examples for span in spans) else None


def _for_it(candidate: Candidate) -> list[JudgedItem]:
    """What speaks for a value, of weight or not: what had ended by then is why it never went with something else."""
    return [item for item in candidate.items if item.stance is Stance.SUPPORTS and not item.left_out]


def _span(examples: frozenset[str], applies_to: AppliesTo, ended: EdtfDate | None) -> _Span:
    ends = [date.latest for date in (applies_to.until, ended) if date is not None and date.latest is not None]
    return _Span(examples, applies_to.since.earliest if applies_to.since else None, min(ends, default=None))


def _for_life(span: _Span, archive: Archive) -> _Span:
    """What a machine was built with it kept: of the machines those that may have been built in the time, for good."""
    built = {each: archive.production.batch_of(each).built for each in span.examples}
    in_time = {
        each
        for each, date in built.items()
        if not (_before(date.latest, span.first) or _before(span.last, date.earliest))
    }
    return _Span(frozenset(in_time), None, None)


def _covers_target(archive: Archive, reach: _Reach) -> bool:
    target = archive.target
    if target is None:
        return True
    first, last = target.as_at.earliest, target.as_at.latest
    return any(
        target.example in span.examples and not _before(first, span.first) and not _before(span.last, last)
        for span in reach
    )


def _before(one: Day | None, other: Day | None) -> bool:
    return one is not None and other is not None and one < other


def _flag(chosen: _Chosen, others: Sequence[_Chosen]) -> Flag:
    verdict, candidate = chosen.verdict, chosen.candidate
    named = [f"“{each.candidate.shown}” for {each.verdict.feature}" for each in others[:_SHOWN]]
    more = f", nor with {counted(len(others) - _SHOWN, 'value', 'values')} more" if len(others) > _SHOWN else ""
    sources = {item.source for each in (chosen, *others) for item in _for_it(each.candidate)}
    return Flag(
        flag="never-coexisted",
        severity=Level.STOP if verdict.decision is not None else Level.WARN,
        about=verdict.feature,
        sentence=f"“{verdict.name}”: by what is stated, “{candidate.shown}” never went with {listed(named)} on one "
        f"machine at one time{more}.",
        mend="choose values that went together, or find what says that this one was on the machine represented",
        claims=tuple(sorted({claim for each in (chosen, *others) for claim in each.candidate.claims})),
        sources=tuple(sorted(sources)),
    )
