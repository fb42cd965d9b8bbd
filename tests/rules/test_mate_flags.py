from dataclasses import replace
from typing import Any

import pytest
from builders import (
    TODAY,
    Record,
    a_claim,
    a_component,
    a_decision,
    a_feature,
    a_source,
    an_archive,
    an_item,
    an_option,
    seen_on,
)

from provenance.records.components import Component, Mate
from provenance.records.decisions import Made
from provenance.rules.flag_values import Flag, Level
from provenance.rules.judging import judge_all, judge_feature
from provenance.rules.mate_flags import mate_flags, mates_of

BRACKET = "bracket/hole"
FRAME = "frame/hole"


def parts(rule: str = "equal", within: str | None = None, **kinds: Any) -> tuple[Component, Component]:
    """A bracket whose hole has to fit the frame's; `kind`, `options` and `same` of both, `other` the frame's kind."""
    other = kinds.pop("other", kinds.get("kind", "text"))
    mates = (Mate(mate=FRAME, rule=rule, within=within),)
    ours = a_feature("hole", **{"kind": "text", "name": "Holes", **kinds}, mates=mates)
    theirs = a_feature("hole", **{**kinds, "kind": other, "name": "Holes"})
    return a_component("bracket", ours), a_component("frame", theirs)


def said(value: str, about: str) -> Record:
    return a_claim(value, f"drawing-of-{about.partition('/')[0]}", about=about)


def raised(*records: Record) -> dict[str, Flag]:
    archive = an_archive(*records)
    verdicts = judge_all(archive)
    return {flag.about: flag for flag in mate_flags(archive, verdicts.values(), verdicts.__getitem__)}


def test_parts_that_have_to_be_equal_and_are_not_are_flagged_on_both_sides() -> None:
    flags = raised(*parts(), said("round holes", BRACKET), said("slotted holes", FRAME))

    assert set(flags) == {BRACKET, FRAME}
    flag = flags[BRACKET]
    assert (flag.flag, flag.severity) == ("does-not-mate", Level.WARN)
    assert flag.sentence == ("“Holes” is “round holes” and frame/hole is “slotted holes”, but they have to be equal.")
    assert flag.claims == ("bracket-hole-round-holes", "frame-hole-slotted-holes")
    assert flag.sources == ("drawing-of-bracket", "drawing-of-frame")


@pytest.mark.parametrize("value", ["Round  HOLES", "round holes"])
def test_wordings_that_fold_to_one_are_equal(value: str) -> None:
    assert raised(*parts(), said("round holes", BRACKET), said(value, FRAME)) == {}


def test_wordings_that_a_feature_takes_as_the_same_are_equal() -> None:
    same = (("M.S.", "mild steel"),)

    assert raised(*parts(same=same), said("M.S.", BRACKET), said("mild steel", FRAME)) == {}


def test_what_is_decided_counts_before_what_the_evidence_says_and_presses() -> None:
    decisions = [
        a_decision("b", BRACKET, build="slotted holes", basis=("bracket-hole-round-holes",)),
        a_decision("f", FRAME, build="slotted holes"),
    ]
    evidence = [said("round holes", BRACKET), said("slotted holes", FRAME)]
    apart = a_decision("f", FRAME, build="square holes", replaces="g")

    agreed = raised(*parts(), *evidence, *decisions)
    disagreed = raised(*parts(), *evidence, decisions[0], apart)

    assert agreed == {}
    assert disagreed[FRAME].severity is Level.STOP
    assert disagreed[FRAME].claims == ("bracket-hole-round-holes",)


def test_options_of_two_choices_are_equal_where_they_share_a_word() -> None:
    ours = a_feature(
        "hole", options=(an_option("bsf", "fine thread"), an_option("bsw")), mates=(Mate(mate=FRAME, rule="equal"),)
    )
    theirs = a_feature("hole", options=(an_option("fine", "fine thread"), an_option("coarse")))
    both = [a_component("bracket", ours), a_component("frame", theirs)]

    assert raised(*both, said("bsf", BRACKET), said("fine", FRAME)) == {}
    assert set(raised(*both, said("bsw", BRACKET), said("fine", FRAME))) == {BRACKET, FRAME}


