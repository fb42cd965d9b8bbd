"""The machine put together from its components, and the ways to look at it."""

from dataclasses import replace
from typing import Any

import pytest
from builders import a_claim, a_component, a_date, a_feature, a_source, an_archive
from hypothesis import given
from hypothesis import strategies as st

from provenance.records.archive import Archive
from provenance.records.days import Day, days_in_month
from provenance.reports.machine import VIEWS, Cell, Part, compose_machine, plus_months, view_of, way_to
from provenance.reports.mark_patterns import MARKS
from provenance.rules.grades import STRENGTH, Grade
from provenance.rules.judging import judge_all

TODAY = Day(2026, 11, 27)


def a_cell(grade: Grade | None = Grade.UNSUPPORTED, needed: str | None = None, prominence: str | None = None) -> Cell:
    return Cell(
        about="lamp/rim",
        name="Rim",
        component="Lamp",
        shown=None,
        grade=grade,
        needed_by=a_date(needed) if needed else None,
        prominence=prominence,
    )


def mark(view: str, **fields: Any) -> str:
    found = view_of(view, TODAY)
    assert found
    return found.mark_of(a_cell(**fields))


def a_car(**fields: Any) -> Archive:
    return an_archive(
        a_component("car", name="Car"),
        a_component("lamp", a_feature("rim"), a_feature("lens"), name="Lamp", part_of="body", **fields),
        a_component("body", a_feature("width"), name="Body", part_of="car"),
        a_component("axle", a_feature("bore"), name="axle", part_of="car"),
    )


def shape(part: Part) -> dict[str, Any]:
    return {each.id: shape(each) for each in part.parts}


def test_parts_stand_in_what_they_are_part_of_in_order_of_name() -> None:
    machine = compose_machine(a_car(), {})

    assert shape(machine) == {"car": {"axle": {}, "body": {"lamp": {}}}}
    assert list(shape(machine)["car"]) == ["axle", "body"]
    assert [cell.about for cell in machine.all_cells()] == [
        "car/type", "axle/bore", "body/width", "lamp/rim", "lamp/lens",
    ]  # fmt: skip


def test_a_part_counts_its_own_features_and_those_of_its_parts() -> None:
    machine = compose_machine(a_car(), {})

    assert {part.id: part.features for part in machine.all_parts()} == {
        "": 5, "car": 5, "axle": 1, "body": 3, "lamp": 2,
    }  # fmt: skip


def test_components_without_any_feature_in_them_are_counted() -> None:
    above = {"car": None, "crate": "car", "nail": "crate"}
    bare = [replace(a_component(each, part_of=up), features=()) for each, up in above.items()]
    archive = an_archive(*bare, a_component("lamp", part_of="car"))

    machine = compose_machine(archive, {})

    assert (machine.features, machine.without) == (1, 2)


def test_a_circle_of_parts_and_a_part_of_nothing_stand_at_the_top_and_nothing_is_left_out() -> None:
    archive = an_archive(
        a_component("a", part_of="b"),
        a_component("b", part_of="c"),
        a_component("c", part_of="b"),
        a_component("d", part_of="gone"),
        a_component("e", part_of="e"),
    )

    machine = compose_machine(archive, {})

    assert shape(machine) == {"d": {}, "a": {}, "b": {"c": {}}, "e": {}}
    assert machine.features == 5


def test_a_thousand_parts_within_one_another_are_no_trouble() -> None:
    above = {f"p{number}": f"p{number - 1}" for number in range(1, 3000)}
    archive = an_archive(a_component("p0"), *(a_component(each, part_of=up) for each, up in above.items()))

    machine = compose_machine(archive, {})

    assert machine.features == 3000
    assert len(way_to(machine, "p2999")) == 3001


