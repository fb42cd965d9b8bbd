"""What people write for a measure: what is read, as which figure, and what is refused with which mend."""

from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from provenance.records.measures import AmbiguousMeasureError, Measure, MeasureError, parse_measure
from provenance.records.units import UNITS, Unit

MM, INCH, DEGREE, PIECES = UNITS["mm"], UNITS["in"], UNITS["deg"], UNITS["off"]


def refusal(written: str, unit_id: str | None = None) -> MeasureError:
    with pytest.raises(MeasureError) as refused:
        parse_measure(written, unit=UNITS[unit_id] if unit_id else None)
    return refused.value


def millimetres(written: str) -> Fraction:
    return parse_measure(written, unit=MM).to(MM)


# Exact by 1 in = 25.4 mm (Weights and Measures Act 1985): 40 1/2, 30 3/8, 6 3/8 and 1/16 inches.
@pytest.mark.parametrize(
    ("written", "exact"),
    [
        ("3 ft 4 1/2 in", "1028.7"),
        ("3' 4 1/2\"", "1028.7"),
        ("3'-4½", "1028.7"),
        ("3'-4 1/2\"", "1028.7"),
        ("3' 4½\"", "1028.7"),
        ("3\u2019 4½\u201d", "1028.7"),
        ("3\u2032 4½\u2033", "1028.7"),
        ("3` 4½''", "1028.7"),
        ("3'4½\"", "1028.7"),
        ("3 ft. 4½ ins.", "1028.7"),
        ("3 ft, 4.5 in", "1028.7"),
        ("3 ft - 4½ in", "1028.7"),
        ("3ft4 1/2in", "1028.7"),
        ("3\u00a0ft\u00a04\u00a01\u20442\u202fin", "1028.7"),
        ("3 feet 4-1/2 inches", "1028.7"),
        ("1 yd 0 ft 4½ in", "1028.7"),
        ("40.5 in", "1028.7"),
        ('40½"', "1028.7"),
        ("81/2 in", "1028.7"),
        ("102.87 cm", "1028.7"),
        ("1 m 2.87 cm", "1028.7"),
        ("2' 6 3/8\"", "771.525"),
        ("6 3/8 in", "161.925"),
        ("6.3/8 in", "161.925"),
        ('6.3/8"', "161.925"),
        ("0'-0 1/16\"", "1.5875"),
        ("1/16 in", "1.5875"),
        ("15 thou", "0.381"),
        ("5'", "1524"),
        ("1029 mm", "1029"),
        ("1,029 mm", "1029"),
        ("1 029 mm", "1029"),
        ("1\u202f029 mm", "1029"),
        ("1,029.5 mm", "1029.5"),
        ("12,345,678 mm", "12345678"),
        ("1,5 mm", "1.5"),
        ("0,125 mm", "0.125"),
        ("12,25 mm", "12.25"),
        (".5 mm", "0.5"),
        ("1029MM.", "1029"),
        ("  1029  mm ", "1029"),
        ("⌀ 12 mm", "12"),
        ("dia. 12 mm", "12"),
        ("12 mm dia", "12"),
        ("1/2 in diameter", "12.7"),
    ],
)
def test_a_length_is_read_exactly_however_it_is_written(written: str, exact: str) -> None:
    assert millimetres(written) == Fraction(exact)
    assert parse_measure(written).written == written


