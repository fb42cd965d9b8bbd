"""Figures of a measure as they are drawn, read again as XML; places along the scale worked out by hand."""

import re
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from reports.drawings import SVG, all_words, parts_of, require_sound, size_of, words_of
from reports.pages import HOSTILE, any_text

from provenance.records.kinds import Condition
from provenance.reports.measure_scales import scales_of
from provenance.reports.measure_svg import measure_svg
from provenance.reports.measure_words import MOST_TOLD, measure_in_full
from provenance.rules.grades import Category
from provenance.rules.quantity_values import MeasuredValue, NearSize, Quantity

TITLES = {"plan": "General arrangement", "survey": "Survey of No. 11"}


def a_value(value: float, half_width: float = 1.0, **fields: object) -> MeasuredValue:
    usual = MeasuredValue(
        claim="height",
        source="survey",
        written=f"{value:g} mm",
        value=value,
        half_width=half_width,
        standard=half_width / 3**0.5,
        is_nominal=False,
        condition=Condition.SOUND,
        applies=Category.ITSELF,
        weight=10.0,
        counted=True,
    )
    return replace(usual, **fields)  # type: ignore[arg-type]  # fields by name


def a_quantity(*values: MeasuredValue, **fields: object) -> Quantity:
    usual = Quantity(
        unit="mm",
        nominal=None,
        nominal_written=None,
        mean=None,
        expanded=None,
        chi_square=None,
        degrees=None,
        birge=None,
        consistent=None,
        between=None,
        needed=None,
        values=values,
    )
    return replace(usual, **fields)  # type: ignore[arg-type]  # fields by name


TWO = a_quantity(
    a_value(100.0, 2.0, written="100 mm"),
    a_value(104.0, 1.0, source="plan", written="104 mm", is_nominal=True, counted=False),
    nominal=104.0,
    nominal_written="104 mm",
    mean=100.0,
    expanded=4.0,
    needed=10.0,
    between=0.0,
    consistent=True,
)
"""From 90 to 110, and 6 in 100 of that at either end: 88.8 to 111.2, over 286 to 618.5 pixels."""
PER_MM = (170 * 96 / 25.4 - 24 - 286) / 22.4


def at(value: float) -> float:
    return 286 + (value - 88.8) * PER_MM


def level_lines(svg: str) -> list[tuple[float, float, float]]:
    """Every stroke that runs level: from, to, and its weight."""
    found = []
    for part, x, _ in parts_of(svg):
        points = [tuple(map(float, each.split())) for each in re.split("[ML]", part.get("d") or "")[1:]]
        if part.tag == f"{SVG}path" and len(points) == 2 and points[0][1] == points[1][1]:
            found.append((points[0][0] + x, points[1][0] + x, float(part.get("stroke-width") or 0)))
    return found


def test_every_bar_is_as_long_as_its_give_or_take_and_stands_where_the_scale_says() -> None:
    lines = level_lines(measure_svg(TWO, TITLES))

    bars = [(left, right) for left, right, weight in lines if weight == 2.0]
    assert bars[0] == pytest.approx((at(98), at(102)), abs=0.06)
    assert bars[1] == pytest.approx((at(103), at(105)), abs=0.06)
    mean = [(left, right) for left, right, weight in lines if weight == 4.0]
    assert mean[0] == pytest.approx((at(96), at(104)), abs=0.06)


def test_the_band_the_dashed_line_and_the_bracket_stand_where_the_scale_says() -> None:
    svg = measure_svg(TWO, TITLES)
    require_sound(svg)

    (band,) = [part for part, _, _ in parts_of(svg) if (part.get("fill") or "").startswith("url(#")]
    assert float(band.get("x") or 0) == pytest.approx(at(96), abs=0.06)
    assert float(band.get("width") or 0) == pytest.approx(8 * PER_MM, abs=0.06)
    (dashed,) = [part for part, _, _ in parts_of(svg) if part.get("stroke-dasharray")]
    assert float((dashed.get("d") or "").split()[0][1:]) == pytest.approx(at(104), abs=0.06)
    (bracket,) = [part.get("d") or "" for part, _, _ in parts_of(svg) if (part.get("d") or "").count("L") == 3]
    ends = re.split("[ML ]+", bracket)[1:]
    assert float(ends[0]) == pytest.approx(at(90), abs=0.06)
    assert float(ends[6]) == pytest.approx(at(110), abs=0.06)


