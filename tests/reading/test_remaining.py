"""What the recogniser left out of a page is read by itself; read by the real one."""

from collections import Counter
from collections.abc import Callable
from itertools import combinations, product
from pathlib import Path

import pytest
from PIL import Image
from reading.laid_out_pages import LAYOUTS, cards, figures, share_found, words_amiss
from reading.printed_pages import Printed, damaged, laid_down, typescript
from reading.test_covering import as_read

from provenance.pages.pictures import PagePicture
from provenance.reading.covering import Block
from provenance.reading.recognising import recognise
from provenance.reading.remaining import Completed, completed, together, with_blocks
from provenance.reading.settings import ReadingSettings
from provenance.reading.upright import read_upright
from provenance.records.readings import Box, Word

SETTINGS = ReadingSettings()
SAMPLE = Path(__file__).parents[2] / "sample_archive" / "archive" / "originals"


def a_picture(page: Printed) -> PagePicture:
    return PagePicture(image=page.image, dpi=200)


def first_reading(page: Printed) -> tuple[Word, ...]:
    return recognise(a_picture(page), ("eng",), SETTINGS)


def complete(page: Printed, words: tuple[Word, ...]) -> Completed:
    return completed(a_picture(page), words, ("eng",), SETTINGS)


def share_of(page: Printed, words: tuple[Word, ...]) -> float:
    return share_found(page, (word.text for word in words))


def overlap(one: Box, other: Box) -> float:
    wide = min(one.x + one.w, other.x + other.w) - max(one.x, other.x)
    high = min(one.y + one.h, other.y + other.h) - max(one.y, other.y)
    return max(0.0, wide) * max(0.0, high) / min(one.w * one.h, other.w * other.h)


def test_columns_of_figures_that_were_dropped_are_read_and_placed_and_none_is_there_twice() -> None:
    page = figures(71, rows=18)
    first = first_reading(page)

    whole = complete(page, first)

    assert share_of(page, first) < 0.9
    assert share_of(page, whole.words) >= 0.97
    assert whole.uncovered == 0.0
    assert [word for word in whole.words if word.box in {each.box for each in first}] != []
    added = [word.box for word in whole.words if word.box and word.box not in {each.box for each in first}]
    kept = [word.box for word in first if word.box]
    assert max(overlap(one, other) for one, other in product(added, kept)) <= 0.3
    for word in page.words:
        x = 50 * (word.place[0] + word.place[2]) / page.image.width
        y = 50 * (word.place[1] + word.place[3]) / page.image.height
        at = [each.text for each in whole.words if each.box and _holds(each.box, x, y)]
        assert len(at) <= 1


def _holds(box: Box, x: float, y: float) -> bool:
    return box.x <= x <= box.x + box.w and box.y <= y <= box.y + box.h


def test_words_that_stand_among_those_left_out_are_not_read_a_second_time() -> None:
    page = typescript(76, lines=8)
    kept = {word.place for word in page.words[::2]}
    first = as_read(page, lambda word: word.place in kept)

    whole = complete(page, first)

    added = [word for word in whole.words if word.box not in {each.box for each in first}]
    assert len(added) >= 0.8 * (len(page.words) - len(first))
    assert not Counter(word.text for word in whole.words) - Counter(word.text for word in page.words)
    boxes = [word.box for word in whole.words if word.box]
    assert max(overlap(one, other) for one, other in combinations(boxes, 2)) <= 0.3


def test_a_page_laid_down_aslant_has_the_words_that_were_left_out_where_they_stand_on_it() -> None:
    page = laid_down(figures(72, rows=18), 4.0)

    recognised = read_upright(a_picture(page), ("eng",), SETTINGS)

    assert share_of(page, recognised.words) >= 0.95
    placed = 0
    for word in page.words:
        x = 50 * (word.place[0] + word.place[2]) / page.image.width
        y = 50 * (word.place[1] + word.place[3]) / page.image.height
        placed += any(each.text == word.text and each.box and _holds(each.box, x, y) for each in recognised.words)
    assert placed / len(page.words) >= 0.95


