"""The verdict on a feature: its items weighed, its values compared, the best of them graded and explained."""

from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from provenance.errors import UnknownRecordError
from provenance.records.archive import Archive
from provenance.records.components import Feature
from provenance.records.decisions import Decision
from provenance.records.kinds import Changes, FeatureKind, Stance
from provenance.records.uninterrupted import uninterrupted
from provenance.rules.assessing import Assessed, Assessor
from provenance.rules.candidates import Group, group_by_value
from provenance.rules.change_in_service import over_time
from provenance.rules.change_over import change_over
from provenance.rules.change_values import ChangeAnswer, ChangeOver
from provenance.rules.descent import rests_on
from provenance.rules.explaining import Case, explain
from provenance.rules.grades import Grade
from provenance.rules.grading import Standing, Witnessed, grade_best, is_rival
from provenance.rules.open_pairs import OpenPairs
from provenance.rules.overlaps import overlaps_of
from provenance.rules.posterior import posteriors, same_chance
from provenance.rules.quantities import group_quantities, quantity_of, value_words
from provenance.rules.quantity_values import Quantity
from provenance.rules.standpoint import standpoint_of
from provenance.rules.summing import Sum, sum_up
from provenance.rules.verdicts import Candidate, JudgedItem, Verdict


def judge_feature(archive: Archive, feature: str, *, without: frozenset[str] = frozenset()) -> Verdict:
    """Judge what the evidence says of one feature of the machine that is represented.

    Args:
        archive: the archive.
        feature: `component/feature`.
        without: ids of sources to leave out, with all that goes back to them; also `*unstated*` or `witness:NAME`.

    Raises:
        UnknownRecordError: no component has such a feature.
    """
    if feature not in archive.features:
        raise UnknownRecordError(f"no component has a feature {feature}", "write it as component/feature")
    return _Judge(archive, without).judge(feature)


def grade_feature(archive: Archive, feature: str, *, without: frozenset[str] = frozenset()) -> Grade:
    """Give the grade of the verdict on one feature, without the verdict: quicker, to try over and over again.

    Args:
        archive: the archive.
        feature: `component/feature`; one that the archive has.
        without: as for the verdict.
    """
    return _Judge(archive, without).grade(feature)


def judge_all(
    archive: Archive, *, without: frozenset[str] = frozenset(), only: Collection[str] | None = None
) -> Mapping[str, Verdict]:
    """Judge every feature of an archive; by `component/feature`, in the order of `archive.features`.

    Args:
        archive: the archive.
        without: as for one feature.
        only: the features to judge; None for all.
    """
    with uninterrupted():
        judge = _Judge(archive, without)
        return {feature: judge.judge(feature) for feature in archive.features if only is None or feature in only}


def decision_in_force(decisions: Sequence[Decision]) -> Decision | None:
    """Choose of the decisions on one feature the one in force: released, not withdrawn, not replaced by such a one.

    Of several the latest counts, then the last by id.
    """
    standing = [each for each in decisions if each.status == "released" and each.withdrawn is None]
    replaced = {each.replaces for each in standing}
    left = [each for each in standing if each.id not in replaced]
    return max(left, key=_when_decided, default=None)


def _when_decided(decision: Decision) -> tuple[bool, object, str]:
    latest = decision.date.latest
    return latest is not None, latest or (), decision.id


@dataclass(frozen=True, slots=True)
class _Weighed:
    """A value with its sums, before it is compared with the others."""

    group: Group
    supporting: tuple[Assessed, ...]
    ahead: Sum
    against: Sum
    quantity: Quantity | None
    posterior: float


