"""What would change a verdict, in words: the loss of one source, or another weight."""

from collections.abc import Iterator, Mapping
from decimal import Decimal

from provenance.records.kinds import SourceKind
from provenance.records.sources import Source
from provenance.rules.grades import Grade
from provenance.rules.lifting import WEAK, Lifting
from provenance.rules.sensitivity import Loss, OtherWeight, Sensitivity, is_same_value
from provenance.rules.sentences import chance_in_words, in_words
from provenance.rules.source_words import introducer, kind_in_words
from provenance.rules.verdicts import Verdict

_SHOWN = 2
_WOULD = {
    Grade.ESTABLISHED: "would be established",
    Grade.PROBABLE: "would be probable",
    Grade.POSSIBLE: "would be possible, no more",
    Grade.UNCORROBORATED: "would rest on one witness",
    Grade.INFERRED: "would be inferred only",
    Grade.CONTESTED: "would be contested",
}


def what_would_change(
    verdict: Verdict, sensitivity: Sensitivity, lifting: Lifting, sources: Mapping[str, Source]
) -> str:
    """Say what a verdict hangs on and, where its grade is weak, what would lift it; empty where nothing would tell."""
    told: list[str] = []
    if sensitivity.loss is not None:
        told += _loss(verdict, sensitivity.loss, introducer(sources)(sensitivity.loss.source))
    told += _weights(verdict, sensitivity.weights)
    told += _lift(verdict, lifting)
    return " ".join(told)


def _lift(verdict: Verdict, lifting: Lifting) -> Iterator[str]:
    """The slightest find that would lift a weak grade; what a ruling would do is told with the pair it is on."""
    find = next((lift for lift in lifting.lifts if not lift.at_home), None)
    if verdict.grade in WEAK and find is not None:
        yield f"{find.what[:1].upper()}{find.what[1:]} would make it {find.becomes}."


def _loss(verdict: Verdict, loss: Loss, named: str) -> Iterator[str]:
    then = loss.then
    if then.best is None:
        if len(verdict.best.supporting if verdict.best else ()) > 1:
            yield f"All of it hangs on {named}: without it nothing would be left."
    elif then.grade is not verdict.grade or not is_same_value(verdict, then):
        yield f"Most hangs on {named}: without it {outcome(verdict, then)}."
    elif chance_in_words(then.posterior) == chance_in_words(verdict.posterior):
        others = ": another would take its place" if verdict.lines == 1 else ""
        yield f"It would stand the same without any one of its sources{others}."
    else:
        chance = chance_in_words(then.posterior)
        yield f"No single source decides it: without {named}, the greatest loss, it would still have {chance}."


def outcome(verdict: Verdict, then: Verdict) -> str:
    """Say what would stand instead of a verdict: `this would be probable`, or another value that would lead."""
    if then.best is not None and not is_same_value(verdict, then):
        return f"“{then.best.shown}” would lead, with {chance_in_words(then.posterior)}"
    return f"this {_WOULD[then.grade]}"


def _weights(verdict: Verdict, weights: tuple[OtherWeight, ...]) -> Iterator[str]:
    if not weights:
        return
    told = [f"if {_condition(each)}, {outcome(verdict, each.then)}" for each in weights[:_SHOWN]]
    more = f"; and {in_words(len(weights) - _SHOWN)} more such changes would tell" if len(weights) > _SHOWN else ""
    yield f"Our weights matter here: {'; '.join(told)}{more}."


def _condition(changed: OtherWeight) -> str:
    doubled = changed.factor > Decimal(1)
    if changed.weight == "batch_step":
        often = "twice" if doubled else "half"
        return f"changes came in with a new batch {often} as readily as we take it"
    kind = kind_in_words(SourceKind(changed.weight.partition(".")[2]), several=True)
    return f"{kind} counted {'double' if doubled else 'half'}"
