"""What to look through for a sum of money, with one visit a place."""

from collections.abc import Sequence
from decimal import Decimal
from itertools import combinations
from math import e, isclose, prod

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from provenance.rules import spending
from provenance.rules.looking_next import Offer
from provenance.rules.spending import Choice, Priced, choose_within


def priced(name: str, cost: int, chances: dict[str, float], place: str | None = None) -> Priced:
    offer = Offer(name=name, chances=chances, effort=1)
    return Priced(offer=offer, place=place or f"at-{name}", cost=Decimal(cost))


def worth(leads: Sequence[Priced], needs: dict[str, float]) -> float:
    """By the definition: each weight times the chance that not every lead misses the feature."""
    return sum(
        weight * (1 - prod(1 - lead.offer.chances.get(feature, 0.0) for lead in leads))
        for feature, weight in needs.items()
    )


def paid(leads: Sequence[Priced]) -> Decimal:
    """One visit a place, at the price of its dearest lead."""
    dearest: dict[str, Decimal] = {}
    for lead in leads:
        dearest[lead.place] = max(lead.cost, dearest.get(lead.place, lead.cost))
    return sum(dearest.values(), Decimal(0))


def best_of_all(leads: Sequence[Priced], needs: dict[str, float], money: int) -> float:
    """The best of all sets of leads that can be paid for."""
    return max(
        worth(chosen, needs)
        for count in range(len(leads) + 1)
        for chosen in combinations(leads, count)
        if paid(chosen) <= money
    )


def names(choice: Choice) -> list[str]:
    return [name for visit in choice.visits for name in visit.leads]


def test_leads_at_one_place_share_the_journey() -> None:
    """Orrin costs 40 for both, 40 + 30 with the second charged; Pellow 45 for more than either, less than both.

    Within 45: at Orrin .5 x 4 + .5 x 4 = 4, at Pellow 3.
    """
    leads = [
        priced("albums", 40, {"p": 0.5}, "Orrin"),
        priced("plans", 30, {"q": 0.5}, "Orrin"),
        priced("diary", 45, {"r": 1.0}, "Pellow"),
    ]

    choice = choose_within(leads, {"p": 4, "q": 4, "r": 3}, Decimal(45))

    assert [(visit.place, visit.leads, visit.cost) for visit in choice.visits] == [
        ("Orrin", ("albums", "plans"), Decimal(40))
    ]
    assert choice.cost == 40
    assert choice.gain == pytest.approx(4)
    assert choice.exact


def test_a_cheaper_visit_serves_only_what_it_pays_for() -> None:
    leads = [priced("plans", 30, {"q": 0.5}, "Orrin"), priced("albums", 40, {"p": 0.5}, "Orrin")]

    choice = choose_within(leads, {"p": 4, "q": 4}, Decimal(35))

    assert names(choice) == ["plans"]


def test_the_sum_may_be_spent_whole_but_not_passed() -> None:
    lead = priced("albums", 40, {"p": 1.0})

    assert names(choose_within([lead], {"p": 1}, Decimal(40))) == ["albums"]
    assert choose_within([lead], {"p": 1}, Decimal("39.99")).visits == ()
    assert choose_within([], {"p": 1}, Decimal(5)).gain == 0


def test_what_costs_nothing_is_taken_and_what_tells_nothing_is_not_paid_for() -> None:
    leads = [priced("near", 0, {"p": 0.1}), priced("idle", 0, {"z": 1.0})]

    assert names(choose_within(leads, {"p": 1}, Decimal(0))) == ["near"]


def test_of_choices_that_are_worth_the_same_the_cheaper_is_made() -> None:
    leads = [priced("dear", 40, {"p": 1.0}), priced("cheap", 10, {"p": 1.0}), priced("later", 20, {"p": 1.0})]

    assert names(choose_within(leads, {"p": 1}, Decimal(100))) == ["cheap"]


@pytest.fixture
def _greedy_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    """As where leads are too many to try all choices."""
    monkeypatch.setattr(spending, "TRIED_AT_MOST", 1)  # as for more choices than can be tried, and quick


@pytest.mark.usefixtures("_greedy_alone")
def test_a_small_bargain_does_not_keep_the_great_lead_out() -> None:
    """The case against mere gain per money in the literature (from memory: Khuller, Moss and Naor 1999).

    1 for 1 is the better bargain than 9 for 10, but with it spent the 9 cannot be had.
    """
    leads = [priced("bargain", 1, {"p": 1.0}), priced("great", 10, {"q": 1.0})]

    choice = choose_within(leads, {"p": 1, "q": 9}, Decimal(10))

    assert names(choice) == ["great"]
    assert not choice.exact


