"""Sums of money as people write them: `250`, `250 GBP`, `GBP 250`, `£1,250.50`, `free`."""

import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

_SIGNS = {"£": "GBP", "€": "EUR", "gbp": "GBP", "eur": "EUR"}
_NOTHING = frozenset({"free", "nothing", "none", "no cost"})
_NUMBER = r"(?P<number>\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+(?:\.\d+)?)"
_CURRENCY = r"[£$€¥]|[A-Za-z]{3}"
_MONEY = re.compile(rf"\s*(?P<before>{_CURRENCY})?\s*{_NUMBER}\s*(?P<after>{_CURRENCY})?\s*")


@dataclass(frozen=True, slots=True, kw_only=True)
class Money:
    """A sum of money.

    Attributes:
        amount: as written, never negative.
        currency: a code of ISO 4217 in capitals, or a sign that several currencies share; None where none is written.
    """

    amount: Decimal
    currency: str | None = None

    def __str__(self) -> str:
        """Write the sum as people read it."""
        return f"{self.amount} {self.currency}" if self.currency else str(self.amount)


def parse_money(written: str) -> Money | None:
    """Read a sum of money; None where it is none, such as `about a day's pay`."""
    if written.strip().casefold() in _NOTHING:
        return Money(amount=Decimal(0))
    found = _MONEY.fullmatch(written)
    if found is None or (found["before"] and found["after"]):
        return None
    currency = found["before"] or found["after"]
    named = _SIGNS.get(currency.casefold(), currency.upper()) if currency else None
    return Money(amount=Decimal(found["number"].replace(",", "")), currency=named)


def usual_currency(sums: Iterable[Money]) -> str | None:
    """Name the currency in which most of the sums are, of several the first by name; None where none names one."""
    counts = Counter(each.currency for each in sums if each.currency is not None)
    return min(counts, key=lambda currency: (-counts[currency], currency), default=None)