@pytest.mark.parametrize(
    ("written", "unit_id", "value"),
    [
        ("1 gal", "l", "4.54609"),
        ("1 US gal", "l", "3.785411784"),
        ("1 U.S. gallon", "l", "3.785411784"),
        ("1 imp. gal", "l", "4.54609"),
        ("2 pints", "l", "1.1365225"),
        ("1 gal 4 pt", "gal", "1.5"),
        ("1 ton", "kg", "1016.0469088"),
        ("1 US ton", "kg", "907.18474"),
        ("1 t", "kg", "1000"),
        ("2 cwt 3 qr 14 lb", "lb", "322"),
        ("1 ton 5 cwt", "cwt", "25"),
        ("10 st 4 lb", "lb", "144"),
        ("12 lbf/in2", "lbf/in2", "12"),
        ("12 lb/sq in", "lbf/in2", "12"),
        ("12 lb. per sq. in.", "lbf/in2", "12"),
        ("80 lb.ft.", "lbf ft", "80"),
        ("80 lbf ft", "lbf in", "960"),
        ("12 lb", "lbf", "12"),
        ("2 tons", "lbf", "4480"),
        ("12°", "deg", "12"),
        ("12½°", "deg", "12.5"),
        ("12° 30'", "deg", "12.5"),
        ("12° 30", "deg", "12.5"),
        ("12°30'36\"", "deg", "12.51"),
        ("12 deg 30 min 36 sec", "deg", "12.51"),
        ("-2° 30'", "deg", "-2.5"),
        ("30'", "arcmin", "30"),
        ("5' 30\"", "arcsec", "330"),
        ("5 min", "arcmin", "5"),
        ("5 min", "s", "300"),
        ("1 h 30 min", "min", "90"),
        ("12 V", "V", "12"),
        ("3 amps", "A", "3"),
        ("60 watts", "W", "60"),
        ("4.7 kΩ", "ohm", "4700"),
        ("10 PS", "W", "7354.9875"),
        ("30 mph", "km/h", "48.28032"),
        ("10 N m", "N m", "10"),
        ("1,500 r.p.m.", "rpm", "1500"),
        ("20 °C", "degF", "68"),
        ("-40 °F", "degC", "-40"),
        ("\u22125 ℃", "degC", "-5"),
        ("+5 °C", "degC", "5"),
        ("26 tpi", "tpi", "26"),
        ("30 lb/yd", "lb/yd", "30"),
        ("500 g", "kg", "0.5"),
        ("16 g", "kg", "0.016"),
        ("4 off", "off", "4"),
        ("4 pieces", "off", "4"),
        ("4", "off", "4"),
        ("four", "off", "4"),
        ("Twelve off", "off", "12"),
        ("4 (four)", "off", "4"),
    ],
)
def test_a_figure_is_told_in_the_unit_of_the_feature(written: str, unit_id: str, value: str) -> None:
    unit = UNITS[unit_id]

    assert parse_measure(written, unit=unit).to(unit) == Fraction(value)


@pytest.mark.parametrize(
    ("written", "value", "unit_id", "step", "is_in_feet"),
    [
        ("1029 mm", "1029", "mm", "1", False),
        ("40.5 in", "40.5", "in", "0.1", True),
        ("40.50 in", "40.5", "in", "0.01", True),
        ("3 ft 4 1/2 in", "40.5", "in", "1/2", True),
        ("3 ft 4 in", "40", "in", "1", True),
        ("3 ft", "3", "ft", "1", True),
        ("7/16 in", "7/16", "in", "1/16", True),
        ("15 thou", "15", "thou", "1", False),
        ("12° 30'", "750", "arcmin", "1", False),
        ("1,5 mm", "1.5", "mm", "0.1", False),
        ("2 BA", "4.7", "mm", "0.6", False),
        ("16 SWG", "0.064", "in", "0.008", False),
        ("1/4 BSF", "0.25", "in", "1/32", False),
        ("4 off", "4", "off", "1", False),
    ],
)
def test_the_last_place_is_that_of_the_last_part_written(
    written: str, value: str, unit_id: str, step: str, *, is_in_feet: bool
) -> None:
    measure = parse_measure(written)

    assert (measure.value, measure.unit.id) == (Fraction(value), unit_id)
    assert (measure.last_place, measure.feet_and_inches) == (Fraction(step), is_in_feet)
    assert measure.last_place_in(measure.unit) == Fraction(step)


