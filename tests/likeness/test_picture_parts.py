import numpy as np
import pytest
from likeness.made_pages import MadePage, Place, alike, fitted, photograph
from likeness.page_makers import as_picture, as_tones, scrawl
from likeness.transformations import screened
from PIL import Image, ImageDraw

from provenance.likeness.picture_parts import MOST_PARTS, WHOLE_PAGE, picture_parts
from provenance.records.readings import Box

LAID_IN = (150, 500, 950, 1040)
"""A place in the middle of a page of print: 800 by 540 of 1240 by 1754 pixels."""


def book_page(picture: Image.Image, place: Place = LAID_IN, paper: int = 238) -> tuple[MadePage, Box]:
    """A page of print with a picture between its lines, and where that is."""
    page = MadePage(paper=paper)
    page.write((150, 130, 1090, place[1] - 20))
    page.write((150, place[3] + 20, place[2], place[3] + 50), size=17)
    page.write((150, place[3] + 70, 1090, 1640))
    return page, page.put(picture, place)


def is_near(found: Box, put: Box) -> bool:
    """Whether a part covers a picture to within a few percent."""
    return alike(found, put) >= 0.93


@pytest.mark.parametrize("name", ["camera.png", "coffee.png", "chelsea.png", "rocket.jpg", "brick.png", "moon.png"])
def test_a_photograph_is_a_picture_as_a_whole(name: str) -> None:
    parts = picture_parts(photograph(name))

    assert parts[0] == WHOLE_PAGE


@pytest.mark.parametrize("name", ["gravel.png", "chelsea.png"])
def test_a_print_of_nothing_but_coarse_dots_is_a_picture_as_a_whole(name: str) -> None:
    dots = screened(as_tones(fitted(photograph(name), (1000, 700))), 7)

    assert picture_parts(as_picture(dots)) == (WHOLE_PAGE,)


def test_a_page_of_print_is_no_picture() -> None:
    page = MadePage()
    page.write((150, 130, 1090, 1640))
    page.aged()

    assert picture_parts(page.image, page.words) == ()


def test_a_page_of_which_nothing_could_be_read_is_a_picture() -> None:
    page = MadePage()
    page.write((150, 130, 1090, 1640))

    assert picture_parts(page.image)[0] == WHOLE_PAGE


def _pale(picture: Image.Image) -> Image.Image:
    return picture.point(lambda level: int(110 + level * 0.45))


def _printed(picture: Image.Image) -> Image.Image:
    """With a screen of 85 lines to the inch, scanned at 300 dots to the inch, and shown at half that."""
    dots = screened(as_tones(fitted(picture, (1600, 1080))), 300 / 85)
    return as_picture(dots).resize((800, 540), Image.Resampling.BOX)


@pytest.mark.parametrize("name", ["coffee.png", "chelsea.png", "rocket.jpg", "motorcycle_left.png"])
@pytest.mark.parametrize("made", [fitted, _pale, _printed], ids=["photograph", "faded", "halftone"])
def test_a_photograph_among_lines_of_print_is_cut_out(name: str, made: object) -> None:
    picture = fitted(photograph(name), (800, 540))
    page, put = book_page(_pale(picture) if made is _pale else _printed(picture) if made is _printed else picture)
    page.aged()

    parts = picture_parts(page.image, page.words)

    assert len(parts) == 1
    assert is_near(parts[0], put)


@pytest.mark.parametrize("paper", [150, 225, 255])
def test_it_is_cut_out_whatever_the_paper(paper: int) -> None:
    page, put = book_page(photograph("camera.png"), paper=paper)

    parts = picture_parts(page.image, page.words)

    assert len(parts) == 1
    assert is_near(parts[0], put)


def test_of_a_photograph_whose_sky_is_just_as_light_as_the_paper_the_rest_is_cut_out() -> None:
    page, put = book_page(photograph("camera.png"), paper=200)

    parts = picture_parts(page.image, page.words)

    assert len(parts) == 1
    assert alike(parts[0], put) >= 0.8


def test_it_is_cut_out_though_nothing_was_read_and_the_page_is_taken_whole_too() -> None:
    page, put = book_page(photograph("coffee.png"))
    page.aged()

    parts = picture_parts(page.image)

    assert parts[0] == WHOLE_PAGE
    assert any(is_near(part, put) for part in parts)