def test_words_stand_beside_all_that_is_drawn() -> None:
    words = all_words(measure_svg(TWO, TITLES))

    for told in (
        "100 mm 100.0 give or take 2.0 mm Survey of No. 11 measured, in the mean",
        "104 mm 104.0 give or take 1.0 mm General arrangement laid down by the works",
        "Laid down by the works, and the value: 104 mm (104.0 mm). dashed line",
        "Mean 100.0 mm, give or take 4.0 mm. hatched band",
        "It must be known to give or take 10 mm; it is known to give or take 4.0 mm, which is close enough. bracket",
        "in inches",
        "in mm",
    ):
        assert told in words


def test_each_sort_of_figure_has_a_sign_of_its_own() -> None:
    """A lozenge is laid down, a circle measured, white where it is not counted, a triangle from a worn piece."""
    values = (
        a_value(1.0, is_nominal=True),
        a_value(2.0),
        a_value(3.0, counted=False),
        a_value(4.0, condition=Condition.WORN, counted=False),
        a_value(5.0, condition=Condition.CORRODED, counted=False),
    )

    svg = measure_svg(a_quantity(*values), TITLES)

    signs = [
        (part.tag.removeprefix(SVG), len((part.get("points") or "").split()), part.get("fill"))
        for part, _, _ in parts_of(svg)
        if part.get("stroke-width") == "1.3"
    ]
    assert signs == [
        ("polygon", 4, "#000000"),
        ("circle", 0, "#000000"),
        ("circle", 0, "#ffffff"),
        ("polygon", 3, "#ffffff"),
        ("polygon", 3, "#ffffff"),
    ]
    assert "measured on a worn piece" in all_words(svg)
    assert "measured on a corroded piece" in all_words(svg)


def test_both_scales_name_the_same_places_by_the_inch_of_1959() -> None:
    """25.4 mm exactly: from 1020 to 1040 mm stand 3 ft 4 1/4 in at 1022.35, 1/2 at 1028.7 and 3/4 at 1035.05 mm."""
    above, below = scales_of("mm", 1020.0, 1040.0, 332.0)

    assert above is not None
    assert (above.unit, below.unit) == ("inches", "mm")
    assert [(tick.label, tick.place) for tick in above.ticks] == [
        ("3 ft 4 1/4 in", Fraction("1022.35")),
        ("3 ft 4 1/2 in", Fraction("1028.7")),
        ("3 ft 4 3/4 in", Fraction("1035.05")),
    ]
    assert {tick.label: int(tick.place) for tick in below.ticks} == {
        "1020": 1020, "1025": 1025, "1030": 1030, "1035": 1035, "1040": 1040,
    }  # fmt: skip


@pytest.mark.parametrize(
    ("unit", "low", "high", "above", "below"),
    [
        ("in", 0.0, 1.0, ("0 in", "1/4 in", "1/2 in", "3/4 in", "1 in"), ("0", "5", "10", "15", "20", "25")),
        ("ft", 0.0, 4.0, ("0 in", "1 ft 0 in", "2 ft 0 in", "3 ft 0 in", "4 ft 0 in"), ("0", "200", "400", "600")),
        ("mm", -1.0, 1.0, None, ("-1.0", "-0.5", "0.0", "0.5", "1.0")),
        ("mm", 1.62, 1.64, ("0.0638", "0.0640", "0.0642", "0.0644"), ("1.625", "1.630", "1.635")),
        ("m", 0.0, 3.0, ("0 in", "2 ft 0 in", "4 ft 0 in", "6 ft 0 in", "8 ft 0 in"), ("0.0", "0.5", "1.0", "1.5")),
        ("thou", 0.0, 40.0, ("0", "10", "20", "30", "40"), ("0.0", "0.2", "0.4")),
        ("km", 0.0, 8.0, ("0", "1", "2", "3", "4"), ("0", "2", "4", "6", "8")),
    ],
)
def test_scales_fit_what_they_measure(
    unit: str, low: float, high: float, above: tuple[str, ...] | None, below: tuple[str, ...]
) -> None:
    """In the finest steps that leave at most eight marks, none of whose words touch."""
    upper, lower = scales_of(unit, low, high, 332.0)

    assert upper is not None
    if above is not None:
        assert tuple(tick.label for tick in upper.ticks)[: len(above)] == above
    assert tuple(tick.label for tick in lower.ticks)[: len(below)] == below