@pytest.mark.usefixtures("_greedy_alone")
def test_a_visit_is_raised_to_a_dearer_lead_at_the_difference() -> None:
    """Orrin: plans 4 for 10, then the albums 3 for 20 more. Pellow: 2 for 20. Within 30 the raise is the better buy."""
    leads = [
        priced("plans", 10, {"p": 1.0}, "Orrin"),
        priced("albums", 30, {"q": 1.0}, "Orrin"),
        priced("diary", 20, {"r": 1.0}, "Pellow"),
    ]

    choice = choose_within(leads, {"p": 4, "q": 3, "r": 2}, Decimal(30))

    assert names(choice) == ["albums", "plans"]
    assert choice.cost == 30


@pytest.mark.usefixtures("_greedy_alone")
def test_a_dearer_visit_leaves_none_of_the_cheaper_ones_to_the_same_place() -> None:
    """All at Orrin: 1 for 10 alone, 9 more for 1 more; so the visit is made for 11 at once."""
    leads = [priced("plans", 10, {"p": 1.0}, "Orrin"), priced("albums", 11, {"q": 1.0}, "Orrin")]

    choice = choose_within(leads, {"p": 1, "q": 9}, Decimal(30))

    assert [visit.cost for visit in choice.visits] == [11]


@pytest.mark.usefixtures("_greedy_alone")
def test_greed_takes_what_is_free_and_leaves_what_adds_nothing() -> None:
    leads = [priced("free", 0, {"p": 1.0}), priced("again", 0, {"p": 1.0}), priced("paid", 5, {"p": 1.0})]

    assert names(choose_within(leads, {"p": 1}, Decimal(5))) == ["free"]


def test_more_leads_than_can_all_be_tried_are_chosen_by_worth_for_money() -> None:
    leads = [priced(f"lead-{number:02}", 1, {f"f{number}": 1.0}) for number in range(16)]
    needs = {f"f{number}": 1.0 + number for number in range(16)}

    exact = choose_within(leads[1:], needs, Decimal(3))
    greedy = choose_within(leads, needs, Decimal(3))

    assert (exact.exact, greedy.exact) == (True, False)
    assert names(greedy) == names(exact) == ["lead-13", "lead-14", "lead-15"]


@st.composite
def some_leads(draw: st.DrawFn) -> list[Priced]:
    """A few leads at a few places, some of them free."""
    return [
        priced(
            f"lead-{number}",
            draw(st.sampled_from([0, 1, 2, 3, 5, 8])),
            draw(st.dictionaries(st.sampled_from("pqrst"), st.sampled_from([0.1, 0.5, 0.9, 1.0]), max_size=3)),
            draw(st.sampled_from(["Orrin", "Pellow", "Brennow", "Velling"])),
        )
        for number in range(draw(st.integers(0, 7)))
    ]


needs_of_any = st.dictionaries(st.sampled_from("pqrst"), st.sampled_from([0.4, 1.0, 2.5, 12.0]), max_size=5)
sums = st.integers(0, 14)


@given(some_leads(), needs_of_any, sums)
def test_few_leads_are_settled_exactly(leads: list[Priced], needs: dict[str, float], money: int) -> None:
    choice = choose_within(leads, needs, Decimal(money))

    by_name = {lead.offer.name: lead for lead in leads}
    chosen = [by_name[name] for name in names(choice)]
    assert choice.exact
    assert isclose(choice.gain, best_of_all(leads, needs, money), abs_tol=1e-6)
    assert isclose(choice.gain, worth(chosen, needs), abs_tol=1e-9)
    assert choice.cost == paid(chosen) <= money
    assert len({visit.place for visit in choice.visits}) == len(choice.visits)


@settings(max_examples=200)
@given(some_leads(), needs_of_any, sums)
@example([], {"p": 1.0}, 5)
def test_greed_with_the_best_single_visit_is_worth_half_of_1_less_1_over_e_at_least(
    leads: list[Priced], needs: dict[str, float], money: int
) -> None:
    """Khuller, Moss and Naor 1999, held against every set of leads that can be paid for."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(spending, "TRIED_AT_MOST", 1)  # as where leads are too many to try all choices, and quick
        choice = choose_within(leads, needs, Decimal(money))

    by_name = {lead.offer.name: lead for lead in leads}
    assert choice.gain >= (1 - 1 / e) / 2 * best_of_all(leads, needs, money) - 1e-9
    assert choice.cost == paid([by_name[name] for name in names(choice)]) <= money


@given(some_leads(), needs_of_any, sums)
def test_more_money_is_never_worth_less(leads: list[Priced], needs: dict[str, float], money: int) -> None:
    less = choose_within(leads, needs, Decimal(money))
    more = choose_within(leads, needs, Decimal(money + 1))

    assert more.gain >= less.gain - 1e-6
