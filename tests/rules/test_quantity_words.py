import pytest
from builders import a_feature, a_source
from hypothesis import given
from hypothesis import strategies as st
from quantity_builders import HEIGHT, PART, SURVEYS, a_figure, in_unit, measured, quantity
from uncertainties import ufloat

from provenance.rules.quantity_words import in_both_units, rounded, value_words


@pytest.mark.parametrize(
    ("value", "standard", "written"),
    [
        (1028.7034, 0.46, "1028.70"),
        (1028.7034, 0.0999, "1028.70"),
        (1028.7034, 4.6, "1028.7"),
        (1028.7034, 12.3, "1029"),
        (1028.7034, 123.0, "1030"),
        (1028.7034, 1234.0, "1000"),
        (-0.0004, 0.23, "0.00"),
        (50.000838, 0.000032, "50.000838"),  # JCGM 100:2008, H.1.4: 50.000 838 mm, u = 32 nm
        (127.732, 0.071, "127.732"),  # the same, table H.4: R = 127.732 ohm, u = .071 ohm
    ],
)
def test_a_mean_is_written_to_the_second_figure_of_its_uncertainty(value: float, standard: float, written: str) -> None:
    assert rounded(value, standard) == written


@given(st.floats(-1e5, 1e5), st.floats(1e-4, 99))
def test_the_package_uncertainties_rounds_the_same(value: float, standard: float) -> None:
    theirs = f"{ufloat(value, standard):.2uf}".partition("+/-")[0]

    assert rounded(value, standard) == (theirs if float(theirs) else theirs.removeprefix("-"))


@pytest.mark.parametrize(
    ("unit", "value", "shown"),
    [
        ("mm", "1029.00 mm", "1029.00 mm (40.512 in)"),
        ("in", "40.512 in", "40.512 in (1029.00 mm)"),
        ("m", "1.02900 m", "1.02900 m (3.37598 ft)"),
    ],
)
def test_a_measured_value_is_written_in_the_unit_to_build_in_and_shown_in_both(
    unit: str, value: str, shown: str
) -> None:
    """1029 mm, good to .5 mm: u = .289 mm, .0114 in or .00095 ft; 1029/25.4 = 40.5118, 1029/304.8 = 3.37598."""
    found = quantity(in_unit(unit), PART, a_figure("1029 mm", measured("part")))

    assert value_words(found, "?") == (value, shown)


@pytest.mark.parametrize(
    ("value", "give", "unit", "told"),
    [
        ("514.35 mm", "3.175 mm", "mm", ("514.4 mm", "514.4 mm (1 ft 8 1/4 in)")),
        ("27 mm", ".8 mm", "mm", ("27.00 mm", "27.00 mm (1 1/16 in)")),
        ("1 ft 8 1/4 in", "1/8 in", "in", ("20.250 in", "20.250 in (514.4 mm)")),
    ],
)
def test_what_is_not_known_closer_than_a_rule_is_divided_is_shown_in_fractions_of_an_inch(
    value: str, give: str, unit: str, told: tuple[str, str]
) -> None:
    """u = 3.175 / root 3 = 1.833 mm, .072 in: to sixteenths; .8 / root 3 = .462 mm, .0182 in: to 64ths, 68.03 of them.

    514.35 mm are 20.25 in, 1 ft 8 1/4 in.
    """
    assert value_words(quantity(in_unit(unit), PART, a_figure(value, measured("part"), give=give)), "?") == told


@pytest.mark.parametrize(
    ("unit", "written", "shown"),
    [
        ("mm", "3 ft 4 1/2 in", "3 ft 4 1/2 in (1028.7 mm)"),
        ("in", "3 ft 4 1/2 in", "3 ft 4 1/2 in (1028.7 mm)"),
        ("mm", "1029 mm", "1029 mm (40.512 in)"),
        ("in", "1029 mm", "1029 mm (40.512 in)"),
        ("mm", "16 SWG", "16 SWG (1.626 mm; 0.064 in)"),
        ("mm", "4 in", "4 in (101.6 mm)"),
    ],
)
def test_a_nominal_stands_as_written_and_is_shown_in_what_it_is_not_written_in(
    unit: str, written: str, shown: str
) -> None:
    """3 ft 4 1/2 in is 1028.7 mm, 4 in 101.6 mm, 16 SWG .064 in = 1.6256 mm, all exactly; 1029 mm is 40.5118 in."""
    found = quantity(in_unit(unit), a_figure(written, "drawing"))

    assert value_words(found, "?") == (written, shown)


def test_a_unit_that_both_systems_use_is_shown_alone() -> None:
    feature = a_feature(kind="quantity", aspect="quantity", unit="V")

    measured_value = quantity(feature, *SURVEYS, a_figure("12.1 V", measured("survey-1")))
    nominal = quantity(feature, a_figure("12 V", "drawing"))

    assert value_words(measured_value, "?") == ("12.100 V", "12.100 V")
    assert value_words(nominal, "?") == ("12 V", "12 V")


def test_a_temperature_is_shown_on_the_other_scale() -> None:
    """100 degrees Celsius are 212 Fahrenheit; good to .5, so u is .289 or .520."""
    feature = a_feature(kind="quantity", aspect="quantity", unit="degC")

    found = quantity(feature, a_source("log", "logbook"), a_figure("100 degC", "log"))

    assert value_words(found, "?") == ("100.00 °C", "100.00 °C (212.00 °F)")


def test_a_number_of_pieces_is_written_as_a_whole_number() -> None:
    feature = a_feature(kind="quantity", aspect="quantity", unit="off")

    found = quantity(feature, *SURVEYS, a_figure("4 off", measured("survey-1")))

    assert value_words(found, "?") == ("4 off", "4 off")


def test_a_value_that_nothing_direct_and_sound_sets_keeps_its_spelling() -> None:
    found = quantity(HEIGHT, PART, a_figure("3 ft 4 1/2 in", measured("part", "worn")))

    assert value_words(found, "3 ft 4 1/2 in") == ("3 ft 4 1/2 in", "3 ft 4 1/2 in")


@pytest.mark.parametrize(
    ("written", "unit", "both"),
    [
        # Worked by hand with 1 in = 25.4 mm (1959), to a hundredth of a millimetre, or to what the last place allows.
        ("1 ft 7 3/4 in", "in", "1 ft 7 3/4 in (501.65 mm)"),
        ("1 ft 7 3/4 in", "mm", "1 ft 7 3/4 in (501.65 mm)"),
        ("1030 mm", "mm", "1030 mm (3 ft 4 35/64 in)"),
        ("plus 1/16 in, minus nothing", "in", "plus 1/16 in (1.59 mm), minus nothing"),
        ("+0.2 mm, -0.1 mm", "mm", "+0.2 mm (0.008 in), -0.1 mm (0.004 in)"),
        ("plus or minus 1/32 in", None, "plus or minus 1/32 in (0.79 mm)"),
        ("16 SWG", "in", "16 SWG (0.064 in; 1.63 mm)"),  # BS 3737: 16 SWG is .064 in
        ("1/2 in (12.7 mm)", "mm", "1/2 in (12.7 mm)"),
        ("12 V", None, "12 V"),
        ("4 off", None, "4 off"),
        ("as drawn", "mm", "as drawn"),
        ("", None, ""),
    ],
)
def test_what_is_to_be_made_is_told_in_both_systems(written: str, unit: str | None, both: str) -> None:
    assert in_both_units(written, unit) == both
