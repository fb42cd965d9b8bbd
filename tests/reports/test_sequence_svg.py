"""The order of production as it is drawn, read again as XML; places and chances worked out by hand."""

from collections.abc import Sequence
from dataclasses import replace

import pytest
from builders import a_date, a_feature, seen_on
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from reports.drawings import SVG, all_words, parts_of, require_sound, size_of, words_of
from reports.pages import HOSTILE, any_text
from reports.sequences import a_figure
from rules.sighting_groups import a_sighting, an_archive_of

from provenance.records.kinds import KnownBy
from provenance.reports.sequence import BatchRows, ExampleRow, Observation, SequenceFigure
from provenance.reports.sequence_svg import sequence_svg
from provenance.reports.sequence_words import MOST_TOLD, percent, sequence_in_words

LAMP = a_feature()
OIL_ON_8 = a_sighting("oil", seen_on("8", "1931"), source="eight")
ELECTRIC_ON_10 = a_sighting("electric", seen_on("10", "1934-06"), source="ten")
BAR = 66.0


def an_observation(value: str = "Oil", **fields: object) -> Observation:
    usual = Observation(
        values=(value,),
        shown=f"“{value}”",
        against=False,
        when=a_date("1931"),
        known_by=KnownBy.NUMBER,
        sources=("photo",),
        direct=True,
        counts=True,
        why_not="",
    )
    return replace(usual, **fields)  # type: ignore[arg-type]  # fields by name


def a_row(example: str, *observations: Observation, chance: float | None = None, near: bool = False) -> ExampleRow:
    is_target = example == "9"
    return ExampleRow(
        example=example,
        is_target=is_target,
        near_target=near or is_target,
        observations=observations,
        chance=chance,
    )


def of_rows(*rows: ExampleRow, later: str = "", said: str = "") -> SequenceFigure:
    return SequenceFigure(
        feature="headlamp/type",
        name="Headlamp type",
        target="9",
        batches=(BatchRows(batch="third", built=a_date("1933"), rows=rows),) if rows else (),
        earlier="Oil" if later else "",
        later=later,
        said=said,
    )


def drawn(*sightings: object, **fields: object) -> str:
    figure = a_figure(an_archive_of(LAMP, *sightings, **fields))  # type: ignore[arg-type]  # fields by name
    assert figure is not None
    return sequence_svg(figure)


def bars(svg: str) -> list[float]:
    """How long the black part of each bar is; 0 where there is none. The one in the legend is left out."""
    frames = [
        (part.get("x"), part.get("y"), x, y)
        for part, x, y in parts_of(svg)
        if part.tag == f"{SVG}rect" and part.get("width") == f"{BAR:.1f}" and part.get("stroke")
    ]
    black = {
        (part.get("x"), part.get("y"), x, y): float(part.get("width") or 0)
        for part, x, y in parts_of(svg)
        if part.tag == f"{SVG}rect" and part.get("fill") == "#000000"
    }
    return [black.get(frame, 0.0) for frame in frames]


def test_a_drawing_names_every_batch_and_machine_in_order_and_marks_the_one_represented() -> None:
    svg = drawn(OIL_ON_8, ELECTRIC_ON_10)

    require_sound(svg)
    told = [each.text for each in words_of(svg)]
    named = [each for each in told if each.startswith(("Batch", "No. "))]
    assert named == [
        "Batch first, built 1927 to 1928", "No. 1", "No. 2", "No. 3", "No. 4",
        "Batch second, built 1930", "No. 5", "No. 6", "No. 7", "No. 8",
        "Batch third, built 1933", "No. 9", "No. 10", "No. 11",
    ]  # fmt: skip
    assert told[told.index("No. 9") + 1] == "represented"
    thick = [part for part, _, _ in parts_of(svg) if part.get("stroke-width") == "2.6"]
    assert len(thick) == 2  # about the machine, and in the legend
    tops = {each.text: each.top for each in words_of(svg)}
    assert tops["No. 8"] < tops["No. 9"] < tops["No. 10"]


def test_what_was_seen_stands_in_words_beside_its_sign() -> None:
    words = all_words(drawn(OIL_ON_8, ELECTRIC_ON_10))

    assert "“Oil”, 1931, known by its number (eight)" in words
    assert "“Electric”, June 1934, known by its number (ten)" in words
    assert "nothing seen" in words
    assert "does not count" not in words


