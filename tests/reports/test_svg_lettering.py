"""Letters in a drawing, against the widths of real faces and against an XML parser."""

from functools import cache
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
import reportlab
from hypothesis import given
from hypothesis import strategies as st
from PIL import ImageFont
from reports.pages import HOSTILE, any_text

from provenance.reports.layout import plain
from provenance.reports.svg_lettering import broken, svg_safe, width_of

# Source: the Bitstream Vera faces that reportlab carries; their letters are as wide as those of DejaVu Sans.
FACES = Path(reportlab.__file__).parent / "fonts"
WESTERN = [letter for letter in map(chr, range(32, 0x180)) if letter.isprintable()]


@cache
def face(name: str) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(str(FACES / name), 100, layout_engine=ImageFont.Layout.BASIC)


@pytest.mark.parametrize("name", ["VeraBd.ttf", "Vera.ttf", "VeraIt.ttf"])
def test_no_western_letter_is_wider_than_is_reckoned(name: str) -> None:
    wider = [letter for letter in WESTERN if face(name).getlength(letter) > width_of(letter, 100)]

    assert wider == []


@pytest.mark.parametrize("name", ["VeraBd.ttf", "Vera.ttf", "VeraIt.ttf"])
@given(text=st.text(st.sampled_from(WESTERN), max_size=40))
def test_no_western_text_is_wider_than_is_reckoned(name: str, text: str) -> None:
    assert face(name).getlength(text) <= width_of(text, 100) + 1e-6


def test_letters_of_the_east_are_square_and_marks_above_letters_take_no_room() -> None:
    assert width_of("汽油車", 10) >= 30
    assert width_of("e\u0301", 10) == width_of("e", 10)
    assert width_of("שלום", 10) >= 24


def test_a_title_is_broken_between_words_and_after_hyphens() -> None:
    assert broken("Head lamp bracket", width_of("Head lamp", 10), 10, most=5) == ("Head lamp", "bracket")
    assert broken("photo-no9-carrowsea-1934", width_of("carrowsea-", 10), 10, most=5) == (
        "photo-no9-",
        "carrowsea-",
        "1934",
    )


def test_a_word_that_fits_on_no_line_is_cut() -> None:
    assert broken("abcdefgh", width_of("abc", 10), 10, most=5) == ("abc", "def", "gh")


def test_what_goes_beyond_the_last_line_is_left_out_and_it_is_shown_that_something_is() -> None:
    assert broken("one two three four", width_of("threes", 10), 10, most=2) == ("one", "two…")
    assert broken("one", 1.0, 10, most=1) == ("…",)


def test_an_empty_text_takes_no_line() -> None:
    assert broken("", 100, 10, most=3) == ()


@given(any_text, st.floats(5, 300), st.integers(1, 5))
def test_every_line_fits_and_nothing_is_lost_but_behind_an_ellipsis(text: str, width: float, most: int) -> None:
    lines = broken(text, width, 10, most=most)

    assert len(lines) <= most
    widest_letter = max((width_of(letter, 10) for letter in plain(text)), default=0)
    assert all(width_of(line, 10) <= max(width, widest_letter, width_of("…", 10)) + 1e-6 for line in lines)
    if not "".join(lines).endswith("…"):
        assert "".join("".join(lines).split()) == "".join(plain(text).split())


@given(any_text)
def test_whatever_people_write_stands_in_the_file_as_text(text: str) -> None:
    safe = svg_safe(text)

    read = ET.fromstring(f'<svg a="{safe}">{safe}</svg>')

    assert list(read) == []
    assert read.text in {read.get("a"), None}
    assert svg_safe(HOSTILE).isprintable()
    assert "\ufffe" not in svg_safe("a\ufffeb")
