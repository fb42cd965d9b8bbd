"""What can be seen beside the thing itself: signs that tell the options of a feature apart.

P(seen) is .95 where the option always has the sign, .5 sometimes, .05 never; from equal odds over n options the
likeliest has p, and the signs weigh 10 log10(p (n-1) / (1-p)). A photograph weighs 14 points at most, and 7 by what
it implies.
"""

from dataclasses import replace
from typing import Any

import pytest
from builders import FEATURE, Record, a_claim, a_component, a_feature, a_source, a_withdrawal, an_item

from cases.case_building import counted, flags_on, judge, near, values, view
from provenance.records.components import Option, OptionSign, Sign
from provenance.records.kinds import Expected, How, Legibility, SignSeen
from provenance.rules.grades import Category, Grade
from provenance.rules.verdicts import JudgedItem, Verdict

CONDUIT, GENERATOR, TANK = "conduit", "generator-box", "oil-tank"
SEEN, NOT_SEEN, OUT_OF_VIEW = SignSeen.SEEN, SignSeen.NOT_SEEN, SignSeen.OUT_OF_VIEW
Reported = tuple[tuple[str, SignSeen], ...]


def option(option_id: str, *, source: str | None = None, **expect: str) -> Option:
    """An option that has each sign always, never or sometimes; `source` says so."""
    signs = tuple(
        OptionSign(sign=sign.replace("_", "-"), expect=Expected(often), source=source) for sign, often in expect.items()
    )
    return Option(id=option_id, name=option_id.capitalize(), signs=signs)


def lamp_with(*options: Option) -> Record:
    signs = tuple(Sign(id=each, name=each) for each in (CONDUIT, GENERATOR, TANK))
    return a_component("headlamp", a_feature(options=options), signs=signs)


TWO_OPTIONS = lamp_with(
    option("acetylene", conduit="never", generator_box="always"),
    option("electric", conduit="always", generator_box="never"),
)
THREE_OPTIONS = lamp_with(
    option("acetylene", conduit="never", generator_box="always", oil_tank="never"),
    option("electric", conduit="always", generator_box="never", oil_tank="never"),
    option("oil", conduit="never", generator_box="never", oil_tank="always"),
)


def looked_at(signs: Reported, **fields: Any) -> Any:
    """A claim of acetylene by analogy (3.5 points) that bears the signs, so that what they tell stands apart."""
    return a_claim("acetylene", view("view", how="analogy", signs=signs, **fields))


def told(verdict: Verdict) -> dict[str, JudgedItem]:
    """The items that signs tell, by the value under which they are listed."""
    return {each.value: item for each in verdict.candidates for item in each.items if item.told_by}


def test_a_late_machine_told_by_two_signs_in_one_photograph_against_an_older_manual() -> None:
    """Conduit seen, generator box not seen. Electric .95 x .95 = .9025, acetylene .05 x .05 = .0025: p = .9025 / .905
    = .99724, ratio 361, 25.5751 points: `shows`, at most the 14 of a photograph; the conduit is always for electric
    alone.

    The item that bears the signs implies it, 7, from the same place: 14 counts. L = 25.1189; manual of all 11 points,
    carried over 10.0322. Of 1 + 35.1510 = 36.1510: .6948 and .2775: contested, the late fit ahead.
    """
    records: tuple[Record, ...] = (
        TWO_OPTIONS,
        a_source("view"),
        a_source("manual", "manual", created="1928"),
        a_claim("electric", view("view", how="implies", signs=((CONDUIT, SEEN), (GENERATOR, NOT_SEEN)))),
        a_claim("acetylene", "manual", to="all"),
    )

    verdict = judge(*records)

    assert (verdict.grade, verdict.value, verdict.lines) == (Grade.CONTESTED, "electric", 1)
    assert (verdict.rests_on, verdict.posterior) == (("view",), near(0.69483))
    electric = values(verdict)["electric"]
    assert (electric.weight_for, counted(electric), len(electric.items)) == (14, ["view"], 2)
    (item,) = (each for each in electric.items if each.counted)
    assert (item.weight, item.how, item.applies) == (14, How.SHOWS, Category.ITSELF)
    assert dict(item.told_by) == {CONDUIT: SEEN, GENERATOR: NOT_SEEN}
    assert values(verdict)["acetylene"].posterior == near(0.27751)
    assert flags_on(*records) == ("contested", "single-source")


