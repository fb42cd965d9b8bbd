"""Reading signs: Bayes' rule over the options, by hand, by exact fractions, and by published examples."""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from itertools import permutations
from math import log10, prod
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rules.signed import NOT_SEEN, OUT_OF_VIEW, SEEN, a_choice, option_showing, told_by_conduit

from provenance.records.components import Feature, OptionSign
from provenance.records.kinds import Expected, How, SignSeen
from provenance.rules.signs import names_of_signs, read_signs, revise

TO_BE_SEEN = {"always": Fraction(95, 100), "sometimes": Fraction(1, 2), "never": Fraction(5, 100)}


def read(feature: Feature, **reported: SignSeen) -> tuple[str, float, float, str]:
    reading = read_signs(feature, tuple(reported.items()))
    assert reading is not None
    return reading.option.id, round(reading.chance, 6), round(reading.weight, 4), reading.how.value


def test_a_sign_that_one_option_always_has_and_the_other_never_shows_which_it_is() -> None:
    """Chance .95/(.95+.05) = .95; weight 10 log10(.95 x 1/.05) = 10 log10 19 = 12.7875."""
    assert read(told_by_conduit(), conduit=SEEN) == ("electric", 0.95, 12.7875, "shows")


def test_its_absence_in_full_view_shows_the_other() -> None:
    assert read(told_by_conduit(), conduit=NOT_SEEN) == ("acetylene", 0.95, 12.7875, "shows")


def test_with_a_third_option_one_sign_is_not_enough_to_show_it() -> None:
    """Chance .95/(.95+.05+.05) = .904762, under .95; weight 10 log10(.95 x 2/(.05+.05)) = 10 log10 19."""
    feature = told_by_conduit("handbook", option_showing("oil", conduit="never"))

    assert read(feature, conduit=SEEN) == ("electric", 0.904762, 12.7875, "implies")


def test_two_signs_that_agree_show_it_among_three() -> None:
    """Chance .9025/(.9025+.0025+.0025) = .994490; weight 10 log10(.9025 x 2/.005) = 10 log10 361 = 25.5751."""
    never = {"conduit": "never", "switch": "never"}
    feature = a_choice(
        option_showing("electric", conduit="always", switch="always"),
        option_showing("acetylene", **never),
        option_showing("oil", **never),
    )

    assert read(feature, conduit=SEEN, switch=SEEN) == ("electric", 0.99449, 25.5751, "shows")


def test_an_option_that_does_not_list_a_sign_shows_it_sometimes() -> None:
    """Chance .95/(.95+.05+.5) = .633333; weight 10 log10(.95 x 2/.55) = 10 log10 3.454545 = 5.3839."""
    feature = told_by_conduit("handbook", option_showing("oil"))

    assert read(feature, conduit=SEEN) == ("electric", 0.633333, 5.3839, "implies")


def test_signs_that_no_option_is_said_never_to_have_only_imply_however_many() -> None:
    """Five times .95 beside five times .5: chance .773781/(.773781+.03125) = .961182."""
    five = ["a", "b", "c", "d", "e"]
    feature = a_choice(option_showing("electric", **dict.fromkeys(five, "always")), option_showing("acetylene"))

    assert read(feature, **dict.fromkeys(five, SEEN)) == ("electric", 0.961182, 13.9377, "implies")


def test_signs_that_two_options_always_have_only_imply_which_it_is() -> None:
    """Electric .95^4 = .814506; oil and acetylene .95^2 x .05^2 = .002256 each: chance .994490."""
    feature = a_choice(
        option_showing("electric", a="always", b="always", c="always", d="always"),
        option_showing("oil", a="always", b="always", c="never", d="never"),
        option_showing("acetylene", a="never", b="never", c="always", d="always"),
    )

    assert read(feature, a=SEEN, b=SEEN, c=SEEN, d=SEEN) == ("electric", 0.99449, 25.5751, "implies")


def test_one_decisive_sign_among_those_reported_is_enough_whichever_option_it_speaks_for() -> None:
    """The conduit (decisive) is not there; chance of acetylene .95 x .95/(.95^2 + .05 x .5) = .973046."""
    feature = a_choice(
        option_showing("electric", conduit="always"), option_showing("acetylene", conduit="never", tank="always")
    )

    assert read(feature, conduit=NOT_SEEN, tank=SEEN) == ("acetylene", 0.973046, 15.5751, "shows")


