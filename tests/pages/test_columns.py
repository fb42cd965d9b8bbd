from pathlib import Path

import pytest
from pages.made_originals import LINES, canvas

from provenance.pages.columns import Span, split_columns
from provenance.pages.text_layer import text_layer
from provenance.records.readings import Origin, PageReading

LEFT = [f"left {number} speaks of the frame" for number in range(1, 9)]
RIGHT = [f"right {number} speaks of the lamp" for number in range(1, 9)]


def read(path: Path) -> list[str]:
    words = text_layer(path, 1)
    return PageReading(page=1, words=words, origin=Origin.TEXT_LAYER, engine="").text.split("\n")


def page(path: Path, *texts: tuple[float, float, str]) -> Path:
    """Write texts on a page: points from the left, points from the foot, what."""
    sheet = canvas(path)
    for left, up, text in texts:
        sheet.drawString(left, up, text)
    sheet.save()
    return path


def column(left: float, lines: list[str], *, top: float = 700, lower: float = 0) -> list[tuple[float, float, str]]:
    return [(left, top - lower - 16 * number, line) for number, line in enumerate(lines)]


def test_two_columns_are_read_one_after_the_other(tmp_path: Path) -> None:
    path = page(tmp_path / "a.pdf", *column(60, LEFT), *column(320, RIGHT))

    assert read(path) == [*LEFT, *RIGHT]


@pytest.mark.parametrize("lower", [3, 8, 13])
def test_columns_whose_lines_are_not_level_are_kept_apart(tmp_path: Path, lower: int) -> None:
    path = page(tmp_path / "a.pdf", *column(60, LEFT), *column(320, RIGHT, lower=lower))

    assert read(path) == [*LEFT, *RIGHT]


def test_what_stands_across_the_columns_is_read_before_and_after_them(tmp_path: Path) -> None:
    head = (60, 740, "Chapter IV, in which the fittings of the front of the car are told one by one in their order")
    foot = (60, 500, "All of this was taken from the drawings that the works kept until they were closed for good.")
    path = page(tmp_path / "a.pdf", head, *column(60, LEFT), *column(320, RIGHT), foot)

    assert read(path) == [head[2], *LEFT, *RIGHT, foot[2]]


def test_three_columns_are_read_from_the_left(tmp_path: Path) -> None:
    three = [[f"{name} {number} of the car" for number in range(1, 7)] for name in ("first", "second", "third")]
    texts = [text for place, lines in zip((40, 230, 420), three, strict=True) for text in column(place, lines)]
    path = page(tmp_path / "a.pdf", *texts)

    assert read(path) == [line for lines in three for line in lines]


def test_a_table_is_read_row_by_row(tmp_path: Path) -> None:
    rows = [(f"H-{200 + number}", f"Bracket, lamp, pattern {number}", "M.S.", str(number)) for number in range(8)]
    texts = [
        (left, 700 - 16 * line, cell)
        for line, row in enumerate(rows)
        for left, cell in zip((60, 160, 380, 480), row, strict=True)
    ]
    path = page(tmp_path / "a.pdf", *texts)

    assert read(path) == [" ".join(row) for row in rows]


def test_a_form_of_names_and_values_is_read_row_by_row(tmp_path: Path) -> None:
    rows = [("Drawing", LINES[0]), ("Issue", "C"), ("Works", LINES[1]), ("Date", "4 March"), ("By", "hand")]
    texts = [
        (left, 700 - 16 * line, cell)
        for line, row in enumerate(rows)
        for left, cell in zip((60, 160), row, strict=True)
    ]
    path = page(tmp_path / "a.pdf", *texts)

    assert read(path) == [" ".join(row) for row in rows]


def test_running_text_is_one_column(tmp_path: Path) -> None:
    path = page(tmp_path / "a.pdf", *column(60, list(LINES)))

    assert read(path) == list(LINES)


def test_a_page_without_words_has_no_blocks() -> None:
    nothing: list[Span[str]] = []

    assert split_columns(nothing) == []
