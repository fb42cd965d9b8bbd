"""The chance of each value, from the weight of the evidence for and against it."""

from collections.abc import Sequence

_SAME_CHANCE = 12


def posteriors(balances: Sequence[float]) -> tuple[float, ...]:
    """Give the chance of each value beside the others and "none of these", which has a balance of 0.

    With s the weight for a value less the weight against it, in decibans, its chance is
    10^(s/10) / (1 + the sum of 10^(s/10) over all values): posterior odds are prior odds times the likelihood ratio
    (I. J. Good, *Probability and the Weighing of Evidence*, 1950). Taken from the highest, so that no power overflows.
    """
    highest = max(balances, default=0.0)
    highest = max(highest, 0.0)
    shares = [10 ** ((balance - highest) / 10) for balance in balances]
    total = 10 ** (-highest / 10) + sum(sorted(shares))
    return tuple(share / total for share in shares)


def at_least(chance: float, least: float) -> bool:
    """Say whether a chance reaches a threshold; chances that are equal to 12 decimals are equal."""
    return round(chance, _SAME_CHANCE) >= round(least, _SAME_CHANCE)


def same_chance(chance: float) -> float:
    """Give the form of a chance in which equal ones are equal: 12 decimals."""
    return round(chance, _SAME_CHANCE)
