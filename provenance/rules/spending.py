"""What to look through for a sum of money, with one visit a place.

A visit costs what the dearest of the leads costs that it is made for: the journey is paid once, whatever is looked
through there. So a visit of that cost serves every lead at the place that costs no more.

Few leads are settled exactly, by trying all that can be afforded. Otherwise the visits are chosen, and raised to a
dearer lead, by gain per money added, and that choice is held against the best single visit: it is worth at least half
of 1 - 1/e of the best (S. Khuller, A. Moss and J. Naor, "The budgeted maximum coverage problem", Information Processing
Letters 70, 1999; their argument holds for raising a visit too, since what is added never costs more than the dearer
visit alone).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import inf, prod

from provenance.rules.looking_next import Offer, gain_of, joined, take

TRIED_AT_MOST = 2**15
"""Up to so many choices of visits all are tried: those of fifteen leads, each at a place of its own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Priced:
    """A lead that costs something: what it offers, where, and for how much."""

    offer: Offer
    place: str
    cost: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Visit:
    """A visit to one place.

    Attributes:
        place: as the leads have it.
        offers: what each of the leads offers that it serves, in order of their ids.
        cost: what the dearest of them costs.
        offer: all of it together.
    """

    place: str
    offers: tuple[Offer, ...]
    cost: Decimal
    offer: Offer

    @property
    def leads(self) -> tuple[str, ...]:
        """The ids of the leads, in order."""
        return tuple(offer.name for offer in self.offers)


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """The visits to make within a sum.

    Attributes:
        visits: in order of place; empty where nothing that can be afforded tells of anything weak.
        gain: what they are worth together.
        exact: whether no other choice within the sum is worth more; else it is worth at least .31 of the best.
    """

    visits: tuple[Visit, ...]
    gain: float
    exact: bool

    @property
    def cost(self) -> Decimal:
        """What they cost together."""
        return sum((visit.cost for visit in self.visits), Decimal(0))


def choose_within(leads: Sequence[Priced], needs: Mapping[str, float], money: Decimal) -> Choice:
    """Choose the visits that are worth most within a sum; of equal ones the cheaper.

    Args:
        leads: those whose cost is known, in the money of the sum.
        needs: how much it matters to learn more of each feature.
        money: the sum; it may be spent whole.
    """
    by_place: dict[str, list[Priced]] = {}
    for lead in sorted(leads, key=lambda lead: (lead.place, lead.cost, lead.offer.name)):
        if lead.cost <= money and gain_of(lead.offer, needs) > 0:
            by_place.setdefault(lead.place, []).append(lead)
    visits = [_visits_to(place, there) for place, there in by_place.items()]
    exact = prod(len(levels) + 1 for levels in visits) <= TRIED_AT_MOST
    chosen = _Exact(visits, needs).choose(money) if exact else _by_gain_per_money(visits, needs, money)
    return Choice(visits=tuple(chosen), gain=_worth(chosen, needs), exact=exact)


def _visits_to(place: str, there: Sequence[Priced]) -> list[Visit]:
    """The visits that can be made to a place, the cheapest first: one for each cost that a lead there has."""
    levels = []
    for cost in sorted({lead.cost for lead in there}):
        served = sorted((lead.offer for lead in there if lead.cost <= cost), key=lambda offer: offer.name)
        levels.append(Visit(place=place, offers=tuple(served), cost=cost, offer=joined(place, served)))
    return levels


def _worth(visits: Sequence[Visit], needs: Mapping[str, float]) -> float:
    left, worth = dict(needs), 0.0
    for visit in visits:
        worth += gain_of(visit.offer, left)
        take(visit.offer, left)
    return worth


class _Exact:
    """Tries every choice that can be afforded, place by place, but for those that cannot reach the best one known."""

    def __init__(self, visits: Sequence[Sequence[Visit]], needs: Mapping[str, float]) -> None:
        self._visits = visits
        self._needs = needs
        # The dearest visit to a place serves all leads there; before others it is never worth more than alone.
        alone = [gain_of(levels[-1].offer, needs) for levels in visits]
        self._still = [sum(alone[place:]) for place in range(len(visits) + 1)]
        self._best: tuple[float, Decimal, list[Visit]] = (0.0, Decimal(0), [])

    def choose(self, money: Decimal) -> list[Visit]:
        self._go_on(0, [], dict(self._needs), 0.0, money)
        return self._best[2]

    def _go_on(self, place: int, chosen: list[Visit], left: dict[str, float], worth: float, money: Decimal) -> None:
        if worth + self._still[place] < self._best[0] - 1e-9:
            return
        if place == len(self._visits):
            self._keep(chosen, worth)
            return
        self._go_on(place + 1, chosen, left, worth, money)
        for visit in self._visits[place]:
            if visit.cost <= money:
                after = dict(left)
                take(visit.offer, after)
                gained = worth + gain_of(visit.offer, left)
                self._go_on(place + 1, [*chosen, visit], after, gained, money - visit.cost)

    def _keep(self, chosen: list[Visit], worth: float) -> None:
        cost = sum((visit.cost for visit in chosen), Decimal(0))
        best_worth, best_cost, _ = self._best
        if worth > best_worth + 1e-9 or (worth > best_worth - 1e-9 and cost < best_cost):
            self._best = (worth, cost, chosen)


def _by_gain_per_money(visits: Sequence[Sequence[Visit]], needs: Mapping[str, float], money: Decimal) -> list[Visit]:
    """Raise again and again the visit that gains most per money added, then compare with the best single visit."""
    chosen: dict[str, Visit] = {}
    left, spent = dict(needs), Decimal(0)
    waiting = [visit for levels in visits for visit in levels]
    while waiting:
        raises = [_raise(visit, chosen.get(visit.place), left) for visit in waiting]
        best = max(raises, key=lambda each: (each.per_money, each.visit.place, -each.visit.cost))
        waiting.remove(best.visit)
        if best.gain > 0 and spent + best.added <= money:
            chosen[best.visit.place] = best.visit
            spent += best.added
            take(best.further, left)
            # A visit that serves fewer leads at that place is served by this one.
            waiting = [each for each in waiting if each.place != best.visit.place or each.cost > best.visit.cost]
    single = max((visit for levels in visits for visit in levels), key=lambda visit: gain_of(visit.offer, needs))
    greedy = [chosen[place] for place in sorted(chosen)]
    return [single] if gain_of(single.offer, needs) > _worth(greedy, needs) else greedy


@dataclass(frozen=True, slots=True)
class _Raise:
    """A visit made, or raised to a dearer lead: what it serves beyond the visit before, its gain and what it adds."""

    visit: Visit
    further: Offer
    gain: float
    added: Decimal

    @property
    def per_money(self) -> float:
        if not self.gain:
            return 0.0
        return self.gain / float(self.added) if self.added else inf


def _raise(visit: Visit, before: Visit | None, left: Mapping[str, float]) -> _Raise:
    served = frozenset(before.leads) if before else frozenset()
    further = joined(visit.place, (offer for offer in visit.offers if offer.name not in served))
    return _Raise(visit, further, gain_of(further, left), visit.cost - before.cost if before else visit.cost)
