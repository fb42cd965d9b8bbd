"""The best local alignment scores what Biopython's aligner finds, and its pairs add up to that score."""

import random
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from Bio.Align import PairwiseAligner

from provenance.likeness.alignment import (
    BEYOND_ONE,
    BEYOND_OTHER,
    EQUAL,
    GAP,
    UNEQUAL,
    Alignment,
    Stretch,
    align,
    whole,
    window_scores,
)
from provenance.likeness.letters import Codes, fold

PASSAGE = (
    "The oil is to be changed when the car has run a thousand miles, and the filter cleaned in paraffin at the same "
    "time. Drivers are to note in the book whatever they hear, see or smell that was not there the day before."
)


def peer_score(one: Codes, other: Codes) -> int:
    """The score by Bio.Align.PairwiseAligner of Biopython with the same costs."""
    make: Any = PairwiseAligner  # it has no types
    aligner = make(mode="local", match_score=EQUAL, mismatch_score=UNEQUAL, gap_score=GAP)
    score: float = aligner.score(*("".join(map(chr, codes.tolist())) for codes in (one, other)))
    return int(score)


def added_up(one: Codes, other: Codes, found: Alignment) -> int:
    pairs = list(zip(found.one.tolist(), found.other.tolist(), strict=True))
    paired = sum(EQUAL if one[a] == other[b] else UNEQUAL for a, b in pairs)
    left_out = sum(after[0] - a - 1 + after[1] - b - 1 for (a, b), after in pairwise(pairs))
    return int(paired + GAP * left_out)


def drawn(draw: random.Random, letters: str, most: int) -> Codes:
    return fold("".join(draw.choices(letters, k=draw.randint(1, most)))).codes


def test_random_letters_are_aligned_as_well_as_biopython_does() -> None:
    draw = random.Random(19340601)
    pairs = [(drawn(draw, letters, 70), drawn(draw, letters, 70)) for letters in ("ab", "abcd", "abcdefghij") * 50]

    found = align([whole(one, other) for one, other in pairs])

    assert [alignment.score for alignment in found] == [peer_score(one, other) for one, other in pairs]
    assert [added_up(*pair, alignment) for pair, alignment in zip(pairs, found, strict=True)] == [
        alignment.score for alignment in found
    ]


def test_a_misread_passage_is_aligned_as_well_as_biopython_does() -> None:
    draw = random.Random(7)
    one = fold(PASSAGE).codes
    misread = "".join(c if draw.random() > 0.15 else draw.choice(["", "x", c + "e"]) for c in PASSAGE)
    other = fold(f"Some other words stand before it. {misread} And some stand after it.").codes

    (found,) = align([whole(one, other)])

    assert found.score == peer_score(one, other)
    assert added_up(one, other, found) == found.score


def test_a_band_that_the_passage_lies_in_gives_the_same_as_no_band() -> None:
    one, other = fold(PASSAGE[20:160]).codes, fold(PASSAGE).codes
    distance = len(fold(PASSAGE[:20]).codes)

    found = align([Stretch(one, other, distance - 8, distance + 8), whole(one, other)])

    assert [alignment.score for alignment in found] == [len(one), len(one)]
    assert found[0].other.tolist() == list(range(distance, distance + len(one)))


def test_a_band_beside_the_passage_finds_less() -> None:
    one = fold(PASSAGE).codes

    (found,) = align([Stretch(one, one, 20, 30)])

    assert 0 < found.score < len(one) / 4


def test_nothing_in_common_is_no_pair_and_no_score() -> None:
    (found,) = align([whole(fold("aaaa").codes, fold("bbb").codes)])

    assert (found.score, found.one.tolist(), found.other.tolist()) == (0, [], [])
    assert align([]) == []


def test_pairs_of_a_lower_score_than_asked_for_are_not_told() -> None:
    codes = fold("lamp").codes

    found = align([whole(codes, codes)], least=5)[0]

    assert (found.score, len(found.one)) == (4, 0)


def test_many_stretches_come_back_in_the_order_in_which_they_were_asked() -> None:
    lengths = [3000, 5, 700, 3000, 1]
    codes = [np.arange(1, length + 1, dtype=np.uint16) for length in lengths]

    found = align([whole(one, one) for one in codes])

    assert [alignment.score for alignment in found] == lengths


@pytest.mark.parametrize("wide", [1, 4, 9])
def test_a_window_scores_what_the_alignment_of_its_letters_scores(wide: int) -> None:
    draw = random.Random(3)
    ones = np.array([draw.choices(range(3), k=30) for _ in range(40)], dtype=np.uint16)
    others = np.array([draw.choices(range(3), k=30 + wide) for _ in range(40)], dtype=np.uint16)
    ones[0, :5], others[0, -5:] = BEYOND_ONE, BEYOND_OTHER

    found = window_scores(ones, others)

    stretches = [Stretch(one, other, 0, wide - 1) for one, other in zip(ones, others, strict=True)]
    assert found.tolist() == [alignment.score for alignment in align(stretches)]
