"""Weak features weighed by how much they matter, and leads ranked by what they may tell of them."""

from collections.abc import Sequence
from itertools import combinations
from math import e, isclose, prod

import pytest
from builders import a_component
from hypothesis import given
from hypothesis import strategies as st
from leads import a_lead

from provenance.records.days import Day
from provenance.rules.grades import Grade
from provenance.rules.lifting import WEAK
from provenance.rules.looking_next import (
    WEAKNESS,
    Offer,
    chance_of,
    joined,
    need_of,
    offer_of,
    rank,
    urgency_of,
)

TODAY = Day(2026, 11, 25)
NEEDS = {"a/1": 4.0, "a/2": 2.0, "b/1": 1.0}

chances = st.sampled_from([0.0, 0.1, 0.25, 0.5, 0.9, 1.0])
needs_of_any = st.dictionaries(st.sampled_from("pqrst"), st.sampled_from([0.4, 1.0, 2.5, 12.0]), max_size=5)


@st.composite
def some_offers(draw: st.DrawFn, most: int = 7) -> list[Offer]:
    """A few offers, of features that matter and of some that do not."""
    return [
        Offer(
            name=f"lead-{number}",
            chances=draw(st.dictionaries(st.sampled_from("pqrstu"), chances, max_size=4)),
            effort=draw(st.sampled_from([1.0, 2.0, 4.0])),
        )
        for number in range(draw(st.integers(0, most)))
    ]


def worth(offers: Sequence[Offer], needs: dict[str, float]) -> float:
    """By the definition: each weight times the chance that not every offer misses the feature."""
    return sum(
        weight * (1 - prod(1 - offer.chances.get(feature, 0.0) for offer in offers))
        for feature, weight in needs.items()
    )


def best_within(offers: Sequence[Offer], needs: dict[str, float], effort: float) -> float:
    """The best of all sets of offers that take no more than so much effort."""
    return max(
        worth(chosen, needs)
        for count in range(len(offers) + 1)
        for chosen in combinations(offers, count)
        if sum(offer.effort for offer in chosen) <= effort
    )


def test_a_weak_focal_part_that_is_needed_soon_matters_most() -> None:
    """Unsupported 1 x needed within a year 4 x focal 3 = 12; uncorroborated .5 x 1 x 1 = .5 where nothing is said."""
    focal = a_component(needed_by="2027-03", prominence="focal")

    assert need_of(Grade.UNSUPPORTED, focal, TODAY) == 12
    assert need_of(Grade.UNCORROBORATED, a_component(), TODAY) == 0.5


@pytest.mark.parametrize("grade", [Grade.PROBABLE, Grade.ESTABLISHED])
def test_what_is_not_weak_asks_for_no_search(grade: Grade) -> None:
    assert need_of(grade, a_component(needed_by="2026-12", prominence="focal"), TODAY) == 0


def test_exactly_the_weak_grades_count() -> None:
    assert {grade for grade, weakness in WEAKNESS.items() if weakness > 0} == WEAK


def test_a_contest_that_a_decision_settled_matters_less() -> None:
    """.4 instead of .8; for any other grade a set-aside claim changes nothing."""
    assert need_of(Grade.CONTESTED, a_component(), TODAY) == 0.8
    assert need_of(Grade.CONTESTED, a_component(), TODAY, set_aside=True) == 0.4
    assert need_of(Grade.INFERRED, a_component(), TODAY, set_aside=True) == 0.6


@pytest.mark.parametrize(
    ("needed_by", "urgency"),
    [
        (None, 1),
        ("2020", 4),
        ("2027-11-25", 4),
        ("2027-11-26", 2),
        ("2027", 4),
        ("2029-11-25", 2),
        ("2029-11-26", 1),
        ("../2027-01-01", 4),
        ("2027-01-01/..", 4),
        ("2040", 1),
    ],
)
def test_what_is_needed_within_a_year_is_urgent_within_three_less_so(needed_by: str | None, urgency: float) -> None:
    assert urgency_of(a_component(needed_by=needed_by), TODAY) == urgency


@pytest.mark.parametrize(
    ("prominence", "factor"), [("focal", 3), ("visible", 2), ("hidden", 1), (None, 1), ("unheard-of", 1)]
)
def test_what_visitors_look_at_matters_more(prominence: str | None, factor: float) -> None:
    assert need_of(Grade.UNSUPPORTED, a_component(prominence=prominence), TODAY) == factor


@pytest.mark.parametrize(
    ("written", "chance"),
    [
        (None, 0.5),
        ("0.3", 0.3),
        (".3", 0.3),
        ("1", 1.0),
        ("0", 0.0),
        ("30 %", 0.3),
        ("30%", 0.3),
        ("30 per cent", 0.3),
        ("30 Percent", 0.3),
        ("100 %", 1.0),
        ("1.5", None),
        ("30", None),
        ("101 %", None),
        ("good", None),
        ("-0.3", None),
        ("0,3", None),
        ("", None),
    ],
)
def test_a_chance_is_a_share_or_so_many_in_a_hundred(written: str | None, chance: float | None) -> None:
    assert chance_of(written) == chance


