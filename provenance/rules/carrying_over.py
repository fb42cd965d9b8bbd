"""What is learnt about other machines is worth less for this one, by total probability."""

from math import log10


def carry_over(weight: float, agreement: float) -> float:
    """Give what a total weight about other machines is worth for this one, in decibans.

    With agreement q and likelihood ratio L = 10^(weight/10): 10 log10((qL + 1-q) / ((1-q)L + q)), by total probability
    over the machines being the same in this and not being the same. Written with 1/L, so that it holds for any weight.

    Args:
        weight: total decibans of one category, not below 0.
        agreement: how often machines of that category agree, from .5 to 1.
    """
    if agreement == 1 or weight == 0:
        return weight
    against = 10 ** (-weight / 10)
    differ = 1 - agreement
    return 10 * log10((agreement + differ * against) / (differ + agreement * against))


def slope(weight: float, agreement: float) -> float:
    """Give how much `carry_over` gains for one more deciban, the derivative at that weight."""
    if agreement == 1:
        return 1.0
    against = 10 ** (-weight / 10)
    differ = 1 - agreement
    return against * (agreement / (differ + agreement * against) - differ / (agreement + differ * against))