def test_a_sign_out_of_view_counts_nothing_and_one_that_decides_may_just_show_it() -> None:
    """Conduit seen, generator box out of view: .95 / (.95 + .05) = .95, just enough: 19, 12.7875 points, shows."""
    verdict = judge(TWO_OPTIONS, a_source("view"), looked_at(((CONDUIT, SEEN), (GENERATOR, OUT_OF_VIEW))))

    item = told(verdict)["electric"]
    assert (item.how, item.weight) == (How.SHOWS, near(12.7875))
    assert values(verdict)["electric"].weight_for == near(12.7875)


def test_signs_of_which_nothing_is_in_view_tell_nothing() -> None:
    verdict = judge(TWO_OPTIONS, a_source("view"), looked_at(((CONDUIT, OUT_OF_VIEW),)))

    assert (told(verdict), list(values(verdict))) == ({}, ["acetylene"])


def test_a_sign_that_the_other_option_has_sometimes_only_implies_it() -> None:
    """Electric always, acetylene sometimes: .95 / (.95 + .5) = .65517, ratio 1.9, 2.7875 points, under 7: implies.

    Acetylene by analogy 3.5: L = 2.23872; of 1 + 4.13872 = 5.13872: .4357 and .3697; neither is direct: inferred.
    """
    component = lamp_with(option("acetylene", conduit="sometimes"), option("electric", conduit="always"))

    verdict = judge(component, a_source("view"), looked_at(((CONDUIT, SEEN),)))

    assert (told(verdict)["electric"].how, told(verdict)["electric"].weight) == (How.IMPLIES, near(2.7875))
    assert [(each.value, each.posterior) for each in verdict.candidates] == [
        ("acetylene", near(0.43566)),
        ("electric", near(0.36974)),
    ]
    assert verdict.grade is Grade.INFERRED


def test_an_option_that_does_not_list_a_sign_has_it_sometimes() -> None:
    """Acetylene lists nothing: as in the case before 2.7875 points, implied."""
    component = lamp_with(option("acetylene"), option("electric", conduit="always"))

    item = told(judge(component, a_source("view"), looked_at(((CONDUIT, SEEN),))))["electric"]

    assert (item.how, item.weight) == (How.IMPLIES, near(2.7875))


def test_signs_that_are_likely_enough_but_written_never_for_no_one_only_imply_it() -> None:
    """Signs that electric always and acetylene sometimes has, all seen: ratio 1.9 each.

    Two: 3.61, 5.5751 points, p = .7831. Three: 6.859, 8.3626 points, p = .8728: at most half of 14, 7. Five: 24.761,
    13.9377 points, p = .9612, above .95, but no sign is written never for acetylene: implied all the same, 7.
    """
    names = [f"sign-{n}" for n in range(1, 6)]

    def weighed(count: int) -> tuple[How, float]:
        options = tuple(
            Option(
                id=option_id,
                name=option_id,
                signs=tuple(OptionSign(sign=name, expect=expect) for name in names),
            )
            for option_id, expect in (("acetylene", Expected.SOMETIMES), ("electric", Expected.ALWAYS))
        )
        component = a_component(
            "headlamp", a_feature(options=options), signs=tuple(Sign(id=name, name=name) for name in names)
        )
        verdict = judge(component, a_source("view"), looked_at(tuple((name, SEEN) for name in names[:count])))
        return told(verdict)["electric"].how, told(verdict)["electric"].weight

    assert weighed(2) == (How.IMPLIES, near(5.5751))
    assert weighed(3) == (How.IMPLIES, 7)
    assert weighed(5) == (How.IMPLIES, 7)


