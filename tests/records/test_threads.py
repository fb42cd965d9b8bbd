"""Screw threads against the formulas of their standards and the figures that tables print."""

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

import pytest

from provenance.records.measures import parse_measure
from provenance.records.threads import THREADS


def to_figures(value: Decimal, figures: int) -> Decimal:
    return value.quantize(Decimal(1).scaleb(value.adjusted() - figures + 1), rounding=ROUND_HALF_UP)


@pytest.mark.parametrize("number", range(17))
def test_the_british_association_sizes_follow_from_their_law(number: int) -> None:
    """BS 93:2008: p = .9^n mm, d = 6 p^1.2 mm, rounded to .01 mm and to two figures; sizes 0 to 16."""
    exact = Decimal("0.9") ** number
    thread = THREADS["BA"][str(number)]

    assert thread.pitch == Fraction(exact.quantize(Decimal(".01"), rounding=ROUND_HALF_UP))
    assert thread.value == Fraction(to_figures(6 * exact ** Decimal("1.2"), 2))


@pytest.mark.parametrize(
    ("number", "inches"), [(0, ".2362"), (1, ".2087"), (2, ".1850"), (3, ".1614"), (4, ".1417"), (7, ".0984")]
)
def test_the_british_association_sizes_in_inches_are_those_of_a_printed_table(number: int, inches: str) -> None:
    """A note of a model engineers' society prints 0 to 4; .0984 of 7 BA follows from its 2.5 mm."""
    assert round(THREADS["BA"][str(number)].value / Fraction("25.4"), 4) == Fraction(inches)


# Three tables of makers print these core and effective diameters of BS 84 in inches.
@pytest.mark.parametrize(
    ("series", "name", "by_inch", "core", "effective"),
    [
        ("BSW", "1/4", 20, ".1860", ".2180"),
        ("BSW", "5/16", 18, ".2414", ".2769"),
        ("BSW", "3/8", 16, ".2950", ".3350"),
        ("BSW", "1/2", 12, ".3933", ".4466"),
        ("BSW", "3/4", 10, ".6219", ".6860"),
        ("BSW", "1", 8, ".8399", ".9200"),
        ("BSF", "3/16", 32, ".148", None),
        ("BSF", "1/4", 26, ".201", None),
        ("BSF", "5/16", 22, ".254", None),
        ("BSF", "3/8", 20, ".311", None),
        ("BSF", "1/2", 16, ".420", None),
        ("BSF", "3/4", 12, ".643", None),
        ("BSC", "1/4", 26, ".209", None),
    ],
)
def test_the_core_of_an_inch_thread_is_the_printed_one(
    series: str, name: str, by_inch: int, core: str, effective: str | None
) -> None:
    thread = THREADS[series][name]

    assert thread.pitch == Fraction(1, by_inch)
    rounded_up = Fraction(1, 40_000) if core == ".148" else 0  # .14748 by the form: the tables give it .0005 more
    assert abs(thread.core - Fraction(core)) <= Fraction(1, 2 * 10 ** len(core[1:])) + rounded_up
    if effective is not None:  # half-way between the crests and the roots
        assert abs((thread.value + thread.core) / 2 - Fraction(effective)) <= Fraction(1, 10_000)


def test_a_cycle_thread_is_shallower_than_a_fine_one_of_the_same_pitch() -> None:
    """1/4-26 both: the core of the cycle thread is .209 in for its form of 60 degrees, of the fine one .201 in."""
    cycle, fine = THREADS["BSC"]["1/4"], THREADS["BSF"]["1/4"]

    assert cycle.pitch == fine.pitch
    assert cycle.core > fine.core


@pytest.mark.parametrize("series", THREADS)
def test_every_size_is_read_as_it_is_written_and_its_value_is_the_major_diameter(series: str) -> None:
    for name, thread in THREADS[series].items():
        measure = parse_measure(thread.written)

        assert thread.name == name
        assert (measure.value, measure.unit, measure.last_place) == (thread.value, thread.unit, thread.step)
        assert (measure.series, measure.feet_and_inches) == (series, False)
        assert thread.core < thread.value


@pytest.mark.parametrize(
    ("series", "name", "step"),
    [("BA", "2", "0.6"), ("BA", "0", "0.7"), ("BA", "16", "0.11"), ("BSW", "1/4", "1/16"), ("BSF", "1/4", "1/32")],
)
def test_the_step_of_a_thread_is_to_its_nearest_neighbour(series: str, name: str, step: str) -> None:
    """By hand: 2 BA lies between 5.3 and 4.1 mm; 1/4 BSW between 3/16 and 5/16; 1/4 BSF between 7/32 and 9/32."""
    assert THREADS[series][name].step == Fraction(step)
