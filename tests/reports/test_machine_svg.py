"""The machine drawn: every feature once, within its component, marked, and leading to its page."""

import re
from collections import Counter
from dataclasses import replace
from xml.etree import ElementTree as ET

import pytest
from builders import a_claim, a_component, a_date, a_feature, a_source, an_archive
from reports.hostile import HOSTILE

from provenance.records.components import Component
from provenance.records.days import Day
from provenance.reports.machine import Part, View, compose_machine, view_of
from provenance.reports.machine_svg import SMALLEST_CELL, WIDTH, Links, MachineDrawing, draw_machine
from provenance.reports.svg_lettering import width_of
from provenance.rules.judging import judge_all

LINKS = Links(feature="/fittings/", component="/fittings/", part="/machine?by=grade&of=")


def by(name: str = "grade") -> View:
    view = view_of(name, Day(2026, 11, 27))
    assert view
    return view


def drawn(*components: Component, view: str = "grade") -> MachineDrawing:
    return draw_machine(compose_machine(an_archive(*components), {}), by(view), LINKS)


def elements(drawing: MachineDrawing, tag: str) -> list[ET.Element]:
    return list(ET.fromstring(drawing.svg).iter(tag))


def rectangles(drawing: MachineDrawing, name: str) -> list[tuple[float, float, float, float]]:
    return [
        (x, y, x + wide, y + high)
        for each in elements(drawing, "rect")
        if name in (each.get("class") or "").split()
        for x, y, wide, high in [tuple(float(each.get(side) or 0) for side in ("x", "y", "width", "height"))]
    ]


def within(inner: tuple[float, ...], outer: tuple[float, ...]) -> bool:
    return outer[0] <= inner[0] and outer[1] <= inner[1] and inner[2] <= outer[2] and inner[3] <= outer[3]


def links(drawing: MachineDrawing) -> dict[str, str]:
    return {each.get("href") or "": each.findtext("title") or "" for each in elements(drawing, "a")}


def many(number: int, *, above: str | None = None) -> list[Component]:
    features = [a_feature(each, name=f"Feature {each}") for each in ("a", "b", "c")]
    return [a_component(f"c{each}", *features, part_of=above) for each in range(number)]


def test_every_feature_is_a_cell_that_leads_to_its_page_and_is_named_with_value_and_grade() -> None:
    archive = an_archive(
        a_component("lamp", a_feature("rim", name="Rim"), name="Lamp", needed_by="2027-03"),
        a_source("letter", "letter"),
        a_claim("oil", "letter", about="lamp/rim"),
    )

    drawing = draw_machine(compose_machine(archive, judge_all(archive)), by(), LINKS)

    assert links(drawing)["/fittings/lamp/rim"] == "Lamp, Rim: Oil; uncorroborated; needed by March 2027"
    assert links(drawing)["/fittings/lamp"] == "Lamp: one feature: 1 uncorroborated"


def test_the_cells_of_a_component_lie_within_it_and_none_on_another() -> None:
    drawing = drawn(a_component("body"), *many(9, above="body"), a_component("axle", part_of="body"))

    cells, (outer, *_) = rectangles(drawing, "cell"), rectangles(drawing, "part")
    assert len(cells) == 29
    for number, (left, top, right, bottom) in enumerate(cells):
        assert outer[0] - 0.1 <= left < right <= outer[2] + 0.1
        assert outer[1] - 0.1 <= top < bottom <= outer[3] + 0.1
        for other in cells[:number]:
            across, down = min(right, other[2]) - max(left, other[0]), min(bottom, other[3]) - max(top, other[1])
            assert min(across, down) <= 0.15  # places are rounded to a tenth


def test_each_mark_is_one_shape_filled_with_its_pattern() -> None:
    drawing = drawn(*many(40))

    (field,) = [each for each in elements(drawing, "path") if (each.get("fill") or "").startswith("url(#")]
    assert field.get("fill") == "url(#machine-grade-unjudged)"
    assert (field.get("d") or "").count("M") == 120
    assert [each.get("id") for each in elements(drawing, "pattern")] == ["machine-grade-unjudged"]


def test_components_with_more_features_have_more_room() -> None:
    few, more = a_component("few"), a_component("more", *[a_feature(f"f{each}") for each in range(8)])

    areas = sorted((right - left) * (bottom - top) for left, top, right, bottom in rectangles(drawn(few, more), "part"))

    assert areas[1] / areas[0] == pytest.approx(8, rel=0.01)


def test_a_component_without_features_is_small_and_says_so() -> None:
    drawing = drawn(a_component("lamp"), replace(a_component("crate", name="Crate"), features=()))

    empty, full = rectangles(drawing, "empty"), rectangles(drawing, "part")
    assert links(drawing)["/fittings/crate"] == "Crate: no feature is entered"
    assert len(empty) == 1
    assert (empty[0][2] - empty[0][0]) < (full[0][2] - full[0][0])