def test_a_sign_seen_on_three_options_weighs_the_best_against_the_rest_together() -> None:
    """Conduit seen: .95, .05, .05: p = .95 / 1.05 = .90476; p x 2 / (1 - p) = 19, 12.7875 points; under .95: implied,
    7."""
    item = told(judge(THREE_OPTIONS, a_source("view"), looked_at(((CONDUIT, SEEN),))))["electric"]

    assert (item.how, item.weight) == (How.IMPLIES, 7)


def test_of_three_options_what_one_sign_implies_stays_under_what_the_picture_can_carry() -> None:
    """Conduit seen; electric always, acetylene never, oil says nothing of it: .95, .05, .5: p = .95 / 1.5 = .63333;
    p x 2 / (1 - p) = .95 x 2 / .55 = 3.45455, 5.3839 points, under the 7 of what a photograph implies: 5.3839.

    Acetylene by analogy 3.5: L = 2.23872; of 1 + 5.69327 = 6.69327: .5161 and .3345; neither is direct: inferred.
    """
    component = lamp_with(option("acetylene", conduit="never"), option("electric", conduit="always"), option("oil"))

    verdict = judge(component, a_source("view"), looked_at(((CONDUIT, SEEN),)))

    item = told(verdict)["electric"]
    assert (item.how, item.weight) == (How.IMPLIES, near(5.3839))
    assert [(each.value, each.posterior) for each in verdict.candidates] == [
        ("electric", near(0.51612)),
        ("acetylene", near(0.33447)),
    ]
    assert verdict.grade is Grade.INFERRED


def test_three_options_need_all_three_signs_to_be_shown() -> None:
    """Conduit seen, generator box not: .95 x .95 = .9025, .0025, .05 x .95 = .0475: p = .9025 / .9525 = .94751:
    implied.

    And the oil tank not seen: .857375, .002375, .002375: p = .857375 / .862125 = .99449; ratio 361: 25.58 points, 14.
    """
    two = told(judge(THREE_OPTIONS, a_source("view"), looked_at(((CONDUIT, SEEN), (GENERATOR, NOT_SEEN)))))
    reported = ((CONDUIT, SEEN), (GENERATOR, NOT_SEEN), (TANK, NOT_SEEN))
    three = told(judge(THREE_OPTIONS, a_source("view"), looked_at(reported)))

    assert (two["electric"].how, two["electric"].weight) == (How.IMPLIES, 7)
    assert (three["electric"].how, three["electric"].weight) == (How.SHOWS, 14)


def test_signs_that_two_options_share_tell_nothing() -> None:
    """Oil tank not seen: acetylene .95, electric .95, oil .05: a tie gives none."""
    verdict = judge(THREE_OPTIONS, a_source("view"), looked_at(((TANK, NOT_SEEN),)))

    assert (told(verdict), list(values(verdict))) == ({}, ["acetylene"])


@pytest.mark.parametrize(
    ("kind", "reliability", "legibility", "shown", "implied"),
    [
        ("photograph", None, Legibility.CLEAR, 14, 7),
        ("photograph", "C", Legibility.CLEAR, 8.4, 4.2),
        ("photograph", None, Legibility.DOUBTFUL, 7, 3.5),
        ("film", None, Legibility.CLEAR, 12, 6),
        ("artwork", "B", Legibility.DOUBTFUL, 1.6, 0.8),
    ],
)
def test_signs_tell_no_more_than_the_picture_itself_could(
    *, kind: str, reliability: str | None, legibility: Legibility, shown: float, implied: float
) -> None:
    """25.5751 points by both of two signs: at most the picture's own: 14; 14 x .6; 14 x .5; 12; 4 x .8 x .5.

    12.7875 points implied, by one of three options' signs: at most half of that.
    """
    picture = a_source("view", kind, reliability=reliability)
    both = looked_at(((CONDUIT, SEEN), (GENERATOR, NOT_SEEN)), legibility=legibility)
    one = looked_at(((CONDUIT, SEEN),), legibility=legibility)

    assert told(judge(TWO_OPTIONS, picture, both))["electric"].weight == near(shown)
    assert told(judge(THREE_OPTIONS, picture, one))["electric"].weight == near(implied)