def test_a_photograph_in_one_column_of_a_newspaper_is_cut_out() -> None:
    page = MadePage((1654, 2339), paper=214)
    for left in (140, 620, 1100):
        page.write((left, 130, left + 420, 900 if left == 620 else 2200), size=20)
    page.write((620, 1330, 1040, 2200), size=20)
    put = page.put(photograph("camera.png"), (620, 920, 1040, 1300))
    page.aged()

    parts = picture_parts(page.image, page.words)

    assert len(parts) == 1
    assert is_near(parts[0], put)


@pytest.mark.parametrize("place", [(0, 500, 800, 1040), (440, 500, 1240, 1040), (150, 500, 1240, 1040)])
def test_a_picture_that_reaches_the_edge_of_the_page_is_cut_out_to_the_edge(place: Place) -> None:
    page, put = book_page(photograph("chelsea.png"), place)

    parts = picture_parts(page.image, page.words)

    assert len(parts) == 1
    assert is_near(parts[0], put)


@pytest.mark.parametrize("left", [320, -60])
def test_a_portrait_in_an_oval_is_cut_out_though_the_edge_of_the_page_cuts_it(left: int) -> None:
    page, _ = book_page(Image.new("L", (600, 750), 238), (320, 400, 920, 1150))
    oval = Image.new("L", (600, 750), 0)
    ImageDraw.Draw(oval).ellipse((0, 0, 600, 750), fill=255)
    page.image.paste(fitted(photograph("astronaut.png"), (600, 750)), (left, 400), oval)

    parts = picture_parts(page.image, page.words)

    assert len(parts) == 1
    assert alike(parts[0], page.box((max(0, left), 400, left + 600, 1150))) >= 0.9


def test_a_pale_portrait_in_an_oval_at_the_edge_of_the_page_is_cut_out() -> None:
    page, _ = book_page(Image.new("L", (600, 750), 238), (320, 400, 920, 1150))
    oval = Image.new("L", (600, 750), 0)
    ImageDraw.Draw(oval).ellipse((0, 0, 600, 750), fill=255)
    pale = fitted(photograph("moon.png"), (600, 750)).point(lambda level: int(160 + level * 0.3))
    page.image.paste(pale, (-60, 400), oval)

    parts = picture_parts(page.image, page.words)

    assert len(parts) == 1
    assert alike(parts[0], page.box((0, 400, 540, 1150))) >= 0.85


def test_a_picture_as_grey_as_the_paper_is_told_by_what_is_lighter_than_it() -> None:
    page, put = book_page(photograph("gravel.png"), paper=120)

    parts = picture_parts(page.image, page.words)

    assert len(parts) == 1
    assert is_near(parts[0], put)


def test_a_figure_drawn_in_lines_among_print_is_cut_out() -> None:
    page, put = book_page(Image.new("L", (800, 540), 238))
    left, top, right, bottom = LAID_IN
    page.pen.rounded_rectangle((left, top + 60, right - 1, bottom - 120), 30, outline=30, width=3)
    for number in range(5):
        page.pen.rectangle((left + 60 + 140 * number, top + 100, left + 160 + 140 * number, top + 260), outline=30)
        page.pen.line((left + 110 + 140 * number, top, left + 110 + 140 * number, top + 180), fill=30, width=2)
    for wheel in (left + 80, right - 240):
        page.pen.ellipse((wheel, bottom - 160, wheel + 159, bottom - 1), outline=30, width=3)

    parts = picture_parts(page.image, page.words)

    assert len(parts) == 1
    assert alike(parts[0], put) >= 0.9


