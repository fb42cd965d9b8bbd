"""A text is folded to what readings of one page agree on, and every long enough run of it is caught by a kept gram."""

import unicodedata

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from provenance.likeness.letters import (
    GRAM,
    WINDOW,
    fold,
    gram_hashes,
    hash_runs,
    telling,
    winnow,
    words_of,
)


def folded(text: str) -> str:
    return "".join(chr(code) for code in fold(text).codes.tolist())


def words(text: str) -> list[str]:
    letters = fold(text)
    starts, ends = words_of(text, letters)
    codes = letters.codes.tolist()
    return ["".join(map(chr, codes[start:end])) for start, end in zip(starts.tolist(), ends.tolist(), strict=True)]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Rail-car No. 9", "railcarno9"),
        ("lubri-\n  cator", "lubricator"),
        ("ﬁre DÉPÔT", "firedepot"),  # a ligature is two letters, accents are dropped
        ("cafe\u0301", "cafe"),
        ("Straße", "strasse"),
        ("ΛΥΧΝΟΣ Фара فانوس", "λυχνοσфараفانوس"),
        ("4½ in²", "412in2"),
        (" \t.,—\n", ""),
        ("", ""),
    ],
)
def test_only_letters_and_figures_are_left_of_a_text(text: str, expected: str) -> None:
    assert folded(text) == expected


def test_each_letter_knows_the_character_that_it_stands_for() -> None:
    letters = fold("A ﬁn")

    assert letters.at.tolist() == [0, 2, 2, 3]


@given(st.text(max_size=60))
def test_folding_what_was_folded_changes_nothing(text: str) -> None:
    once = folded(text)

    if all(unicodedata.category(letter) != "Cs" for letter in once):  # letters beyond 16 bits
        assert folded(once) == once


@given(st.text(alphabet="ab c", max_size=60))
def test_equal_runs_have_equal_hashes_and_unequal_ones_do_not(text: str) -> None:
    codes = fold(text).codes
    letters = "".join(map(chr, codes.tolist()))

    hashes = gram_hashes(codes).tolist()

    runs = [letters[n : n + GRAM] for n in range(len(letters) - GRAM + 1)]
    assert len(hashes) == len(runs)
    assert len(set(hashes)) == len(set(runs))
    assert len(set(zip(hashes, runs, strict=True))) == len(set(runs))


def test_a_hash_is_the_sum_of_powers_mixed_as_worked_out_in_plain_numbers() -> None:
    codes = fold("lamp").codes
    base, size = 0x9E3779B97F4A7C15, 2**64
    mixed = (sum((ord(c) + 1) * pow(base, n, size) for n, c in enumerate("amp")) + 3) % size
    mixed = (mixed ^ (mixed >> 30)) * 0xBF58476D1CE4E5B9 % size
    mixed = (mixed ^ (mixed >> 27)) * 0x94D049BB133111EB % size

    found = hash_runs(codes, np.array([1]), np.array([4]))

    assert found.tolist() == [mixed ^ (mixed >> 31)]


@given(st.lists(st.integers(0, 5), max_size=40), st.integers(1, 6))
def test_of_any_window_of_hashes_the_smallest_is_kept_and_nothing_else(values: list[int], window: int) -> None:
    places = winnow(np.array(values, dtype=np.uint64), window).tolist()

    wide = min(window, len(values))  # Schleimer, Wilkerson and Aiken 2003: the rightmost minimum of each window
    windows = [range(n, n + wide) for n in range(len(values) - wide + 1)] if values else []
    assert places == sorted({max(within, key=lambda n: (-values[n], n)) for within in windows})


@given(st.text(alphabet="abc", min_size=WINDOW + GRAM - 1, max_size=30), st.text("abc", max_size=20), st.text("abc"))
def test_two_texts_with_a_long_enough_run_in_common_keep_a_gram_in_common(run: str, before: str, after: str) -> None:
    kept = []
    for text in (f"{before}{run}{after}", f"{after}{run}{before}"):
        hashes = gram_hashes(fold(text).codes)
        kept.append(set(hashes[winnow(hashes)].tolist()))

    assert kept[0] & kept[1]


def test_a_run_of_fewer_than_three_different_letters_tells_nothing() -> None:
    assert telling(fold("abababa").codes).tolist() == [False]
    assert telling(fold("abababc").codes).tolist() == [True]
    assert telling(fold("short").codes).tolist() == []


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("The lubri-\n cator, o\u0301 No. 9", ["the", "lubricator", "o", "no", "9"]),
        ("lubri\u00adcator rail\u2010\ncar", ["lubricator", "railcar"]),
        ("rail-car", ["rail", "car"]),
        ("one \n two", ["one", "two"]),
        ("", []),
    ],
)
def test_words_end_at_anything_but_a_hyphen_at_the_end_of_a_line(text: str, expected: list[str]) -> None:
    assert words(text) == expected
