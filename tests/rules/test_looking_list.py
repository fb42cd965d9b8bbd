"""What a sign would tell: against the definition of mutual information, another library, and figures by hand."""

from collections.abc import Sequence
from math import log2

import numpy as np
import pytest
from builders import (
    FEATURE,
    Record,
    a_claim,
    a_component,
    a_feature,
    a_source,
    a_withdrawal,
    an_archive,
    an_item,
    seen_on,
    shows,
)
from hypothesis import given, settings
from hypothesis import strategies as st
from rules.signed import NOT_SEEN, OUT_OF_VIEW, SEEN, a_choice, option_showing, told_by_conduit
from scipy.stats import entropy

from provenance.records.components import Feature, Sign
from provenance.records.sources import Shows
from provenance.rules.judging import judge_feature
from provenance.rules.looking_list import LookingList, Outcome, entropy_bits, expected_bits, looking_list

ALWAYS, SOMETIMES, NEVER = 0.95, 0.5, 0.05


def the_list(feature: Feature, *records: Record, name: str = "headlamp/type") -> LookingList:
    component = a_component("headlamp", feature, a_feature("rim"), signs=(Sign(id="conduit", name="a steel tube"),))
    archive = an_archive(component, a_source("handbook", "manual"), *records)
    return looking_list(archive, judge_feature(archive, name))


def shown(value: str, source: str = "view", claim_id: str = "c") -> tuple[Record, Record]:
    """A photograph of No. 9 by its number that shows a value: 14 points."""
    return a_source(source), a_claim(value, an_item(source, "shows", seen=seen_on("9", "1934")), claim_id=claim_id)


def by_definition(chances: Sequence[float], if_seen: Sequence[float]) -> float:
    """The mutual information of option and answer, over all outcomes: the sum of p(o,a) log2 p(o,a)/(p(o) p(a))."""
    told = 0.0
    for answer in ([*if_seen], [1 - each for each in if_seen]):
        total = sum(chance * likely for chance, likely in zip(chances, answer, strict=True))
        for chance, likely in zip(chances, answer, strict=True):
            if chance * likely > 0:
                told += chance * likely * log2(likely / total)
    return told


@pytest.mark.parametrize(
    ("chances", "if_seen", "bits"),
    [
        ([0.5, 0.5], [ALWAYS, NEVER], 0.713603),
        ([0.5, 0.5], [ALWAYS, SOMETIMES], 0.205350),
        ([0.8, 0.2], [ALWAYS, NEVER], 0.491614),
        ([1 / 3, 1 / 3, 1 / 3], [ALWAYS, NEVER, NEVER], 0.647671),
        ([0.5, 0.5], [ALWAYS, ALWAYS], 0.0),
        ([1.0, 0.0], [ALWAYS, NEVER], 0.0),
        ([0.5, 0.5], [1.0, 0.0], 1.0),
        ([0.5, 0.5], [1.0, 1.0], 0.0),
    ],
    ids=["decisive", "one not listed", "leaning", "one of three", "no help", "all is known", "certain", "always there"],
)
def test_how_much_a_sign_is_expected_to_tell_by_hand(chances: list[float], if_seen: list[float], bits: float) -> None:
    """With H the entropy in bits, what is known before less what is left after each answer.

    Decisive: 1 - H(.95, .05) = 1 - .286397. One not listed: seen .725, then .655172 to .344828; not seen .275, then
    .090909 to .909091; 1 - .725 x .929364 - .275 x .439497. Leaning: H(.8, .2) = .721928; seen .77, then .987013;
    not seen .23, then .826087; .721928 - .77 x .100001 - .23 x .666578. One of three: log2 3 = 1.584963; seen .35, then
    .904762 and twice .047619 (.548954); not seen .65, then .025641 and twice .487179 (1.146396).
    """
    assert expected_bits(chances, if_seen) == pytest.approx(bits, abs=1e-6)


@settings(max_examples=200, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(0, 1000), st.sampled_from((ALWAYS, SOMETIMES, NEVER, 0.0, 1.0))), min_size=2, max_size=6
    )
)
def test_expected_information_is_mutual_information_by_its_definition_and_by_another_library(
    drawn: list[tuple[int, float]],
) -> None:
    total = sum(weight for weight, _ in drawn)
    if not total:
        return
    chances, if_seen = [weight / total for weight, _ in drawn], [likely for _, likely in drawn]
    joint = np.array([chances, chances]) * np.array([if_seen, [1 - each for each in if_seen]])
    apart = np.outer(joint.sum(axis=1), joint.sum(axis=0))

    bits = expected_bits(chances, if_seen)

    assert bits == pytest.approx(by_definition(chances, if_seen), abs=1e-9)
    assert bits == pytest.approx(float(entropy(joint.ravel(), apart.ravel(), base=2)), abs=1e-9)
    assert entropy_bits(chances) == pytest.approx(float(entropy(chances, base=2)), abs=1e-9)
    assert 0 <= bits <= entropy_bits(chances) + 1e-9


def test_where_nothing_is_known_all_options_count_as_equally_likely() -> None:
    looking = the_list(told_by_conduit("handbook", option_showing("oil")))

    assert not looking.is_known
    assert [chance for _, chance in looking.chances] == [1 / 3, 1 / 3, 1 / 3]


