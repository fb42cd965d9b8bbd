"""Letterheads and filled-in forms, told from copies; the texts are written by hand."""

from pathlib import Path

import numpy as np
import pytest

from provenance.likeness.printed_forms import beside_letterheads
from provenance.likeness.word_index import WordIndex

CARD = (
    "RECORD OF A SPRING TAKEN OUT. Shed of {shed}. Taken out on {day} by {man}. The spring was found in the stores of "
    "the works behind the paint shop. Free length as it lay {length} inches, under the load of the test {load} inches. "
    "It is to be scragged three times before it is measured again. Remarks of the foreman: {remarks}"
)
FIRST = CARD.format(
    shed="Orlaby", day="14 March 1931", man="Wenlark", length="31.4", load="22.75", remarks="one leaf is cracked."
)
SECOND = CARD.format(
    shed="Pellow Halt", day="2 June 1938", man="Haldersby and mate", length="29.6", load="19.25", remarks="sound."
)
HEAD = "THE ORLABY AND PELLOW LIGHT RAILWAY. Office of the Superintendent, Station Road, Orlaby. Telephone Orlaby 12. "
FOOT = " I am, Gentlemen, your obedient servant, for the Superintendent, J. Askwold, chief clerk of the railway."
SPRINGS = (
    "We return herewith the four springs that were sent to us in error with the tyres, and shall be glad to have those "
    "that were ordered. The carter was told to wait for them, and waited until the evening without getting any."
)
HAT = (
    "The committee has looked into the complaint of a passenger who lost his hat between the coast and the junction. "
    "It is found that he leaned out, against the notice, and nothing can be done for him but to express regret."
)


def found_between(folder: Path, one: str, other: str) -> list[str]:
    index = WordIndex(folder)
    index.add([("one", one), ("other", other)])
    return [match.key for match in index.matches("one", family_of=lambda key: key)]


def test_one_form_filled_in_twice_is_no_copy(tmp_path: Path) -> None:
    assert found_between(tmp_path, FIRST, SECOND) == []


def test_a_form_copied_with_its_entries_is_a_copy_in_spite_of_misreadings(tmp_path: Path) -> None:
    misread = FIRST.replace("stores", "st0res").replace("31.4", "81.4").replace("measured", "rneasured")

    assert found_between(tmp_path, FIRST, misread) == ["other"]


def test_a_paragraph_in_which_two_words_were_put_otherwise_is_a_copy(tmp_path: Path) -> None:
    altered = SPRINGS.replace("in error", "by some mistake").replace("the carter", "our driver").replace("four", "4")

    assert found_between(
        tmp_path, f"Of springs, page 14. {SPRINGS}", f"Heard in passing, 1931. {altered} Thus the letter."
    ) == ["other"]


def test_two_letters_of_an_office_share_no_more_than_its_letterhead(tmp_path: Path) -> None:
    assert found_between(tmp_path, f"{HEAD}{SPRINGS}{FOOT}", f"{HEAD}{HAT}{FOOT}") == []


def test_a_letter_copied_whole_is_a_copy_with_its_letterhead(tmp_path: Path) -> None:
    assert found_between(tmp_path, f"{HEAD}{SPRINGS}{FOOT}", f"{HEAD}{SPRINGS}{FOOT}") == ["other"]


@pytest.mark.parametrize(
    ("one", "other", "lengths", "kept"),
    [
        (range(100), range(10, 110), (400, 400), False),  # at the head of both
        (range(300, 390), range(250, 340), (400, 350), False),  # at the foot of both
        (range(100), range(150, 250), (400, 400), True),  # at the head of the one alone
        (range(250), range(250), (400, 400), True),  # more than half of both
        (range(100), range(100), (180, 400), True),  # more than half of the shorter
    ],
)
def test_a_letterhead_is_what_stands_at_the_same_end_of_both(
    one: range, other: range, lengths: tuple[int, int], *, kept: bool
) -> None:
    codes = np.full(lengths[0], ord("a"), np.uint16), np.full(lengths[1], ord("a"), np.uint16)

    beside = beside_letterheads(codes, np.array(one), np.array(other))

    assert set(beside.tolist()) == {kept}