@pytest.mark.parametrize("unit", ["kg", "degC", "off", "V", "furlong"])
def test_what_is_no_length_has_one_scale(unit: str) -> None:
    above, below = scales_of(unit, 0.0, 10.0, 332.0)

    assert above is None
    assert below.ticks


def test_very_large_figures_are_written_with_a_power_of_ten() -> None:
    _, below = scales_of("kg", 0.0, 6e20, 332.0)

    assert [tick.label for tick in below.ticks][:3] == ["0", "1e+20", "2e+20"]


@given(
    st.sampled_from(["mm", "cm", "m", "in", "ft", "thou"]),
    st.floats(-1e6, 1e6),
    st.floats(1e-3, 1e6),
    st.integers(200, 400),
)
def test_the_marks_of_both_scales_are_exact_and_lie_on_the_scale(
    unit: str, low: float, length: float, width: int
) -> None:
    """By the metre of 1000 mm and the inch of 25.4; a label that is rounded would not give its place again."""
    high = low + length
    sizes = {"mm": "1", "cm": "10", "m": "1000", "in": "25.4", "inches": "25.4", "ft": "304.8", "thou": "0.0254"}
    of_mm = {name: Fraction(size) for name, size in sizes.items()}
    above, below = scales_of(unit, low, high, float(width))

    assert above is not None
    for scale in (above, below):
        labels = [tick.label for tick in scale.ticks]
        assert len(set(labels)) == len(labels)
        for tick in scale.ticks:
            assert Fraction(low) <= tick.place <= Fraction(high)
            if "e" not in tick.label:
                assert in_mm(tick.label, scale.unit, of_mm) == tick.place * of_mm[unit]


def in_mm(label: str, unit: str, of_mm: dict[str, Fraction]) -> Fraction:
    """Read a label again by hand: `2 ft 3 1/4 in`, or a decimal in the unit of its scale."""
    if not label.endswith("in"):
        return Fraction(label) * of_mm[unit]
    feet, is_feet, rest = label.removesuffix(" in").rpartition(" ft ")
    inches = sum((Fraction(each) for each in rest.split()), Fraction(0))
    return (inches + (Fraction(feet) * 12 if is_feet else 0)) * Fraction("25.4")


def test_figures_that_coincide_have_rows_of_their_own() -> None:
    svg = measure_svg(a_quantity(*(a_value(70.0, 0.2) for _ in range(20))), TITLES)

    require_sound(svg)
    assert [each.text for each in words_of(svg)].count("70 mm") == 20


def test_twenty_figures_fit_a_page_and_of_very_many_those_that_set_the_value_are_drawn() -> None:
    long = {"survey": "Survey of the body, the underframe and everything else of rail car No. 11 by two of the team"}
    summed = {"mean": 80.0, "expanded": 1.0, "between": 0.5, "needed": 0.2, "nominal": 70.0, "nominal_written": "70 mm"}
    near = (NearSize(name="3 5/32 in", value=80.17),)
    twenty = measure_svg(a_quantity(*(a_value(70.0 + n) for n in range(20)), **summed, near=near), long)
    values = [a_value(70.0 + n, counted=n >= 90, written=f"{70 + n} mm") for n in range(100)]
    hundred = measure_svg(a_quantity(*values, mean=100.0, expanded=1.0, between=0.0), long)

    for svg in (twenty, hundred):
        require_sound(svg)
        width, height, own_width, _ = size_of(svg)
        assert height <= 907.2
        assert own_width * 0.6 - 0.1 <= width <= 642.6
    assert "for want of room" not in all_words(twenty)
    texts = [each.text for each in words_of(hundred)]
    assert all(f"{70 + n} mm" in texts for n in range(90, 100))
    assert re.search(r"and \d\d further figures, not drawn for want of room", all_words(hundred))


def test_a_figure_that_is_exact_has_no_bar() -> None:
    svg = measure_svg(a_quantity(a_value(4.0, 0.0, written="4 off"), unit="off"), {})

    require_sound(svg)
    assert [weight for _, _, weight in level_lines(svg) if weight == 2.0] == []
    assert "4 give or take 0 off" in all_words(svg)


