"""Two figures that have to fit one another: by how much they miss it."""

from fractions import Fraction

from provenance.records.components import Mate
from provenance.records.measures import MeasureError, parse_measure
from provenance.records.units import Unit, kind_of
from provenance.rules.chosen_figures import ChosenFigure

_ASKED = {"equal": "they have to be equal", "bolts-to": "the one has to be bolted to the other"}


def what_clashes(ours: ChosenFigure, theirs: ChosenFigure, mate: Mate) -> str:
    """Say what a rule asks of two figures and they do not give; empty where they fit, or might.

    Args:
        ours: one figure.
        theirs: the other; where it measures something else, that is said.
        mate: the rule. `equal` and `bolts-to`: they differ by no more than `within`. `clears`: they differ, and where
            `within` is given by no more than that.
    """
    if ours.unit.dimension != theirs.unit.dimension:
        return f"the one is {kind_of(ours.unit)} and the other {kind_of(theirs.unit)}, which cannot be compared"
    theirs = theirs.to(ours.unit)
    gap = abs(ours.value - theirs.value)
    open_by = ours.give_or_take + theirs.give_or_take
    within = _within(mate, ours.unit)
    if mate.rule == "clears":
        if gap == 0 and open_by == 0:
            return "the one has to clear the other, and that leaves nothing between them"
        wide = within is not None and gap - open_by > within
        return f"the one has to clear the other by {mate.within} at most, and {_apart(gap, ours.unit)}" if wide else ""
    allowed = max(ours.rounding, theirs.rounding) if within is None else within
    if gap - open_by <= allowed:
        return ""
    limit = f" within {mate.within}" if mate.within else ""
    return f"{_ASKED[mate.rule]}{limit}, and {_apart(gap, ours.unit)}"


def _within(mate: Mate, unit: Unit) -> Fraction | None:
    """How much a rule allows, in a unit; None where it says nothing that can be read."""
    if mate.within is None:
        return None
    try:
        return parse_measure(mate.within, unit=unit).spread_to(unit)
    except MeasureError:
        return None


def _apart(gap: Fraction, unit: Unit) -> str:
    return f"they are {float(gap):.3g} {unit.printed} apart"
