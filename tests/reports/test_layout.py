import pytest
from hypothesis import given
from hypothesis import strategies as st
from reports.pages import HOSTILE, any_text, obeyed, overlong, widths

from provenance.reports.layout import counted, listed, paragraph, plain


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("Bracket, 3 ft 4½ in", "Bracket, 3 ft 4½ in"),
        ("Gänge, ограда, 鉄道", "Gänge, ограда, 鉄道"),
        ("\x1b[31mred", r"\x1b[31mred"),
        ("\x9b2J", r"\x9b2J"),
        ("bell\x07", r"bell\x07"),
        ("one\ntwo\r\nthree\tfour", "one two three four"),
        ("\u202egnorw", r"\u202egnorw"),
        ("line\u2028break", r"line\u2028break"),
        ("bytes \udc80", r"bytes \udc80"),
        ("no\xa0break", "no\xa0break"),
        ("", ""),
    ],
)
def test_what_a_terminal_would_obey_is_written_out_and_all_else_stays(text: str, shown: str) -> None:
    assert plain(text) == shown


@given(any_text)
def test_no_text_can_reach_the_terminal_but_as_text(text: str) -> None:
    shown = plain(text)

    assert obeyed(shown) == []
    assert "\n" not in shown
    assert shown.encode().decode() == shown  # it can be written at all
    assert plain(shown) == shown


@given(any_text, widths, st.sampled_from(["", "  ", "    for     ", "  1. "]))
def test_a_paragraph_keeps_to_the_width_and_loses_no_word(text: str, width: int, indent: str) -> None:
    lines = paragraph(text, width, indent=indent, hang=" " * len(indent))

    assert overlong("\n".join(lines), width) == []
    assert [word for line in lines for word in line.split()] == (
        [*indent.split(), *plain(text).split()] if plain(text).strip(" ") else indent.split()
    )
    assert all(line.startswith(" " * len(indent)) for line in lines[1:])


def test_an_empty_paragraph_is_one_line_that_keeps_its_mark() -> None:
    assert paragraph("", 80, indent="  1. ") == ["  1."]


def test_a_word_is_never_broken_even_at_its_hyphens() -> None:
    assert paragraph("claims/headlamp-kind-acetylene.yaml and more", 20) == [
        "claims/headlamp-kind-acetylene.yaml",
        "and more",
    ]


@pytest.mark.parametrize(
    ("items", "text"), [(["a"], "a"), (["a", "b"], "a and b"), (("a", "b", "c"), "a, b and c"), (iter("ab"), "a and b")]
)
def test_a_list_reads_as_people_say_it(items: list[str], text: str) -> None:
    assert listed(items) == text


@pytest.mark.parametrize(("number", "text"), [(0, "no pages"), (1, "one page"), (2, "2 pages")])
def test_a_number_stands_with_its_noun(number: int, text: str) -> None:
    assert counted(number, "page") == text


def test_a_noun_that_does_not_take_an_s_is_given() -> None:
    assert counted(3, "entry", "entries") == "3 entries"


def test_the_hostile_text_of_these_tests_is_hostile() -> None:
    assert len(obeyed(HOSTILE)) >= 9
