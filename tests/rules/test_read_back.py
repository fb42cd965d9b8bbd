"""A figure is read back as it will be judged: in both systems, with its give or take, and where that comes from.

One inch is 25.4 mm exactly (BS 350, and the international agreement of 1959): 40 1/2 in are 1028.7 mm, 1/64 in is
0.396875 mm, 6 in are 152.4 mm. A give or take is rounded to two figures (JCGM 100:2008, 7.2.6).
"""

import pytest
from builders import a_feature

from provenance.records.kinds import How, SourceKind
from provenance.records.measures import AmbiguousMeasureError, MeasureError
from provenance.rules.read_back import read_back

DRAWING, SURVEY = SourceKind.DRAWING, SourceKind.SURVEY


def told(written: str, give: str | None = None, *, unit: str = "mm", kind: SourceKind = DRAWING) -> str:
    how = How.STATES if kind is DRAWING else How.MEASURED
    back = read_back(a_feature("height", "quantity", unit=unit), written, give, kind=kind, how=how)
    assert back is not None
    return back.sentence


def test_a_figure_of_a_drawing_is_told_in_the_other_system_with_what_the_works_keep_to() -> None:
    sentence = told("3 ft  4 1/2 in")

    assert sentence == (
        "3 ft 4 1/2 in, that is 1028.7 mm, give or take 0.4 mm (1/64 in), "
        "which is usual for a figure that the works lay down"
    )


def test_what_was_measured_is_good_to_half_of_its_last_place() -> None:
    sentence = told("1029 mm", kind=SURVEY)

    assert "that is 3 ft 4 33/64 in" in sentence  # 1029/25.4 = 40.5118 in, and 33/64 = .5156 is the nearest
    assert "give or take 0.5 mm (1/64 in), half of its last place" in sentence


def test_the_give_or_take_that_is_named_counts_before_any_other() -> None:
    assert "give or take 6.4 mm (1/4 in), as you say" in told("3 ft 4 1/2 in", "1/4 in")
    assert "give or take 1/4 in (6.4 mm), as you say" in told("3 ft 4 1/2 in", "1/4 in", unit="in")


def test_a_difference_of_temperature_is_no_temperature() -> None:
    # 60 °F is 15.56 °C, and 2 °F more or less are 1.1 °C
    assert told("60 °F", "2 °F", unit="°C") == "60 °F, that is 15.6 °C, give or take 1.1 °C (2 °F), as you say"


def test_a_size_of_a_series_is_told_in_both_systems() -> None:
    # 16 SWG is 0.064 in (BS 3737), which is 1.6256 mm
    assert told("16 SWG").startswith("16 SWG, that is 1.63 mm or 0.064 in, give or take ")


def test_pieces_have_no_other_system() -> None:
    assert told("4 off", unit="off").startswith("4 off, give or take 0.5 off,")


def test_what_can_be_read_in_two_ways_is_refused_with_the_choices() -> None:
    with pytest.raises(AmbiguousMeasureError) as refused:
        told("16 gauge")

    assert "16 SWG" in refused.value.choices
    assert "`16 SWG`" in refused.value.mend


@pytest.mark.parametrize("give", ["nothing", "0 mm", "3 lb"])
def test_a_give_or_take_that_is_none_is_refused(give: str) -> None:
    with pytest.raises(MeasureError):
        told("1029 mm", give)


def test_without_a_unit_nothing_is_read_back() -> None:
    assert read_back(a_feature("height", "quantity"), "1029 mm", None, kind=DRAWING, how=How.STATES) is None
