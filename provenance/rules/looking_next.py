"""Where to look next: weak features weighed by how much they matter, and leads ranked by what they may tell of them.

What a set of leads is worth is a coverage function: each feature counts with its own weight times the chance that at
least one of the leads tells of it, taken as independent of one another. Such a function is submodular, and the greedy
order, best gain per effort first, is within 1 - 1/e of the best that the effort of any of its beginnings could have
bought (G. L. Nemhauser, L. A. Wolsey and M. L. Fisher, "An analysis of approximations for maximizing submodular set
functions", Mathematical Programming 14, 1978, for leads of equal effort; the same argument holds by effort spent).
"""

import heapq
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from provenance.records.components import Component
from provenance.records.days import Day
from provenance.records.decisions import Lead
from provenance.records.wording import fold_wording
from provenance.rules.grades import Grade

# How much each thing counts: common practice, no source.
WEAKNESS: Mapping[Grade, float] = {
    Grade.UNSUPPORTED: 1.0,
    Grade.CONTESTED: 0.8,
    Grade.INFERRED: 0.6,
    Grade.UNCORROBORATED: 0.5,
    Grade.POSSIBLE: 0.4,
    Grade.PROBABLE: 0.0,
    Grade.ESTABLISHED: 0.0,
}
WEAKNESS_SET_ASIDE = 0.4
"""Of a contested feature of which the decision in force sets the other claims aside."""
URGENCY: tuple[tuple[int, float], ...] = ((1, 4.0), (3, 2.0))
"""Needed within so many calendar years from today, or overdue: the factor; the first that holds decides."""
URGENCY_ELSE = 1.0
"""Needed later, or no date said."""
PROMINENCE: Mapping[str | None, float] = {"focal": 3.0, "visible": 2.0, "hidden": 1.0, None: 1.0}
EFFORT: Mapping[str | None, float] = {"small": 1.0, "medium": 2.0, "large": 4.0, None: 2.0}
CHANCE_UNSAID = 0.5

_CHANCE = re.compile(r"(?P<figure>\d+(\.\d*)?|\.\d+)(?P<hundredths> ?(%|per ?cent))?")


def need_of(grade: Grade, component: Component, today: Day, *, set_aside: bool = False) -> float:
    """Say how much it matters to learn more of a feature: weakness x urgency x prominence; 0 for one that is not weak.

    Args:
        grade: of the feature.
        component: whose it is; it says when it is needed, and how prominent it is.
        today: the day on which it is asked.
        set_aside: whether the contest is settled by a decision.
    """
    weakness = WEAKNESS_SET_ASIDE if set_aside and grade is Grade.CONTESTED else WEAKNESS[grade]
    return weakness * urgency_of(component, today) * PROMINENCE.get(component.prominence, PROMINENCE[None])


def urgency_of(component: Component, today: Day) -> float:
    """Say how pressing it is; of a date with bounds the earliest day counts, else the latest."""
    needed = component.needed_by
    day = (needed.earliest or needed.latest) if needed else None
    if day is None:
        return URGENCY_ELSE
    return next((factor for years, factor in URGENCY if day <= today.plus_years(years)), URGENCY_ELSE)


def chance_of(written: str | None) -> float | None:
    """Read a chance: a share such as `.3`, or `30 %`; even odds where none is written; None where it cannot be read."""
    if written is None:
        return CHANCE_UNSAID
    found = _CHANCE.fullmatch(fold_wording(written))
    if found is None:
        return None
    chance = float(found["figure"]) / (100 if found["hundredths"] else 1)
    return chance if chance <= 1 else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """What may be looked through, and what it may tell: a lead, or all leads that one visit serves.

    Attributes:
        name: what it is known by; ties go by it.
        chances: for each feature that it may tell of the chance that it does, from 0 to 1.
        effort: what it takes; more than 0.
    """

    name: str
    chances: Mapping[str, float]
    effort: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Ranked:
    """An offer in its place.

    Attributes:
        gain: what it adds to all that stand before it: weights of features times chances that are left.
        score: gain per effort; what it is ranked by.
    """

    offer: Offer
    gain: float
    score: float


def offer_of(lead: Lead) -> Offer:
    """Say what a lead offers; a chance that cannot be read counts as even odds."""
    chance = chance_of(lead.chance)
    chance = CHANCE_UNSAID if chance is None else chance
    effort = EFFORT.get(lead.effort, EFFORT[None])
    return Offer(name=lead.id, chances=dict.fromkeys(sorted(lead.hoped_for), chance), effort=effort)


def joined(name: str, offers: Iterable[Offer]) -> Offer:
    """Take several offers as one: a feature is missed only where each misses it; their efforts are added."""
    missed: dict[str, float] = {}
    effort = 0.0
    for offer in offers:
        effort += offer.effort
        for feature, chance in offer.chances.items():
            missed[feature] = missed.get(feature, 1.0) * (1 - chance)
    return Offer(name=name, chances={feature: 1 - missed[feature] for feature in sorted(missed)}, effort=effort)


def rank(offers: Iterable[Offer], needs: Mapping[str, float]) -> tuple[Ranked, ...]:
    """Rank offers greedily by gain per effort; ties by name.

    What an earlier offer may tell of counts for a later one only with the chance that it was missed.

    Args:
        offers: each with a name of its own.
        needs: how much it matters to learn more of each feature; a feature that is missing matters nothing.
    """
    left = dict(needs)
    # A gain only ever falls as others go before, so one that was reckoned earlier is a bound: the first whose score,
    # reckoned anew, still stands first is the best (M. Minoux, "Accelerated greedy algorithms", 1978).
    waiting = [(-gain_of(offer, left) / offer.effort, offer.name, offer) for offer in offers]
    heapq.heapify(waiting)
    ranked = []
    while waiting:
        bound, name, offer = heapq.heappop(waiting)
        gain = gain_of(offer, left)
        score = gain / offer.effort
        if score < -bound:
            heapq.heappush(waiting, (-score, name, offer))
            continue
        ranked.append(Ranked(offer=offer, gain=gain, score=score))
        take(offer, left)
    return tuple(ranked)


def gain_of(offer: Offer, left: Mapping[str, float]) -> float:
    """Reckon what an offer adds: chance times what is left of the weight, summed over its features."""
    return sum(chance * left.get(feature, 0.0) for feature, chance in offer.chances.items())


def take(offer: Offer, left: dict[str, float]) -> None:
    """Leave of each feature's weight the share for the chance that the offer misses it."""
    for feature, chance in offer.chances.items():
        if feature in left:
            left[feature] *= 1 - chance
