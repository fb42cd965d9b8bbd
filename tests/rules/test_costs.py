"""Sums of money as people write them."""

from decimal import Decimal

import pytest

from provenance.rules.costs import Money, parse_money, usual_currency


@pytest.mark.parametrize(
    ("written", "amount", "currency"),
    [
        ("250", "250", None),
        ("250 GBP", "250", "GBP"),
        ("250GBP", "250", "GBP"),
        ("gbp 250", "250", "GBP"),
        ("£1,250.50", "1250.50", "GBP"),
        ("40 €", "40", "EUR"),
        ("$ 12", "12", "$"),
        ("0", "0", None),
        (" 18.40 eur ", "18.40", "EUR"),
        ("1,250,000", "1250000", None),
        ("free", "0", None),
        ("No cost", "0", None),
    ],
)
def test_a_sum_is_read(written: str, amount: str, currency: str | None) -> None:
    assert parse_money(written) == Money(amount=Decimal(amount), currency=currency)


@pytest.mark.parametrize(
    "written", ["", "about 40 GBP", "a day's pay", "GBP", "-5", "£40 GBP", "1,25", "40-60 GBP", "4 x 10", "40 pounds"]
)
def test_what_is_no_plain_sum_is_not_guessed_at(written: str) -> None:
    assert parse_money(written) is None


def test_a_sum_is_written_with_its_currency() -> None:
    assert str(Money(amount=Decimal("40.00"), currency="GBP")) == "40.00 GBP"
    assert str(Money(amount=Decimal(40))) == "40"


def test_the_usual_currency_is_that_of_most_sums() -> None:
    def sums(*currencies: str | None) -> list[Money]:
        return [Money(amount=Decimal(1), currency=currency) for currency in currencies]

    assert usual_currency(sums("GBP", "EUR", "GBP", None, None, None)) == "GBP"
    assert usual_currency(sums("GBP", "EUR")) == "EUR"
    assert usual_currency(sums(None)) is None
    assert usual_currency([]) is None
