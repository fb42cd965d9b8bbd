"""Laws of averaging that hold for any readings: of order, of units, of copies."""

from collections.abc import Sequence
from dataclasses import replace

import pytest
from builders import Record, a_source
from hypothesis import given, settings
from hypothesis import strategies as st
from quantity_builders import HEIGHT, SURVEYS, a_figure, in_unit, measured, quantity

from provenance.records.claims import Claim

Reading = tuple[int, int]  # tenths of a millimetre over a metre, and good to how many tenths

READINGS = st.lists(st.tuples(st.integers(0, 40), st.integers(1, 30)), min_size=1, max_size=len(SURVEYS))


def claims(readings: Sequence[Reading]) -> list[Claim]:
    """One claim from one survey each."""
    return [
        a_figure(
            f"{1000 + tenths / 10:.1f} mm",
            measured(f"survey-{number}"),
            claim_id=f"claim-{number}",
            give=f"{wide / 10:.1f} mm",
        )
        for number, (tenths, wide) in enumerate(readings, start=1)
    ]


@settings(max_examples=50)
@given(READINGS, st.data())
def test_the_order_in_which_claims_are_entered_never_matters(readings: list[Reading], data: st.DataObject) -> None:
    entered = claims(readings)

    found = quantity(HEIGHT, *SURVEYS, *data.draw(st.permutations(entered)))

    assert found == quantity(HEIGHT, *SURVEYS, *entered)


@settings(max_examples=50)
@given(READINGS, st.sampled_from([("in", 1 / 25.4), ("m", 0.001), ("thou", 1 / 0.0254)]))
def test_another_unit_to_build_in_gives_the_same_answer_in_that_unit(
    readings: list[Reading], unit: tuple[str, float]
) -> None:
    records: list[Record] = [*SURVEYS, *claims(readings)]
    in_mm = quantity(HEIGHT, *records)

    found = quantity(in_unit(unit[0]), *records)

    for ours, theirs in ((found.mean, in_mm.mean), (found.expanded, in_mm.expanded), (found.between, in_mm.between)):
        assert ours is not None
        assert theirs is not None
        assert ours == pytest.approx(theirs * unit[1], rel=1e-6, abs=1e-9 * unit[1])
    assert found.chi_square == pytest.approx(in_mm.chi_square, rel=1e-6, abs=1e-9)
    assert found.consistent is in_mm.consistent
    assert {size.name for size in found.near} == {size.name for size in in_mm.near}


@settings(max_examples=50)
@given(READINGS, st.data())
def test_adding_a_copy_of_any_reading_changes_nothing(readings: list[Reading], data: st.DataObject) -> None:
    entered = claims(readings)
    number = data.draw(st.integers(1, len(entered)))
    how = data.draw(st.sampled_from(["transcription", "print", "facsimile"]))
    copy = a_source("copy", "survey", of=[f"{how}:survey-{number}"])
    original = entered[number - 1]
    copied = replace(original, evidence=(*original.evidence, measured("copy")))

    after = quantity(HEIGHT, *SURVEYS, copy, *(copied if claim is original else claim for claim in entered))

    before = quantity(HEIGHT, *SURVEYS, *entered)
    assert replace(after, values=()) == replace(before, values=())
    assert sum(value.counted for value in after.values) == sum(value.counted for value in before.values)
