"""Texts made ready for a printed page: breakable where they are long, in the right order."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from provenance.reports.pdf_text import Shown, clusters, isolated, shown, shown_lines

WIDE, HEIGHT = 166.0, 11.0


def spelled(pieces: Shown) -> str:
    if isinstance(pieces, str):
        return pieces
    return "".join("\n" if each is None else each if isinstance(each, str) else "".join(each) for each in pieces)


def test_ordinary_words_are_one_string_with_spaces_for_line_breaks() -> None:
    assert shown("The lamp\nis of the\tacetylene pattern.", WIDE, HEIGHT) == "The lamp is of the acetylene pattern."
    assert shown("", WIDE, HEIGHT) == ""


def test_a_run_of_more_than_thirty_letters_may_break_after_each_six() -> None:
    assert shown(f"{'m' * 30} {'n' * 31} end", WIDE, HEIGHT) == [
        f"{'m' * 30} ",
        ["nnnnnn"] * 5 + ["n"],
        " end",
    ]


def test_a_shorter_run_breaks_where_its_column_is_too_narrow() -> None:
    assert shown("W" * 12, 20.0, 9.0) == [["WWWWW"] * 2 + ["WW"]]
    assert shown("W" * 12, 60.0, 9.0) == "W" * 12


def test_a_letter_is_not_parted_from_the_marks_on_it() -> None:
    assert clusters("e\u0301\u0302a") == ["e\u0301\u0302", "a"]
    assert shown("e\u0301" * 40, WIDE, HEIGHT) == [["e\u0301" * 6] * 6 + ["e\u0301" * 4]]


def test_letters_that_are_joined_are_parted_only_where_they_would_leave_the_page() -> None:
    assert shown("م" * 40, WIDE, HEIGHT) == f"\u2068{'م' * 40}\u2069"
    assert shown("م" * 400, WIDE, HEIGHT) != f"\u2068{'م' * 400}\u2069"


def test_a_run_from_right_to_left_keeps_its_direction_when_it_is_parted() -> None:
    assert shown(f"{'ש' * 32} 1934", WIDE, HEIGHT) == ["\u2067", ["שששששש"] * 5 + ["שש"], "\u2069", " 1934"]


@pytest.mark.parametrize(
    ("text", "due"),
    [
        ("born 1934", "born 1934"),
        ("משה 1934", "\u2068משה\u2069 1934"),
        ("by משה כהן, 1934", "by \u2068משה כהן\u2069, 1934"),
        ("محمد علي and משה", "\u2068محمد علي\u2069 and \u2068משה\u2069"),
    ],
)
def test_each_stretch_from_right_to_left_is_kept_to_itself(text: str, due: str) -> None:
    assert isolated(text) == due


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r", "\u2028", "\u2029", "\f"])
def test_the_line_breaks_of_a_quotation_count(end: str) -> None:
    assert shown_lines(f"one{end}two{end}{end}three", WIDE, HEIGHT) == ["one", None, "two", None, None, "three"]


@given(
    st.text(alphabet=st.characters(exclude_categories=("Cc", "Cs", "Cf", "Zl", "Zp"))), st.sampled_from([8.0, 166.0])
)
def test_nothing_is_lost_and_nothing_is_added_but_signs_of_direction(text: str, width: float) -> None:
    fit = "".join(letter for letter in text if not _is_no_character(letter))

    copied = spelled(shown(fit, width, HEIGHT)).translate(dict.fromkeys((0x2067, 0x2068, 0x2069)))

    assert copied == fit
    assert "".join(clusters(fit)) == fit


def _is_no_character(letter: str) -> bool:
    return unicodedata.category(letter) == "Cn" and (ord(letter) & 0xFFFE == 0xFFFE or 0xFDD0 <= ord(letter) <= 0xFDEF)