@pytest.mark.parametrize(
    ("written", "value", "unit_id", "series"),
    [
        ("16 SWG", "0.064", "in", "SWG"),
        ("16 S.W.G.", "0.064", "in", "SWG"),
        ("16swg", "0.064", "in", "SWG"),
        ("SWG 16", "0.064", "in", "SWG"),
        ("No. 16 SWG", "0.064", "in", "SWG"),
        ("16 S.W.G. sheet", "0.064", "in", "SWG"),
        ("3/0 SWG", "0.372", "in", "SWG"),
        ("000 SWG", "0.372", "in", "SWG"),
        ("1/0 SWG", "0.324", "in", "SWG"),
        ("16 BWG", "0.065", "in", "BWG"),
        ("16 AWG", "0.0508", "in", "AWG"),
        ("2 BA", "4.7", "mm", "BA"),
        ("2BA", "4.7", "mm", "BA"),
        ("No. 2 B.A.", "4.7", "mm", "BA"),
        ("2 BA screw", "4.7", "mm", "BA"),
        ("1/4 BSF", "0.25", "in", "BSF"),
        ("¼ in B.S.F.", "0.25", "in", "BSF"),
        ('1/4" BSW', "0.25", "in", "BSW"),
        ("1/4 Whitworth", "0.25", "in", "BSW"),
        ("1/4 Whit. bolt", "0.25", "in", "BSW"),
        ("1/4-20 BSW", "0.25", "in", "BSW"),
        ("1/4 x 26 tpi BSF", "0.25", "in", "BSF"),
        ("1 1/8 BSW", "1.125", "in", "BSW"),
        ("1-1/8 BSW", "1.125", "in", "BSW"),
        ("1-8 BSW", "1", "in", "BSW"),
        ("1/4 BSC", "0.25", "in", "BSC"),
    ],
)
def test_a_size_of_a_series_is_its_thickness_or_major_diameter(
    written: str, value: str, unit_id: str, series: str
) -> None:
    measure = parse_measure(written, unit=MM)

    assert (measure.value, measure.unit.id, measure.series) == (Fraction(value), unit_id, series)
    assert not measure.feet_and_inches


@pytest.mark.parametrize(
    ("written", "unit_id", "choices"),
    [
        ("16 gauge", "mm", ("16 SWG", "16 BWG", "16 AWG")),
        ("16 ga.", "mm", ("16 SWG", "16 BWG", "16 AWG")),
        ("No. 16 gauge", None, ("16 SWG", "16 BWG", "16 AWG")),
        ("gauge 16", None, ("16 SWG", "16 BWG", "16 AWG")),
        ("3/0 gauge", None, ("3/0 SWG", "3/0 BWG", "3/0 AWG")),
        ("16G", "mm", ("16 SWG", "16 BWG", "16 AWG")),
        ("16 g", "mm", ("16 SWG", "16 BWG", "16 AWG")),
        ("16 g", None, ("16 SWG", "16 BWG", "16 AWG", "16 gram")),
        ("48 gauge", None, ("48 SWG",)),
        ("3.4½", "mm", ("3 ft 4 1/2 in", "3.45 in")),
        ("3.4 1/2 in", None, ("3 ft 4 1/2 in", "3.45 in")),
        ("No. 8", "mm", ("8 BA", "8 SWG", "8 BWG", "8 AWG")),
        ("#8", None, ("8 BA", "8 SWG", "8 BWG", "8 AWG")),
        ("No. 30", None, ("30 SWG", "30 BWG", "30 AWG")),
        ("1/4", "mm", ("1/4 in", "1/4 BSW", "1/4 BSF", "1/4 BSC")),
        ("1/4", None, ("1/4 in", "1/4 BSW", "1/4 BSF", "1/4 BSC")),
        ("1/4-20", "mm", ("1/4 in", "1/4 BSW")),
        ("1/4 x 26", "mm", ("1/4 in", "1/4 BSF", "1/4 BSC")),
        ("1/4-99", "mm", ("1/4 in", "1/4 BSW", "1/4 BSF", "1/4 BSC")),
    ],
)
def test_what_can_be_read_in_several_ways_is_refused_with_the_choices(
    written: str, unit_id: str | None, choices: tuple[str, ...]
) -> None:
    error = refusal(written, unit_id)

    assert isinstance(error, AmbiguousMeasureError)
    assert error.choices == choices
    assert all(f"`{choice}`" in error.mend for choice in choices)
    for choice in choices:
        assert parse_measure(choice).value > 0


