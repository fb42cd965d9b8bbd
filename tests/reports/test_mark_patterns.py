"""The patterns of marks: told apart without colour, and bars as long as what they count."""

from xml.etree import ElementTree as ET

import pytest

from provenance.records.days import Day
from provenance.reports.machine import VIEWS, view_of
from provenance.reports.mark_patterns import MARKS, bar, pattern, swatch


def parts(drawing: str) -> list[ET.Element]:
    return list(ET.fromstring(drawing).iter())


def look(mark: str) -> tuple[str, str]:
    """The class of the ground, and what stands on it: what tells a pattern apart."""
    ground, *drawn = list(ET.fromstring(pattern("x", mark)))
    return ground.get("class") or "", "".join(ET.tostring(each, encoding="unicode") for each in drawn)


@pytest.mark.parametrize("name", VIEWS)
def test_no_two_marks_of_a_view_look_alike(name: str) -> None:
    view = view_of(name, Day(2026, 11, 27))
    assert view

    looks = [look(each.id) for each in view.marks]

    assert len(set(looks)) == len(looks)


@pytest.mark.parametrize("name", VIEWS)
def test_what_has_lines_dots_or_shapes_on_it_has_them_unlike_every_other_mark_of_the_view(name: str) -> None:
    # In black and white only what is drawn tells marks apart; blank are the well known, and what is not judged.
    view = view_of(name, Day(2026, 11, 27))
    assert view

    drawn = {each.id: look(each.id)[1] for each in view.marks}

    blank = {mark for mark, what in drawn.items() if not what}
    assert blank <= {"established", "firm", "unjudged"}
    assert len({what for what in drawn.values() if what}) == len(drawn) - len(blank)


def test_patterns_take_their_colours_from_the_page() -> None:
    for mark in MARKS:
        for part in parts(pattern("x", mark)):
            assert part.get("style") is None
            assert part.get("fill") in {None, "none", "#ffffff"}
            assert part.get("stroke") in {None, "currentColor"}


def test_a_swatch_and_a_bar_are_for_the_eye_alone_and_their_ids_begin_as_asked() -> None:
    for drawing in (swatch("here", "probable"), bar("here", {"probable": 1, "contested": 2})):
        top = ET.fromstring(drawing)
        assert top.get("aria-hidden") == "true"
        ids = [each for part in top.iter() if (each := part.get("id"))]
        assert ids
        assert all(each.startswith("here-") for each in ids)
        fills = {each for part in top.iter() if (each := part.get("fill") or "").startswith("url")}
        assert fills == {f"url(#{each})" for each in ids}


def test_a_bar_is_parted_in_proportion_and_leaves_out_what_nothing_has() -> None:
    cells = [part for part in parts(bar("b", {"established": 3, "possible": 0, "contested": 1}, width=401))
             if part.get("class") == "cell"]  # fmt: skip

    assert [float(each.get("width") or 0) for each in cells] == [300, 100]
    assert [float(each.get("x") or 0) for each in cells] == [0.5, 300.5]


def test_a_bar_of_nothing_is_not_drawn() -> None:
    assert bar("b", {"established": 0}) == ""
