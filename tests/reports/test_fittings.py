from dataclasses import replace

from builders import a_claim, a_component, a_date, a_feature, an_archive

from provenance.records.archive import Archive
from provenance.records.components import Component
from provenance.reports.fittings import (
    DEEPEST,
    ROWS,
    Fittings,
    Narrowing,
    compose_fittings,
    feature_lines,
    in_order_of_parts,
    way_down,
)
from provenance.reports.standing import Standing
from provenance.rules.grades import Grade
from provenance.rules.judging import judge_all


def an_assembly(part: str, part_of: str | None = None, **fields: object) -> Component:
    """A component without features."""
    return replace(a_component(part), part_of=part_of, features=(), **fields)  # type: ignore[arg-type]  # fields by name


def a_car() -> Archive:
    """A car of a body with a lamp and a seat, and an underframe."""
    return an_archive(
        an_assembly("car"),
        an_assembly("underframe", "car", references=("U-300",)),
        an_assembly("body", "car"),
        a_component("seat", a_feature("wood", "text"), part_of="body", needed_by="2028-06", also_called=("bench",)),
        a_component("lamp", a_feature("rim", "text"), a_feature("glass", "text"), part_of="body", needed_by="2027-03"),
        a_claim("ash", "drawing", about="seat/wood"),
        a_claim("broad", "drawing", about="lamp/rim"),
    )


def fittings_of(archive: Archive, narrowing: Narrowing | None = None, page: int = 1) -> Fittings:
    asked = narrowing or Narrowing()
    return compose_fittings(archive, Standing(archive="a"), judge_all(archive), asked, page=page)


def drawn(fittings: Fittings) -> list[tuple[str, int, tuple[str, ...]]]:
    return [(row.component.id, row.depth, tuple(line.feature for line in row.features)) for row in fittings.rows]


def test_each_part_stands_below_what_it_is_part_of_in_order_of_names() -> None:
    fittings = fittings_of(a_car())

    assert drawn(fittings) == [
        ("car", 0, ()),
        ("body", 1, ()),
        ("lamp", 2, ("lamp/rim", "lamp/glass")),
        ("seat", 2, ("seat/wood",)),
        ("underframe", 1, ()),
    ]
    assert (fittings.components, fittings.features, fittings.all_features) == (5, 3, 3)
    assert fittings.grades == ((Grade.UNCORROBORATED, 2), (Grade.UNSUPPORTED, 1))
    assert [day.text for day in fittings.needed] == ["2027-03", "2028-06"]


def test_only_features_of_a_grade_stand_there_with_the_assemblies_above_them() -> None:
    fittings = fittings_of(a_car(), Narrowing(grade=Grade.UNSUPPORTED))

    assert drawn(fittings) == [("car", 0, ()), ("body", 1, ()), ("lamp", 2, ("lamp/glass",))]
    assert [row.is_asked for row in fittings.rows] == [False, False, True]
    assert (fittings.components, fittings.features) == (1, 1)
    assert fittings.grades == ((Grade.UNCORROBORATED, 2), (Grade.UNSUPPORTED, 1))  # what else could be asked for


def test_words_are_looked_for_in_names_numbers_other_names_and_values() -> None:
    def found(text: str) -> list[str]:
        return [row.component.id for row in fittings_of(a_car(), Narrowing(text=text)).rows if row.is_asked]

    assert found("ASH") == ["seat"]
    assert found("bench") == ["seat"]
    assert found("u-300") == ["underframe"]
    assert found("lamp broad") == ["lamp"]
    assert found("seat broad") == []


def test_what_is_needed_by_a_day_leaves_out_the_later_and_what_has_no_day() -> None:
    def found(day: str) -> list[str]:
        return [row.component.id for row in fittings_of(a_car(), Narrowing(by=a_date(day))).rows if row.is_asked]

    assert found("2027-03") == ["lamp"]
    assert found("2028") == ["lamp", "seat"]
    assert found("2026") == []
    assert found("2027/..") == []  # a date without an end asks for nothing


def test_what_is_part_of_itself_stands_there_once() -> None:
    turned = an_archive(an_assembly("a", "b"), an_assembly("b", "a"), an_assembly("c", "c"), an_assembly("d", "gone"))

    order = list(in_order_of_parts(turned))

    assert sorted(each for each, _ in order) == ["a", "b", "c", "d"]
    assert [part.id for part in way_down(turned, "a")] == ["b"]
    assert way_down(turned, "c") == ()
    assert sorted(row.component.id for row in fittings_of(turned).rows) == ["a", "b", "c", "d"]


def test_no_row_lies_more_than_one_deeper_than_the_one_before_and_none_too_deep() -> None:
    chain = [an_assembly(f"p{number:02}", f"p{number - 1:02}" if number else None) for number in range(DEEPEST + 5)]

    depths = [row.depth for row in fittings_of(an_archive(*chain)).rows]

    assert depths == [*range(DEEPEST), *[DEEPEST] * 5]


def test_a_long_list_is_parted_and_each_page_names_the_assembly_again() -> None:
    parts = [an_assembly(f"p{number:04}", "car") for number in range(ROWS + 5)]
    archive = an_archive(an_assembly("car"), *parts)

    first, second, beyond = (fittings_of(archive, page=page) for page in (1, 2, 9))

    assert (first.pages, first.components) == (2, ROWS + 6)
    assert len(first.rows) == ROWS
    assert [row.component.id for row in second.rows] == ["car", *(f"p{n:04}" for n in range(ROWS - 1, ROWS + 5))]
    assert [row.is_asked for row in second.rows][:2] == [False, True]
    assert beyond == second


def test_before_a_machine_is_named_features_stand_there_without_a_verdict() -> None:
    archive = a_car()
    fittings = compose_fittings(archive, Standing(archive="a"), {}, Narrowing())

    assert [line.verdict for row in fittings.rows for line in row.features] == [None, None, None]
    assert fittings.grades == ()
    assert [line.verdict for line in feature_lines(archive.components["lamp"], {})] == [None, None]
