"""What whoever decides on a feature chooses from: the values that it may have, and the claims that speak of each."""

from collections.abc import Iterator
from dataclasses import dataclass

from provenance.records.archive import Archive
from provenance.records.components import Feature
from provenance.records.decisions import Decision
from provenance.records.kinds import FeatureKind, Stance
from provenance.reports.dossier_words import place_in_words
from provenance.rules.chosen_builds import PROPOSED, standing_decisions
from provenance.rules.grades import Grade
from provenance.rules.quantity_words import in_both_units
from provenance.rules.verdicts import Candidate, Verdict

_PRESENCES = ("present", "absent")
_LONGEST_QUOTE = 120


@dataclass(frozen=True, slots=True, kw_only=True)
class ClaimOffered:
    """A claim that a decision may rest on, or go against.

    Attributes:
        items: of each item of its evidence what it is and where, in words.
        has_weight: whether any of them has weight for the machine that is represented.
    """

    id: str
    items: tuple[str, ...]
    has_weight: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Offered:
    """A value that may be built.

    Attributes:
        build: as the record has it: an option's id, `present` or `absent`, a text or a figure as written.
        shown: as people read it; a figure in both systems of units.
        grade: `unsupported` where no claim speaks for it.
        posterior: its chance, from 0 to 1.
        claims: those of that value, in order of their ids; empty where none speaks of it.
        wordings: of figures, how claims write it where that is otherwise, each with what people read; empty for none.
        is_best: whether the evidence speaks for it more than for any other.
    """

    build: str
    shown: str
    grade: Grade
    posterior: float
    claims: tuple[ClaimOffered, ...]
    wordings: tuple[tuple[str, str], ...] = ()
    is_best: bool = False

    def is_called(self, build: str) -> bool:
        """Whether something to be built is this value, as the record has it or as a claim writes it."""
        return build == self.build or any(build == wording for wording, _ in self.wordings)


@dataclass(frozen=True, slots=True, kw_only=True)
class ToDecide:
    """A feature that is to be decided on.

    Attributes:
        verdict: what the evidence says.
        offered: the values that it may have, the likeliest first, those that no claim speaks of last.
        in_force: the decision in force; None where nothing is released.
        proposed: what is proposed and neither released nor withdrawn.
        files: the records that a decision rests on, whoever takes it: those decisions and all of these claims.
    """

    verdict: Verdict
    offered: tuple[Offered, ...]
    in_force: Decision | None
    proposed: tuple[Decision, ...]
    files: tuple[str, ...]


def compose_to_decide(archive: Archive, verdict: Verdict) -> ToDecide:
    """Put together what a decision on a feature chooses from.

    Args:
        archive: on which it was judged.
        verdict: on the feature.
    """
    offered = (*(_offered(archive, verdict, each) for each in verdict.candidates), *_unspoken_of(verdict))
    standing = standing_decisions(archive).get(verdict.feature, ())
    decisions = [f"decisions/{each.id}.yaml" for each in standing]
    claims = sorted({f"claims/{claim.id}.yaml" for each in offered for claim in each.claims})
    return ToDecide(
        verdict=verdict,
        offered=offered,
        in_force=verdict.decision,
        proposed=tuple(each for each in standing if each.status == PROPOSED),
        files=(*decisions, *claims),
    )


def value_words(asked: Feature, written: str) -> str:
    """A value of a feature as people read it: an option's name, a figure in both systems of units, else as written."""
    if asked.kind is FeatureKind.QUANTITY:
        return in_both_units(written, asked.unit)
    option = asked.option_named(written) if asked.kind is FeatureKind.CHOICE else None
    return option.name if option else written


def _offered(archive: Archive, verdict: Verdict, candidate: Candidate) -> Offered:
    is_figure = verdict.kind is FeatureKind.QUANTITY
    return Offered(
        build=candidate.value,
        shown=in_both_units(candidate.shown, verdict.asked.unit) if is_figure else candidate.shown,
        grade=candidate.grade,
        posterior=candidate.posterior,
        claims=tuple(_claim(archive, candidate, claim) for claim in candidate.claims),
        wordings=tuple(_wordings(archive, verdict.asked, candidate)) if is_figure else (),
        is_best=candidate is verdict.best,
    )


def _wordings(archive: Archive, asked: Feature, candidate: Candidate) -> Iterator[tuple[str, str]]:
    written = dict.fromkeys(archive.claims[claim].value for claim in candidate.claims)
    for each in written:
        if each != candidate.value:
            yield each, in_both_units(each, asked.unit)


def _claim(archive: Archive, candidate: Candidate, claim: str) -> ClaimOffered:
    items = [item for item in candidate.items if item.claim == claim]
    told = []
    for item in items:
        where = place_in_words(item.at)
        quoted = f": “{_shortened(item.quote)}”" if item.quote else ""
        against = ", against it" if item.stance is not Stance.SUPPORTS else ""
        told.append(f"“{archive.sources[item.source].title}”{f', {where}' if where else ''}{against}{quoted}")
    return ClaimOffered(id=claim, items=tuple(told), has_weight=any(item.weight > 0 for item in items))


def _shortened(quote: str) -> str:
    whole = " ".join(quote.split())
    return whole if len(whole) <= _LONGEST_QUOTE else f"{whole[:_LONGEST_QUOTE].rstrip()} …"


def _unspoken_of(verdict: Verdict) -> Iterator[Offered]:
    """The values that the feature lists and no claim speaks of."""
    named = {each.value for each in verdict.candidates}
    values = [(option.id, option.name) for option in verdict.asked.options]
    if verdict.kind is FeatureKind.PRESENCE:
        values = [(each, each) for each in _PRESENCES]
    for value, name in values:
        if value not in named:
            yield Offered(build=value, shown=name, grade=Grade.UNSUPPORTED, posterior=0.0, claims=())
