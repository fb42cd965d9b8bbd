"""What the signs in a picture tell of the options of a feature.

A sign is something that can be seen and tells options apart: a conduit along the cantrail goes with electric lamps. How
often a sign is seen under an option is common practice, no published source; that the odds of the options are
multiplied by these is Bayes' rule (I. J. Good, *Probability and the Weighing of Evidence*, 1950), which holds for signs
that are independent of one another given the option.
"""

import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import fsum, inf, log10

from provenance.records.components import Feature, Option
from provenance.records.kinds import Expected, How, SignSeen

_SEEN = {Expected.ALWAYS: 0.95, Expected.SOMETIMES: 0.5, Expected.NEVER: 0.05}
_NOT_SEEN = {Expected.ALWAYS: 0.05, Expected.SOMETIMES: 0.5, Expected.NEVER: 0.95}
_SHOWN = 0.95
_EQUAL = 1e-9

Reported = Sequence[tuple[str, SignSeen]]


@dataclass(frozen=True, slots=True, kw_only=True)
class SignReading:
    """What the signs that were reported of one picture tell.

    Attributes:
        option: the likeliest option.
        chance: its chance from equal odds, above 1/n of n options and below 1.
        weight: in decibans: 10 log10 of the odds of the option over the mean of the others, p(n-1)/(1-p).
        how: `shows` where the chance is .95 or more and a sign is decisive, else `implies`.
        told_by: the signs that told it, in order of their ids, each with what was seen.
        sources: ids of the sources that say how often an option shows one of these signs, in order.
    """

    option: Option
    chance: float
    weight: float
    how: How
    told_by: tuple[tuple[str, SignSeen], ...]
    sources: tuple[str, ...]


def read_signs(feature: Feature, reported: Reported) -> SignReading | None:
    """Read the signs that were reported of a picture, from equal odds over the options of a feature.

    None where they tell nothing: none of them is listed by an option and in view, there is no second option, or the two
    likeliest options have the same chance, to 1e-9.

    Args:
        feature: the feature; only a choice has options.
        reported: what was seen of each sign; in any order.
    """
    told_by = signs_that_tell(feature, reported)
    if not told_by or len(feature.options) < 2:
        return None
    likely = [tuple(likelihood(expects(option, sign), seen) for sign, seen in told_by) for option in feature.options]
    chances = revise([1.0] * len(likely), likely)
    place = max(range(len(chances)), key=chances.__getitem__)
    others = [chance for number, chance in enumerate(chances) if number != place]
    if chances[place] - max(others) <= _EQUAL:
        return None
    # Where hundreds of signs agree, the rest is too small to be told from nothing.
    odds = chances[place] * len(others) / max(fsum(others), sys.float_info.min)
    is_shown = chances[place] >= _SHOWN - _EQUAL and any(is_decisive(feature, sign) for sign, _ in told_by)
    return SignReading(
        option=feature.options[place],
        chance=chances[place],
        weight=10 * log10(odds),
        how=How.SHOWS if is_shown else How.IMPLIES,
        told_by=told_by,
        sources=sources_on_signs(feature, [sign for sign, _ in told_by]),
    )


def signs_that_tell(feature: Feature, reported: Reported) -> tuple[tuple[str, SignSeen], ...]:
    """Give those of the signs reported that were in view and that an option of the feature lists, in order of ids."""
    listed = {each.sign for option in feature.options for each in option.signs}
    return tuple(sorted((sign, seen) for sign, seen in reported if sign in listed and seen is not SignSeen.OUT_OF_VIEW))


def expects(option: Option, sign: str) -> Expected | None:
    """Say how often an option shows a sign; None where it does not list it.

    Where its entries differ, nobody knows: that is `sometimes`.
    """
    said = {each.expect for each in option.signs if each.sign == sign}
    if len(said) > 1:
        return Expected.SOMETIMES
    return said.pop() if said else None


def likelihood(expected: Expected | None, seen: SignSeen) -> float:
    """Give how likely a sign is to be seen, or not seen though in view; None, for not listed, is as `sometimes`."""
    table = _SEEN if seen is SignSeen.SEEN else _NOT_SEEN
    return table[expected or Expected.SOMETIMES]


def is_decisive(feature: Feature, sign: str) -> bool:
    """Say whether a sign is always there with exactly one option, and written down as never with every other."""
    said = [expects(option, sign) for option in feature.options]
    return said.count(Expected.ALWAYS) == 1 and said.count(Expected.NEVER) == len(said) - 1


def sources_on_signs(feature: Feature, signs: Sequence[str]) -> tuple[str, ...]:
    """Give the ids of the sources that say how often an option of the feature shows one of these signs, in order."""
    entries = (each for option in feature.options for each in option.signs)
    return tuple(sorted({each.source for each in entries if each.sign in signs and each.source is not None}))


def revise(odds: Sequence[float], likelihoods: Sequence[Sequence[float]]) -> tuple[float, ...]:
    """Give the chance of each hypothesis after what was observed (Bayes' rule for independent observations).

    Args:
        odds: of each hypothesis before, on any scale; at least one is above 0.
        likelihoods: of each hypothesis, how likely it makes each observation; not all hypotheses give 0.
    """
    # The sum of logarithms is exact before it is rounded, so that the order of the observations cannot matter.
    heights = [
        fsum(map(log10, (before, *likely))) if min(before, *likely) > 0 else -inf
        for before, likely in zip(odds, likelihoods, strict=True)
    ]
    highest = max(heights)
    shares = [10 ** (height - highest) for height in heights]
    total = fsum(shares)
    return tuple(share / total for share in shares)


def names_of_signs(signs: Reported, names: Mapping[str, str]) -> str:
    """Say in words what was reported of signs.

    Args:
        signs: the signs, with what was seen of each.
        names: the name of each sign by its id; one without a name is called by its id.
    """
    words = {SignSeen.SEEN: "seen", SignSeen.NOT_SEEN: "not there", SignSeen.OUT_OF_VIEW: "out of view"}
    return ", ".join(f"{names.get(sign, sign)} ({words[seen]})" for sign, seen in signs)
