import pytest
from PIL import Image, ImageDraw
from reading.printed_pages import book_page, laid_down, parts_list, typescript

from provenance.reading.leaning import busiest_band, see_lay

LEANS = [-7.0, -5.0, -3.0, -1.0, 0.0, 0.4, 1.0, 3.0, 5.0, 7.0]


@pytest.mark.parametrize("degrees", LEANS)
@pytest.mark.parametrize("make", [typescript, book_page, parts_list])
def test_the_lean_of_a_page_is_seen_to_a_fifth_of_a_degree(make: type, degrees: float) -> None:
    page = laid_down(make(4), degrees)

    seen = see_lay(page.image).seen(across=False)

    assert seen == pytest.approx(degrees, abs=0.2)


@pytest.mark.parametrize("degrees", [-4.0, 0.0, 4.0])
@pytest.mark.parametrize("quarter", [90, -90])
def test_lines_that_run_up_or_down_are_clearer_than_any_along_and_lean_alike(quarter: int, degrees: float) -> None:
    page = laid_down(book_page(4), quarter + degrees)

    lay = see_lay(page.image)

    assert lay.across.fit > 2.5 * lay.along.fit
    assert lay.seen(across=True) == pytest.approx(degrees, abs=0.2)


@pytest.mark.parametrize("black", [0, 255])
def test_the_tone_of_the_corners_of_a_leaning_scan_does_not_matter(black: int) -> None:
    page = laid_down(typescript(4), 4.0, paper=black)

    assert see_lay(page.image).seen(across=False) == pytest.approx(4.0, abs=0.2)


def test_a_page_on_which_nothing_stands_shows_no_lean() -> None:
    lay = see_lay(Image.new("L", (1200, 1600), 255))

    assert lay.seen(across=False) is None
    assert lay.seen(across=True) is None


@pytest.mark.parametrize("size", [(1, 1), (3, 900), (900, 3), (15, 15), (20000, 17)])
def test_a_strip_or_a_speck_is_no_page_that_leans(size: tuple[int, int]) -> None:
    assert see_lay(Image.new("L", size, 128)).seen(across=False) is None


def test_one_long_line_aslant_in_a_picture_says_nothing_of_how_the_page_lies() -> None:
    picture = Image.new("L", (1200, 900), 200)
    ImageDraw.Draw(picture).line((100, 300, 1100, 380), fill=20, width=5)

    lay = see_lay(picture)

    assert lay.along.is_sharp
    assert lay.seen(across=False) is None


def test_the_edges_of_a_sheet_that_stand_square_tell_how_it_lies_though_they_are_few() -> None:
    picture = Image.new("L", (1400, 1400), 20)
    picture.paste(Image.new("L", (900, 1100), 220), (250, 150))

    lay = see_lay(picture.rotate(3, Image.Resampling.BICUBIC, fillcolor=20))

    assert not lay.along.is_of_lines
    assert lay.seen(across=False) == pytest.approx(3.0, abs=0.2)


def test_the_busiest_band_is_where_the_lines_are() -> None:
    picture = Image.new("L", (1000, 2000), 230)
    for number in range(8):
        ImageDraw.Draw(picture).text((100, 1500 + 30 * number), "a line of text " * 8, fill=20)

    top, bottom = busiest_band(picture, 0.15)

    assert top > 1400
    assert bottom < 1800
    assert bottom - top == pytest.approx(300, abs=3)
