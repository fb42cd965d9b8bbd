"""Gauges of wire and sheet against the tables of a library and the laws that they were made by."""

from collections.abc import Sequence
from fractions import Fraction

import pytest
from fluids import piping

from provenance.records.gauges import GAUGES
from provenance.records.measures import MeasureError, parse_measure


def by_name(gauges: Sequence[float], inches: Sequence[float]) -> dict[str, float]:
    """The table of the library by the names of the trade: .1428571 there is 7/0, .3333333 is 3/0, and so on."""
    names = [str(round(gauge)) if gauge >= 1 or not gauge else f"{round(1 / gauge)}/0" for gauge in gauges]
    return dict(zip(names, inches, strict=True))


def test_the_standard_wire_gauge_is_that_of_the_library_but_for_its_one_wrong_entry() -> None:
    """fluids 1.3.1 has 28 SWG as .0149 in; the steps .0164, .0148, .0136 and GNU units 2.22 have .0148."""
    told = by_name(piping.BSWG_gauges, piping.BSWG_inch)
    own = {name: float(size.value) for name, size in GAUGES["SWG"].items()}

    assert own.keys() == told.keys()
    assert len(own) == 57
    assert {name: told[name] for name in own if own[name] != told[name]} == {"28": 0.0149}
    assert GAUGES["SWG"]["28"].value == Fraction("0.0148")


def test_the_birmingham_gauge_is_that_of_the_library() -> None:
    told = by_name(piping.BWG_gauges, piping.BWG_inch)

    for name, size in GAUGES["BWG"].items():
        assert float(size.value) == told[name], name


def test_the_american_gauge_is_that_of_the_library_to_its_last_figure() -> None:
    told = by_name(piping.AWG_gauges, piping.AWG_inch)

    for name, size in GAUGES["AWG"].items():
        assert float(size.value) == pytest.approx(told[name], abs=0.00015 if size.value > Fraction(1, 10) else 6e-5)
    assert [str(float(GAUGES["AWG"][name].value)) for name in ("4/0", "16", "36")] == ["0.46", "0.0508", "0.005"]


def test_the_sixteenth_gauge_is_three_thicknesses() -> None:
    """Of the Imperial Standard .064 in, of the Birmingham .065 in, of the American .0508 in."""
    sizes = [GAUGES[series]["16"].value for series in ("SWG", "BWG", "AWG")]

    assert sizes == [Fraction("0.064"), Fraction("0.065"), Fraction("0.0508")]


@pytest.mark.parametrize("series", GAUGES)
def test_a_higher_number_is_never_thicker(series: str) -> None:
    values = [size.value for size in GAUGES[series].values()]

    assert values == sorted(values, reverse=True)
    assert len(set(values)) == len(values)


@pytest.mark.parametrize(
    ("name", "step"),
    [("7/0", "0.036"), ("16", "0.008"), ("50", "0.0002"), ("27", "0.0016"), ("3", "0.020"), ("28", "0.0012")],
)
def test_the_step_of_a_gauge_is_to_its_nearest_neighbour(name: str, step: str) -> None:
    """By hand: 16 lies between .072 and .056, 27 of .018 and .0148, 28 of .0164 and .0136, 3 of .276 and .232."""
    assert GAUGES["SWG"][name].step == Fraction(step)


@pytest.mark.parametrize("series", GAUGES)
def test_every_size_is_read_as_it_is_written(series: str) -> None:
    for size in GAUGES[series].values():
        measure = parse_measure(size.written)

        assert (measure.value, measure.unit.id, measure.last_place, measure.series) == (
            size.value,
            "in",
            size.step,
            series,
        )
        assert size.millimetres == measure.value * Fraction("25.4")


def test_the_slips_of_three_printed_tables_are_caught_by_their_own_second_figure() -> None:
    """Facts of tables on the web: .182 in beside 4.88 mm for 6 SWG, 8.236 mm for 1/0, .0982 in for 7 BA of 2.5 mm."""
    for slip, what in (
        ("4.88 mm (.182 in)", ".182 in is 4.6228 mm"),
        (".3240 in (8.236 mm)", "8.236 mm is 0.324252 in"),
        ("2.500 mm (.0982 in)", ".0982 in is 2.49428 mm"),
    ):
        with pytest.raises(MeasureError) as refused:
            parse_measure(slip)
        assert refused.value.what == f"`{slip}` contradicts itself: {what}"

    right = ["4.88 mm (.192 in)", ".3240 in (8.2296 mm)", "2.500 mm (.0984 in)"]
    assert [str(parse_measure(figure).value) for figure in right] == ["122/25", "81/250", "5/2"]
