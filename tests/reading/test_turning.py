import pytest
from PIL import Image
from reading.printed_pages import laid_down, typescript

from provenance.reading.turning import AS_DELIVERED, Turn, level_width, place_back, turned
from provenance.records.readings import Box

SPOT = (700, 200, 780, 260)  # left, top, right, bottom on a page of 1000 by 1600
PAGE = (1000, 1600)


def spotted() -> Image.Image:
    page = Image.new("L", PAGE, 220)
    page.paste(0, SPOT)
    return page


def box_of_spot(page: Image.Image) -> Box:
    left, top, right, bottom = page.point(lambda level: 255 if level < 110 else 0).getbbox() or (0, 0, 0, 0)
    wide, high = page.width / 100, page.height / 100
    return Box(left / wide, top / high, (right - left) / wide, (bottom - top) / high)


@pytest.mark.parametrize("quarters", [0, 1, 2, 3])
def test_a_place_goes_back_exactly_after_turns_by_quarters(quarters: int) -> None:
    page = turned(spotted(), Turn(quarters))

    back = place_back(box_of_spot(page), Turn(quarters), page.size, PAGE)

    assert (back.x, back.y, back.w, back.h) == (70.0, 12.5, 8.0, 3.75)


def test_a_quarter_to_the_right_brings_the_left_edge_to_the_top() -> None:
    page = Image.new("L", (40, 20), 255)
    page.putpixel((0, 3), 0)

    upright = turned(page, Turn(1))

    assert upright.size == (20, 40)
    assert upright.getpixel((20 - 1 - 3, 0)) == 0


@pytest.mark.parametrize("degrees", [-7.0, -2.5, 2.5, 7.0])
@pytest.mark.parametrize("quarters", [0, 1, 2, 3])
def test_a_place_goes_back_to_the_rectangle_round_it_after_any_turn(quarters: int, degrees: float) -> None:
    page = turned(spotted(), Turn(quarters, degrees))

    back = place_back(box_of_spot(page), Turn(quarters, degrees), page.size, PAGE)

    assert (back.x + back.w / 2, back.y + back.h / 2) == pytest.approx((74, 14.375), abs=0.3)
    assert back.x <= 70.1
    assert back.x + back.w >= 77.9
    assert back.w < 11
    assert back.h < 6


def test_turning_to_the_right_is_clockwise() -> None:
    page = Image.new("L", (400, 400), 255)
    page.paste(0, (190, 10, 210, 30))

    at = box_of_spot(turned(page, Turn(0, 7.0)))

    assert at.x + at.w / 2 > 52


def test_no_place_lies_off_the_page() -> None:
    page = turned(spotted(), Turn(0, 7.0))

    back = place_back(Box(0, 0, 100, 100), Turn(0, 7.0), page.size, PAGE)

    assert back == Box(0.0, 0.0, 100.0, 100.0)


def test_what_was_not_turned_is_left_as_it_is() -> None:
    page, box = spotted(), Box(1.2345, 2, 3, 4)

    assert turned(page, AS_DELIVERED) is page
    assert place_back(box, AS_DELIVERED, PAGE, PAGE) is box


def test_the_corners_that_come_in_have_the_tone_of_the_paper() -> None:
    page = turned(spotted(), Turn(0, 5.0))

    assert page.size > PAGE
    assert page.getpixel((0, 0)) == 220


@pytest.mark.parametrize("degrees", [0.0, -3.0, 7.0])
def test_the_width_of_a_page_is_found_again_after_it_was_laid_down_aslant(degrees: float) -> None:
    page = typescript(1, dpi=100)

    scan = laid_down(page, degrees).image.size

    assert level_width(scan, Turn(0, degrees)) == pytest.approx(page.image.width, abs=3)
    assert level_width(scan[::-1], Turn(1, degrees)) == pytest.approx(page.image.width, abs=3)


@pytest.mark.parametrize(
    ("turn", "said"),
    [
        (AS_DELIVERED, ""),
        (Turn(0, 3.4), "turned by 3.4 degrees to the right for reading"),
        (Turn(0, -1.0), "turned by 1.0 degrees to the left for reading"),
        (Turn(1), "the page lies sideways: turned a quarter to the right for reading"),
        (Turn(2), "the page lies upside down: turned by half for reading"),
        (
            Turn(3, -2.0),
            "the page lies sideways: turned a quarter to the left for reading, and by 2.0 degrees to the left",
        ),
    ],
)
def test_it_is_said_in_plain_words_what_was_done(turn: Turn, said: str) -> None:
    assert turn.in_words() == said
