"""Flags about measures: figures that disagree, and what is not known closely enough to be built."""

from collections.abc import Iterator

from provenance.rules.flag_values import Flag, Level
from provenance.rules.quantity_values import Quantity
from provenance.rules.sentences import figure, listed
from provenance.rules.verdicts import Candidate, Verdict


def measure_flags(verdict: Verdict) -> Iterator[Flag]:
    """Raise `measurements-disagree` and `not-known-closely-enough` about a measure."""
    best, quantity = verdict.best, verdict.quantity
    if best is None or quantity is None:
        return
    if quantity.disagreement:
        yield _disagree(verdict, quantity)
    if quantity.needed is not None and quantity.not_close_enough:
        yield _not_close(verdict, best, quantity, quantity.needed)


def _disagree(verdict: Verdict, quantity: Quantity) -> Flag:
    counted = [value for value in quantity.values if value.counted]
    figures = listed([value.written for value in counted])
    return Flag(
        flag="measurements-disagree",
        severity=Level.WARN,
        about=verdict.feature,
        sentence=f"“{verdict.name}”: the measurements {figures} differ by more than their own limits of error allow.",
        mend="look for what was measured differently: from another datum, in another condition, or with an error",
        claims=tuple(sorted({value.claim for value in counted})),
        sources=tuple(sorted({value.source for value in counted})),
    )


def _not_close(verdict: Verdict, best: Candidate, quantity: Quantity, needed: float) -> Flag:
    asked = f"{figure(needed)} {quantity.unit}"
    if quantity.expanded is None:
        known = "is told by nothing sound that was measured, so nobody knows how closely it is known"
    else:
        known = f"is known to {figure(quantity.expanded)} {quantity.unit} either way"
    return Flag(
        flag="not-known-closely-enough",
        severity=Level.WARN,
        about=verdict.feature,
        sentence=f"“{verdict.name}”: “{best.shown}” {known}, and {asked} is needed.",
        mend="look for a closer measurement before it is built, or say in the component that less will do",
        claims=best.claims,
        sources=tuple(sorted({item.source for item in best.supporting})),
    )
