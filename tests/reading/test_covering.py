"""What of a page looks like text and is under no word is seen, and where; pictures, rules and frames are no text."""

import random
from collections.abc import Callable

import numpy as np
import pytest
from PIL import Image, ImageDraw
from reading.laid_out_pages import boxed_table, columns, figures, scene
from reading.printed_pages import Printed, Set, book_page, damaged, typescript, works_drawing

from provenance.reading.covering import Uncovered, in_line, see_ink, stands_for_ink
from provenance.reading.pieces import pieces_of
from provenance.records.readings import Box, Word


def as_read(page: Printed, keep: Callable[[Set], bool] = lambda _: True) -> tuple[Word, ...]:
    """The words of a page as if a recogniser had read them without a fault; only those that are to be kept."""
    wide, high = page.image.size
    return tuple(
        Word(
            word.text,
            1,
            Box(
                100 * word.place[0] / wide,
                100 * word.place[1] / high,
                100 * (word.place[2] - word.place[0]) / wide,
                100 * (word.place[3] - word.place[1]) / high,
            ),
            96.0,
        )
        for word in page.words
        if keep(word)
    )


def seen(page: Printed, words: tuple[Word, ...]) -> Uncovered:
    return see_ink(page.image, words).uncovered(words)


@pytest.mark.parametrize("make", [typescript, book_page, columns, boxed_table])
def test_on_a_page_that_was_read_nothing_is_left_not_even_its_rules(make: Callable[[int], Printed]) -> None:
    page = make(61)

    assert seen(page, as_read(page)).blocks == ()


def test_a_column_that_was_dropped_is_seen_where_it_stands() -> None:
    page = figures(61)
    middle = page.image.width / 2

    left = seen(page, as_read(page, lambda word: word.place[0] < middle))

    dropped = [word for word in page.words if word.place[0] >= middle]
    share = len(dropped) / len(page.words)  # figures are all of about one size
    assert share - 0.12 <= left.share <= share + 0.02  # small groups of figures are read, but are not sure to be text
    boxes = [block.box for block in left.blocks]
    assert all(box.x >= 49 for box in boxes)
    for word in dropped:
        x, y = 50 * (word.place[0] + word.place[2]) / middle / 2, 0.0
        y = 50 * (word.place[1] + word.place[3]) / page.image.height
        assert any(box.x - 1 <= x <= box.x + box.w + 1 and box.y - 1 <= y <= box.y + box.h + 1 for box in boxes)


def test_a_paragraph_that_was_dropped_is_one_block() -> None:
    page = book_page(62)
    high = page.image.height

    left = seen(page, as_read(page, lambda word: not 0.4 < word.place[1] / high < 0.6))

    (block,) = left.blocks
    assert block.is_text
    assert (block.box.y, block.box.y + block.box.h) == pytest.approx((40, 60), abs=2.5)
    assert left.share == pytest.approx(0.2 / 0.8, abs=0.08)


def test_a_page_of_which_no_word_was_read_is_left_whole() -> None:
    assert seen(typescript(63), ()).share == 1.0


def a_picture(image: Image.Image) -> Printed:
    return Printed(image=image, words=())


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_photograph_is_not_said_to_hold_text(seed: int) -> None:
    page = damaged(a_picture(scene(seed).resize((1400, 1030))), seed)

    assert seen(page, ()).share == 0.0


def test_outlines_hatching_and_a_black_border_are_no_text() -> None:
    image = Image.new("L", (1600, 1200), 230)
    draw = ImageDraw.Draw(image)
    draw.rectangle((0, 0, 90, 1200), fill=10)
    draw.rectangle((300, 200, 900, 700), outline=40, width=4)
    draw.ellipse((1000, 300, 1400, 700), outline=40, width=4)
    for step in range(0, 500, 12):
        draw.line((300 + step, 200, 300, 200 + step), fill=60, width=2)

    assert seen(a_picture(image), ()).share == 0.0


def test_a_blank_page_has_nothing_left() -> None:
    left = seen(a_picture(Image.new("L", (800, 600), 255)), ())

    assert (left.blocks, left.covered, left.share) == ((), 0, 0.0)


def test_a_drawing_all_of_whose_words_were_read_leaves_only_those_that_stand_upright_on_it() -> None:
    page = works_drawing(64)

    left = seen(page, as_read(page))

    assert left.share == 0.0
    assert sum(block.pieces for block in left.blocks) < 10


def test_a_frame_that_was_taken_for_a_letter_covers_nothing_and_a_large_word_that_was_read_surely_does() -> None:
    def word(text: str, high: float, confidence: float) -> Word:
        return Word(text, 1, Box(1, 1, 20, high), confidence)

    assert stands_for_ink(word("oil", 1.0, 5.0), 1.0)
    assert not stands_for_ink(word("I", 40.0, 30.0), 1.0)
    assert stands_for_ink(word("HANDBOOK", 6.0, 95.0), 1.0)
    assert not stands_for_ink(word("|", 1.0, 95.0), 1.0)


def test_letters_side_by_side_stand_in_line_and_a_slope_does_not() -> None:
    ink = np.zeros((200, 400), dtype=np.bool_)
    for number in range(10):
        ink[10:20, 10 + 14 * number : 18 + 14 * number] = True
        ink[60 + 11 * number : 70 + 11 * number, 10 + 14 * number : 18 + 14 * number] = True
    pieces = pieces_of(ink)

    marks = in_line(pieces, 10.0)

    assert marks.tolist() == [top == 10 for top in pieces.top.tolist()]


def test_neighbours_are_found_among_any_number_of_pieces() -> None:
    chosen = random.Random(7)
    ink = np.zeros((1200, 800), dtype=np.bool_)
    for row in range(50):
        for column in range(40):
            if chosen.random() < 0.9:
                ink[20 * row + 2 : 20 * row + 12, 20 * column + 2 : 20 * column + 10] = True
    pieces = pieces_of(ink)
    places = {(top, left) for top, left in zip(pieces.top.tolist(), pieces.left.tolist(), strict=True)}

    marks = in_line(pieces, 10.0)

    expected = [
        (top, left - 20) in places or (top, left + 20) in places
        for top, left in zip(pieces.top.tolist(), pieces.left.tolist(), strict=True)
    ]  # a gap of 12 is less than one and a half letters, one of 32 is more
    assert marks.tolist() == expected