def test_what_the_evidence_leaves_over_is_shared_by_the_options_that_nothing_speaks_of() -> None:
    """14 points: 25.118864/26.118864 = .961713; the rest, .038287, is halved."""
    looking = the_list(told_by_conduit("handbook", option_showing("oil")), *shown("electric"))

    assert looking.is_known
    assert [option.id for option, _ in looking.chances] == ["electric", "acetylene", "oil"]
    assert [chance for _, chance in looking.chances] == pytest.approx([0.961713, 0.019143, 0.019143], abs=1e-6)


def test_where_all_options_are_spoken_of_what_is_left_over_goes_to_none() -> None:
    """Both 14 points."""
    looking = the_list(told_by_conduit(), *shown("electric"), *shown("acetylene", "other", "d"))

    assert [chance for _, chance in looking.chances] == pytest.approx([0.5, 0.5], abs=1e-12)


def test_a_value_that_is_no_option_is_left_out() -> None:
    """A candle of 14 points; both options have the same share of the rest."""
    only_candle = the_list(told_by_conduit(), *shown("candle"))
    with_electric = the_list(told_by_conduit(), *shown("candle"), *shown("electric", "other", "d"))

    assert (only_candle.is_known, [chance for _, chance in only_candle.chances]) == (False, [0.5, 0.5])
    assert [chance for _, chance in with_electric.chances] == pytest.approx([25.118864 / 26.118864, 1 / 26.118864])


def test_signs_come_the_most_telling_first_and_say_what_they_would_mean() -> None:
    """The conduit: .713603 bits. The tank is not listed by the other option: .205350 bits."""
    feature = a_choice(
        option_showing("electric", conduit="always by handbook", tank="sometimes"),
        option_showing("acetylene", conduit="never", tank="always by letter", hood="sometimes"),
    )

    looking = the_list(feature, a_source("letter", "letter"))

    assert [(sign.id, round(sign.bits, 6)) for sign in looking.signs] == [
        ("conduit", 0.713603),
        ("tank", 0.20535),
        ("hood", 0.0),
    ]
    assert looking.decides_most is looking.signs[0]
    conduit, tank, hood = looking.signs
    assert (conduit.name, tank.name) == ("a steel tube", "tank")
    assert [(each.option.id, each.expect, each.sources) for each in conduit.speaks] == [
        ("electric", "always", ("handbook",)),
        ("acetylene", "never", ()),
    ]
    assert [each.expect for each in hood.speaks] == [None, "sometimes"]
    assert _told(conduit.if_seen) == ("electric", 0.5, 0.95)
    assert _told(conduit.if_not_seen) == ("acetylene", 0.5, 0.95)
    assert _told(tank.if_seen) == ("acetylene", 0.725, 0.655172)
    assert _told(tank.if_not_seen) == ("electric", 0.275, 0.909091)
    assert _told(hood.if_seen) == (None, 0.5, 0.5)


def _told(outcome: Outcome) -> tuple[str | None, float, float]:
    leads = outcome.leads.id if outcome.leads else None
    return leads, round(outcome.chance, 6), round(outcome.leads_with, 6)


@pytest.mark.parametrize("expect", ["sometimes", None])
def test_where_no_sign_would_tell_anything_none_decides(expect: str | None) -> None:
    options = [option_showing("electric", **({"conduit": expect} if expect else {})), option_showing("acetylene")]

    assert the_list(a_choice(*options)).decides_most is None


def test_signs_that_tell_alike_come_in_order_of_their_ids() -> None:
    feature = a_choice(
        option_showing("electric", b="always", a="never", c="always"), option_showing("oil", a="sometimes")
    )

    assert [sign.id for sign in the_list(feature).signs] == ["a", "b", "c"]


def test_what_was_reported_of_a_sign_stands_beside_it_even_where_it_was_entered_for_another_feature() -> None:
    views = [a_source(name) for name in ("one", "other", "third", "hoax", "last")]
    hoax = a_source("hoax", withdrawn=a_withdrawal())
    here = a_claim(
        "electric",
        an_item("other", "shows", signs=(("conduit", NOT_SEEN),), page=2),
        an_item("other", "shows", signs=(("conduit", SEEN),), page=1),
        an_item("third", "shows", signs=(("conduit", SEEN),), withdrawn=a_withdrawal()),
        an_item("hoax", "shows", signs=(("conduit", SEEN),)),
        an_item("last", "shows"),
        claim_id="b",
    )
    elsewhere = a_claim(
        "electric", an_item("one", "shows", signs=(("conduit", OUT_OF_VIEW),)), about="headlamp/rim", claim_id="a"
    )
    gone = a_claim("oil", an_item("one", signs=(("conduit", SEEN),)), withdrawn=a_withdrawal(), claim_id="d")

    looking = the_list(told_by_conduit(), *views, hoax, here, elsewhere, gone)

    assert [(each.claim, each.about, each.source, each.at.page, each.seen) for each in looking.signs[0].reports] == [
        ("a", "headlamp/rim", "one", None, OUT_OF_VIEW),
        ("b", FEATURE, "other", 1, SEEN),
        ("b", FEATURE, "other", 2, NOT_SEEN),
    ]


def test_a_sign_that_no_option_lists_is_not_looked_for() -> None:
    assert the_list(a_choice(option_showing("electric"), option_showing("oil"))).signs == ()


def test_where_somebody_looked_in_vain_is_no_picture_to_look_at() -> None:
    noted = Shows(component="headlamp", note="looked for: sign conduit out of view")
    looked = a_source("looked", shows=(shows("9"), noted))
    other = a_source("other", shows=(shows("9"), Shows(component="headlamp", note="looked for: rim out of view")))

    looking = the_list(told_by_conduit(), looked, other)

    assert [picture.source for picture in looking.pictures] == ["other"]