def test_a_map_with_many_names_on_it_is_a_figure_and_no_text() -> None:
    page, put = book_page(Image.new("L", (800, 540), 238))
    left, top, right, bottom = LAID_IN
    for number in range(9):
        page.pen.line(
            [(left + 100 * number, top), (left + 60 + 80 * number, top + 300), (left + 100 * (8 - number), bottom - 1)],
            fill=30,
            width=3,
        )
    page.pen.line([(left, top + 250), (right - 1, top + 330)], fill=30, width=5)
    for number in range(10):
        across, down = left + 30 + 190 * (number % 4), top + 30 + 170 * (number // 4)
        page.image.paste(238, (across, down, across + 150, down + 34))
        page.write((across, down, across + 150, down + 34), size=22)

    parts = picture_parts(page.image, page.words)

    assert len(parts) == 1
    assert alike(parts[0], put) >= 0.9


def test_a_photostat_of_a_page_of_print_white_on_black_is_no_picture() -> None:
    page = MadePage(paper=30)
    page.write((150, 130, 1090, 1640), ink=225)
    page.aged()

    assert picture_parts(page.image, page.words) == ()


def test_rules_frames_and_tables_are_no_pictures() -> None:
    page = MadePage()
    page.pen.rectangle((60, 60, 1180, 1690), outline=30, width=4)
    page.write((150, 130, 1090, 600))
    page.write((170, 720, 1070, 1190))
    for down in range(700, 1201, 50):
        page.pen.line((150, down, 1090, down), fill=30, width=2)
    for across in (150, 460, 780, 1090):
        page.pen.line((across, 700, across, 1200), fill=30, width=2)
    page.write((150, 1300, 1090, 1600))

    assert picture_parts(page.image, page.words) == ()


def test_a_hand_written_letter_is_a_picture_as_a_whole_though_a_few_words_of_it_were_read() -> None:
    page = MadePage((900, 1240))
    random = np.random.default_rng(4)
    for down in range(200, 1100, 60):
        scrawl(page.pen, (90, down), 640, 30, ink=(40, 3), random=random)
    page.words = [page.box((90, 240, 170, 265)), page.box((200, 480, 260, 505))]

    assert picture_parts(page.image, page.words)[0] == WHOLE_PAGE


def test_a_works_drawing_with_some_lettering_is_a_picture_as_a_whole() -> None:
    page = MadePage((1754, 1240), paper=244)
    page.pen.rectangle((40, 40, 1714, 1200), outline=30, width=4)
    for radius in (60, 110, 230, 320):
        page.pen.ellipse((600 - radius, 600 - radius, 600 + radius, 600 + radius), outline=30, width=3)
    page.pen.polygon([(1050, 250), (1500, 300), (1550, 820), (1100, 900)], outline=30, width=3)
    page.write((1250, 1050, 1700, 1190))

    assert picture_parts(page.image, page.words)[0] == WHOLE_PAGE


PLACES = ((90, 90, 890, 690), (240, 800, 860, 1230), (1010, 760, 1580, 1310))


@pytest.mark.parametrize("paper", [40, 95, 225], ids=["black", "grey", "white"])
def test_an_album_leaf_is_a_picture_as_a_whole_and_so_is_each_photograph_on_it(paper: int) -> None:
    leaf = MadePage((1754, 1400), paper=paper)
    names = ("coffee.png", "camera.png", "chelsea.png")
    put = [leaf.put(photograph(name), place) for name, place in zip(names, PLACES, strict=True)]
    leaf.write((240, 1250, 700, 1290), ink=20 if paper > 128 else 235)
    leaf.aged()

    parts = picture_parts(leaf.image, leaf.words)

    assert parts[0] == WHOLE_PAGE
    assert len(parts) == 4
    largest_first = sorted(put, key=lambda box: -box.w * box.h)
    assert all(is_near(part, box) for part, box in zip(parts[1:], largest_first, strict=True))


def test_a_photograph_with_a_broad_border_and_a_caption_counts_whole_and_without_it() -> None:
    page = MadePage((1400, 1100), paper=246)
    put = page.put(photograph("camera.png"), (180, 150, 1220, 880))
    page.write((180, 920, 900, 960))
    page.aged()

    parts = picture_parts(page.image, page.words)

    assert parts[0] == WHOLE_PAGE
    assert len(parts) == 2
    assert is_near(parts[1], put)


def test_a_photograph_with_a_narrow_border_counts_once() -> None:
    page = MadePage((1400, 1100), paper=246)
    page.put(photograph("camera.png"), (40, 40, 1360, 1060))

    assert picture_parts(page.image) == (WHOLE_PAGE,)


def test_no_more_than_a_dozen_parts_are_taken_and_the_smallest_are_left_out() -> None:
    sheet = MadePage((1500, 1500), paper=250)
    sizes = [330, *[310] * 15]
    put = [
        sheet.put(
            photograph("camera.png"),
            (20 + 370 * (n % 4), 20 + 370 * (n // 4), 20 + 370 * (n % 4) + s, 350 + 370 * (n // 4)),
        )
        for n, s in enumerate(sizes)
    ]

    parts = picture_parts(sheet.image)

    assert len(parts) == MOST_PARTS == 12
    assert parts[0] == WHOLE_PAGE
    assert is_near(parts[1], put[0])


def test_an_ornament_on_a_page_of_print_is_too_small_to_be_told_again() -> None:
    page, _ = book_page(photograph("camera.png"), (520, 600, 720, 780))  # 200 by 180 of 1240 by 1754: 1.7 %

    assert picture_parts(page.image, page.words) == ()


@pytest.mark.parametrize("wide", [25, 60, 90])
def test_stains_shadows_at_the_fold_and_what_lies_beyond_the_page_are_no_pictures(wide: int) -> None:
    page = MadePage(paper=225)
    page.write((300, 130, 1090, 900))
    page.stain((500, 1000, 1000, 1600))
    levels = np.asarray(page.image, dtype=np.float64)
    levels *= 1 - 0.6 * np.exp(-np.arange(levels.shape[1]) / wide)
    levels[:, -18:] = 25
    levels[-12:] = 30
    page.image = Image.fromarray(levels.astype(np.uint8))
    page.aged()

    assert picture_parts(page.image, page.words) == ()


def test_a_cutting_on_the_bed_of_a_scanner_is_print_and_no_picture() -> None:
    bed = MadePage(paper=205)
    bed.image.paste(168, (200, 200, 980, 1500))
    bed.write((240, 240, 940, 1460))
    bed.aged()

    assert picture_parts(bed.image, bed.words) == ()


def test_a_picture_that_was_taken_for_a_word_is_found_all_the_same() -> None:
    page, put = book_page(photograph("coffee.png"))

    parts = picture_parts(page.image, [*page.words, put])

    assert len(parts) == 1
    assert is_near(parts[0], put)


def test_places_that_are_known_stand_before_what_is_found_there() -> None:
    page, put = book_page(photograph("coffee.png"))
    known = Box(put.x - 2, put.y - 1, put.w + 4, put.h + 2)

    parts = picture_parts(page.image, page.words, [known])

    assert len(parts) == 1
    assert alike(parts[0], known) > 0.99


def test_a_known_picture_of_print_is_print() -> None:
    page = MadePage()
    page.write((150, 130, 1090, 1640))

    assert picture_parts(page.image, page.words, [Box(10, 40, 80, 30)]) == ()


@pytest.mark.parametrize("level", [0, 128, 255])
@pytest.mark.parametrize("size", [(1240, 1754), (300, 200), (31, 31), (8, 8), (1, 1), (3000, 2)])
def test_an_even_page_has_no_pictures(size: tuple[int, int], level: int) -> None:
    assert picture_parts(Image.new("L", size, level)) == ()


def test_a_blank_sheet_as_scanned_has_no_pictures() -> None:
    assert picture_parts(MadePage().aged(noise=4, shade=0.2).image) == ()


@pytest.mark.parametrize("seed", range(6))
def test_whatever_is_on_a_page_its_parts_lie_on_it_and_are_told_alike_each_time(seed: int) -> None:
    random = np.random.default_rng(seed)
    page = MadePage((int(random.integers(1, 900)), int(random.integers(1, 900))), paper=int(random.integers(0, 256)))
    for _ in range(8):
        left, top = random.integers(-50, 900, 2).tolist()
        wide, high = random.integers(1, 500, 2).tolist()
        page.image.paste(fitted(photograph("brick.png"), (wide, high)), (left, top))
    words = [Box(*map(float, random.uniform(-5, 100, 2)), *map(float, random.uniform(0, 20, 2))) for _ in range(9)]

    parts = picture_parts(page.image, words)

    assert parts == picture_parts(page.image.copy(), words)
    assert all(
        part.x >= 0 and part.y >= 0 and part.x + part.w <= 100.01 and part.y + part.h <= 100.01 for part in parts
    )
    assert all(part.w * part.h >= 400 for part in parts)
