"""How likely a chi-square so large is, by chance alone."""

from math import erfc, exp, fsum, isinf, lgamma, log, sqrt


def upper_tail(chi_square: float, degrees: int) -> float:
    """Give the chance that a chi-square of so many degrees of freedom comes out larger than this one.

    By the finite sums for whole degrees (Abramowitz & Stegun, *Handbook of Mathematical Functions*, 1964, 26.4.4 for
    odd and 26.4.5 for even degrees). With h = x/2 each term is e^-h h^k / Gamma(k+1), for k = 0, 1, 2... or, for odd
    degrees after erfc(sqrt h), for k = 1/2, 3/2...; taken by logarithms, so that no power overflows.

    Args:
        chi_square: not below 0; it may be infinite.
        degrees: of freedom, at least 1.

    Raises:
        ValueError: a negative chi-square, or no degree of freedom.
    """
    if degrees < 1 or not chi_square >= 0:
        raise ValueError(f"no chi-square of {chi_square} with {degrees} degrees of freedom")
    half = chi_square / 2
    if half == 0 or isinf(half):
        return 1.0 if half == 0 else 0.0
    first = degrees % 2 / 2
    terms = [_term(half, first + step) for step in range(degrees // 2)]
    return min(1.0, fsum([erfc(sqrt(half)), *terms] if first else terms))


def _term(half: float, power: float) -> float:
    return exp(power * log(half) - half - lgamma(power + 1))