@pytest.mark.parametrize(
    ("written", "unit_id", "what", "mend"),
    [
        ("1029", "mm", "`1029` has no unit", "write the unit of the source, such as `1029 mm`"),
        ("1029", None, "`1029` has no unit", "such as `1029 mm` or `1029 in`"),
        ("1/4", "kg", "`1/4` has no unit", "such as `1/4 kg`"),
        ("7/64", "mm", "`7/64` has no unit", "such as `7/64 in`"),
        ("12 kg", "mm", "`12 kg` is a mass, and a length is wanted, in mm", "write a length with its unit, such as"),
        ("20°", "degC", "`20°` is an angle, and a temperature is wanted, in degC", "correct the `unit`"),
        ("4 mm", "off", "`4 mm` is a length, and a number of pieces is wanted", "write a number of pieces"),
        ("4.5 off", "off", "`4.5 off` is no whole number of pieces", "write a whole number, such as `4 off`"),
        ("4.5", "off", "`4.5` is no whole number of pieces", "write a whole number, such as `4 off`"),
        ("four", "mm", "`four` is no figure that can be read", "write it such as `1029 mm`"),
        ("-12 mm", "mm", "`-12 mm` has a sign", "stands in the feature's `datum`"),
        ("+12 V", "V", "`+12 V` has a sign", "write the figure alone"),
        ("-3 ft 4 in", "mm", "`-3 ft 4 in` has a sign", "write the figure alone"),
        ("about 12 mm", "mm", "`about 12 mm` is a figure with a doubt", "as `uncertainty`"),
        ("c. 12 mm", "mm", "`c. 12 mm` is a figure with a doubt", "as `uncertainty`"),
        ("~12 mm", "mm", "`~12 mm` is a figure with a doubt", "as `uncertainty`"),
        ("12 mm approx.", "mm", "`12 mm approx.` is a figure with a doubt", "as `uncertainty`"),
        ("12 ± 1 mm", "mm", "`12 ± 1 mm` holds more than a figure", "as `uncertainty`"),
        ("12 +/- 1 mm", "mm", "`12 +/- 1 mm` holds more than a figure", "as `uncertainty`"),
        ("10-12 mm", "mm", "`10-12 mm` is a range", "half of its width as `uncertainty`"),
        ("10\u201312 mm", "mm", "`10\u201312 mm` is a range", "half of its width as `uncertainty`"),
        ("10 to 12 mm", "mm", "`10 to 12 mm` is a range", "half of its width as `uncertainty`"),
        ("between 10 and 12 mm", "mm", "`between 10 and 12 mm` is a range", "half of its width as `uncertainty`"),
        ("10 mm or 12 mm", "mm", "`10 mm or 12 mm` is a range", "half of its width as `uncertainty`"),
        ("3-4½ in", "mm", "`3-4½ in` is a range", "half of its width as `uncertainty`"),
        ("4 - 1/2 in", "mm", "`4 - 1/2 in` is a range", "half of its width as `uncertainty`"),
        ("1/4 in bare", "mm", "`1/4 in bare` is a draughtsman's word", "`uncertainty: 1/64 in`"),
        ("1/4 in full", "mm", "`1/4 in full` is a draughtsman's word", "the word belongs in `quote`"),
        ("max. 12 mm", "mm", "`max. 12 mm` is a limit", "write the figure that was made or measured"),
        ("12 mm min.", "mm", "`12 mm min.` is a limit", "write the figure that was made or measured"),
        ("< 12 mm", "mm", "`< 12 mm` is a limit", "write the figure that was made or measured"),
        ("2 x 1/4 in", "mm", "`2 x 1/4 in` holds several figures", "one claim for each"),
        ("12 mm?", "mm", "`12 mm?` is a figure that could not be read for certain", "`legibility: doubtful`"),
        ("1[.]9 mm", "mm", "`1[.]9 mm` is a figure that could not be read for certain", "`legibility: doubtful`"),
        ("M6", "mm", "`M6` is a metric thread", "write the diameter over the thread"),
        ("1/2 BSP", "mm", "the sizes of BSP are not known here: `1/2 BSP`", "write it with its unit"),
        ("1/4-26 BSW", "mm", "`1/4-26 BSW` contradicts itself: 1/4 BSW has 20 threads", "write `1/4 BSW`"),
        ("60 SWG", "mm", "`60 SWG` is no size of SWG", "which go from `7/0 SWG` to `50 SWG`"),
        ("16 in SWG", "mm", "`16 in SWG` is no size of SWG", "which go from"),
        ("17 BA", "mm", "`17 BA` is no size of BA", "which go from `0 BA` to `16 BA`"),
        ("2 in BA", "mm", "`2 in BA` is no size of BA", "which go from"),
        ("1/0 BSW", "mm", "`1/0 BSW` is no size of BSW", "which go from `1/8 BSW` to `2 BSW`"),
        ("60 gauge", "mm", "`60 gauge` is no gauge that is known", "write the thickness"),
        ("No. 99", "mm", "`No. 99` is no size that is known here", "write the diameter"),
        ("500 g", "mm", "`500 g` is a mass, and a length is wanted", "write a length"),
        ("3.14½ in", "mm", "`3.14½ in` has decimals and a fraction", "such as `3.145 in`"),
        ("6.3/8 gal", "l", "`6.3/8 gal` can be read in two ways", "such as `6 3/8 gal`"),
        ("4 5/4 in", "mm", "in `4 5/4 in` the fraction 5/4 is not less than one", "carry the rest over"),
        ("4/0 in", "mm", "`4/0 in` divides by nought", "as it stands in the source"),
        ("3 ft 14 in", "mm", "in `3 ft 14 in` what is in `in` is as much as one `ft` or more", "carry it over"),
        ("12° 75'", "deg", "in `12° 75'` what is in `arcmin` is as much as one `deg`", "carry it over"),
        ("3 in 4 ft", "mm", "`3 in 4 ft` is no figure that can be read", "is no unit"),
        ("3 ft +4 in", "mm", "`3 ft +4 in` is no figure that can be read", "is no unit"),
        ("3 ft 4 lb", "mm", "`3 ft 4 lb` is no figure that can be read", "did you mean"),
        ("1.029,5 mm", "mm", "`1.029,5 mm` is no figure that can be read", "write it such as `1029 mm`"),
        ("12 furlongs", "mm", "`furlongs` is no unit that is known", "write a unit such as"),
        ("12 inchs", "mm", "`inchs` is no unit that is known", "did you mean `in`?"),
        ("10²", "mm", "`10²` is no figure that can be read", "`²` is no unit"),
        ("", "mm", "there is no figure", "write a figure with its unit"),
        ("as drawn", "mm", "`as drawn` is no figure that can be read", "write it such as `1029 mm`"),
        ("4.88 mm (.182 in)", "mm", "contradicts itself: .182 in is 4.6228 mm", "the one that stands in the source"),
        ("12 V (60 W)", "V", "`60 W` is a power, and a voltage is wanted", "write a voltage"),
        ("12 V dia", "V", "`12 V dia` is no figure that can be read", "is no unit"),
        ("1" * 101 + " mm", "mm", "is too long for a figure", "write the figure with its unit alone"),
    ],
)
def test_what_is_no_single_figure_is_refused_with_its_mend(
    written: str, unit_id: str | None, what: str, mend: str
) -> None:
    error = refusal(written, unit_id)

    assert not isinstance(error, AmbiguousMeasureError)
    assert what in error.what
    assert mend in f"{error.what} {error.mend}"