def test_the_signs_of_an_item_that_was_withdrawn_tell_nothing() -> None:
    """Left is the drawing for acetylene: 15.8489 / 16.8489 = .9406."""
    item = view("view", how="implies", signs=((CONDUIT, SEEN), (GENERATOR, NOT_SEEN)))
    withdrawn = replace(item, withdrawn=a_withdrawal("another machine"))

    verdict = judge(
        TWO_OPTIONS, a_source("view"), a_claim("electric", withdrawn), a_claim("acetylene", "works-drawing")
    )

    assert (verdict.value, verdict.posterior) == ("acetylene", near(0.94065))
    assert values(verdict)["electric"].posterior == 0


def test_what_signs_tell_rests_on_the_source_that_says_what_they_mean() -> None:
    """The wiring diagram says that electric lamps have the conduit. What the signs tell (14) goes back to photograph
    and diagram; the bearing item (implies, 7) to the photograph alone; the diagram's own word for No. 9 is 12.

    Sets: {signs} 14; {bearing, diagram} 19: the latter counts, two lines. L = 79.4328; 79.4328 / 80.4328 = .9876. The
    signs show it directly on No. 9 in a photograph: established.
    """
    component = lamp_with(
        option("acetylene", conduit="never", generator_box="always"),
        option("electric", source="wiring-diagram", conduit="always", generator_box="never"),
    )
    verdict = judge(
        component,
        a_source("view"),
        a_source("wiring-diagram", "drawing"),
        a_claim(
            "electric",
            view("view", how="implies", signs=((CONDUIT, SEEN), (GENERATOR, NOT_SEEN))),
            an_item("wiring-diagram"),
        ),
    )

    electric = values(verdict)["electric"]
    assert {"view", "wiring-diagram"} <= told(verdict)["electric"].descent
    assert not told(verdict)["electric"].counted
    assert (electric.weight_for, verdict.lines, verdict.rests_on) == (19, 2, ())
    assert (verdict.grade, verdict.posterior) == (Grade.ESTABLISHED, near(0.98757))


def test_leaving_out_the_source_of_a_sign_leaves_out_what_it_told() -> None:
    component = lamp_with(
        option("acetylene", conduit="never"), option("electric", source="wiring-diagram", conduit="always")
    )
    records: tuple[Record, ...] = (
        component,
        a_source("view"),
        a_source("wiring-diagram", "drawing"),
        looked_at(((CONDUIT, SEEN),)),
    )

    assert told(judge(*records))["electric"].weight == near(12.7875)
    without = judge(*records, without="wiring-diagram")
    assert {value: item.weight for value, item in told(without).items()} in ({}, {"electric": 0})
    assert without.value == "acetylene"


def test_signs_on_a_sister_are_carried_over_as_what_she_shows() -> None:
    """Told 14 on No. 10: (.9 x 25.1189 + .1) / (.1 x 25.1189 + .9) = 6.65526, 8.2316 points."""
    claim = a_claim("electric", view("view", "10", how="implies", signs=((CONDUIT, SEEN), (GENERATOR, NOT_SEEN))))

    verdict = judge(TWO_OPTIONS, a_source("view"), claim)

    assert (told(verdict)["electric"].applies, verdict.candidates[0].weight_for) == (Category.SAME_BATCH, near(8.2316))
    assert verdict.posterior == near(0.86937)


def test_a_machine_told_by_the_very_sign_proves_nothing_by_it() -> None:
    """Held to be No. 9 because of the conduit: neither the item nor what the signs tell has weight."""
    records: tuple[Record, ...] = (
        TWO_OPTIONS,
        a_source("view"),
        a_claim(
            "electric",
            view("view", how="implies", told_by=[CONDUIT], signs=((CONDUIT, SEEN), (GENERATOR, NOT_SEEN))),
        ),
    )

    verdict = judge(*records)

    assert (verdict.grade, verdict.value) == (Grade.UNSUPPORTED, None)
    assert [item.weight for each in verdict.candidates for item in each.items] == [0] * len(verdict.candidates[0].items)
    assert "circular-identification" in flags_on(*records, about=FEATURE)