def test_figures_are_compared_as_measures_whatever_unit_they_are_written_in() -> None:
    """40 in are 1016 mm; 1018 mm are 2 mm more than 1/64 in, .397 mm, and half a millimetre allow."""
    quantity = parts(kind="quantity", unit="mm")

    assert raised(*quantity, said("40 in", BRACKET), said("1016 mm", FRAME)) == {}
    flag = raised(*quantity, said("40 in", BRACKET), said("1018 mm", FRAME))[BRACKET]
    assert flag.severity is Level.WARN
    assert "they have to be equal, and they are 2 mm apart" in flag.sentence


def test_what_is_decided_presses_also_where_it_is_a_figure() -> None:
    built = [a_decision("b", BRACKET, build="40 in"), a_decision("f", FRAME, build="1018 mm")]

    flags = raised(*parts(kind="quantity", unit="mm"), *built)

    assert {flag.severity for flag in flags.values()} == {Level.STOP}


def test_figures_may_differ_within_what_is_allowed_and_no_further() -> None:
    """40 in are 1016 mm; 1018 mm are 2 mm off, 1019 mm 3 mm: 2.5 mm allow the first alone."""
    within = parts(kind="quantity", unit="mm", within="2.5 mm")
    built = [a_decision("b", BRACKET, build="40 in")]

    assert raised(*within, *built, a_decision("f", FRAME, build="1018 mm")) == {}
    flag = raised(*within, *built, a_decision("f", FRAME, build="1019 mm"))[FRAME]
    assert "equal within 2.5 mm, and they are 3 mm apart" in flag.sentence
    assert raised(*parts(within="1 mm"), said("round", BRACKET), said("square", FRAME)) != {}


def test_what_evidence_leaves_open_is_never_held_against_a_fit() -> None:
    """One survey of No. 10: 1010 mm give or take 6 mm, so U = 2 x 6 / root 3 = 6.93. 1016 mm differ by 6: they may fit.

    1018 mm differ by 8, which is more than 6.93 + .5.
    """
    survey = a_source("survey", "survey")
    open_by_six = replace(
        a_claim("1010 mm", an_item("survey", "measured", seen=seen_on("10")), about=FRAME), uncertainty="6 mm"
    )
    quantity = parts(kind="quantity", unit="mm", aspect="dimension")

    assert raised(*quantity, survey, open_by_six, a_decision("b", BRACKET, build="1016 mm")) == {}
    assert raised(*quantity, survey, open_by_six, a_decision("b", BRACKET, build="1018 mm")) != {}


def test_two_equal_figures_leave_no_clearance() -> None:
    clears = parts("clears", kind="quantity", unit="mm")

    flag = raised(*clears, a_decision("b", BRACKET, build="40 in"), a_decision("f", FRAME, build="1016 mm"))[FRAME]

    assert "the one has to clear the other, and that leaves nothing between them" in flag.sentence
    assert raised(*clears, said("40 in", BRACKET), said("41 in", FRAME)) == {}
    assert raised(*parts("clears"), said("round", BRACKET), said("round", FRAME)) == {}


def test_a_clearance_is_no_wider_than_is_allowed() -> None:
    """41 in clear 40 in by 25.4 mm."""
    built = [a_decision("b", BRACKET, build="40 in"), a_decision("f", FRAME, build="41 in")]

    assert raised(*parts("clears", within="26 mm", kind="quantity", unit="mm"), *built) == {}
    flag = raised(*parts("clears", within="25 mm", kind="quantity", unit="mm"), *built)[BRACKET]
    assert "the one has to clear the other by 25 mm at most, and they are 25.4 mm apart" in flag.sentence


