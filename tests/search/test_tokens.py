"""What is written two ways is one thing, and nothing that a fitter writes is dropped."""

import pytest
import snowballstemmer
from hypothesis import given
from hypothesis import strategies as st

from provenance.search.tokens import Token, stem, tokenise


def texts(text: str) -> list[str]:
    return [token.text for token in tokenise(text) if not token.joined]


def pieces(text: str) -> list[str]:
    """What the tokens were cut from."""
    return [text[token.start : token.end] for token in tokenise(text)]


@pytest.mark.parametrize(
    ("written", "tokens"),
    [
        ("1/2 in", ["1/2", "in"]),
        ("No. 4", ["no", "4"]),
        ("3 ft 4 1/2", ["3", "ft", "4", "1/2"]),
        ("type A", ["type", "a"]),
        ("H-204", ["h", "204"]),
        ("M.S.", ["ms"]),
        ("a 6 B", ["a", "6", "b"]),
        ("16 SWG, 2 BA", ["16", "swg", "2", "ba"]),
        ("4.490", ["4.490"]),
        (".25 in", ["0.25", "in"]),
        ("29/10/34", ["29", "10", "34"]),
        ("1931/32", ["1931", "32"]),
        ("3/2", ["3", "2"]),
        ("1/500", ["1", "500"]),
        ("12.5.34", ["12", "5", "34"]),
        ("x_y", ["x", "y"]),
        ("", []),
        (" .,;:!?-'\"/ ", []),
    ],
)
def test_nothing_that_a_fitter_writes_is_dropped(written: str, tokens: list[str]) -> None:
    assert texts(written) == tokens


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("4½", "4 1/2"),
        ("4½", "4-1/2"),
        ("3'-4½\"", "3 ft 4 1/2 in"),
        ("3\N{PRIME} 4\N{DOUBLE PRIME}", "3 ft 4 in"),
        ("3' 6''", "3 ft 6 in"),
        ('½" BSF', "1/2 in BSF"),
        ("H-204", "h 204"),
        ("H-204", "H204"),
        ("H-204", "H.204"),
        ("H-204", "H/204"),
        ("M.S.", "MS"),
        ("m.s", "MS"),
        ("32mm", "32 mm"),
        ("1,029 mm", "1029 mm"),
        ("1,029,000.5", "1029000.5"),
        ("40,5", "40.5"),
        ("No.4", "No 4"),
        ("№ 4", "No. 4"),
        ("TRÄGER", "trager"),
        ("ﬁtting", "fitting"),
        ("Straße", "STRASSE"),
        ("brackets", "bracket"),
        ("driver's", "drivers"),
        ("o'clock", "oclock"),
        ("brack-\nets", "bracket"),
    ],
)
def test_one_thing_spelt_two_ways_is_one_thing(one: str, other: str) -> None:
    assert [t.text for t in tokenise(one)][:1] == [t.text for t in tokenise(other)][:1]
    if "-\n" not in one:
        assert texts(one) == texts(other)


def test_a_quotation_mark_is_inches_only_after_a_figure_that_is_not_quoted() -> None:
    written = 'it read "type 4" and "in 1934", 6" long, and the 1930\'s; \'No. 7\''

    tokens = texts(written)

    assert tokens == [
        "it",
        "read",
        "type",
        "4",
        "and",
        "in",
        "1934",
        "6",
        "in",
        "long",
        "and",
        "the",
        "1930",
        "s",
        "no",
        "7",
    ]


def test_a_quotation_left_open_on_one_line_does_not_swallow_the_inches_of_the_next() -> None:
    written = 'stamped "No. 4\nthickness 6" over all'

    tokens = texts(written)

    assert tokens == ["stamp", "no", "4", "thick", "6", "in", "over", "all"]


def test_a_word_broken_at_a_line_end_is_found_whole_and_in_parts() -> None:
    written = "a brac-\n  ket of"

    tokens = tokenise(written)

    assert [(t.text, t.position, t.joined) for t in tokens] == [
        ("a", 0, False),
        ("bracket", 1, True),
        ("brac", 1, False),
        ("ket", 1, False),
        ("of", 2, False),
    ]
    assert pieces(written) == ["a", "brac-\n  ket", "brac", "ket", "of"]


def test_a_name_after_a_hyphen_at_a_line_end_is_not_the_rest_of_a_word() -> None:
    written = "works of Brand-\nEllis"

    tokens = texts(written)

    assert tokens == ["work", "of", "brand", "elli"]
    assert [token.position for token in tokenise(written)] == [0, 1, 2, 3]


def test_a_word_with_a_hyphen_is_found_as_one_word_too() -> None:
    written = "rail-car cross-sec-\ntion"

    tokens = tokenise(written)

    assert [(t.form, t.position) for t in tokens if t.joined] == [("railcar", 0), ("crosssection", 2), ("section", 3)]
    assert [(t.form, t.position) for t in tokens if not t.joined] == [
        ("rail", 0),
        ("car", 1),
        ("cross", 2),
        ("sec", 3),
        ("tion", 3),
    ]


def test_a_range_of_years_is_two_figures_and_no_word() -> None:
    assert [(t.text, t.joined) for t in tokenise("1931-33")] == [("1931", False), ("33", False)]


TRADE_WORDS = """
    bracket brackets bracketed lamp lamps fitting fittings fitted riveted rivets riveting bodies body bogies assembly
    assemblies measured measurement measurements drawing drawings drawn engine engines cylinders brass axles wheels
    carriage carriages painting painted paintwork happily happiness castings cast welded welding electrical electrically
    specification specifications manufacturer manufacturers station stations stationary generously ties dying skies
    news howe lovingly hopping hoped national rational conformably radically
"""


def test_endings_are_taken_off_as_the_published_stemmer_does() -> None:
    # outside reference: snowballstemmer, generated from the published Snowball algorithms (snowballstem.org, english);
    # words whose stem its version 3 changed are left out: internal, organization, paste, university, adding
    words = TRADE_WORDS.split()
    published = snowballstemmer.stemmer("english")

    assert {word: stem(word) for word in words} == {word: published.stemWord(word) for word in words}


def test_very_long_words_are_kept_to_their_beginning() -> None:
    (token,) = tokenise("x" * 100_000)

    assert token.text == "x" * 64
    assert (token.start, token.end) == (0, 100_000)


@given(st.text(alphabet=st.sampled_from("abR1234/½⅜.,'\"-\n \u00adé\u0301ﬁ″№x"), max_size=60))
def test_every_token_knows_the_place_it_came_from(text: str) -> None:
    tokens = tokenise(text)

    assert all(0 <= t.start < t.end <= len(text) and t.text and t.form for t in tokens)
    assert [t.position for t in tokens] == sorted(t.position for t in tokens)
    assert all(_is_within(t, tokens) for t in tokens if t.joined)


def _is_within(joined: Token, tokens: tuple[Token, ...]) -> bool:
    """A joined word begins and ends with one of its own parts."""
    parts = [t for t in tokens if not t.joined and joined.start <= t.start and t.end <= joined.end]
    return len(parts) > 1 and parts[0].start == joined.start and parts[-1].end == joined.end


@given(st.text(max_size=200))
def test_folding_twice_changes_nothing_more(text: str) -> None:
    once = " ".join(token.form for token in tokenise(text))

    assert [token.form for token in tokenise(once) if not token.joined] == once.split()