def test_one_figure_in_two_systems_is_read_where_both_agree() -> None:
    measure = parse_measure("1028.7 mm (3 ft 4 1/2 in)", unit=INCH)

    assert (measure.value, measure.unit, measure.last_place) == (Fraction("1028.7"), MM, Fraction("0.1"))
    assert measure.written == "1028.7 mm (3 ft 4 1/2 in)"


def test_a_figure_is_not_told_in_a_unit_of_another_dimension() -> None:
    length = parse_measure("12 mm")

    for telling in (length.to, length.spread_to, length.last_place_in):
        with pytest.raises(MeasureError) as refused:
            telling(UNITS["kg"])
        assert refused.value.what == "`12 mm` is a length, and a mass is wanted, in kg"


def test_a_give_or_take_of_a_temperature_has_no_freezing_point() -> None:
    """9 °F of difference are 5 °C; the figure 9 °F is -12.78 °C."""
    measure = parse_measure("9 °F")

    assert measure.spread_to(UNITS["degC"]) == 5
    assert measure.last_place_in(UNITS["degC"]) == Fraction(5, 9)
    assert round(measure.to(UNITS["degC"]), 2) == Fraction("-12.78")


def test_minutes_are_of_arc_only_where_an_angle_is_wanted() -> None:
    assert parse_measure("5'", unit=MM).unit.id == "ft"
    assert parse_measure("5'", unit=DEGREE).unit.id == "arcmin"
    assert parse_measure("5'").unit.id == "ft"