@pytest.mark.parametrize("step", [1, 5])
def test_the_bars_are_as_long_as_the_chances_that_follow_from_the_places_of_the_machines(step: int) -> None:
    """Oil on No. 6 and electric on No. 11, the fifth after it: with batches no likelier, (t - a) / (b - a).

    With the first of a batch five times as likely, Nos. 7 to 11 weigh 1, 1, 5, 1 and 1 of 9.
    """
    weights = {"batch_step": step}
    svg = drawn(a_sighting("oil", "6"), a_sighting("electric", "11"), weights=weights)

    chances = [n / 5 for n in range(6)] if step == 1 else [0, 1 / 9, 2 / 9, 7 / 9, 8 / 9, 1]
    assert bars(svg) == pytest.approx([chance * BAR for chance in chances], abs=0.05)
    percents = ["0 %", "20 %", "40 %", "60 %", "80 %", "100 %"] if step == 1 else ["0 %", "11 %", "22 %", "78 %"]
    for told in percents:
        assert told in [each.text for each in words_of(svg)]
    assert "The earlier value is “Oil”, the later one “Electric”." in all_words(svg)
    assert "chance of “Electric”" in all_words(svg)


def test_without_a_change_over_there_is_no_bar() -> None:
    svg = drawn(OIL_ON_8)

    assert bars(svg) == []
    assert "chance" not in all_words(svg)


@pytest.mark.parametrize(
    ("chance", "told"),
    [(0, "0 %"), (0.001, "under 1 %"), (0.125, "12 %"), (0.754, "75 %"), (0.999, "over 99 %"), (1, "100 %")],
)
def test_no_chance_is_called_sure_that_is_not(chance: float, told: str) -> None:
    assert percent(chance) == told


def signs(svg: str) -> list[tuple[str, str]]:
    """The outlines that are signs of the first two values, in order: a circle or a square, and its fill."""
    shapes = {"circle": "circle", "polygon": "polygon"}
    return [
        (shapes[tag], part.get("fill") or "")
        for part, _, _ in parts_of(svg)
        if (tag := part.tag.removeprefix(SVG)) in shapes and part.get("stroke-width") == "1.3"
    ]


def test_each_value_has_a_shape_and_what_is_only_implied_is_white() -> None:
    direct = an_observation()
    implied = an_observation("Electric", direct=False, counts=False, why_not="only implied")

    svg = sequence_svg(of_rows(a_row("8", direct), a_row("9", implied)))

    assert signs(svg)[:2] == [("circle", "#000000"), ("polygon", "#ffffff")]
    assert "not seen directly (photo); does not count: only implied" in all_words(svg)
    assert "black: measured, shown or stated" in all_words(svg)


def test_what_does_not_count_stands_apart_in_a_dashed_frame_below_what_does() -> None:
    late = an_observation(counts=False, why_not="seen too late", sources=("late",))

    svg = sequence_svg(of_rows(a_row("8", late, an_observation(sources=("early",)))))

    require_sound(svg)
    frames = [part for part, _, _ in parts_of(svg) if part.get("stroke-dasharray") == "2 3"]
    assert len(frames) == 2  # about the sighting, and in the legend
    tops = {text: each.top for each in words_of(svg) for text in ("(early)", "seen too") if text in each.text}
    assert tops["(early)"] < tops["seen too"]


def test_what_was_seen_not_to_be_so_is_struck_through_and_says_without() -> None:
    svg = sequence_svg(of_rows(a_row("8", an_observation(against=True))))

    assert "without “Oil”, 1931" in all_words(svg)
    through = [part for part, _, _ in parts_of(svg) if part.tag == f"{SVG}path" and part.get("stroke-width") == "1.3"]
    assert len(through) == 2  # beside the words, and in the legend
    assert "struck through: seen without it" in all_words(svg)


@pytest.mark.parametrize(
    ("known_by", "told"),
    [("number", "known by its number"), ("caption", "known by the caption"), ("likeness", "known by likeness only")],
)
def test_it_says_how_the_machine_was_known(known_by: str, told: str) -> None:
    svg = sequence_svg(of_rows(a_row("8", an_observation(known_by=KnownBy(known_by)))))

    assert told in all_words(svg)


