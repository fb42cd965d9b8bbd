import pytest
from builders import a_source

from provenance.rules.sentences import (
    chance_in_words,
    counted,
    figure,
    in_words,
    listed,
    listed_at_length,
    namer,
    points,
)


@pytest.mark.parametrize(
    ("parts", "written"),
    [
        ([], ""),
        (["a"], "a"),
        (["a", "b"], "a and b"),
        (["a", "b", "c"], "a, b and c"),
        (list("abcde"), "a, b, c, d and e"),
        (list("abcdef"), "a, b, c, d and 2 more"),
    ],
)
def test_parts_are_listed_as_people_do(parts: list[str], written: str) -> None:
    assert listed(parts) == written


@pytest.mark.parametrize(
    ("posterior", "written"),
    [
        (0.999, "more than 99 chances in 100"),
        (0.968, "about 97 chances in 100"),
        (0.01, "about 1 chance in 100"),
        (0.004, "less than 1 chance in 100"),
    ],
)
def test_a_chance_is_so_many_in_a_hundred(posterior: float, written: str) -> None:
    assert chance_in_words(posterior) == written


def test_points_have_a_decimal_only_where_they_need_one() -> None:
    assert (points(14), points(1.0), points(7.04), points(5.65)) == ("14 points", "1 point", "7 points", "5.7 points")


def test_a_number_takes_its_noun() -> None:
    assert (counted(1, "witness", "witnesses"), counted(0, "witness", "witnesses")) == ("1 witness", "0 witnesses")


@pytest.mark.parametrize(
    ("part", "named"),
    [
        ("works-drawing", "“General arrangement”"),
        ("lost", "“lost”"),
        ("*unstated*", "the same unnamed origin"),
        ("witness:A. Fitter", "what is known from A. Fitter"),
        ("copy:a--b", "an original of which both may be copies"),
    ],
)
def test_what_stands_behind_an_item_is_named_for_people(part: str, named: str) -> None:
    drawing = a_source("works-drawing", "drawing", title="General arrangement")

    assert namer({drawing.id: drawing})(part) == named


@pytest.mark.parametrize(("number", "word"), [(0, "no"), (1, "one"), (12, "twelve"), (13, "13"), (-1, "-1")])
def test_a_small_number_is_a_word(number: int, word: str) -> None:
    assert in_words(number) == word


@pytest.mark.parametrize(
    ("parts", "told"),
    [
        ([], ""),
        (["a, b"], "a, b"),
        (["a, b", "c"], "a, b; and c"),
        (list("abcde"), "a; b; c; d; and e"),
        (list("abcdef"), "a; b; c; d; and two more"),
    ],
)
def test_parts_with_commas_of_their_own_are_told_apart(parts: list[str], told: str) -> None:
    assert listed_at_length(parts) == told


@pytest.mark.parametrize(
    ("value", "to", "written"),
    [
        (7.264, None, "7.3"),
        (0.0366, None, "0.037"),
        (1028.7, 7.3, "1028.7"),
        (1028.7, 0.92, "1028.70"),
        (1028.7, 132.0, "1030"),
        (99.96, None, "100"),
        (0.0, None, "0"),
        (12.5, 0.0, "12.5"),
    ],
)
def test_a_figure_is_written_to_the_second_place_of_its_give_or_take(
    value: float, to: float | None, written: str
) -> None:
    assert figure(value, to=to) == written