def test_a_cell_says_what_the_verdict_says() -> None:
    archive = an_archive(
        a_component(needed_by="2027-03", prominence="focal"), a_source("letter", "letter"), a_claim("oil", "letter")
    )
    verdict = judge_all(archive)["headlamp/type"]

    (cell,) = compose_machine(archive, {"headlamp/type": verdict}).all_cells()

    assert (cell.shown, cell.grade) == (verdict.shown, verdict.grade)
    assert (cell.shown, cell.grade) == ("Oil", Grade.UNCORROBORATED)
    assert (str(cell.needed_by), cell.prominence, cell.is_thin) == ("2027-03", "focal", True)


@pytest.mark.parametrize("grade", STRENGTH)
def test_evidence_is_thin_below_probable(grade: Grade) -> None:
    assert a_cell(grade).is_thin is (grade not in {Grade.PROBABLE, Grade.ESTABLISHED})


def test_by_grade_each_feature_has_its_grade() -> None:
    assert [mark("grade", grade=grade) for grade in STRENGTH] == [grade.value for grade in STRENGTH]
    assert mark("grade", grade=None) == "unjudged"


@pytest.mark.parametrize(
    ("needed", "expected"),
    [
        ("2026-11-26", "first"),  # overdue
        ("2027-05-27", "first"),  # six months from 27 November 2026
        ("2027-05-28", "second"),
        ("2027-05", "first"),  # of a month the first day counts
        ("2027-11-27", "second"),
        ("2027-11-28", "third"),
        ("2031", "third"),
        ("../2027-01", "first"),  # without a beginning its end counts
        (None, "unsaid"),
    ],
)
def test_by_date_what_is_thin_is_told_apart_by_the_months_left(needed: str | None, expected: str) -> None:
    assert mark("needed", grade=Grade.INFERRED, needed=needed) == expected
    assert mark("needed", grade=Grade.PROBABLE, needed=needed) == "firm"
    assert mark("needed", grade=None, needed=needed) == "unjudged"


@pytest.mark.parametrize(
    ("prominence", "expected"), [("focal", "first"), ("visible", "second"), ("hidden", "third"), (None, "unsaid")]
)
def test_by_prominence_what_is_thin_is_told_apart_by_what_visitors_see(prominence: str | None, expected: str) -> None:
    assert mark("prominence", grade=Grade.CONTESTED, prominence=prominence) == expected
    assert mark("prominence", grade=Grade.ESTABLISHED, prominence=prominence) == "firm"
    assert mark("prominence", grade=None, prominence=prominence) == "unjudged"


def test_every_mark_of_every_view_can_be_drawn_and_no_other_view_is_known() -> None:
    for name in VIEWS:
        view = view_of(name, TODAY)
        assert view
        assert {each.id for each in view.marks} <= MARKS
        assert len({each.words for each in view.marks}) == len(view.marks)
    assert view_of("colour", TODAY) is None


def test_the_counts_of_a_part_name_every_mark() -> None:
    view = view_of("needed", TODAY)
    assert view

    assert view.counted(compose_machine(a_car(), {})) == {
        "first": 0, "second": 0, "third": 0, "unsaid": 0, "firm": 0, "unjudged": 5,
    }  # fmt: skip


def test_the_way_to_a_part_leads_through_all_that_it_is_part_of() -> None:
    machine = compose_machine(a_car(), {})

    assert [part.id for part in way_to(machine, "lamp")] == ["", "car", "body", "lamp"]
    assert [part.id for part in way_to(machine, "")] == [""]
    assert way_to(machine, "wheel") == ()


@given(st.integers(1, 4000), st.integers(1, 12), st.integers(1, 31), st.integers(0, 40))
def test_some_months_later_is_the_same_day_or_the_last_of_its_month(y: int, m: int, d: int, months: int) -> None:
    day = min(d, days_in_month(y, m))

    later = plus_months(Day(y, m, day), months)

    count = m + months
    while count > 12:  # by hand: a year at a time
        y, count = y + 1, count - 12
    assert later == Day(y, count, min(day, days_in_month(y, count)))