def test_a_long_run_on_which_nothing_was_seen_is_one_row_with_both_its_chances() -> None:
    """A run from 20 to 60 in 100: black up to a fifth of 66, hatched over two fifths more."""
    run = [a_row(f"{n}", chance=0.2 + 0.4 * (n - 20) / 8) for n in range(20, 29)]
    svg = sequence_svg(of_rows(a_row("19", an_observation(), chance=0), *run, a_row("9"), later="Electric"))

    require_sound(svg)
    assert "Nos. 20 to 28" in all_words(svg)
    assert "nothing seen on these 9 machines" in all_words(svg)
    assert "20 % to 60 %" in all_words(svg)
    hatched = [part for part, _, _ in parts_of(svg) if (part.get("fill") or "").startswith("url(#")]
    assert [float(part.get("width") or 0) for part in hatched] == pytest.approx([0.4 * BAR], abs=0.06)
    assert bars(svg)[1] == pytest.approx(0.2 * BAR, abs=0.06)


def test_more_values_than_there_are_shapes_have_numbers() -> None:
    rows = [a_row(f"{n}", an_observation(f"Pattern {n}")) for n in range(1, 13)]

    svg = sequence_svg(of_rows(*rows))

    require_sound(svg)
    assert {"9", "10", "11", "12"} <= {each.text for each in words_of(svg)}
    assert "a number: one of the further values" in all_words(svg)


@pytest.mark.parametrize(
    ("target", "told"),
    [
        (None, "The archive does not say yet which machine is represented."),
        ("12", "No. 12 is represented, and is in none of the batches entered."),
    ],
)
def test_it_says_where_the_machine_represented_has_no_place(target: str | None, told: str) -> None:
    figure = replace(of_rows(a_row("8", an_observation())), target=target)

    assert told in all_words(sequence_svg(figure))
    assert told in sequence_in_words(figure)


def test_without_a_batch_it_says_so() -> None:
    svg = sequence_svg(of_rows())

    require_sound(svg)
    assert "No batch is entered" in all_words(svg)


LONG = "a bracket of two flat bars, riveted, with the lamp iron bent to the near side row"


def many_rows(machines: int, sightings: int, value: str = LONG) -> list[ExampleRow]:
    return [
        a_row(str(n), *(an_observation(f"{value} {n}", sources=(f"photo-{n}-{s}",)) for s in range(sightings)))
        for n in range(1, machines + 1)
    ]


@pytest.mark.parametrize(("machines", "sightings"), [(1, 1), (1, 10), (60, 1), (60, 10), (400, 1), (1, 300)])
def test_from_one_machine_to_many_it_fits_a_page_of_a4_and_counts_what_it_leaves_out(
    machines: int, sightings: int
) -> None:
    """170 by 240 mm are 642.5 by 907.1 pixels of 1/96 inch; made smaller to no less than 60 in 100."""
    svg = sequence_svg(of_rows(*many_rows(machines, sightings)))

    require_sound(svg)
    width, height, own_width, own_height = size_of(svg)
    assert width <= 642.6
    assert height <= 907.2
    assert width >= own_width * 0.6 - 0.1
    assert height >= own_height * 0.6 - 0.1
    words = all_words(svg)
    assert ("for want of room" in words) != (machines * sightings <= 10)
    assert "No. 9" in words or machines < 9


def test_sixty_machines_seen_with_a_few_values_are_all_drawn() -> None:
    values = ["Oil", "Electric", "A broad bracket of two flat bars"]
    svg = sequence_svg(of_rows(*(a_row(str(n), an_observation(values[n % 3])) for n in range(60))))

    require_sound(svg)
    assert {f"No. {n}" for n in range(60)} <= {each.text for each in words_of(svg)}


def test_what_is_too_tall_for_one_column_stands_in_two_with_the_batch_named_again() -> None:
    """The second column begins past the middle of a drawing that is 642.5 / .6 wide."""
    svg = sequence_svg(of_rows(*many_rows(45, 1)))

    assert size_of(svg)[2] == pytest.approx(642.52 / 0.6, abs=0.1)
    again = [each for each in words_of(svg) if each.text == "Batch third, built 1933, continued"]
    assert [each.left > 1070.9 / 2 for each in again] == [True]


