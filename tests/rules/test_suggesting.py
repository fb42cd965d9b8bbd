"""What a find may speak of; every score is worked out by hand from points / (points + 3)."""

import pytest
from builders import a_component, an_archive

from provenance.rules.suggesting import Namings, PageText, Suggestion


def suggest(*texts: str) -> dict[str, Suggestion]:
    components = [
        a_component("headlamp", name="Headlamp", references=("H-204", "drawing 30921"), also_called=("gas lamp",)),
        a_component("lamp-bracket", name="Head lamp bracket", references=("H-207",)),
        a_component("seat", name="Seat"),
        a_component("step", name="in"),
    ]
    pages = [PageText(number or None, text) for number, text in enumerate(texts)]
    return {each.component: each for each in Namings(an_archive(*components)).suggest(pages)}


@pytest.mark.parametrize("text", ["the headlamp is", "HEAD LAMPS", "a head-lamp", "Head\nlamp"])
def test_a_name_is_known_however_it_is_parted(text: str) -> None:
    found = suggest("", text)

    assert list(found) == ["headlamp"]
    assert found["headlamp"].score == pytest.approx(2 / 5)
    assert found["headlamp"].why == "“headlamp” in page 1"


def test_the_longest_name_alone_counts() -> None:
    assert list(suggest("", "the head lamp brackets of steel")) == ["lamp-bracket"]


def test_a_number_weighs_more_than_a_name_and_a_misread_one_says_how_it_reads() -> None:
    exact, misread = suggest("", "see H 204"), suggest("", "see H-2O4")

    assert exact["headlamp"].score == pytest.approx(3 / 6)
    assert misread["headlamp"].score == pytest.approx(2 / 5)
    assert misread["headlamp"].why == "“H-204” in page 1, read as H-2O4"
    assert suggest("", "drg. 30921")["headlamp"].score == pytest.approx(3 / 6)


def test_a_name_of_two_letters_is_not_looked_for() -> None:
    assert suggest("", "in the car") == {}


def test_another_number_suggests_nothing() -> None:
    assert suggest("", "H-205 and H-20 and 3092") == {}


def test_each_place_counts_up_to_three_for_one_wording() -> None:
    found = suggest("gas lamp", "gas lamp, gas lamp", "gas lamp; H-204", "gas lamp", "gas lamp")

    # 3 places of another name are 3 points, one number 3
    assert found["headlamp"].score == pytest.approx(6 / 9)
    assert found["headlamp"].why == "“gas lamp” in the title, page 1, page 2 and 2 more; “H-204” in page 2"


def test_the_best_come_first_and_equals_by_their_ids() -> None:
    assert list(suggest("", "seat, headlamp, H-207")) == ["lamp-bracket", "headlamp", "seat"]


def test_a_find_without_text_suggests_nothing() -> None:
    assert suggest() == {}


def test_a_place_that_is_no_page_is_called_by_its_name() -> None:
    namings = Namings(an_archive(a_component("headlamp", name="Headlamp")))

    (found,) = namings.suggest([PageText("the transcript t01", "the head lamp"), PageText(2, "a headlamp")])

    assert found.why == "“headlamp” in the transcript t01, page 2"
