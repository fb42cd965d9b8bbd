"""Pages laid down sideways, upside down and aslant are read as if they lay straight, by the real recogniser."""

from collections.abc import Callable
from functools import cache
from itertools import product
from pathlib import Path
from statistics import mean

import pytest
from PIL import Image
from reading.printed_pages import (
    Printed,
    Set,
    book_page,
    character_errors,
    laid_down,
    parts_list,
    typescript,
    works_drawing,
)

from provenance.pages.pictures import PagePicture
from provenance.reading.page_reading import PageJob, read_page
from provenance.reading.settings import ReadingSettings
from provenance.reading.turning import AS_DELIVERED
from provenance.reading.upright import Recognised, read_upright
from provenance.records.readings import Word

MOST_MORE = 0.005
ANGLES = (-7.0, -5.0, -3.0, -1.0, 0.5, 1.0, 3.0, 5.0, 7.0, 90.0, 180.0, 270.0, 86.0, 184.0, 266.0)
MAKERS: tuple[Callable[[int], Printed], ...] = (typescript, book_page, parts_list)


def read(page: Printed) -> Recognised:
    return read_upright(PagePicture(image=page.image, dpi=200), ("eng",), ReadingSettings())


def errors(page: Printed, recognised: Recognised) -> float:
    return character_errors(page.text, " ".join(word.text for word in recognised.words))


def covers(word: Word, place: Set, size: tuple[int, int]) -> bool:
    """Whether a word was read where it stands: its box holds the middle of the true place, and is about as large."""
    assert word.box is not None
    left, top, right, bottom = place.place
    x, y = 50 * (left + right) / size[0], 50 * (top + bottom) / size[1]
    holds = word.box.x <= x <= word.box.x + word.box.w and word.box.y <= y <= word.box.y + word.box.h
    area = word.box.w * word.box.h * size[0] * size[1] / 10000
    return holds and area < 2 * (right - left) * (bottom - top)


def share_placed(page: Printed, words: tuple[Word, ...]) -> float:
    found = sum(
        any(word.text == place.text and covers(word, place, page.image.size) for word in words) for place in page.words
    )
    return found / len(page.words)


def short_typescript() -> Printed:
    return typescript(6, lines=8)


@pytest.mark.parametrize("degrees", [-6.0, 3.0, 90.0, 180.0, -85.0])
def test_a_page_is_read_however_it_was_laid_down_and_its_words_are_placed_on_it_as_delivered(degrees: float) -> None:
    page = laid_down(short_typescript(), degrees)

    recognised = read(page)

    assert errors(page, recognised) <= MOST_MORE
    assert share_placed(page, recognised.words) >= 0.97
    assert all(word.box and word.box.x >= 0 and word.box.x + word.box.w <= 100 for word in recognised.words)
    assert all(word.box and word.box.y >= 0 and word.box.y + word.box.h <= 100 for word in recognised.words)
    assert recognised.note


def test_a_page_that_lies_straight_is_read_once_and_nothing_is_said() -> None:
    recognised = read(short_typescript())

    assert recognised.turn == AS_DELIVERED
    assert recognised.note == ""


def test_too_small_a_lean_is_left() -> None:
    recognised = read(laid_down(short_typescript(), 0.6))

    assert recognised.turn == AS_DELIVERED


def test_lines_are_numbered_in_the_order_of_reading_whichever_way_the_page_lies() -> None:
    page = typescript(6, lines=6)

    straight, sideways = read(page), read(laid_down(page, 90))

    assert [(word.text, word.line) for word in sideways.words] == [(word.text, word.line) for word in straight.words]
    assert straight.words[-1].line == 6


def test_a_drawing_with_dimensions_along_and_upright_is_read_as_it_lies() -> None:
    page = works_drawing(6)

    recognised = read(page)

    assert recognised.turn == AS_DELIVERED
    assert share_placed(page, recognised.words) >= 0.70  # 21 of 29: figures with strokes beside them are lost anyhow


def test_a_photograph_is_left_as_it_lies() -> None:
    photograph = Path(__file__).parents[2] / "sample_archive" / "archive" / "originals" / "photo-no10-1935" / "no10.jpg"
    with Image.open(photograph) as image:
        recognised = read_upright(PagePicture(image=image.convert("L"), dpi=300), ("eng",), ReadingSettings())

    assert recognised.turn == AS_DELIVERED


def test_the_sheet_of_the_sample_that_was_scanned_sideways_is_read() -> None:
    archive = Path(__file__).parents[2] / "sample_archive" / "archive"
    sheet = archive / "originals" / "report-fitters-1934" / "fitters-9-june.jpg"
    typed = (archive / "transcripts" / "report-fitters-1934" / "p0001.txt").read_text(encoding="utf-8")

    reading = read_page(PageJob(path=sheet, media_type="image/jpeg", page=1))

    assert character_errors(typed.partition("\n\n")[2], reading.text) < 0.10
    assert reading.note == "the page lies sideways: turned a quarter to the right for reading"
    glass = next(word.box for word in reading.words if word.text == "glass")
    assert glass is not None
    assert 49 <= glass.x <= 63  # the region that a person measured on the scan as it came: percent:49,6.5,14,86.5
    assert 6.5 <= glass.y <= 93
    assert glass.h > glass.w


@cache
def straight_errors(make: Callable[[int], Printed], seed: int) -> float:
    page = make(seed)
    return errors(page, read(page))


@pytest.mark.long
@pytest.mark.parametrize("degrees", ANGLES)
def test_any_lean_and_any_quarter_costs_at_most_half_a_point_of_the_characters_of_pages_of_each_kind(
    degrees: float,
) -> None:
    more = []
    for make, seed in product(MAKERS, (7, 8)):
        page = laid_down(make(seed), degrees)
        recognised = read(page)
        more.append(errors(page, recognised) - straight_errors(make, seed))
        assert share_placed(page, recognised.words) >= 0.95, (make, seed)

    assert mean(more) <= MOST_MORE
    assert (
        max(more) <= 2 * MOST_MORE
    )  # a list of 685 characters: a rule beside a figure, read as one, is 1 or 2 of them