@pytest.mark.parametrize(
    ("fields", "told"),
    [
        ({"needed": 5.0}, "It must be known to give or take 5.0 mm; how closely it is known nothing says."),
        ({"needed": 5.0, "mean": 70.0, "expanded": 9.0, "between": 0.0}, "9.0 mm, which is not close enough."),
        ({"nominal": 70.0, "nominal_written": "70 mm", "expanded": 0.5}, "70 mm (70.00 mm, give or take 0.50 mm)."),
        (
            {"mean": 70.0, "expanded": 9.0, "between": 0.0, "near": (NearSize(name="2 3/4 in", value=69.85),)},
            "Within that lies the size of the trade 2 3/4 in (69.8 mm).",
        ),
    ],
)
def test_what_the_figures_come_to_is_told(fields: dict[str, object], told: str) -> None:
    quantity = a_quantity(a_value(70.0), **fields)

    require_sound(measure_svg(quantity, TITLES))
    assert told in all_words(measure_svg(quantity, TITLES))
    assert told in measure_in_full(quantity, TITLES)


def test_the_words_beside_the_drawing_tell_all_of_it() -> None:
    assert measure_in_full(TWO, TITLES) == (
        "What is laid down and measured, in mm: 2 figures. 100.0 give or take 2.0, written 100 mm; measured, in the "
        "mean: Survey of No. 11. 104.0 give or take 1.0, written 104 mm; laid down by the works: General arrangement. "
        "Laid down by the works, and the value: 104 mm (104.0 mm). Mean 100.0 mm, give or take 4.0 mm. It must be "
        "known to give or take 10 mm; it is known to give or take 4.0 mm, which is close enough."
    )


def test_of_very_many_figures_those_that_set_the_value_are_told_and_the_rest_is_counted() -> None:
    values = [a_value(float(n), counted=n >= 90) for n in range(1, 101)]

    told = measure_in_full(a_quantity(*values), TITLES)

    assert told.count("written") == MOST_TOLD
    assert "written 100 mm" in told
    assert "And 60 further figures, not told here." in told


def test_what_others_wrote_does_nothing_in_the_drawing() -> None:
    nasty = f"</text><script>alert(1)</script>{HOSTILE}"

    svg = measure_svg(a_quantity(a_value(1.0, written=nasty), nominal=1.0, nominal_written=nasty), {"survey": nasty})

    require_sound(svg)
    assert HOSTILE not in svg


_SIZES = st.floats(-1e12, 1e12) | st.floats(-1e-6, 1e-6) | st.just(0.0) | st.sampled_from([1028.7, 1028.7000001])
_WIDTHS = st.floats(0, 1e9) | st.floats(0, 1e-9) | st.just(0.0)


@st.composite
def quantities(draw: st.DrawFn) -> Quantity:
    """Any figures: far apart, the same, negative, very small, very large, and any words."""
    values = st.builds(
        a_value,
        _SIZES,
        _WIDTHS,
        written=any_text | st.just("W" * 80),
        source=st.sampled_from(["survey", "plan", "long"]),
        is_nominal=st.booleans(),
        condition=st.sampled_from(Condition),
        weight=st.sampled_from([0.0, 3.0]),
        counted=st.booleans(),
    )
    has_mean, has_nominal = draw(st.booleans()), draw(st.booleans())
    return a_quantity(
        *draw(st.lists(values, min_size=1, max_size=25)),
        unit=draw(st.sampled_from(["mm", "in", "ft", "m", "kg", "degC", "off", "furlong"])),
        mean=draw(_SIZES) if has_mean else None,
        expanded=draw(_WIDTHS) if has_mean or has_nominal else None,
        between=draw(_WIDTHS) if has_mean else None,
        nominal=draw(_SIZES) if has_nominal else None,
        nominal_written=draw(any_text) if has_nominal else None,
        needed=draw(st.none() | _WIDTHS),
        near=tuple(draw(st.lists(st.builds(NearSize, name=any_text, value=_SIZES), max_size=2))) if has_mean else (),
    )


@settings(max_examples=20, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(quantities())
def test_whatever_is_drawn_no_words_stand_on_others_or_leave_the_page(quantity: Quantity) -> None:
    titles = {"plan": HOSTILE, "long": "Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunterbeamter " * 4}

    svg = measure_svg(quantity, titles)

    require_sound(svg)
    assert size_of(svg)[1] <= 907.2
    assert measure_svg(quantity, titles) == svg
    assert measure_in_full(quantity, titles)
