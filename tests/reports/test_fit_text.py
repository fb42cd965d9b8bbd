import unicodedata

import pytest
from hypothesis import given
from reports.hostile import ARABIC, HEBREW, HOSTILE
from reports.pages import any_text

from provenance.reports.fit_text import (
    is_turned_language,
    language_tag,
    runs_from_the_right,
    shown,
    shown_lines,
    stretches,
)


def _no_xml(text: str) -> list[str]:
    """The characters that XML 1.0, section 2.2, does not have, and what Unicode calls no characters."""
    return [
        letter
        for letter in text
        if not (letter in "\t\n\r" or " " <= letter <= "\ud7ff" or "\ue000" <= letter <= "\ufffd" or letter > "\uffff")
        or ord(letter) & 0xFFFE == 0xFFFE
        or "\ufdd0" <= letter <= "\ufdef"
    ]


@given(any_text)
def test_what_is_shown_can_stand_in_any_format_on_one_line(text: str) -> None:
    written = shown(text)

    assert _no_xml(written) == []
    assert len(written.splitlines()) <= 1
    assert shown(written) == written


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("a\ufffeb\uffff", "a\\ufffeb\\uffff"),
        ("\ufdd0 \ufdef", "\\ufdd0 \\ufdef"),
        ("\U0001fffe", "\\U0001fffe"),
        ("a\x00b\ud800", "a\\x00b\\ud800"),
        ("3 ft 4½ in, ΔT “no” 木", "3 ft 4½ in, ΔT “no” 木"),
    ],
)
def test_what_no_reader_can_be_given_is_written_out(text: str, written: str) -> None:
    assert shown(text) == written


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("", ()),
        (" \n\n ", ()),
        ("one", (("one",),)),
        ("one\ntwo", (("one", "two"),)),
        ("one\r\ntwo\rthree", (("one", "two", "three"),)),
        ("one  \n  two\n\n \n\nthree\n", (("one", "  two"), ("three",))),
        ("a\u2028b\x0bc\x0cd", (("a", "b", "c", "d"),)),
        ("a\x1bb\nc", (("a\\x1bb", "c"),)),
    ],
)
def test_lines_and_paragraphs_of_a_quotation_are_kept(text: str, lines: tuple[tuple[str, ...], ...]) -> None:
    assert shown_lines(text) == lines


@pytest.mark.parametrize(
    ("text", "pieces"),
    [
        ("", []),
        ("No. 9, 1934", [("No. 9, 1934", False)]),
        (f"{HEBREW}, 1934", [(HEBREW, True), (", 1934", False)]),
        (f"from {ARABIC} 1934", [("from ", False), (ARABIC, True), (" 1934", False)]),
        (f"{HEBREW} {HEBREW}, {HEBREW}.", [(f"{HEBREW} {HEBREW}, {HEBREW}", True), (".", False)]),
        (f"{HEBREW}, 1934; {HEBREW}, 1935", [(HEBREW, True), (", 1934; ", False), (HEBREW, True), (", 1935", False)]),
        (f"{HEBREW} 12 {HEBREW}", [(f"{HEBREW} 12 {HEBREW}", True)]),
        (f"a {HEBREW} -- {HEBREW}", [("a ", False), (HEBREW, True), (" -- ", False), (HEBREW, True)]),
        (f"{HEBREW} and {HEBREW}", [(HEBREW, True), (" and ", False), (HEBREW, True)]),
    ],
)
def test_a_name_that_runs_from_the_right_is_told_apart_from_the_year_beside_it(
    text: str, pieces: list[tuple[str, bool]]
) -> None:
    # Of two names with their years in one text from the right alone, the years stay with the whole only where it ends
    # in a letter: the sixth ends in figures, the seventh does not.
    assert list(stretches(text)) == pieces


@given(any_text | any_text.map(lambda text: f"{text}{HEBREW}{text}{ARABIC}"))
def test_no_letter_is_lost_and_every_one_that_runs_from_the_right_is_found(text: str) -> None:
    pieces = list(stretches(text))

    assert "".join(piece for piece, _ in pieces) == text
    assert all(piece for piece, _ in pieces)
    straight = "".join(piece for piece, turned in pieces if not turned)
    assert {unicodedata.bidirectional(letter) for letter in straight} & {"R", "AL"} <= (
        {"R"} if "\u200f" in straight else set()
    )


def test_a_text_is_taken_for_one_from_the_right_by_its_first_letter() -> None:
    assert runs_from_the_right(f"(1934) {HEBREW} lamp")
    assert not runs_from_the_right(f"lamp {HEBREW}")
    assert not runs_from_the_right("1934")


@pytest.mark.parametrize(
    "tag",
    [
        *("de", "en-GB", "zh-Hant-TW", "sr-Latn", "de-CH-1901", "es-419", "sl-rozaj-biske", "zh-cmn-Hans-CN"),
        *("x-whatever", "en-a-myext-b-another", "de-CH-x-phonebk", "de-DE-u-co-phonebk"),
    ],
)
def test_the_examples_of_the_standard_are_well_formed(tag: str) -> None:
    """RFC 5646, appendix A."""
    assert language_tag(tag) == tag


@pytest.mark.parametrize("tag", ["", "e", "a-DE", "en_GB", "de-", "en--GB", "de\n", "дe", *HOSTILE.values()])
def test_what_is_no_tag_of_a_language_is_left_out(tag: str) -> None:
    assert language_tag(tag) == ""


def test_languages_that_are_written_from_the_right_are_known_by_language_or_script() -> None:
    assert [is_turned_language(tag) for tag in ("ar", "he-IL", "az-Arab", "en", "az-Latn", "")] == [
        *[True] * 3,
        *[False] * 3,
    ]