def test_what_is_too_small_to_be_drawn_apart_is_one_field_parted_by_its_marks_and_is_counted() -> None:
    archive = an_archive(
        *[a_component(f"p{each}", part_of=f"p{each - 1}" if each else None) for each in range(200)],
        a_component("lamp", needed_by="2027-01"),
    )

    drawing = draw_machine(compose_machine(archive, judge_all(archive)), by("needed"), LINKS)

    assert drawing.merged == 1
    (merged,) = [address for address in links(drawing) if address.startswith("/machine")]
    number = int(merged.rpartition("of=p")[2])
    assert drawing.merged_features == 200 - number
    assert links(drawing)[merged].startswith(f"P{number}: {200 - number} features: {200 - number} thin")
    drawn_apart = [address for address in links(drawing) if address.endswith("/type")]
    assert len(drawn_apart) + drawing.merged_features == 201


def test_no_cell_is_smaller_than_can_be_seen_and_the_picture_is_no_higher_than_pages_bear() -> None:
    features = [a_feature(f"f{each}") for each in range(30)]

    drawing = drawn(*[a_component(f"c{each}", *features) for each in range(1500)])

    # 1,200 by 1,600 pixels for 45,000 features are 42.7 square pixels each: less than 7 by 7.
    height = float(ET.fromstring(drawing.svg).get("height") or 0)
    assert (WIDTH, height, SMALLEST_CELL) == (1200, 1600, 7)
    assert (drawing.merged, drawing.merged_features) == (1500, 45000)


def test_a_thousand_components_of_three_features_are_all_drawn_apart() -> None:
    drawing = drawn(*many(1000))

    assert drawing.merged == 0
    assert len(links(drawing)) == 3000


def test_words_stand_in_cells_only_where_they_fit_whole() -> None:
    drawing = drawn(
        a_component("a", a_feature("x", name="Bore"), name="Axle"),
        a_component("b", a_feature("y", name="Unbreakable" * 12), name="Body"),
    )

    words = [each.text or "" for each in elements(drawing, "text")]
    assert words.count("Bore") == 1
    assert not [each for each in words if "Unbreak" in each]
    for left, top, right, bottom in rectangles(drawing, "plate"):
        assert any(within((left, top, right, bottom), cell) for cell in rectangles(drawing, "cell"))


def test_names_of_components_end_where_their_field_ends() -> None:
    drawing = drawn(*[a_component(f"c{each}", name="The long name of a fitting " * 4) for each in range(30)])

    fields = rectangles(drawing, "part")
    for each in elements(drawing, "text"):
        if each.get("font-weight"):
            left = float(each.get("x") or 0)
            right = left + width_of(each.text or "", 11)
            assert any(field[0] <= left and right <= field[2] for field in fields)


def test_ids_are_unlike_from_view_to_view_and_stand_once() -> None:
    ids = []
    for view in ("grade", "needed", "prominence"):
        ids += re.findall(r'\bid="([^"]+)"', drawn(*many(3), view=view).svg)

    assert max(Counter(ids).values()) == 1


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE.keys())
def test_no_name_or_value_gets_a_life_of_its_own(text: str) -> None:
    archive = an_archive(
        a_component("lamp", a_feature("rim", "text", name=text), name=text),
        replace(a_component("crate", name=text), features=()),
        a_source("letter", "letter"),
        a_claim(text, "letter", about="lamp/rim", claim_id="c"),
    )

    drawing = draw_machine(compose_machine(archive, judge_all(archive)), by(), LINKS)

    top = ET.fromstring(drawing.svg)
    known = {"svg", "title", "desc", "defs", "pattern", "rect", "path", "circle", "a", "text"}
    assert {each.tag for each in top.iter()} <= known
    for each in top.iter():
        assert not [name for name in each.attrib if name.startswith("on") or name == "style"]
        assert not each.get("href") or re.fullmatch(r"/fittings/[a-z/]+", each.get("href") or "")
    assert not re.search("[\x00-\x08\x0e-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ud800-\udfff]", drawing.svg)


def test_the_whole_machine_without_components_is_an_empty_frame() -> None:
    drawing = draw_machine(Part(id="", name="x", cells=(), parts=(), features=0, without=0), by(), LINKS)

    assert elements(drawing, "a") == []
    assert drawing.merged == 0


def test_when_a_part_is_needed_is_told_in_words() -> None:
    drawing = drawn(replace(a_component("lamp"), needed_by=a_date("2027-03~")))

    assert links(drawing)["/fittings/lamp/type"].endswith("; not judged; needed by about March 2027")