@pytest.mark.parametrize("entries", [("always", "never"), ("never", "always"), ("sometimes", "always")])
def test_an_option_of_which_two_sources_say_different_things_shows_the_sign_sometimes(entries: tuple[str, str]) -> None:
    disputed = tuple(OptionSign(sign="conduit", expect=Expected(each)) for each in entries)
    oil = option_showing("oil")
    feature = a_choice(oil, option_showing("electric", conduit="always"))
    other = a_choice(type(oil)(id="oil", name="Oil", signs=disputed), option_showing("electric", conduit="always"))

    assert read(other, conduit=SEEN) == read(feature, conduit=SEEN)


def test_signs_that_speak_against_one_another_alike_tell_nothing() -> None:
    feature = a_choice(
        option_showing("electric", conduit="always", tank="never"),
        option_showing("acetylene", conduit="never", tank="always"),
    )

    assert read_signs(feature, (("conduit", SEEN), ("tank", SEEN))) is None
    assert read_signs(feature, (("conduit", SEEN), ("tank", NOT_SEEN))) is not None


@pytest.mark.parametrize(
    "reported",
    [(), (("conduit", OUT_OF_VIEW),), (("buffer", SEEN),)],
    ids=["none reported", "out of view", "a sign that no option lists"],
)
def test_what_no_sign_tells_is_not_read(reported: tuple[tuple[str, SignSeen], ...]) -> None:
    assert read_signs(told_by_conduit(), reported) is None


def test_a_single_option_cannot_be_told_from_others() -> None:
    assert read_signs(a_choice(option_showing("electric", conduit="always")), (("conduit", SEEN),)) is None


def test_the_reading_names_the_signs_in_view_and_everybody_who_says_how_often_they_are_there() -> None:
    feature = a_choice(
        option_showing("electric", conduit="always by manual", tank="never by album"),
        option_showing("acetylene", conduit="sometimes by drawing", switch="never by letter"),
    )

    reading = read_signs(feature, (("tank", OUT_OF_VIEW), ("switch", OUT_OF_VIEW), ("conduit", SEEN)))

    assert reading is not None
    assert reading.told_by == (("conduit", SEEN),)
    assert reading.sources == ("drawing", "manual")


def test_hundreds_of_signs_that_agree_are_still_read() -> None:
    """The chance of the other option, 19^-400, is below what a number can hold."""
    many = [f"s{number}" for number in range(400)]
    feature = a_choice(
        option_showing("electric", **dict.fromkeys(many, "always")),
        option_showing("acetylene", **dict.fromkeys(many, "never")),
    )

    reading = read_signs(feature, tuple(dict.fromkeys(many, SEEN).items()))

    assert reading is not None
    assert (reading.chance, reading.how) == (1.0, How.SHOWS)
    assert reading.weight > 3000


def test_signs_are_named_in_words() -> None:
    said = names_of_signs((("conduit", SEEN), ("tank", NOT_SEEN), ("hood", OUT_OF_VIEW)), {"conduit": "a steel tube"})

    assert said == "a steel tube (seen), tank (not there), hood (out of view)"


@st.composite
def choices(draw: st.DrawFn) -> tuple[list[dict[str, str]], dict[str, SignSeen]]:
    """How often each of some options shows each sign, and what was reported of the signs."""
    signs = [f"s{number}" for number in range(draw(st.integers(1, 5)))]
    expected = st.dictionaries(st.sampled_from(signs), st.sampled_from(sorted(TO_BE_SEEN)))
    options = draw(st.lists(expected, min_size=2, max_size=4))
    reported = draw(st.dictionaries(st.sampled_from(signs), st.sampled_from([SEEN, NOT_SEEN]), min_size=1))
    return options, reported


def feature_of(options: Sequence[Mapping[str, str]]) -> Feature:
    return a_choice(*(option_showing(f"o{number}", **expected) for number, expected in enumerate(options)))


def exact_products(options: Sequence[Mapping[str, str]], reported: Mapping[str, SignSeen]) -> list[Fraction]:
    """The likelihood of what was reported under each option, in fractions."""
    seen = [{sign: TO_BE_SEEN[each.get(sign, "sometimes")] for sign in reported} for each in options]
    return [
        prod((each[s] if reported[s] is SEEN else 1 - each[s] for s in reported), start=Fraction(1)) for each in seen
    ]


