"""Any text is read as a query, and what was not understood is said."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from provenance.search.grammar import MOST_WORDS, Part, Query, parse_query

NOTHING = "there is nothing to look for; type a word, a number or a phrase"


def words(parts: tuple[Part, ...]) -> list[str]:
    """The parts, each as its words with a space between."""
    return [" ".join(part.words) for part in parts]


@pytest.mark.parametrize(
    ("typed", "wanted"),
    [
        ("bracket height", ["bracket", "height"]),
        ('"type A" lamp', ["type a", "lamp"]),
        ("\u201ctype A\u201d lamp", ["type a", "lamp"]),
        ("3 ft 4 1/2 in", ["3", "ft", "4", "1/2", "in"]),
        ("H-204", ["h 204"]),
        ("BX/12/4", ["bx 12 4"]),
        ("3'-4½\"", ["3 ft 4 1/2 in"]),
        ('1/2" bolt', ["1/2 in", "bolt"]),
        ('"1/2" bolt"', ["1/2 in bolt"]),
        ('"No. 4" bracket', ["no 4", "bracket"]),
        ('"No. 4" "type A"', ["no 4", "type a"]),
        ('"No. 4" 1/2" "x y"', ["no 4", "1/2 in", "x y"]),
        ("a,b;c (lamp)", ["a", "b", "c", "lamp"]),
        ("lamp Lamps LAMP", ["lamp"]),
        ("12:30", ["12 30"]),
    ],
)
def test_words_are_wanted_and_what_is_written_together_stands_side_by_side(typed: str, wanted: list[str]) -> None:
    query = parse_query(typed)

    assert words(query.wanted) == wanted
    assert (query.required, query.excluded, query.notes) == ((), (), ())


def test_signs_require_and_exclude() -> None:
    query = parse_query('+bracket +"type A" lamp -brass -"type B" -kind:letter')

    assert words(query.required) == ["bracket", "type a"]
    assert words(query.wanted) == ["lamp"]
    assert words(query.excluded) == ["brass", "type b", "letter"]
    assert query.excluded[2].field == "kind"
    assert words(query.sought) == ["bracket", "type a", "lamp"]


def test_a_word_that_is_required_is_not_wanted_besides() -> None:
    query = parse_query("lamp +lamp")

    assert (words(query.required), words(query.wanted)) == (["lamp"], [])


def test_a_field_keeps_a_word_or_a_phrase_to_itself() -> None:
    query = parse_query('title:handbook Reference:H-204 text:"type A" claim:height')

    assert [(part.field, part.words) for part in query.wanted] == [
        ("title", ("handbook",)),
        ("reference", ("h", "204")),
        ("text", ("type", "a")),
        ("claim", ("height",)),
    ]


def test_a_star_stands_for_the_rest_of_a_word() -> None:
    query = parse_query("brackets* H-20* kind:oral*")

    assert [(part.said, part.words, part.begins) for part in query.wanted] == [
        ("brackets*", ("brackets",), True),
        ("H-20*", ("h", "20"), True),
        ("oral*", ("oral",), True),
    ]


def test_a_word_with_a_hyphen_is_also_looked_for_as_one() -> None:
    query = parse_query('rail-car "rail-car wheel" rail-ca*')

    assert [(part.words, part.joined) for part in query.wanted] == [
        (("rail", "car"), "railcar"),
        (("rail", "car", "wheel"), ""),
        (("rail", "ca"), ""),
    ]


@pytest.mark.parametrize(
    ("typed", "note"),
    [
        ("", NOTHING),
        (" \t\n", NOTHING),
        ('""', NOTHING),
        ("-lamp", "there is nothing to look for, only what must not be there; add a word to look for"),
        ("pressure:high", "`pressure:` is no field; searched as words"),
        ('foo:"bar baz"', "`foo:` is no field; searched as words"),
        ('lamp "type A', "a quotation was not closed; it was read to the end"),
        ("br*ket", "`*` counts only at the end of a word that stands by itself"),
        ('"brack*"', "`*` counts only at the end of a word that stands by itself"),
        ("b*", "`b*` is too short a beginning; searched as the word `b`"),
        ("lamp & bracket", "`&` has nothing in it to search for"),
        ("?" * 99 + " lamp", f"`{'?' * 40}...` has nothing in it to search for"),
        (
            "lamp AND NOT bracket",
            "AND and NOT: plain words here; write +word for what must be there, -word for what not",
        ),
        ("x " * 6000, "the query is long; only its first 10000 characters were read"),
        (" ".join(map(str, range(60))), f"the query is long; only its first {MOST_WORDS} words were looked for"),
    ],
)
def test_what_was_not_understood_is_said(typed: str, note: str) -> None:
    assert note in parse_query(typed).notes


def test_what_is_no_field_is_searched_as_words() -> None:
    query = parse_query('-foo:"bar baz" http://x')

    assert words(query.excluded) == ["foo", "bar baz"]
    assert words(query.wanted) == ["http", "x"]


def test_a_long_query_keeps_its_first_words() -> None:
    query = parse_query(" ".join(map(str, range(60))))

    assert words(query.wanted) == [str(number) for number in range(MOST_WORDS)]


@given(st.text(alphabet=st.sampled_from("ab1/2½\"'*+-: \n.,titletext\u201c()"), max_size=60) | st.text(max_size=300))
def test_any_text_is_read(typed: str) -> None:
    query = parse_query(typed)

    assert isinstance(query, Query)
    assert all(part.words and all(part.words) for part in query.sought + query.excluded)
    assert bool(query.sought) == (not any(note.startswith("there is nothing to look for") for note in query.notes))
