"""A text that comes back is found, whole or in part, misread or broken otherwise; forms and turns of speech are not."""

import random
import re
from collections.abc import Callable, Collection, Mapping
from pathlib import Path

import pytest
from likeness.passages import BRAKES, FARES, HEATING, OILING, OTHERS, SCRIPTS

from provenance.likeness.shared_runs import RARE_FAMILIES
from provenance.likeness.text_likeness import COPY_LETTERS, POSSIBLE_LETTERS
from provenance.likeness.values import Likeness, TextMatch
from provenance.likeness.word_index import WordIndex

HEAD = (
    "Harrowdale Light Railway Company, Carriage and Wagon Department, Station Road, Harrowdale. All communications to "
    "be addressed to the Superintendent and not to individual officers, and our number to be quoted in your reply."
)


def own_key(key: str) -> str:
    return key


def asked(
    folder: Path,
    texts: Mapping[str, str],
    key: str = "asked",
    *,
    family_of: Callable[[str], str] = own_key,
    without: Collection[str] = (),
) -> tuple[TextMatch, ...]:
    index = WordIndex(folder)
    index.add(texts.items())
    return index.matches(key, family_of=family_of, without=without)


def misread(text: str, rate: float, seed: int = 1) -> str:
    draw = random.Random(seed)
    return "".join(draw.choice(["", "x", "rn", "i"]) if not c.isspace() and draw.random() < rate else c for c in text)


def letters_in(text: str) -> int:
    return sum(1 for character in text if character.isalnum())


def test_an_extract_in_a_longer_page_is_found_and_shown_in_both(tmp_path: Path) -> None:
    extract = OILING[OILING.index("leaves") : OILING.index(", which is kept")]
    newsletter = f"{FARES} {extract} {HEATING}"

    (match,) = asked(tmp_path, {"asked": OILING, "newsletter": newsletter, "other": BRAKES})

    assert (match.key, match.likeness, match.alike) == ("newsletter", Likeness.COPY, 1.0)
    assert match.letters == letters_in(extract)
    assert OILING[slice(*match.one)] == extract
    assert newsletter[slice(*match.other)] == extract
    assert match.why == f"{letters_in(extract)} letters in a row agree"


@pytest.mark.parametrize("rate", [0.05, 0.1, 0.2])
def test_a_page_that_was_misread_is_found_from_either_side(tmp_path: Path, rate: float) -> None:
    texts = {"asked": OILING + BRAKES, "again": misread(OILING + BRAKES, rate), "other": HEATING}

    (match,) = asked(tmp_path, texts)
    (back,) = asked(tmp_path, texts, "again")

    assert (match.key, back.key) == ("again", "asked")
    assert match.likeness is back.likeness is Likeness.COPY
    assert 1 - 2 * rate <= match.alike < 1
    assert re.fullmatch(r"\d+ letters in a row agree but for \d+", match.why)


def test_lines_broken_otherwise_make_no_difference(tmp_path: Path) -> None:
    narrow = re.sub(r"(\w{3})(\w{3})", r"\1-\n\2", OILING.upper())

    (match,) = asked(tmp_path, {"asked": OILING, "narrow": narrow})

    assert (match.likeness, match.letters, match.alike) == (Likeness.COPY, letters_in(OILING), 1.0)


@pytest.mark.parametrize(
    ("letters", "expected"),
    [
        (POSSIBLE_LETTERS - 1, []),
        (POSSIBLE_LETTERS, [Likeness.POSSIBLE]),
        (COPY_LETTERS - 1, [Likeness.POSSIBLE]),
        (COPY_LETTERS, [Likeness.COPY]),
    ],
)
def test_how_long_the_common_part_is_tells_copy_from_possible(
    tmp_path: Path, letters: int, expected: list[Likeness]
) -> None:
    common = re.sub(r"\W", "", OILING)[:letters]
    texts = {"asked": f"{common} 111 {FARES}", "other": f"{HEATING} {common} 222"}

    found = asked(tmp_path, texts)

    assert [match.likeness for match in found] == expected
    assert [match.letters for match in found] == [letters] * len(expected)


def test_two_extracts_of_one_text_are_added_up(tmp_path: Path) -> None:
    first, second = OILING[:120], OILING[-120:]

    (match,) = asked(tmp_path, {"asked": OILING, "other": f"{second} {BRAKES} {first}"})

    assert match.letters in range(letters_in(first + second) - 2, letters_in(first + second) + 3)
    assert match.likeness is Likeness.COPY
    assert "letters in 2 places agree" in match.why


@pytest.mark.parametrize("rate", [0.0, 0.03, 0.1])
def test_the_head_that_all_letters_of_an_office_share_is_no_copy(tmp_path: Path, rate: float) -> None:
    bodies = (OILING, BRAKES, HEATING, FARES, "An answer is awaited.")
    letters = {f"letter-{n}": misread(f"{HEAD} {HEAD[::-1]} {body}", rate, seed=n) for n, body in enumerate(bodies)}

    found = [asked(tmp_path, letters, key) for key in letters]

    assert found == [()] * 5


def test_two_letters_with_one_head_are_not_alike(tmp_path: Path) -> None:
    two = {"letter-0": f"{HEAD} {OILING}", "letter-1": f"{HEAD} {BRAKES}"}

    assert asked(tmp_path, two, "letter-0") == ()