def test_an_allowance_that_cannot_be_read_allows_what_is_written_and_no_more() -> None:
    vague = parts(kind="quantity", unit="mm", within="a whisker")
    built = [a_decision("b", BRACKET, build="40 in")]

    assert raised(*vague, *built, a_decision("f", FRAME, build="1016.4 mm")) == {}
    assert raised(*vague, *built, a_decision("f", FRAME, build="1017 mm")) != {}


def test_figures_of_texts_are_compared_where_both_can_be_read() -> None:
    assert raised(*parts(), said("40 in", BRACKET), said("1016 mm", FRAME)) == {}
    assert raised(*parts(), said("40 in", BRACKET), said("41 in", FRAME)) != {}
    assert raised(*parts(), said("40 in", BRACKET), said("40 inches or so", FRAME)) != {}


def test_what_measures_something_else_cannot_be_compared_and_that_is_said() -> None:
    flag = raised(*parts(), said("40 in", BRACKET), said("40 kg", FRAME))[BRACKET]

    assert "the one is a length and the other a mass, which cannot be compared" in flag.sentence


def test_nothing_is_bolted_to_what_is_absent() -> None:
    bolted = parts("bolts-to", other="presence")

    assert (
        "the one has to be bolted to the other"
        in raised(*bolted, said("four", BRACKET), said("absent", FRAME))[BRACKET].sentence
    )
    assert raised(*bolted, said("four", BRACKET), said("present", FRAME)) == {}
    assert raised(*parts(other="presence"), said("four", BRACKET), said("absent", FRAME)) == {}
    assert set(raised(*parts("bolts-to"), said("four", BRACKET), said("five", FRAME))) == {BRACKET, FRAME}
    assert set(raised(*parts(kind="presence"), said("present", BRACKET), said("absent", FRAME))) == {BRACKET, FRAME}


@pytest.mark.parametrize("value", ["round [...]", None])
def test_what_is_not_known_or_cannot_be_read_whole_clashes_with_nothing(value: str | None) -> None:
    theirs = [said(value, FRAME)] if value else []

    assert raised(*parts(), said("square", BRACKET), *theirs) == {}


def test_a_part_that_fits_badly_does_not_mate_until_another_fits() -> None:
    bad = Made(date=TODAY, value="39 in", fits="badly")
    well = Made(date=TODAY, value="40 in", fits="well")

    misfit = raised(*parts(), a_decision("b", BRACKET, build="40 in", made=(well, bad)))
    mended = raised(*parts(), a_decision("b", BRACKET, build="40 in", made=(bad, well)))

    assert misfit[BRACKET].sentence == (
        "“Holes”: what was made to “39 in” on 2026-11-25 fits badly (it has to fit frame/hole)."
    )
    assert misfit[BRACKET].severity is Level.STOP
    assert mended == {}


def test_a_misfit_of_a_part_without_mates_is_told_all_the_same() -> None:
    made = (Made(date=TODAY, fits="badly"),)

    flag = raised(a_component(), a_decision(made=made))["headlamp/type"]

    assert flag.sentence == "“Headlamp type”: what was made on 2026-11-25 fits badly."


def test_a_mate_is_known_from_either_side_and_once() -> None:
    both = a_component("frame", a_feature("hole", kind="text", mates=(Mate(mate=BRACKET, rule="equal"),)))
    archive = an_archive(parts()[0], both)

    mates = mates_of(archive)

    assert {about: [mate.mate for mate in found] for about, found in mates.items()} == {
        BRACKET: [FRAME],
        FRAME: [BRACKET],
    }


def test_a_mate_that_is_not_there_is_passed_over() -> None:
    archive = an_archive(parts()[0], said("round", BRACKET))

    assert list(mate_flags(archive, [judge_feature(archive, BRACKET)], judge_all(archive).__getitem__)) == []
