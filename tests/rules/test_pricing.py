"""Which leads a sum of money can be reckoned with, and which go together."""

from decimal import Decimal

from leads import a_lead

from provenance.rules.costs import Money
from provenance.rules.pricing import Unpriced, by_holder, price

POUNDS = Money(amount=Decimal(100), currency="GBP")


def test_a_cost_without_a_currency_is_in_that_of_the_sum() -> None:
    prices = price([a_lead(cost="40"), a_lead("plans", cost="60 GBP")], POUNDS)

    assert [(each.offer.name, each.cost) for each in prices.priced] == [
        ("works-albums", Decimal(40)),
        ("plans", Decimal(60)),
    ]
    assert prices.currency == "GBP"
    assert prices.unpriced == ()


def test_a_cost_that_is_missing_or_no_sum_or_in_other_money_is_said() -> None:
    leads = [a_lead("bare"), a_lead("vague", cost="a day's pay"), a_lead("abroad", cost="40 EUR")]

    prices = price(leads, POUNDS)

    assert prices.priced == ()
    assert prices.unpriced == (
        Unpriced(lead="bare", why="no cost is written"),
        Unpriced(lead="vague", why="its cost, `a day's pay`, is no sum of money; write it such as `250 GBP`"),
        Unpriced(lead="abroad", why="its cost, `40 EUR`, is in another currency than the sum"),
    )


def test_a_sum_without_a_currency_is_in_that_of_most_costs() -> None:
    leads = [a_lead("a", cost="1 GBP"), a_lead("b", cost="2 GBP"), a_lead("c", cost="3 EUR"), a_lead("d", cost="4")]

    prices = price(leads, Money(amount=Decimal(100)))

    assert prices.currency == "GBP"
    assert [each.offer.name for each in prices.priced] == ["a", "b", "d"]


def test_leads_are_at_one_place_however_it_is_typed_and_else_with_their_holder_or_alone() -> None:
    leads = [
        a_lead("a", cost="1", place="Orrin Town", holder="the library"),
        a_lead("b", cost="1", place="orrin  town", holder="the museum"),
        a_lead("c", cost="1", holder="The Museum"),
        a_lead("d", cost="1", holder="the museum"),
        a_lead("e", cost="1"),
        a_lead("f", cost="1"),
    ]

    places = [each.place for each in price(leads, POUNDS).priced]

    assert places == [
        "Orrin Town",
        "Orrin Town",
        "The Museum",
        "The Museum",
        "place not said (e)",
        "place not said (f)",
    ]


def test_leads_of_one_holder_at_one_place_are_put_together() -> None:
    leads = [
        a_lead("a", holder="The Museum", place="Orrin"),
        a_lead("b", holder="The Museum", place="Pellow"),
        a_lead("c", holder="the museum", place="orrin"),
        a_lead("d", place="Orrin"),
        a_lead("e"),
        a_lead("f"),
    ]

    grouped = [[lead.id for lead in together] for together in by_holder(leads)]

    assert grouped == [["a", "c"], ["b"], ["d"], ["e"], ["f"]]