class _Judge:
    def __init__(self, archive: Archive, without: frozenset[str]) -> None:
        self._archive = archive
        self._assessor = Assessor(archive, without)
        self._weights = self._assessor.weights
        self._pairs = OpenPairs(archive, self._assessor.lineage)
        self._decisions: dict[str, list[Decision]] = defaultdict(list)
        for decision in archive.decisions.values():
            self._decisions[decision.about].append(decision)

    def judge(self, about: str) -> Verdict:
        weighed, best, change = self._weigh(about)
        candidates = tuple(self._candidates(weighed, best, change))
        chosen = candidates[weighed.index(best)] if best else None
        return Verdict(
            feature=about,
            asked=self._archive.features[about],
            grade=chosen.grade if chosen else Grade.UNSUPPORTED,
            best=chosen,
            explanation=explain(self._case(candidates, chosen, best, change)),
            decision=decision_in_force(self._decisions.get(about, ())),
            candidates=candidates,
            change_over=change.change_over,
            change_said=change.said,
        )

    def grade(self, about: str) -> Grade:
        """Give the grade alone."""
        weighed, best, change = self._weigh(about)
        return self._grade_of(best, self._rivals(weighed, best, change), change) if best else Grade.UNSUPPORTED

    def _weigh(self, about: str) -> tuple[Sequence[_Weighed], _Weighed | None, ChangeAnswer]:
        """Weigh every value of a feature; give them in the order of the answer, the best, and what changed."""
        feature = self._archive.features[about]
        component = self._archive.components[about.partition("/")[0]]
        standpoint = standpoint_of(self._archive, component, feature)
        claims = self._archive.claims_by_feature.get(about, ())
        assessed = {claim.id: self._assessor.assess(claim, feature, standpoint) for claim in claims if claim.evidence}
        groups, change = self._changes(feature, _grouped(feature, assessed))
        spelt = {group.value: group for group in groups if group.has_weight}
        weighed = self._compare(feature, groups)
        if change.change_over is not None:
            decides = change.change_over.renamed({old: (new.value, new.shown) for old, new in spelt.items()})
            change = replace(change, change_over=decides)
            weighed = _by_change(weighed, decides)
        return weighed, min((each for each in weighed if each.supporting), key=_order, default=None), change

    def _changes(self, feature: Feature, groups: Sequence[Group]) -> tuple[Sequence[Group], ChangeAnswer]:
        """Look whether the feature changed, over the order of production or over the machine's life."""
        if feature.changes is Changes.AT_BUILD:
            return groups, change_over(feature, groups, self._archive, self._weights)
        return over_time(feature, groups, self._archive)

    def _compare(self, feature: Feature, groups: Sequence[Group]) -> list[_Weighed]:
        """Sum up every value and give it its chance; in the order of the answer."""
        summed = []
        for group in groups:
            supporting = _of_weight(group.supporting)
            ahead = sum_up(supporting, self._weights, self._assessor.lineage.open_pairs, count=True)
            against = sum_up(
                _of_weight(group.contradicting), self._weights, self._assessor.lineage.open_pairs, count=False
            )
            quantity = quantity_of(feature, group, ahead.chosen) if feature.kind is FeatureKind.QUANTITY else None
            if quantity is not None:
                group.value, group.shown = value_words(quantity, group.value)
            summed.append((group, supporting, ahead, against, quantity))
        taking_part = [each for each in summed if each[0].has_weight]
        chances = posteriors([ahead.weight - against.weight for _, _, ahead, against, _ in taking_part])
        weighed = [_Weighed(*each, chance) for each, chance in zip(taking_part, chances, strict=True)]
        weightless = [_Weighed(*each, 0.0) for each in summed if not each[0].has_weight]
        return sorted(weighed, key=_order) + sorted(weightless, key=_order)

    def _candidates(
        self, weighed: Sequence[_Weighed], best: _Weighed | None, change: ChangeAnswer
    ) -> Iterator[Candidate]:
        rivals = self._rivals(weighed, best, change)
        for each in weighed:
            if best is None:
                grade = Grade.UNSUPPORTED
            elif each is not best:
                grade = Grade.CONTESTED if each in rivals else Grade.OUTWEIGHED
            else:
                grade = self._grade_of(each, rivals, change)
            yield _candidate(each, grade)

    def _rivals(self, weighed: Sequence[_Weighed], best: _Weighed | None, change: ChangeAnswer) -> Sequence[_Weighed]:
        decided = change.change_over is not None
        return [each for each in weighed if best and not decided and each is not best and self._is_rival(each)]

    def _grade_of(self, best: _Weighed, rivals: Sequence[_Weighed], change: ChangeAnswer) -> Grade:
        if change.change_over is not None:
            return Grade.INFERRED
        return grade_best(self._standing(best, has_rivals=bool(rivals)))

    def _is_rival(self, weighed: _Weighed) -> bool:
        return is_rival(weighed.posterior, self._witnessed(weighed), self._weights)

    def _standing(self, weighed: _Weighed, *, has_rivals: bool) -> Standing:
        return Standing(
            supporting=self._witnessed(weighed),
            lines=weighed.ahead.lines,
            posterior=weighed.posterior,
            has_rivals=has_rivals,
            weights=self._weights,
        )

    def _witnessed(self, weighed: _Weighed) -> tuple[Witnessed, ...]:
        sources = self._archive.sources
        return tuple(Witnessed(assessed=each, kind=sources[each.item.source].kind) for each in weighed.supporting)

    def _case(
        self,
        candidates: tuple[Candidate, ...],
        chosen: Candidate | None,
        best: _Weighed | None,
        change: ChangeAnswer,
    ) -> Case:
        witnessed = self._witnessed(best) if best else ()
        parts = [each.assessed.item.source for each in witnessed if each.is_the_part_itself]
        target = self._archive.target
        return Case(
            target=target.example if target else None,
            best=chosen,
            candidates=candidates,
            part_itself=parts[0] if parts else None,
            seen_built=tuple(dict.fromkeys(each.assessed.item.source for each in witnessed if each.saw_it_as_built)),
            open_pairs=self._pairs,
            weights=self._weights,
            sources=self._archive.sources,
            change=change,
            quantity=chosen.quantity if chosen else None,
        )


