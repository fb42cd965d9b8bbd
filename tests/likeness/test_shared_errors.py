"""A misprint that two texts have at the same place, and nobody else, is evidence that the one was copied."""

from pathlib import Path

import pytest
from likeness.passages import BRAKES, FARES, HEATING, OILING
from likeness.test_text_likeness import asked

from provenance.likeness.values import SharedError

USUAL = {
    "c": f"{BRAKES} The lubricator was fitted new.",
    "d": f"{HEATING} No lubricator is fitted to the rear engine.",
    "e": f"{FARES} A lubricator was sold at the sale of stores.",
}


def test_a_misprint_at_the_same_place_in_both_is_told_with_its_places(tmp_path: Path) -> None:
    copy = f"From an old handbook. {OILING}"

    (match,) = asked(tmp_path, {"asked": OILING, "copy": copy, **USUAL})

    assert match.errors == (
        SharedError(
            written="lubricater",
            usual="lubricator",
            at_one=OILING.index("lubricater"),
            at_other=copy.index("lubricater"),
        ),
    )
    assert match.why.endswith("letters in a row agree; both have “lubricater” (elsewhere “lubricator”)")


def test_a_misprint_broken_at_the_end_of_a_line_is_the_same_misprint(tmp_path: Path) -> None:
    broken = OILING.replace("lubricater", "lubri-\n  cater")

    (match,) = asked(tmp_path, {"asked": broken, "copy": OILING, **USUAL})

    assert [(error.written, error.at_one) for error in match.errors] == [("lubricater", broken.index("lubri"))]


@pytest.mark.parametrize(
    ("odd", "why_not"),
    [
        ("lubricator", "it is spelled as everywhere"),
        ("lubricators", "an ending makes another word, no misprint"),
        ("mubricator", "a first letter too"),
        ("iubrlcator", "two letters off"),
        ("lubrlcator", "recognisers take i for l"),
    ],
)
def test_what_is_no_misprint_is_no_evidence(tmp_path: Path, odd: str, why_not: str) -> None:
    text = OILING.replace("lubricater", odd)

    (match,) = asked(tmp_path, {"asked": text, "copy": text, **USUAL})

    assert match.errors == (), why_not


def test_a_misprint_in_one_of_the_two_only_is_no_evidence(tmp_path: Path) -> None:
    (match,) = asked(tmp_path, {"asked": OILING, "copy": OILING.replace("lubricater", "lubricator"), **USUAL})

    assert match.errors == ()


def test_a_spelling_that_others_have_too_is_no_evidence_unless_they_are_of_the_family(tmp_path: Path) -> None:
    texts = {"asked": OILING, "copy": OILING, **USUAL, "f": f"{FARES} The lubricater leaks."}

    alone = asked(tmp_path, texts)
    with_family = asked(tmp_path, texts, family_of=lambda key: "copy" if key == "f" else key)

    assert [match.errors for match in alone if match.key == "copy"] == [()]
    assert [len(match.errors) for match in with_family if match.key == "copy"] == [1]


def test_a_word_that_nothing_is_near_is_only_a_rare_word(tmp_path: Path) -> None:
    (match,) = asked(tmp_path, {"asked": OILING, "copy": OILING, "c": BRAKES})

    assert match.errors == ()


@pytest.mark.parametrize("odd", ["lubriactor", "lubrcator", "lubriccator", "lubrixator"])
def test_letters_swapped_lost_added_or_changed_are_misprints(tmp_path: Path, odd: str) -> None:
    text = OILING.replace("lubricater", odd)

    (match,) = asked(tmp_path, {"asked": text, "copy": text, **USUAL})

    assert [(error.written, error.usual) for error in match.errors] == [(odd, "lubricator")]


def test_a_spelling_that_only_the_two_themselves_have_beside_the_odd_one_is_not_usual(tmp_path: Path) -> None:
    text = f"{OILING} A lubricator is a lubricator."

    (match,) = asked(tmp_path, {"asked": text, "copy": text, "c": BRAKES})

    assert match.errors == ()


def test_only_some_of_many_misprints_are_quoted_in_the_reason(tmp_path: Path) -> None:
    text = OILING.replace("changes", "changges").replace("seconds", "secconds") + " The condductor signs."
    usual = ("changes", "seconds", "conductor", "lubricator")
    others = {"d": f"{HEATING} {' '.join(usual)}", "e": f"{FARES} {' and '.join(usual)}"}

    (match,) = asked(tmp_path, {"asked": text, "copy": text, **others})

    assert [error.usual for error in match.errors] == ["lubricator", "seconds", "changes", "conductor"]
    assert match.why.endswith(
        "; both have “lubricater” (elsewhere “lubricator”), “secconds” (elsewhere “seconds”), “changges” (elsewhere "
        "“changes”) and 1 more"
    )


def test_a_short_word_is_as_often_another_word_as_a_misprint(tmp_path: Path) -> None:
    text = OILING.replace("driver", "drivver")
    others = {"d": f"{HEATING} The driver.", "e": f"{FARES} The driver."}

    (match,) = asked(tmp_path, {"asked": text, "copy": text, **others})

    assert match.errors == ()