def test_cards_of_which_the_recogniser_made_nothing_at_all_are_read() -> None:
    page = cards(73)

    whole = complete(page, ())

    assert share_of(page, whole.words) >= 0.8


def test_a_page_that_was_read_is_left_exactly_as_it_was() -> None:
    page = typescript(74, lines=8)
    first = first_reading(page)

    assert complete(page, first) == Completed(words=first)


def test_what_cannot_be_read_is_said_with_its_share() -> None:
    page = damaged(typescript(75, lines=6), 75, noise=25, blur=1.5)

    recognised = read_upright(a_picture(page), ("eng",), SETTINGS)

    assert recognised.uncovered > 0.5
    share = f"{100 * recognised.uncovered:.0f}"
    assert recognised.note == f"a part of this page (about {share} %) looks like text and was not read"


@pytest.mark.parametrize("name", ["photo-no9-rear-1934/carrowsea-2.jpg", "plate-no9/plate.jpg"])
def test_a_photograph_is_not_read_into_rubbish_and_not_said_to_hold_text(name: str) -> None:
    with Image.open(SAMPLE / name) as image:
        picture = PagePicture(image=image.convert("L"), dpi=300)

    whole = completed(picture, (), ("eng",), SETTINGS)

    assert whole == Completed(words=())


def a_block(pieces: int, high: float) -> Block:
    return Block(box=Box(10, 10, 20, high), pieces=pieces, level=1.0, ink=100)


def test_large_blocks_are_read_one_by_one_and_small_ones_at_once_on_sheets_that_the_recogniser_takes() -> None:
    small, long, large = a_block(5, 1.0), a_block(5, 90.0), a_block(400, 40.0)

    usual = list(together((small, large, small), 1.0, 2339))
    tall = list(together((long, long, long), 1.0, 12_000))  # 11,064 rows each with its margins; 32,767 are too many

    assert usual == [(large,), (small, small)]
    assert tall == [(long,), (long,), (long,)]


def a_word(text: str, x: float, y: float, line: int) -> Word:
    return Word(text, line, Box(x, y, 10, 2), 90.0)


def texts(words: tuple[Word, ...]) -> list[tuple[str, int]]:
    return [(word.text, word.line) for word in words]


def test_a_left_column_comes_before_the_lines_beside_it_and_after_the_heading() -> None:
    read = (a_word("heading", 40, 5, 1), a_word("right", 60, 20, 2), a_word("column", 60, 25, 3))
    left = (a_word("left", 10, 20, 1), a_word("too", 10, 25, 2))

    assert texts(with_blocks(read, [left])) == [("heading", 1), ("left", 2), ("too", 3), ("right", 4), ("column", 5)]


def test_a_right_column_comes_after_the_left_one_and_before_what_stands_under_it() -> None:
    read = (a_word("left", 10, 20, 1), a_word("column", 10, 25, 2), a_word("foot", 60, 90, 3))
    right = (a_word("right", 60, 20, 1), a_word("beside", 72, 20, 1))

    whole = with_blocks(read, [right])

    assert texts(whole) == [("left", 1), ("column", 2), ("right", 3), ("beside", 3), ("foot", 4)]


def test_a_paragraph_comes_between_the_lines_over_and_under_it_and_the_last_comes_last() -> None:
    read = (a_word("over", 10, 10, 1), a_word("under", 10, 50, 2))

    whole = with_blocks(read, [(a_word("between", 10, 30, 1),), (a_word("last", 10, 80, 1),)])

    assert texts(whole) == [("over", 1), ("between", 2), ("under", 3), ("last", 4)]


@pytest.mark.long
@pytest.mark.parametrize("make", LAYOUTS)
def test_on_pages_of_no_layout_are_fewer_numbers_found_or_more_words_amiss(make: Callable[[int], Printed]) -> None:
    for seed in (81, 82):
        page = make(seed)
        first = first_reading(page)
        whole = complete(page, first)
        amiss = [words_amiss(page, (word.text for word in words)) for words in (first, whole.words)]

        assert share_of(page, whole.words) >= share_of(page, first)
        assert amiss[1] <= amiss[0] + 0.002