def test_a_passage_much_copied_within_one_family_stays_telling(tmp_path: Path) -> None:
    family = {f"newsletter-{n}": f"{n} {OILING}" for n in range(200)}
    texts = {"asked": f"{FARES} {OILING}", **family, "other": BRAKES}

    apart = asked(tmp_path, texts)
    together = asked(tmp_path, texts, family_of=lambda key: key.split("-")[0])

    assert apart == ()
    assert {match.key for match in together} == set(family)


@pytest.mark.parametrize(("others", "found"), [(RARE_FAMILIES, RARE_FAMILIES), (RARE_FAMILIES + 1, 0)])
def test_what_stands_in_many_families_is_a_form(tmp_path: Path, others: int, found: int) -> None:
    texts = {"asked": f"{OILING} {FARES}", **{f"other-{n}": f"{n} {OILING} {n * 7} {HEAD[n:]}" for n in range(others)}}

    matches = asked(tmp_path, texts)

    assert len(matches) == found


def test_the_asked_text_and_its_own_family_do_not_make_a_form(tmp_path: Path) -> None:
    others = {f"other-{n}": f"{n} {OILING} {HEAD[n:]}" for n in range(RARE_FAMILIES)}
    texts = {"asked": f"{OILING} {FARES}", "sister": f"{BRAKES} {OILING}", **others}

    found = asked(tmp_path, texts, family_of=lambda key: "asked" if key == "sister" else key)

    assert {match.key for match in found} == {"sister", *others}


def test_a_passage_that_the_other_text_has_twice_counts_once(tmp_path: Path) -> None:
    (match,) = asked(tmp_path, {"asked": OILING, "twice": f"{OILING} {BRAKES} {OILING}"})

    assert match.letters == letters_in(OILING)


@pytest.mark.parametrize(("intact", "found"), [(range(35, 49), 0), (range(20, 64), 1)])
def test_a_short_span_has_to_agree_well(tmp_path: Path, intact: range, found: int) -> None:
    letters = re.sub(r"\W", "", OILING)[:84]
    worn = "".join("x" if n % 3 == 0 and n not in intact else letter for n, letter in enumerate(letters))

    matches = asked(
        tmp_path, {"asked": f"{FARES} 1 {letters} {HEATING}", "other": f"{BRAKES} 2 {worn} {OTHERS[0][:90]}"}
    )

    assert len(matches) == found


def test_lists_of_the_same_few_words_in_another_order_are_not_alike(tmp_path: Path) -> None:
    one = "headlamp, headlampglass, taillamp, taillampglass, sidelamp, sidelampglass, cablamp, cablampglass"
    other = "taillampglass, cablamp, headlampglass, sidelamp, taillamp, sidelampglass, headlamp, cablampglass"

    assert asked(tmp_path, {"asked": f"{FARES} {one}", "other": f"{BRAKES} {other}"}) == ()


def test_texts_that_are_not_asked_about_are_not_answered(tmp_path: Path) -> None:
    texts = {"asked": OILING, "sister": OILING, "other": OILING}

    found = asked(tmp_path, texts, without={"sister"})

    assert [match.key for match in found] == ["other"]


def test_the_best_match_comes_first_and_equal_ones_by_key(tmp_path: Path) -> None:
    texts = {"asked": OILING + BRAKES, "b": OILING + FARES, "a": OILING + HEATING, "whole": OILING + BRAKES}

    found = asked(tmp_path, texts)

    assert [match.key for match in found] == ["whole", "a", "b"]
    assert 1 > found[0].score > found[1].score > 0.5


@pytest.mark.parametrize("text", SCRIPTS.values(), ids=SCRIPTS)
def test_other_scripts_are_compared_by_their_letters(tmp_path: Path, text: str) -> None:
    (match,) = asked(tmp_path, {"asked": text, "other": f"{OILING} {text}", "third": FARES})

    assert (match.key, match.likeness, match.alike) == ("other", Likeness.COPY, 1.0)


def test_tables_of_figures_match_only_where_the_figures_are_the_same(tmp_path: Path) -> None:
    draw = random.Random(5)
    first, second = (" ".join(str(draw.randint(100, 99_999)) for _ in range(200)) for _ in range(2))

    found = asked(tmp_path, {"asked": first, "second": second, "again": f"Table 2: {first}"})

    assert [match.key for match in found] == ["again"]


@pytest.mark.parametrize("text", ["", " \n", "Stop.", "o" * 3000, "ab" * 1500, "9", "— . —"])
def test_a_text_that_tells_nothing_has_no_match(tmp_path: Path, text: str) -> None:
    assert asked(tmp_path, {"asked": text, "same": text, "other": OILING}) == ()


def test_two_thousand_blank_pages_are_held_and_match_nothing(tmp_path: Path) -> None:
    blank = {f"page-{n}": " .\n" * (n % 3) + "ii" * (n % 2) for n in range(2000)}

    found = asked(tmp_path, {"asked": OILING, **blank, "copy": OILING})

    assert [match.key for match in found] == ["copy"]
    assert WordIndex(tmp_path).matches("page-7", family_of=own_key) == ()


def test_a_very_long_page_is_compared_as_a_whole(tmp_path: Path) -> None:
    draw = random.Random(2)
    words = sorted({word for passage in (OILING, *OTHERS) for word in passage.split()})
    long = " ".join(draw.choice(words) + str(draw.randint(0, 99)) for _ in range(9_000))

    (match,) = asked(tmp_path, {"asked": long, "again": long[5_000:]})

    assert match.letters == letters_in(long[5_000:])
    assert match.one == (5_000, len(long))
    assert "in a row" in match.why
