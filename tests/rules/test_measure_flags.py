"""Measures that disagree, and what is not known closely enough to be built."""

from dataclasses import replace

from builders import Record, a_claim, a_component, a_feature, a_source, an_archive, an_item, seen_on

from provenance.records.kinds import Condition
from provenance.rules.flag_values import Flag, Level
from provenance.rules.judging import judge_feature
from provenance.rules.measure_flags import measure_flags

HEIGHT = "lamp/height"


def survey(value: str, uncertainty: str, name: str) -> tuple[Record, Record]:
    measured = a_claim(value, an_item(name, "measured", seen=seen_on("9")), about=HEIGHT)
    return a_source(name, "survey"), replace(measured, uncertainty=uncertainty)


def raised(*records: Record, needed: str | None = None) -> dict[str, Flag]:
    lamp = a_component("lamp", a_feature("height", "quantity", "dimension", name="Height", unit="mm", needed=needed))
    return {flag.flag: flag for flag in measure_flags(judge_feature(an_archive(lamp, *records), HEIGHT))}


def test_measurements_that_agree_raise_nothing() -> None:
    """1000 and 1001, give or take 1: u = .577 each; chi-square = 1 / (2 x .333) = 1.5 with one degree: p = .22."""
    assert raised(*survey("1000 mm", "1 mm", "one"), *survey("1001 mm", "1 mm", "two")) == {}


def test_measurements_that_differ_by_more_than_their_limits_are_told_with_their_figures() -> None:
    """A chain of three, each near the next: 1000, 1001.5 and 1003, give or take 1, so u = .577 and variance 1/3.

    Each step of 1.5 is under 2 x root(2/3) = 1.633, so they are one value; the mean is 1001.5, chi-square
    (2.25 + 0 + 2.25) x 3 = 13.5 with two degrees: p = exp(-6.75) = .0012.
    """
    flags = raised(
        *survey("1000 mm", "1 mm", "one"), *survey("1001.5 mm", "1 mm", "two"), *survey("1003 mm", "1 mm", "three")
    )

    assert set(flags) == {"measurements-disagree"}
    flag = flags["measurements-disagree"]
    assert flag.severity is Level.WARN
    assert flag.sentence == (
        "“Height”: the measurements 1000 mm, 1001.5 mm and 1003 mm differ by more than their own limits of error allow."
    )
    assert flag.sources == ("one", "three", "two")


def test_what_is_known_less_closely_than_it_is_needed_is_told() -> None:
    """One survey, give or take 6 mm: u = 6 / root 3 = 3.46, U = 6.9 mm; 5 mm is needed, 7 mm would do."""
    flags = raised(*survey("1000 mm", "6 mm", "one"), needed="5 mm")

    assert set(flags) == {"not-known-closely-enough"}
    assert "is known to 6.9 mm either way, and 5.0 mm is needed." in flags["not-known-closely-enough"].sentence
    assert raised(*survey("1000 mm", "6 mm", "one"), needed="7 mm") == {}


def test_where_no_figure_is_supported_nothing_is_said_of_it() -> None:
    assert raised(needed="1 mm") == {}
    assert list(measure_flags(judge_feature(an_archive(a_claim("acetylene", "plan")), "headlamp/type"))) == []


def test_where_only_a_worn_piece_was_measured_nobody_knows_how_closely_it_is_known() -> None:
    worn = an_item("stub", "measured", seen=seen_on("9"), condition=Condition.WORN)

    flags = raised(a_source("stub", "artefact"), a_claim("1000 mm", worn, about=HEIGHT), needed="5 mm")

    assert flags["not-known-closely-enough"].sentence == (
        "“Height”: “1000 mm” is told by nothing sound that was measured, so nobody knows how closely it is known, "
        "and 5.0 mm is needed."
    )