def _grouped(feature: Feature, assessed: Mapping[str, Sequence[Assessed]]) -> Sequence[Group]:
    return (group_quantities if feature.kind is FeatureKind.QUANTITY else group_by_value)(feature, assessed)


def _by_change(weighed: Sequence[_Weighed], change: ChangeOver) -> list[_Weighed]:
    """Let a change-over decide: its two values share the chance between them, and no other has any."""
    likelier = change.value
    chances = {side.value: 1 - change.probability for side in (change.before, change.after)}
    chances[likelier] = change.probability
    decided = [
        replace(each, posterior=chances.get(each.group.value, 0.0) if each.group.has_weight else 0.0)
        for each in weighed
    ]
    return sorted(decided, key=_order)


def _order(weighed: _Weighed) -> tuple[float, str]:
    return -same_chance(weighed.posterior), weighed.group.value


def _of_weight(items: Sequence[Assessed]) -> tuple[Assessed, ...]:
    return tuple(sorted((each for each in items if each.weight > 0), key=_key))


def _key(assessed: Assessed) -> tuple[str, int]:
    return assessed.key


def _candidate(weighed: _Weighed, grade: Grade) -> Candidate:
    group = weighed.group
    counted = {id(each) for each in (*weighed.ahead.chosen, *weighed.against.chosen)}
    listed = [(each, Stance.SUPPORTS) for each in group.supporting]
    listed += [(each, Stance.CONTRADICTS) for each in group.contradicting]
    descents = [each.descent for each in weighed.supporting]
    named = rests_on(descents)
    return Candidate(
        value=group.value,
        shown=group.shown,
        grade=grade,
        posterior=weighed.posterior,
        lines=weighed.ahead.lines,
        lines_if_ruled_out=weighed.ahead.lines_if_ruled_out,
        weight_for=weighed.ahead.weight,
        weight_against=weighed.against.weight,
        rests_on=named,
        overlaps=overlaps_of(weighed.supporting) if weighed.ahead.lines == 1 and not named else (),
        claims=tuple(sorted(group.claims)),
        quantity=weighed.quantity,
        items=tuple(
            _judged(each, stance, counted=id(each) in counted)
            for each, stance in sorted(listed, key=lambda e: e[0].key)
        ),
    )


def _judged(assessed: Assessed, stance: Stance, *, counted: bool) -> JudgedItem:
    return JudgedItem(
        claim=assessed.claim.id,
        item=assessed.item,
        stance=stance,
        how=assessed.weighed.how,
        applies=assessed.reach.category,
        weight=assessed.weight,
        counted=counted,
        direct=assessed.weighed.direct,
        late_memory=assessed.weighed.late_memory,
        circular=assessed.reach.circular,
        left_out=bool(assessed.left_out),
        reasons=assessed.reasons,
        notes=assessed.reach.notes,
        seen=assessed.seen,
        descent=assessed.descent,
        told_by=assessed.told_by,
    )