def test_a_lead_offers_each_feature_with_its_chance_and_takes_its_effort() -> None:
    assert offer_of(a_lead("albums", "b/1", "a/1", chance=".3", effort="large")) == Offer(
        name="albums", chances={"a/1": 0.3, "b/1": 0.3}, effort=4
    )
    assert offer_of(a_lead(chance="good", effort=None)).chances == {"headlamp/type": 0.5}
    assert offer_of(a_lead(effort=None)).effort == offer_of(a_lead(effort="medium")).effort == 2


def test_leads_are_ranked_by_what_they_add_for_their_effort() -> None:
    """Albums: .5 x (4 + 2) / 1 = 3. Then of a/1 there is 4 x .5 = 2 left, of a/2 1.

    Diaries: .8 x 4 / 2 = 1.6 alone, but .8 x 2 / 2 = .8 after the albums. Plans: .9 x 1 / 1 = .9, which goes before.
    """
    albums = Offer(name="albums", chances={"a/1": 0.5, "a/2": 0.5}, effort=1)
    diaries = Offer(name="diaries", chances={"a/1": 0.8}, effort=2)
    plans = Offer(name="plans", chances={"b/1": 0.9}, effort=1)

    ranked = rank([diaries, plans, albums], NEEDS)

    assert [each.offer.name for each in ranked] == ["albums", "plans", "diaries"]
    assert [each.score for each in ranked] == pytest.approx([3, 0.9, 0.8])
    assert [each.gain for each in ranked] == pytest.approx([3, 0.9, 1.6])


def test_a_lead_that_hopes_for_nothing_weak_scores_nothing_and_comes_last() -> None:
    idle = Offer(name="a-first-by-name", chances={"z/9": 1.0}, effort=1)
    bare = Offer(name="bare", chances={}, effort=1)
    useful = Offer(name="useful", chances={"b/1": 0.1}, effort=4)

    ranked = rank([idle, bare, useful], NEEDS)

    assert [each.offer.name for each in ranked] == ["useful", "a-first-by-name", "bare"]
    assert [each.score for each in ranked[1:]] == [0, 0]


def test_a_lead_that_is_sure_to_tell_leaves_nothing_to_those_after_it() -> None:
    sure = Offer(name="sure", chances={"a/1": 1.0}, effort=1)
    late = Offer(name="zealous", chances={"a/1": 1.0}, effort=1)

    assert [each.gain for each in rank([late, sure], NEEDS)] == [4, 0]


def test_a_visit_for_two_leads_misses_only_what_both_miss() -> None:
    """Of a/1 1 - .5 x .8 = .6."""
    one = Offer(name="one", chances={"a/1": 0.5}, effort=1)
    other = Offer(name="other", chances={"a/1": 0.2, "b/1": 1.0}, effort=2)

    visit = joined("both", [one, other])

    assert visit.chances == pytest.approx({"a/1": 0.6, "b/1": 1.0})
    assert visit.effort == 3


@given(some_offers(), needs_of_any)
def test_every_offer_is_ranked_once_and_no_gain_is_made_up(offers: list[Offer], needs: dict[str, float]) -> None:
    ranked = rank(offers, needs)

    assert sorted(each.offer.name for each in ranked) == sorted(offer.name for offer in offers)
    assert isclose(sum(each.gain for each in ranked), worth(offers, needs), abs_tol=1e-9)


@given(some_offers(), needs_of_any)
def test_the_order_is_that_of_plain_greed(offers: list[Offer], needs: dict[str, float]) -> None:
    """Held against looking at all that are left, every time anew: what stands next is never beaten by a later one."""
    ranked = [each.offer for each in rank(offers, needs)]

    for place, offer in enumerate(ranked):
        before = worth(ranked[:place], needs)
        scores = [(worth([*ranked[:place], each], needs) - before) / each.effort for each in ranked[place:]]
        assert scores[0] >= max(scores) - 1e-9
        assert isclose(rank(offers, needs)[place].score, scores[0], abs_tol=1e-9), offer.name


@given(some_offers(), needs_of_any)
def test_every_beginning_is_within_the_guarantee_of_the_best_for_its_effort(
    offers: list[Offer], needs: dict[str, float]
) -> None:
    """1 - 1/e (Nemhauser, Wolsey and Fisher 1978), held against every set of offers that takes no more effort."""
    ranked = [each.offer for each in rank(offers, needs)]

    for count in range(1, len(ranked) + 1):
        effort = sum(offer.effort for offer in ranked[:count])
        assert worth(ranked[:count], needs) >= (1 - 1 / e) * best_within(offers, needs, effort) - 1e-9


@given(some_offers(), needs_of_any, st.data())
def test_more_chance_never_lowers_the_score_of_a_lead(
    offers: list[Offer], needs: dict[str, float], data: st.DataObject
) -> None:
    if not offers:
        return
    number = data.draw(st.integers(0, len(offers) - 1))
    better = {feature: data.draw(st.floats(chance, 1.0)) for feature, chance in offers[number].chances.items()}
    raised = [*offers]
    raised[number] = Offer(name=offers[number].name, chances=better, effort=offers[number].effort)

    def score(among: list[Offer]) -> float:
        return next(each.score for each in rank(among, needs) if each.offer.name == offers[number].name)

    assert score(raised) >= score(offers) - 1e-9


@given(some_offers(), needs_of_any)
def test_the_order_in_which_leads_were_entered_never_matters(offers: list[Offer], needs: dict[str, float]) -> None:
    assert rank(offers[::-1], needs) == rank(offers, needs)
