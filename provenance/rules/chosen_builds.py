"""What a team chose to build, held against what the evidence says of that value."""

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from provenance.records.archive import Archive
from provenance.records.components import Feature
from provenance.records.decisions import Decision
from provenance.records.kinds import FeatureKind
from provenance.records.wording import fold_wording
from provenance.rules.candidates import same_wordings
from provenance.rules.chosen_figures import figure_of, known_figures
from provenance.rules.grades import Grade
from provenance.rules.judging import decision_in_force
from provenance.rules.verdicts import Candidate, Verdict

RELEASED = "released"
PROPOSED = "proposed"
_DECLARED = re.compile(r"\bconjectur", re.IGNORECASE)


def value_key(feature: Feature, wording: str) -> str:
    """Bring the wordings of one value of a feature to one form: an option to its id, a text to its folded wording."""
    folded = fold_wording(wording)
    if feature.kind is FeatureKind.QUANTITY:
        figure = figure_of(feature, wording)
        return folded if figure is None else f"{figure.value} {feature.unit}"
    if feature.kind is FeatureKind.CHOICE:
        option = feature.option_named(wording)
        return option.id if option else folded
    return same_wordings(feature).get(folded, folded)


def candidate_of(verdict: Verdict, wording: str) -> Candidate | None:
    """The candidate value that a wording names; None where no claim speaks of it.

    A figure names the value nearest to it of those that are as near as they are known, or as it is written.
    """
    figure = figure_of(verdict.asked, wording)
    if figure is not None:
        apart = ((abs(known.value - figure.value), known, each) for each, known in known_figures(verdict))
        near = [(gap, each) for gap, known, each in apart if gap <= max(known.give_or_take, figure.rounding)]
        return min(near, key=_gap)[1] if near else None
    wanted = value_key(verdict.asked, wording)
    return next((each for each in verdict.candidates if value_key(verdict.asked, each.value) == wanted), None)


def _gap(near: tuple[Fraction, Candidate]) -> Fraction:
    return near[0]


def standing_decisions(archive: Archive) -> Mapping[str, tuple[Decision, ...]]:
    """The decisions that stand, by feature: the one in force first, then what is proposed and replaced by nothing."""
    by_feature: dict[str, list[Decision]] = defaultdict(list)
    for decision_id in sorted(archive.decisions):
        decision = archive.decisions[decision_id]
        if decision.withdrawn is None and decision.status in {RELEASED, PROPOSED}:
            by_feature[decision.about].append(decision)
    return {about: _that_stand(decisions) for about, decisions in by_feature.items()}


def _that_stand(decisions: list[Decision]) -> tuple[Decision, ...]:
    in_force = decision_in_force(decisions)
    replaced = {each.replaces for each in decisions}
    proposed = tuple(each for each in decisions if each.status == PROPOSED and each.id not in replaced)
    return ((in_force,) if in_force else ()) + proposed


@dataclass(frozen=True, slots=True, kw_only=True)
class ChosenBuild:
    """A decision beside the verdict on its feature.

    Attributes:
        candidate: the value that it builds, among those that claims speak of; None where no claim speaks of it.
    """

    decision: Decision
    verdict: Verdict
    candidate: Candidate | None

    @property
    def shown(self) -> str:
        """The value that is built, as people read it; a figure as it was decided, which may not be the evidence's."""
        is_figure = self.verdict.kind is FeatureKind.QUANTITY
        return self.candidate.shown if self.candidate and not is_figure else self.decision.build

    @property
    def is_released(self) -> bool:
        """Whether it is released for building."""
        return self.decision.status == RELEASED

    @property
    def is_best(self) -> bool:
        """Whether it builds what the evidence speaks for."""
        return self.candidate is not None and self.candidate is self.verdict.best

    @property
    def is_supported(self) -> bool:
        """Whether anything of weight supports the value that is built."""
        return self.candidate is not None and bool(self.candidate.supporting)

    @property
    def is_conjecture(self) -> bool:
        """Whether nothing supports the value, and no change that the present day asks for explains it."""
        return not self.is_supported and not (self.candidate is None and self.decision.modern_change)

    @property
    def declares_conjecture(self) -> bool:
        """Whether its reason or its note says that it is conjecture, in that word."""
        return any(_DECLARED.search(text) for text in (self.decision.why, self.decision.note) if text)

    @property
    def grade(self) -> Grade:
        """The grade of what is built.

        Of a change that the present day asks for, to a value that no claim speaks of, it is the grade of the value
        that is departed from.
        """
        if self.candidate is None and self.decision.modern_change:
            return self.verdict.grade
        return self.candidate.grade if self.candidate and self.is_supported else Grade.UNSUPPORTED

    def sets_aside(self, claims: Iterable[str]) -> bool:
        """Say whether it sets all of these claims aside, each with a reason; none are not set aside."""
        named = set(claims)
        return bool(named) and named <= {each.claim for each in self.decision.set_aside if each.why.strip()}

    def sets_aside_value(self, *rivals: Candidate) -> bool:
        """Say whether it sets aside, with reasons, every claim that bears what supports these values.

        A value that signs alone tell has no claim of its own, but for those that bear the signs.
        """
        return self.sets_aside(item.claim for rival in rivals for item in rival.supporting)


def chosen_build(verdict: Verdict, decision: Decision) -> ChosenBuild:
    """Hold a decision against the verdict on its feature."""
    return ChosenBuild(decision=decision, verdict=verdict, candidate=candidate_of(verdict, decision.build))