@settings(max_examples=300, deadline=None)
@given(choices())
def test_a_reading_is_what_exact_fractions_say(
    drawn: tuple[list[dict[str, str]], dict[str, SignSeen]],
) -> None:
    options, reported = drawn
    products = exact_products(options, reported)
    best = max(products)
    chance = Fraction(best, sum(products))

    reading = read_signs(feature_of(options), tuple(reported.items()))

    if products.count(best) > 1:
        assert reading is None
        return
    assert reading is not None
    assert reading.option.id == f"o{products.index(best)}"
    assert reading.chance == pytest.approx(float(chance), abs=1e-12)
    assert reading.weight == pytest.approx(10 * log10(chance * (len(options) - 1) / (1 - chance)), abs=1e-9)
    decisive = any(
        sorted(each.get(sign, "") for each in options).count("never") == len(options) - 1
        and [each.get(sign) for each in options].count("always") == 1
        for sign in reported
    )
    assert (reading.how is How.SHOWS) is (chance >= Fraction(95, 100) and decisive)


@settings(max_examples=100, deadline=None)
@given(choices(), st.integers(0, 1000))
def test_the_order_of_signs_never_matters(drawn: tuple[list[dict[str, str]], dict[str, SignSeen]], seed: int) -> None:
    options, reported = drawn
    shuffle = Random(seed)
    expected = read_signs(feature_of(options), tuple(reported.items()))
    mixed = [dict(shuffle.sample(sorted(each.items()), len(each))) for each in options]

    found = read_signs(feature_of(mixed), shuffle.sample(sorted(reported.items()), len(reported)))

    def without_option(reading: object) -> object:
        return reading and [getattr(reading, field) for field in ("chance", "weight", "how", "told_by", "sources")]

    assert without_option(found) == without_option(expected)
    assert (found and found.option.id) == (expected and expected.option.id)


@settings(max_examples=100, deadline=None)
@given(choices(), st.sampled_from(["always", "never", "sometimes"]))
def test_a_sign_out_of_view_never_changes_anything(
    drawn: tuple[list[dict[str, str]], dict[str, SignSeen]], expect: str
) -> None:
    options, reported = drawn
    options[0]["hidden"] = f"{expect} by letter"
    feature = feature_of(options)

    told = read_signs(feature, (*reported.items(), ("hidden", OUT_OF_VIEW)))

    assert told == read_signs(feature, tuple(reported.items()))


def test_every_order_of_three_signs_gives_the_very_same_figures() -> None:
    feature = a_choice(
        option_showing("electric", a="always", b="never"), option_showing("acetylene", b="always", c="never")
    )

    figures = {
        (reading.chance, reading.weight)
        for order in permutations([("a", SEEN), ("b", NOT_SEEN), ("c", SEEN)])
        if (reading := read_signs(feature, order))
    }

    assert len(figures) == 1


def test_a_test_for_what_is_rare_is_wrong_five_times_in_six() -> None:
    """A common teaching example: 1 % have it, 99 % of these and 5 % of the others test positive.

    By hand: .0099/(.0099 + .0495) = 1/6 (figures from memory).
    """
    assert revise([0.01, 0.99], [(0.99,), (0.05,)])[0] == pytest.approx(1 / 6, abs=1e-12)


def test_the_mammography_example_comes_out_as_published() -> None:
    """Eddy's example, retold by Gigerenzer: 1 %, 80 %, 9.6 %; published as 7.8 % (from memory).

    By hand: .008/(.008 + .09504) = .0776398. Two positives that are independent: .0064/(.0064 + .00912384) = .412269;
    to count a copy of the first as a second is just that error.
    """
    once = revise([0.01, 0.99], [(0.80,), (0.096,)])[0]
    twice = revise([0.01, 0.99], [(0.80, 0.80), (0.096, 0.096)])[0]

    assert once == pytest.approx(0.0776398, abs=5e-8)
    assert round(100 * once, 1) == 7.8
    assert twice == pytest.approx(0.412269, abs=5e-7)


def test_what_is_impossible_stays_impossible() -> None:
    assert revise([1, 1, 0], [(0.0, 0.5), (0.5, 0.5), (1.0, 1.0)]) == (0.0, 1.0, 0.0)