def test_a_machine_with_ten_sightings_has_them_all() -> None:
    svg = sequence_svg(of_rows(*many_rows(1, 10)))

    words = all_words(svg)
    assert all(f"photo-1-{s})" in words for s in range(10))


def test_the_words_beside_the_drawing_tell_all_of_it() -> None:
    figure = a_figure(an_archive_of(LAMP, OIL_ON_8, ELECTRIC_ON_10))
    assert figure is not None

    assert sequence_in_words(figure) == (
        "Machine by machine: “Headlamp type” (headlamp/type). In order of production. No. 9, in the thick frame, is "
        f"represented. {figure.said} The earlier value is “Oil”, the later one “Electric”. Batch first, built 1927 to "
        "1928. Nos. 1 to 4: nothing seen on these 4 machines. Batch second, built 1930. Nos. 5 to 7: nothing seen on "
        "these 3 machines. No. 8: “Oil”, 1931, known by its number (eight); chance of “Electric” 0 %. Batch third, "
        "built 1933. No. 9, which is represented: nothing seen; chance of “Electric” 83 %. No. 10: “Electric”, June "
        "1934, known by its number (ten); chance of “Electric” 100 %. No. 11: nothing seen."
    )


def test_of_very_many_machines_the_nearest_are_told_and_the_rest_is_counted() -> None:
    told = sequence_in_words(of_rows(*many_rows(100, 1, "Oil")))

    assert told.count("known by its number") == MOST_TOLD
    assert "(photo-1-0)" in told
    assert "(photo-100-0)" not in told
    assert "On 40 further machines something was seen that is not told here." in told


def test_two_drawings_in_one_page_share_no_id() -> None:
    one = of_rows(a_row("8", an_observation(), chance=0.5), later="Electric")
    names = [{part.get("id") for part, _, _ in parts_of(sequence_svg(figure)) if part.get("id")} for figure in (
        one, replace(one, feature="headlamp_type"), replace(one, feature="headlamp/rim"),
    )]  # fmt: skip

    assert len(set.union(*names)) == sum(map(len, names))


def test_what_others_wrote_does_nothing_in_the_drawing() -> None:
    nasty = f"</text><script>alert(1)</script>{HOSTILE}"
    row = a_row("9", an_observation(nasty, counts=False, why_not=nasty, sources=(nasty,)), chance=0.5)
    figure = replace(of_rows(row, later=nasty, said=nasty), name=nasty, earlier=nasty)

    svg = sequence_svg(figure)

    require_sound(svg)
    assert HOSTILE not in svg
    assert HOSTILE not in sequence_in_words(figure)


@st.composite
def figures(draw: st.DrawFn) -> SequenceFigure:
    """Any figure: words of any kind, any number of batches, machines and sightings."""
    short = any_text | st.sampled_from([LONG, "Oil", "No. 9", "W" * 80])
    observation = st.builds(
        an_observation,
        short,
        against=st.booleans(),
        when=st.sampled_from([None, a_date("1931"), a_date("1934-06-09/1935")]),
        known_by=st.sampled_from(KnownBy),
        sources=st.lists(short, min_size=1, max_size=3).map(tuple),
        direct=st.booleans(),
        counts=st.booleans(),
        why_not=short,
    )
    row = st.builds(
        ExampleRow,
        example=short,
        is_target=st.booleans(),
        near_target=st.booleans(),
        observations=st.lists(observation, max_size=3).map(tuple),
        chance=st.none() | st.floats(0, 1),
    )

    def batch(rows: Sequence[ExampleRow]) -> BatchRows:
        return BatchRows(batch=draw(short), built=a_date("1930"), rows=tuple(rows))

    batches = draw(st.lists(st.lists(row, max_size=12).map(batch), max_size=4))
    words = [draw(short) for _ in range(5)]
    return SequenceFigure(
        feature=words[0],
        name=words[1],
        target=draw(st.none() | short),
        batches=tuple(batches),
        earlier=words[2],
        later=words[3],
        said=words[4],
    )


@settings(max_examples=15, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(figures())
def test_whatever_is_drawn_no_words_stand_on_others_or_leave_the_page(figure: SequenceFigure) -> None:
    svg = sequence_svg(figure)

    require_sound(svg)
    width, height, _, _ = size_of(svg)
    assert width <= 642.6
    assert height <= 907.2
    assert sequence_svg(figure) == svg
    assert sequence_in_words(figure)
