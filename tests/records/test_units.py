"""Units against the exact legal factors, the worked examples of a law, and a library that has its own tables."""

from fractions import Fraction

import pint
import pytest

from provenance.records.measures import MeasureError
from provenance.records.unit_table import TABLE
from provenance.records.units import UNITS, find_unit, kind_of, other_unit, parse_unit

# By id the name in pint, explicit where its short names are others: a bare gallon, pint, ton or hundredweight there is
# the American one, its fathom and chain are of the American survey foot, and its `mil` is no length.
IN_PINT = {
    "um": "micrometer",
    "thou": "thou",
    "in": "inch",
    "ft": "foot",
    "yd": "yard",
    "mile": "mile",
    "mm2": "millimeter**2",
    "cm2": "centimeter**2",
    "m2": "meter**2",
    "in2": "inch**2",
    "ft2": "foot**2",
    "yd2": "yard**2",
    "l": "liter",
    "ml": "milliliter",
    "cm3": "centimeter**3",
    "m3": "meter**3",
    "fl oz": "imperial_fluid_ounce",
    "pt": "imperial_pint",
    "qt": "imperial_quart",
    "gal": "imperial_gallon",
    "US pt": "pint",
    "US qt": "quart",
    "US gal": "gallon",
    "in3": "inch**3",
    "ft3": "foot**3",
    "t": "metric_ton",
    "grain": "grain",
    "oz": "ounce",
    "lb": "pound",
    "st": "stone",
    "cwt": "UK_hundredweight",
    "ton": "UK_ton",
    "slug": "slug",
    "US cwt": "hundredweight",
    "US ton": "ton",
    "kgf": "kilogram_force",
    "ozf": "ounce_force",
    "lbf": "pound_force",
    "tonf": "UK_force_ton",
    "kgf m": "kilogram_force*meter",
    "lbf in": "pound_force*inch",
    "lbf ft": "pound_force*foot",
    "kWh": "kilowatt_hour",
    "mbar": "millibar",
    "bar": "bar",
    "atm": "atmosphere",
    "kgf/cm2": "kilogram_force/centimeter**2",
    "lbf/in2": "psi",
    "tonf/in2": "UK_force_ton/inch**2",
    "lbf/ft2": "pound_force/foot**2",
    "PS": "metric_horsepower",
    "hp": "horsepower",
    "km/h": "kilometer/hour",
    "m/min": "meter/minute",
    "kn": "knot",
    "ft/s": "foot/second",
    "ft/min": "foot/minute",
    "mph": "mile/hour",
    "rev/s": "revolution/second",
    "arcmin": "arcminute",
    "arcsec": "arcsecond",
    "min": "minute",
    "h": "hour",
    "uF": "microfarad",
    "nF": "nanofarad",
    "pF": "picofarad",
    "kgf/mm": "kilogram_force/millimeter",
    "lbf/in": "pound_force/inch",
    "lb/ft": "pound/foot",
    "lb/yd": "pound/yard",
    "tpi": "1/inch",
}
BASES_IN_PINT = {
    "length": "millimeter",
    "area": "millimeter**2",
    "volume": "liter",
    "mass": "kilogram",
    "force": "newton",
    "torque": "newton*meter",
    "energy": "joule",
    "pressure": "pascal",
    "power": "watt",
    "speed": "meter/second",
    "speed of turning": "revolution/minute",
    "angle": "degree",
    "time": "second",
    "capacitance": "farad",
    "spring rate": "newton/millimeter",
    "mass by length": "kilogram/meter",
    "threads by length": "1/millimeter",
}


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry[float]:
    return pint.UnitRegistry(cache_folder=None)


@pytest.mark.parametrize("unit_id", sorted(IN_PINT))
def test_every_factor_is_that_of_the_reference_library(unit_id: str, registry: pint.UnitRegistry[float]) -> None:
    unit = UNITS[unit_id]

    told = registry.Quantity(1, IN_PINT[unit_id]).to(BASES_IN_PINT[unit.dimension]).magnitude  # pint 0.25.3

    assert float(unit.factor) == pytest.approx(told, rel=1e-12)


# Weights and Measures Act 1985 (c. 72), Schedule 1, and what follows from it and from 9.806 65 m/s2 exactly.
LEGAL = {
    "in": "25.4",
    "ft": "304.8",
    "yd": "914.4",
    "mile": "1609344",
    "fathom": "1828.8",
    "chain": "20116.8",
    "lb": "0.45359237",
    "oz": "0.028349523125",
    "st": "6.35029318",
    "qr": "12.70058636",
    "cwt": "50.80234544",
    "ton": "1016.0469088",
    "grain": "0.00006479891",
    "gal": "4.54609",
    "pt": "0.56826125",
    "qt": "1.1365225",
    "fl oz": "0.0284130625",
    "lbf": "4.4482216152605",
    "PS": "735.49875",
}


@pytest.mark.parametrize(("unit_id", "factor"), LEGAL.items())
def test_the_legal_factors_are_exact(unit_id: str, factor: str) -> None:
    assert UNITS[unit_id].factor == Fraction(factor)


# Read in the tables of GNU units 2.22 (Debian) and pint 0.25.3 alike, to the figures printed there.
@pytest.mark.parametrize(
    ("unit_id", "factor"),
    [
        ("lbf/in2", 6894.757293168),
        ("lbf ft", 1.3558179483314),
        ("hp", 745.69987158227),
        ("slug", 14.593902937),
        ("Btu", 1055.056),
        ("kn", 0.514444),
        ("mmHg", 133.322),
    ],
)
def test_factors_that_have_no_end_are_right_to_the_figures_printed(unit_id: str, factor: float) -> None:
    places = len(str(factor).replace(".", "").lstrip("0"))

    assert float(UNITS[unit_id].factor) == pytest.approx(factor, rel=10 ** -(places - 1))


