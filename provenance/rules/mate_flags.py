"""Flags about parts that have to fit one another and, by the values chosen for them, do not.

Figures are compared as measures, whatever unit each is written in. Two are equal where they differ by no more than
`within` allows, or, where it allows nothing, by no more than the coarser of the two is written to. What evidence leaves
open, give or take, is never held against a fit.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass

from provenance.records.archive import Archive
from provenance.records.components import Feature, Mate
from provenance.records.decisions import Made
from provenance.records.kinds import FeatureKind
from provenance.records.wording import fold_wording
from provenance.rules.candidates import ABSENT, UNREADABLE, same_wordings
from provenance.rules.chosen_builds import chosen_build
from provenance.rules.chosen_figures import ChosenFigure, known_figure, read_figure
from provenance.rules.flag_values import Flag, Level
from provenance.rules.give_or_take import unit_of
from provenance.rules.mating_figures import what_clashes
from provenance.rules.verdicts import Verdict

Mates = Mapping[str, tuple[Mate, ...]]
_MEND = "look at both features, and decide which of the two has to change"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Side:
    """One of two features that have to fit, with the value chosen for it: as decided, else what evidence says."""

    feature: Feature
    value: str
    figure: ChosenFigure | None

    @property
    def is_presence(self) -> bool:
        return self.feature.kind is FeatureKind.PRESENCE

    @property
    def is_missing(self) -> bool:
        return self.is_presence and self.wordings == {ABSENT}

    @property
    def wordings(self) -> frozenset[str]:
        """All folded wordings of the value."""
        option = self.feature.option_named(self.value) if self.feature.kind is FeatureKind.CHOICE else None
        if option is not None:
            return frozenset(fold_wording(name) for name in (option.id, option.name, *option.also))
        folded = fold_wording(self.value)
        same = same_wordings(self.feature)
        stands_for = same.get(folded, folded)
        return frozenset({folded, stands_for, *(each for each, named in same.items() if named == stands_for)})


def mates_of(archive: Archive) -> Mates:
    """What each feature has to fit, from whichever side it is written down; each once for a rule."""
    found: dict[str, dict[tuple[str, str], Mate]] = defaultdict(dict)
    for about, feature in archive.features.items():
        for mate in feature.mates:
            found[about].setdefault((mate.mate, mate.rule), mate)
            back = Mate(mate=about, rule=mate.rule, within=mate.within)
            found[mate.mate].setdefault((about, mate.rule), back)
    return {about: tuple(mates.values()) for about, mates in found.items()}


def mate_flags(archive: Archive, verdicts: Iterable[Verdict], judge: Callable[[str], Verdict]) -> Iterator[Flag]:
    """Raise `does-not-mate` about the given features.

    Args:
        archive: the archive.
        verdicts: on the features that are asked about.
        judge: gives the verdict on any feature, for the other side.
    """
    mates = mates_of(archive)
    for verdict in verdicts:
        fitting = [mate for mate in mates.get(verdict.feature, ()) if mate.mate in archive.features]
        latest = verdict.decision.made[-1] if verdict.decision and verdict.decision.made else None
        if latest is not None and latest.fits == "badly":
            yield _misfit(verdict, latest, fitting)
        for mate in fitting:
            raised = _clash(verdict, judge(mate.mate), mate)
            if raised is not None:
                yield raised


def _misfit(verdict: Verdict, made: Made, fitting: Iterable[Mate]) -> Flag:
    others = ", ".join(dict.fromkeys(mate.mate for mate in fitting))
    value = f" to “{made.value}”" if made.value else ""
    beside = f" (it has to fit {others})" if others else ""
    return Flag(
        flag="does-not-mate",
        severity=Level.STOP,
        about=verdict.feature,
        sentence=f"“{verdict.name}”: what was made{value} on {made.date} fits badly{beside}.",
        mend="settle the query about it, and enter what is made next",
        claims=tuple(sorted(verdict.decision.basis)) if verdict.decision else (),
    )


def _clash(verdict: Verdict, other: Verdict, mate: Mate) -> Flag | None:
    ours, theirs = _side(verdict), _side(other)
    if ours is None or theirs is None:
        return None
    said = _what_clashes(ours, theirs, mate)
    if not said:
        return None
    decided = verdict.decision is not None and other.decision is not None
    return Flag(
        flag="does-not-mate",
        severity=Level.STOP if decided else Level.WARN,
        about=verdict.feature,
        sentence=f"“{verdict.name}” is “{ours.value}” and {other.feature} is “{theirs.value}”, but {said}.",
        mend=_MEND,
        claims=tuple(sorted({*_claims(verdict), *_claims(other)})),
        sources=tuple(sorted({*_sources(verdict), *_sources(other)})),
    )


def _side(verdict: Verdict) -> _Side | None:
    value = verdict.decision.build if verdict.decision else verdict.shown
    if not value or UNREADABLE in value:
        return None
    return _Side(feature=verdict.asked, value=value, figure=_figure(verdict, value))


def _figure(verdict: Verdict, value: str) -> ChosenFigure | None:
    """The figure of a value: what was decided as it is written, else what the evidence gives with its give or take."""
    if verdict.decision is None and verdict.best is not None:
        known = known_figure(verdict.asked, verdict.best)
        if known is not None:
            return known
    return read_figure(value, unit_of(verdict.asked))


def _what_clashes(ours: _Side, theirs: _Side, mate: Mate) -> str:
    """Say what the rule asks for and the values do not give; empty where that cannot be told."""
    if ours.figure is not None and theirs.figure is not None:
        return what_clashes(ours.figure, theirs.figure, mate)
    if mate.rule == "clears":
        return ""
    asked = "they have to be equal" if mate.rule == "equal" else "the one has to be bolted to the other"
    if ours.is_presence is not theirs.is_presence:
        return asked if mate.rule == "bolts-to" and any(side.is_missing for side in (ours, theirs)) else ""
    return "" if ours.wordings & theirs.wordings else asked


def _claims(verdict: Verdict) -> tuple[str, ...]:
    if verdict.decision:
        return verdict.decision.basis
    return verdict.best.claims if verdict.best else ()


def _sources(verdict: Verdict) -> tuple[str, ...]:
    """The sources of the value chosen; of a build that no claim speaks of, none."""
    chosen = chosen_build(verdict, verdict.decision).candidate if verdict.decision else verdict.best
    return tuple(item.source for item in chosen.supporting) if chosen else ()
