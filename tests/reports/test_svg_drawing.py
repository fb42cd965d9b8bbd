"""What every drawing shares, against an XML parser and the rules of XML for names."""

import re
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reports.pages import any_text

from provenance.reports.svg_drawing import (
    PAGE,
    Block,
    Frame,
    Lettering,
    fitted,
    framed,
    prefix_of,
    rounded,
    text_block,
    text_line,
)
from provenance.reports.svg_signs import SHAPES, sign

SVG = "{http://www.w3.org/2000/svg}"


def test_a_page_is_170_by_240_mm_at_96_pixels_to_the_inch_of_25_point_4_mm() -> None:
    assert pytest.approx((642.5197, 907.0866), abs=1e-4) == PAGE


@pytest.mark.parametrize(
    ("width", "height", "scale"),
    [(600, 900, 1.0), (600, 1000, 0.9071), (1000, 900, 0.6425), (600, 2000, 0.6), (5000, 100, 0.6)],
)
def test_a_drawing_is_made_smaller_to_the_page_but_not_to_less_than_can_be_read(
    width: float, height: float, scale: float
) -> None:
    assert fitted(width, height) == pytest.approx(scale, abs=1e-4)


@pytest.mark.parametrize(("value", "told"), [(0.04, "0.0"), (-0.04, "0.0"), (12.34, "12.3"), (-5, "-5.0")])
def test_places_are_told_to_a_tenth(value: float, told: str) -> None:
    assert rounded(value) == told


@given(st.tuples(any_text, any_text))
def test_the_ids_of_two_drawings_differ_whatever_they_are_of(names: tuple[str, str]) -> None:
    """Source: Extensible Markup Language 1.0 (fifth edition), production 5: an id begins with a letter, and so on."""
    one, other = (prefix_of("descent", name) for name in names)

    assert re.fullmatch(r"[A-Za-z][A-Za-z0-9_-]*", one)
    assert (one == other) == (names[0] == names[1])


@given(any_text, any_text)
def test_a_frame_says_what_it_holds_whatever_that_is_called(title: str, told: str) -> None:
    drawing = ET.fromstring(
        framed(
            Frame(prefix="x", title=title, told=told, width=10, height=20, scale=0.5),
            [text_line(Lettering(title, 9), 0, 9)],
        )
    )

    assert (drawing.get("width"), drawing.get("height"), drawing.get("viewBox")) == ("5.0", "10.0", "0 0 10.0 20.0")
    assert (drawing.get("role"), drawing.get("aria-labelledby")) == ("img", "x-title x-desc")
    assert [part.tag for part in drawing] == [f"{SVG}{name}" for name in ("title", "desc", "rect", "text")]
    assert drawing[0].text == drawing[3].text


def test_lines_stand_one_under_the_other_within_the_room_that_they_take() -> None:
    """Two lines of letters 10 high: 12.8 each; they stand 2.8 above the lower edge."""
    lines = [ET.fromstring(each) for each in text_block([Lettering("a", 10), Lettering("b", 10)], 5, 100)]

    assert [line.get("y") for line in lines] == ["110.0", "122.8"]


def test_a_part_is_put_in_its_place_as_a_whole_and_an_empty_one_leaves_nothing() -> None:
    assert Block(height=5, drawn=("<a/>",)).at(1, 2) == ['<g transform="translate(1.0 2.0)">', "<a/>", "</g>"]
    assert Block(height=5, drawn=()).at(1, 2) == []


def test_the_signs_differ_in_shape_and_not_in_shade_alone() -> None:
    drawn = ["".join(sign(number, 0, 0, is_filled=True)) for number in range(SHAPES + 3)]

    assert len(set(drawn)) == SHAPES + 3
    assert all(ET.fromstring(f"<g>{each}</g>") is not None for each in drawn)
    for each in drawn:
        places = [abs(float(place)) for place in re.findall(r"(?<=[ \",])-?\d+\.\d(?=[ \",])", each)]
        assert max(places) <= 16.0