def test_the_inch_of_mercury_is_that_of_the_tables() -> None:
    """3386.388 640 34 Pa stands in GNU units 2.22; its mercury has a density of 13.595 1."""
    assert float(UNITS["inHg"].factor) == pytest.approx(3386.38864034, rel=1e-9)


# National Measurement Regulations 1999 (Australia), regulation 88: the worked examples of conversion.
@pytest.mark.parametrize(
    ("figure", "unit_id", "wanted", "result", "places"),
    [
        (2, "yd", "m", "1.8288", 4),
        (88, "hp", "W", "65621.6", 1),
        (100, "mph", "km/h", "160.9344", 4),
    ],
)
def test_the_worked_examples_of_a_law_come_out(
    figure: int, unit_id: str, wanted: str, result: str, places: int
) -> None:
    converted = figure * UNITS[unit_id].factor / UNITS[wanted].factor

    assert round(converted, places) == Fraction(result)


def test_a_horse_of_the_continent_is_weaker_than_one_of_the_works() -> None:
    """Metric horsepower is 1.4 per cent less: 735.498 75 W by 745.699 87 W."""
    assert float(1 - UNITS["PS"].factor / UNITS["hp"].factor) == pytest.approx(0.01368, abs=5e-6)


def test_temperatures_are_told_by_freezing_and_boiling() -> None:
    """Water freezes at 0 °C and 32 °F and boils at 100 °C and 212 °F."""
    celsius, fahrenheit = UNITS["degC"], UNITS["degF"]

    for told, same in ((0, 32), (100, 212), (-40, -40)):
        assert told * celsius.factor + celsius.offset == same * fahrenheit.factor + fahrenheit.offset


def test_every_dimension_has_a_base_and_every_unit_an_id_of_its_own() -> None:
    ids = [row[0] for _, rows in TABLE.values() for row in rows]

    assert len(ids) == len(set(ids)) == len(UNITS)
    without_base = {name for name, (_, rows) in TABLE.items() if not any(row[2] == 1 for row in rows)}
    assert without_base == {"threads by length"}


def test_the_unit_of_the_other_system_measures_the_same_and_is_of_the_other_system() -> None:
    for unit in UNITS.values():
        other = other_unit(unit)
        if other is not None:
            assert (other.dimension, other.is_imperial) == (unit.dimension, not unit.is_imperial), unit.id


@pytest.mark.parametrize(
    ("unit_id", "other"),
    [
        ("mm", "in"),
        ("in", "mm"),
        ("ft", "mm"),
        ("kg", "lb"),
        ("lb", "kg"),
        ("N m", "lbf ft"),
        ("lbf ft", "N m"),
        ("l", "gal"),
        ("lbf/in2", "kPa"),
        ("hp", "kW"),
        ("mph", "km/h"),
        ("degF", "degC"),
        ("V", None),
        ("off", None),
    ],
)
def test_a_builder_gets_the_figure_in_the_other_system_too(unit_id: str, other: str | None) -> None:
    found = other_unit(UNITS[unit_id])

    assert (found.id if found else None) == other


@pytest.mark.parametrize("unit_id", UNITS)
def test_a_unit_is_read_by_its_id_and_all_its_spellings(unit_id: str) -> None:
    rows = {row[0]: row for _, listed in TABLE.values() for row in listed}
    spellings = {unit_id, *rows[unit_id][3].split("|")} - {"'", '"'}

    assert {parse_unit(spelling).id for spelling in spellings} == {unit_id}


@pytest.mark.parametrize(
    ("written", "unit_id"),
    [
        ("in.", "in"),
        ("sq. in.", "in2"),
        ("in²", "in2"),
        ("cu. ft.", "ft3"),
        ("lb./sq. in.", "lbf/in2"),
        ("lbf / in²", "lbf/in2"),
        ("LBS", "lb"),
        ("N·m", "N m"),
        ("N.m", "N m"),
        ("ft-lb", "lbf ft"),
        ("h.p.", "hp"),
        ("M.P.H.", "mph"),
        ("c.c.", "cm3"),
        ("U.S. gallon", "US gal"),
        ("imperial gallons", "gal"),
        ("imp. gal", "gal"),
        ("UK ton", "ton"),
        ("v", "V"),
        ("MM", "mm"),
    ],
)
def test_the_spellings_of_letters_and_catalogues_are_read(written: str, unit_id: str) -> None:
    assert parse_unit(written).id == unit_id


@pytest.mark.parametrize("written", ["MA", "MV", "Mg", "mpa", "M", "G", "mil", "banana", ""])
def test_where_the_case_alone_tells_a_thousandth_from_a_million_it_must_be_right(written: str) -> None:
    assert find_unit(written) is None


def test_an_unknown_unit_is_refused_with_the_nearest() -> None:
    with pytest.raises(MeasureError) as near:
        parse_unit("inchs")
    with pytest.raises(MeasureError) as far:
        parse_unit("furlongs")

    assert (near.value.what, near.value.mend) == ("`inchs` is no unit that is known", "did you mean `in`?")
    assert far.value.mend == "write a unit such as `mm`, `in`, `kg`, `lb`, `V`"


def test_what_a_unit_measures_is_said_with_its_article() -> None:
    assert [kind_of(UNITS[unit_id]) for unit_id in ("mm", "ton", "deg")] == ["a length", "a mass", "an angle"]
