"""Flags put in another order by the heads of a table."""

from builders import a_date

from provenance.reports.flagged import ORDERS, in_order
from provenance.rules.flag_values import Flag, Level


def a_flag(
    about: str,
    rule: str = "single-source",
    needed: str | None = None,
    level: Level = Level.WARN,
    sources: tuple[str, ...] = (),
) -> Flag:
    needed_by = a_date(needed) if needed else None
    return Flag(flag=rule, severity=level, about=about, sentence=about, mend="", needed_by=needed_by, sources=sources)


FLAGS = (
    a_flag("lamp/rim", "single-source", "2028", Level.STOP),
    a_flag("photo", "unread-page", sources=("photo",)),
    a_flag("axle/bore", "contested", "2027-05"),
    a_flag("axle/age", "single-source", "2027-05", Level.NOTE),
    a_flag("axle", "hazard-no-caution", "../2026", Level.NOTE),
)


def order(by: str) -> list[str]:
    return [flag.about for flag in in_order(FLAGS, by)]


def test_by_level_they_stay_as_they_were_raised() -> None:
    assert order("level") == ["lamp/rim", "photo", "axle/bore", "axle/age", "axle"]


def test_by_need_the_soonest_comes_first_and_what_has_no_date_last() -> None:
    assert order("needed") == ["axle", "axle/bore", "axle/age", "lamp/rim", "photo"]


def test_by_component_those_of_one_stand_together_and_sources_come_last() -> None:
    assert order("component") == ["axle", "axle/age", "axle/bore", "lamp/rim", "photo"]


def test_by_rule_those_of_one_sort_stand_together_as_they_were_raised() -> None:
    assert order("rule") == ["axle/bore", "axle", "lamp/rim", "axle/age", "photo"]


def test_no_order_loses_or_doubles_a_flag() -> None:
    for by in ORDERS:
        assert sorted(map(id, in_order(FLAGS, by))) == sorted(map(id, FLAGS))
