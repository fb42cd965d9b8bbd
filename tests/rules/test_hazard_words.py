from typing import Any

import pytest
from builders import a_component, an_archive
from hypothesis import given
from hypothesis import strategies as st

from provenance.errors import Severity
from provenance.rules.cautions import REGISTER
from provenance.rules.hazard_words import WORDS, hazards_not_named, suggested_hazards


@pytest.mark.parametrize(
    ("name", "hazards"),
    [
        ("Brake lining", ["asbestos"]),
        ("Lagging of the exhaust box", ["asbestos"]),
        ("Speedometer dials", ["radium"]),
        ("Fire-extinguisher bracket", ["pressure"]),
        ("Accumulator", ["pressure", "stored-energy"]),
        ("Film negatives of the works", ["nitrate-film"]),
        ("Petrol tank", ["flammable"]),
        ("Head lamp", []),
        ("Sundial", []),
        ("Springer's bench", []),
    ],
)
def test_a_name_suggests_a_hazard_by_whole_words(name: str, hazards: list[str]) -> None:
    assert [hazard for hazard, _ in suggested_hazards(name)] == hazards


def test_every_hazard_that_is_suggested_has_a_caution_and_they_come_in_order() -> None:
    hazards = [hazard for hazard, _ in WORDS]

    assert hazards == sorted(set(hazards))
    assert set(hazards) <= {caution.hazard for caution in REGISTER}


@given(st.sampled_from([(hazard, word) for hazard, words in WORDS for word in words]))
def test_every_word_of_the_table_suggests_its_hazard(row: tuple[str, str]) -> None:
    hazard, word = row

    assert hazard in dict(suggested_hazards(f"Old {word.upper()}, left-hand"))


def test_a_component_whose_name_suggests_a_hazard_that_it_does_not_have_is_told_in_a_note() -> None:
    archive = an_archive(a_component("coupling", also_called=("drawbar spring",)))

    (problem,) = hazards_not_named(archive)

    assert (problem.rule, problem.severity, problem.place.file) == (
        "hazard-suggested",
        Severity.NOTE,
        "components/coupling.yaml",
    )
    assert "`spring` suggests the hazard stored-energy" in problem.what


@pytest.mark.parametrize(
    "fields", [{"hazards": ("stored-energy",)}, {"note": "A dummy: no stored energy in it."}, {"also_called": ()}]
)
def test_a_hazard_that_somebody_has_thought_of_is_not_suggested_again(fields: dict[str, Any]) -> None:
    archive = an_archive(a_component("coupling", **{"also_called": ("drawbar spring",), **fields}))

    assert list(hazards_not_named(archive)) == []
