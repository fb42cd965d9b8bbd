"""Texts of few words over and over are alike only where they are equal."""

import random
from pathlib import Path

import pytest
from likeness.passages import BRAKES, FARES, HEATING, OILING

from provenance.likeness.repetitive import is_repetitive
from provenance.likeness.word_index import WordIndex

WORDS = ("lamp", "bracket", "cantrail", "buffer", "spring", "axle", "window", "handle", "brass", "oak")


def soup(seed: int) -> str:
    draw = random.Random(seed)
    return " ".join(draw.choice(WORDS) for _ in range(200))


def matched(folder: Path, texts: dict[str, str], key: str) -> list[str]:
    index = WordIndex(folder)
    index.add(texts.items())
    return [match.key for match in index.matches(key, family_of=lambda each: each)]


@pytest.mark.parametrize(
    "text", [OILING, BRAKES, FARES, HEATING, "H-204 bracket 2 off, H-317 lamp glass 1 off, oak 4 off"]
)
def test_prose_and_lists_are_varied(text: str) -> None:
    assert not is_repetitive(text)


def test_ten_words_over_and_over_are_not() -> None:
    assert is_repetitive(soup(1))
    assert not is_repetitive("")


def test_texts_of_the_same_few_words_are_not_alike(tmp_path: Path) -> None:
    texts = {f"note-{seed}": soup(seed) for seed in range(30)}

    assert matched(tmp_path, texts, "note-0") == []


def test_one_that_is_the_same_letter_for_letter_is_a_copy(tmp_path: Path) -> None:
    texts = {"one": soup(1), "other": soup(1).replace(" ", "\n").upper(), "third": soup(2)}

    assert matched(tmp_path, texts, "one") == ["other"]


def test_one_that_many_have_is_a_form(tmp_path: Path) -> None:
    assert matched(tmp_path, {f"note-{number}": soup(1) for number in range(6)}, "note-0") == []
