"""Which leads can be reckoned with in a sum of money: what each costs, where it is, and why some are left out."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from provenance.records.decisions import Lead
from provenance.records.wording import fold_wording, quote
from provenance.rules.costs import Money, parse_money, usual_currency
from provenance.rules.looking_next import offer_of
from provenance.rules.spending import Priced


@dataclass(frozen=True, slots=True, kw_only=True)
class Unpriced:
    """A lead that no sum can be reckoned with, and why; `why` goes on after its id and a colon."""

    lead: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Prices:
    """What leads cost.

    Attributes:
        currency: that of the sum; where the sum names none, the one in which most costs are; None where none is named.
        priced: in order of the leads given.
        unpriced: likewise.
    """

    currency: str | None
    priced: tuple[Priced, ...]
    unpriced: tuple[Unpriced, ...]


def price(leads: Iterable[Lead], money: Money) -> Prices:
    """Read what leads cost, in the currency of a sum; a cost without a currency is taken to be in that one.

    Leads are at one place where the records write it alike but for case and spaces; without a place the holder stands
    for it, and without either each lead is a visit of its own.
    """
    listed = tuple(leads)
    read = {lead.id: parse_money(lead.cost) if lead.cost is not None else None for lead in listed}
    currency = money.currency or usual_currency(cost for cost in read.values() if cost is not None)
    places: dict[str, str] = {}
    priced, unpriced = [], []
    for lead in listed:
        cost, why = read[lead.id], _why_not(lead, read[lead.id], currency)
        if cost is None or why:
            unpriced.append(Unpriced(lead=lead.id, why=why))
            continue
        written = lead.place or lead.holder or f"place not said ({lead.id})"
        place = places.setdefault(fold_wording(written), written)
        priced.append(Priced(offer=offer_of(lead), place=place, cost=cost.amount))
    return Prices(currency=currency, priced=tuple(priced), unpriced=tuple(unpriced))


def _why_not(lead: Lead, cost: Money | None, currency: str | None) -> str:
    if lead.cost is None:
        return "no cost is written"
    if cost is None:
        return f"its cost, {quote(lead.cost)}, is no sum of money; write it such as `250 GBP`"
    if cost.currency not in {None, currency}:
        return f"its cost, {quote(lead.cost)}, is in another currency than the sum"
    return ""


def by_holder(leads: Iterable[Lead]) -> Iterator[tuple[Lead, ...]]:
    """Put together the leads of one holder at one place, in the order in which they first come.

    Holders and places are the same where they are written alike but for case and spaces. A lead of which neither is
    written stands alone.
    """
    together: dict[tuple[str, str, str], list[Lead]] = {}
    for lead in leads:
        alone = "" if lead.holder or lead.place else lead.id
        key = (fold_wording(lead.holder or ""), fold_wording(lead.place or ""), alone)
        together.setdefault(key, []).append(lead)
    yield from (tuple(each) for each in together.values())