PIECES_OF_FIGURES = (
    *(
        "0",
        "1",
        "2",
        "3",
        "4",
        "16",
        "1029",
        "1/2",
        "3/8",
        "5/0",
        ".",
        ",",
        "-",
        "+",
        "'",
        '"',
        "°",
        "½",
        "¾",
        "\u2044",
    ),
    *("\u2032", "\u2033", "ft", "in", "mm", "kg", "lb", "gal", "US", "SWG", "BA", "BSF", "gauge", "g", "No.", "about"),
    *("±", "(", ")", "x", "off", "four", "dia", "V", "N", "m", "cwt", "qr", "deg", "min", "°C", "[", "]", "?", "bare"),
    *("to", "or", "\u00a0", "\u202f", "²"),
)


def outcome(written: str, unit: Unit | None) -> Measure | MeasureError:
    try:
        return parse_measure(written, unit=unit)
    except MeasureError as error:
        return error


@given(
    st.lists(st.sampled_from(PIECES_OF_FIGURES), max_size=9),
    st.sampled_from(["", " "]),
    st.sampled_from([None, MM, DEGREE, PIECES]),
)
@example(["3", ".", "4", "½"], "", None)
@example(["1", "/", "4"], " ", None)
def test_whatever_is_written_is_a_measure_or_refused_with_a_mend(
    pieces: list[str], gap: str, unit: Unit | None
) -> None:
    found = outcome(gap.join(pieces), unit)

    if isinstance(found, Measure):
        assert found.last_place > 0
        assert unit is None or found.unit.dimension == unit.dimension
    else:
        assert found.what
        assert found.mend
    if isinstance(found, AmbiguousMeasureError):
        assert found.choices
        assert all(isinstance(outcome(choice, None), Measure) for choice in found.choices)


@given(st.text(max_size=40))
def test_any_text_at_all_is_a_measure_or_refused(written: str) -> None:
    found = outcome(written, None)

    assert found.written == written if isinstance(found, Measure) else found.mend


@given(feet=st.integers(1, 200), count=st.integers(0, 767))
def test_feet_inches_and_sixty_fourths_add_up(feet: int, count: int) -> None:
    inches = Fraction(count, 64)
    whole, part = divmod(inches, 1)
    fraction = f" {part.numerator}/{part.denominator}" if part else ""

    for written in (f"{feet} ft {whole}{fraction} in", f"{feet}'-{whole}{fraction}\"", f"{feet}'{whole}{fraction}"):
        assert parse_measure(written).value == feet * 12 + inches
