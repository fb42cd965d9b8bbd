"""A change from one machine to the next."""

from dataclasses import replace
from fractions import Fraction
from random import Random

import pytest
from builders import (
    FEATURE,
    PRODUCTION,
    a_claim,
    a_component,
    a_date,
    a_feature,
    a_source,
    an_archive,
    an_event,
    an_item,
    common_over,
    seen_on,
)
from hypothesis import given, settings
from hypothesis import strategies as st
from rules.sighting_groups import a_production, a_sighting, a_target, an_archive_of, backwards, groups_of

from provenance.records.archive import Archive
from provenance.records.claims import Claim
from provenance.records.components import Feature
from provenance.records.kinds import Changes
from provenance.records.production import Production
from provenance.records.sources import Source
from provenance.rules.change_over import change_over
from provenance.rules.change_values import ChangeAnswer, ChangeOver, Over
from provenance.rules.weights import weights_of

LAMP = a_feature()
PLATE = a_feature(kind="text", aspect="marking", name="Maker's plate")
Sightings = tuple[Source, Claim]


def answer(archive: Archive, without: frozenset[str] = frozenset()) -> ChangeAnswer:
    return change_over(archive.features[FEATURE], groups_of(archive, without), archive, weights_of(archive))


def computed(archive: Archive) -> ChangeOver:
    change = answer(archive).change_over
    assert change is not None
    return change


def lamps(*sightings: Sightings, **fields: object) -> Archive:
    return an_archive_of(LAMP, *sightings, **fields)


def plates(*sightings: Sightings, **fields: object) -> Archive:
    return an_archive_of(PLATE, *sightings, **fields)


OIL_ON_8 = a_sighting("oil", seen_on("8", "1931"))
ELECTRIC_ON_10 = a_sighting("electric", seen_on("10", "1934"))
ELECTRIC_ON_11 = a_sighting("electric", "11")


def test_a_change_is_likelier_with_the_first_machine_of_a_batch() -> None:
    """No. 9 begins the third batch: 5 for it against 1 for No. 10."""
    change = computed(lamps(OIL_ON_8, ELECTRIC_ON_10))

    assert (change.over, change.value) == (Over.SEQUENCE, "electric")
    assert change.probability == pytest.approx(5 / 6)
    assert (change.before.example, change.before.value, change.before.shown) == ("8", "oil", "Oil")
    assert (change.after.example, change.after.value, change.after.shown) == ("10", "electric", "Electric")
    assert (change.before.when, change.after.when) == (a_date("1931"), a_date("1934"))
    assert (change.before.sources, change.after.sources) == (("8-oil-supports-1931",), ("10-electric-supports-1934",))
    assert dict(change.chances) == pytest.approx({"8": 0, "9": 5 / 6, "10": 1})
    assert [example for example, _ in change.chances] == ["8", "9", "10"]


def test_with_no_step_at_a_batch_the_change_is_equally_likely_anywhere() -> None:
    """(t - a) / (b - a): from No. 6 to No. 11 the target No. 9 is the third of five places."""
    sightings = (a_sighting("oil", "6"), a_sighting("electric", "11"))

    change = computed(lamps(*sightings, weights={"batch_step": 1}))

    assert change.value == "electric"
    assert change.probability == pytest.approx(3 / 5)
    assert [chance for _, chance in change.chances] == pytest.approx([0, 0.2, 0.4, 0.6, 0.8, 1])


def test_the_old_value_is_the_likelier_where_the_batch_of_the_new_one_begins_later() -> None:
    """From No. 5 to No. 9, No. 6 represented: 6, 7 and 8 with 1 each, No. 9 with 5."""
    archive = lamps(a_sighting("oil", "5"), a_sighting("electric", "9"), target=a_target("6"))

    change = computed(archive)

    assert change.value == "oil"
    assert change.probability == pytest.approx(7 / 8)


def test_of_two_values_equally_likely_the_first_in_order_of_text_is_the_better() -> None:
    sightings = (a_sighting("oil", "8"), a_sighting("electric", "10"))
    turned = (a_sighting("electric", "8"), a_sighting("oil", "10"))

    changes = [computed(lamps(*each, weights={"batch_step": 1})) for each in (sightings, turned)]

    assert [(change.value, change.probability) for change in changes] == [("electric", 0.5), ("electric", 0.5)]


def test_a_change_over_is_told_in_one_sentence() -> None:
    even = lamps(OIL_ON_8, ELECTRIC_ON_10, weights={"batch_step": 1})
    within_a_batch = lamps(a_sighting("oil", "9"), a_sighting("electric", "11"), target=a_target("10"))

    assert answer(lamps(OIL_ON_8, ELECTRIC_ON_10)).said == (
        "“Oil” was seen on No. 8 and “Electric” on No. 10: it changed somewhere after No. 8 and up to No. 10, and "
        "No. 9 has “Electric” with about 83 chances in 100, a change being taken as 5 times as likely with the first "
        "machine of a batch."
    )
    assert answer(even).said.endswith("No. 9 has “Electric” with about 50 chances in 100.")
    assert answer(within_a_batch).said.endswith("No. 10 has “Electric” with about 50 chances in 100.")


def test_a_machine_known_by_likeness_alone_is_taken_and_that_is_said() -> None:
    """Of No. 8 a second photograph shows the number; of No. 10 there is none."""
    alike = (a_sighting("oil", seen_on("8", None, "likeness")), a_sighting("electric", seen_on("10", None, "likeness")))

    assert answer(lamps(*alike)).said.endswith("; mind that No. 8 and No. 10 are known by likeness only.")
    assert answer(lamps(*alike, OIL_ON_8)).said.endswith("; mind that No. 10 is known by likeness only.")
    assert "likeness" not in answer(lamps(*alike, OIL_ON_8, ELECTRIC_ON_10)).said


def test_numbers_stand_in_the_order_of_production_and_not_in_that_of_text() -> None:
    """S1000D before issue 4.1 compared effectivity values as strings, so that '9' <= '100' was False.

    There numeric ranges needed zero padding; here the order of archive.yaml alone counts. (From memory of that
    standard's applicability chapter; the comparison of the strings can be seen below.)
    """
    numbers = [str(number) for number in range(9, 101)]
    archive = lamps(
        a_sighting("oil", "9"),
        a_sighting("electric", "100"),
        production=a_production(numbers),
        target=a_target("50"),
        weights={"batch_step": 1},
    )

    change = computed(archive)

    assert sorted(["9", "50", "100"]) == ["100", "50", "9"]
    assert (change.before.example, change.after.example) == ("9", "100")
    assert dict(change.chances)["50"] == pytest.approx(Fraction(50 - 9, 100 - 9))
    assert change.value == "oil"
    assert change.probability == pytest.approx(Fraction(50, 91))


def test_machines_built_out_of_the_order_of_their_numbers_stand_as_they_were_built() -> None:
    """No. 9 was built before No. 2, and No. 100 between them."""
    archive = lamps(
        a_sighting("oil", "9"),
        a_sighting("electric", "2"),
        production=a_production(["9", "100", "2"]),
        target=a_target("100"),
    )

    assert computed(archive).before.example == "9"


def test_the_nearest_machines_on_either_side_count() -> None:
    archive = lamps(a_sighting("acetylene", "2"), a_sighting("oil", "7"), a_sighting("electric", "10"), ELECTRIC_ON_11)

    change = computed(archive)

    assert (change.before.example, change.after.example) == ("7", "10")


def test_the_same_value_on_either_side_is_no_change_and_that_is_said() -> None:
    told = answer(lamps(a_sighting("oil", "8"), a_sighting("oil", "10")))

    assert told == ChangeAnswer(
        said="No. 8 before No. 9 and No. 10 after it were both seen with “Oil”, so no change between them is assumed."
    )


@pytest.mark.parametrize("sighting", [OIL_ON_8, ELECTRIC_ON_10])
def test_nothing_is_said_where_machines_were_seen_on_one_side_alone(sighting: Sightings) -> None:
    assert answer(lamps(sighting)) == ChangeAnswer()


BEFORE, AFTER = (
    "No. 8, the nearest machine seen before No. 9,",
    "No. 10, the nearest machine seen after No. 9,",
)
NONE = "so no change from one machine to the next is computed."


@pytest.mark.parametrize(
    ("more", "why"),
    [
        (a_sighting("acetylene", "8"), f"{BEFORE} was seen with “Acetylene” and “Oil”, {NONE}"),
        (a_sighting("oil", "10"), f"{AFTER} was seen with “Electric” and “Oil”, {NONE}"),
        (a_sighting("oil", "8", stance="contradicts"), f"{BEFORE} was seen with “Oil” and without it, {NONE}"),
        (a_sighting("electric", "2"), f"“Electric” was seen on No. 2 already, before “Oil” on No. 8, {NONE}"),
        (a_sighting("oil", "11"), f"“Oil” was seen on No. 11 still, after “Electric” on No. 10, {NONE}"),
    ],
)
def test_what_is_more_than_one_change_is_not_computed_and_that_is_said(more: Sightings, why: str) -> None:
    told = answer(lamps(a_sighting("oil", "8"), a_sighting("electric", "10"), more))

    assert told == ChangeAnswer(said=why)


@pytest.mark.parametrize("example", ["3", "11"])
def test_a_machine_seen_with_both_values_anywhere_forbids_a_change_over(example: str) -> None:
    both = (a_sighting("oil", example), a_sighting("electric", example))

    told = answer(lamps(OIL_ON_8, ELECTRIC_ON_10, *both))

    assert told.change_over is None
    assert told.said == f"No. {example} was seen with both “Electric” and “Oil”, {NONE}"


def test_a_third_value_beyond_the_nearest_machines_forbids_nothing() -> None:
    more = (a_sighting("acetylene", "2"), a_sighting("acetylene", "11"))

    assert computed(lamps(OIL_ON_8, ELECTRIC_ON_10, *more)) == computed(lamps(OIL_ON_8, ELECTRIC_ON_10))


def test_that_a_machine_lacks_a_value_forbids_nothing_unless_it_is_the_one_seen_on_it() -> None:
    """On No. 3 the old one; on No. 8 a third; on No. 8 the old one, but long after it was built."""
    more = (
        a_sighting("oil", "3", stance="contradicts"),
        a_sighting("acetylene", "8", stance="contradicts"),
        a_sighting("oil", seen_on("8", "1950"), stance="contradicts"),
    )

    assert computed(lamps(OIL_ON_8, ELECTRIC_ON_10, *more)) == computed(lamps(OIL_ON_8, ELECTRIC_ON_10))


@pytest.mark.parametrize(
    ("when", "counts"),
    [
        ("1935-12-31", True),  # five years to the day after 31 December 1930, the last of the year it was built in
        ("1936", False),
        ("1935/1936", True),  # only possibly too late
        (None, True),
    ],
)
def test_a_machine_seen_long_after_it_was_built_does_not_count(when: str | None, *, counts: bool) -> None:
    sighting = a_sighting("oil", seen_on("8", when))

    assert (answer(lamps(sighting, ELECTRIC_ON_10)).change_over is not None) is counts


@pytest.mark.parametrize(
    ("date", "example", "counts"),
    [("1931-04", "8", False), ("1931-06", "8", True), ("1931", "8", True), ("1931-04", "7", True)],
)
def test_a_machine_seen_after_it_was_rebuilt_does_not_count(date: str, example: str, *, counts: bool) -> None:
    sighting = a_sighting("oil", seen_on("8", "1931-06"))

    archive = lamps(sighting, ELECTRIC_ON_10, events=(an_event(date, example=example),))

    assert (answer(archive).change_over is not None) is counts


def test_what_was_seen_too_late_cannot_contradict_what_was_seen_as_built() -> None:
    late = (a_sighting("electric", seen_on("8", "1950")), a_sighting("oil", seen_on("10", "1950")))

    assert computed(lamps(OIL_ON_8, ELECTRIC_ON_10, *late)) == computed(lamps(OIL_ON_8, ELECTRIC_ON_10))


@pytest.mark.parametrize(
    "other",
    [
        a_sighting("oil", "8", how="implies"),
        a_sighting("oil", "8", kind="drawing", stance="contradicts"),
        a_sighting("oil", seen_on("8", signs=["conduit-on-cantrail"])),
        a_sighting("oil", "Quarry tractor"),
        a_sighting("oil", "12"),
    ],
)
def test_what_shows_no_value_on_a_machine_of_the_sequence_does_not_count(other: Sightings) -> None:
    """Only implied; that it was not so; told by a sign of this feature; a related type; never built."""
    assert answer(lamps(other, ELECTRIC_ON_10, related=["Quarry tractor"])) == ChangeAnswer()


def test_a_statement_about_a_sister_is_no_sighting_of_it() -> None:
    archive = an_archive(
        a_claim("oil", "letter", to="8"),
        a_source("photo"),
        a_claim("electric", an_item("photo", "shows", seen=seen_on("10"))),
    )

    assert answer(archive) == ChangeAnswer()


def test_a_source_left_out_of_judgement_shows_nothing() -> None:
    archive = lamps(OIL_ON_8, ELECTRIC_ON_10)

    assert answer(archive, frozenset({"8-oil-supports-1931"})) == ChangeAnswer()


@pytest.mark.parametrize(
    "nearer",
    [
        a_sighting("oil", seen_on("9", "1934")),
        a_sighting("oil", seen_on("9", "1934", "caption")),
        a_sighting("oil", seen_on("9", "1934"), stance="contradicts"),
    ],
)
def test_nothing_is_asked_where_something_direct_speaks_of_the_machine_itself(nearer: Sightings) -> None:
    assert answer(lamps(OIL_ON_8, ELECTRIC_ON_10, nearer)) == ChangeAnswer()


def test_nothing_is_asked_where_a_direct_statement_covers_the_machine() -> None:
    """A manual of all machines; and a part that is interchangeable with that of No. 8."""
    stated = lamps(OIL_ON_8, ELECTRIC_ON_10, (a_source("manual", "manual"), a_claim("oil", "manual", to="all")))
    component = a_component(common_to=(common_over("8..9", "list"),))
    common = an_archive(component, a_source("list", "catalogue"), *OIL_ON_8, *ELECTRIC_ON_10)

    assert [answer(stated), answer(common)] == [ChangeAnswer(), ChangeAnswer()]


@pytest.mark.parametrize(
    "own",
    [
        [a_sighting("electric", seen_on("9", "1934", "likeness"))],
        [a_sighting("electric", seen_on("9", "1934"), how="implies")],
        [a_sighting("electric", seen_on("9", "1955"))],
        [a_sighting("electric", seen_on("9", None, "likeness")), a_sighting("oil", seen_on("9", None, "likeness"))],
    ],
)
def test_doubtful_sightings_of_the_machine_itself_neither_forbid_nor_join_a_change_over(own: list[Sightings]) -> None:
    assert computed(lamps(OIL_ON_8, ELECTRIC_ON_10, *own)) == computed(lamps(OIL_ON_8, ELECTRIC_ON_10))


def test_nothing_is_asked_of_a_feature_that_changes_in_service_of_a_quantity_or_without_a_machine() -> None:
    archive = lamps(OIL_ON_8, ELECTRIC_ON_10)
    groups, weights = groups_of(archive), weights_of(archive)

    def asked(feature: Feature, archive: Archive) -> ChangeAnswer:
        return change_over(feature, groups, archive, weights)

    assert asked(LAMP, archive).change_over is not None
    assert asked(replace(LAMP, changes=Changes.IN_SERVICE), archive) == ChangeAnswer()
    assert asked(a_feature(kind="quantity", aspect="dimension"), archive) == ChangeAnswer()
    assert asked(LAMP, replace(archive, target=None)) == ChangeAnswer()
    assert asked(LAMP, replace(archive, target=a_target("12"))) == ChangeAnswer()


def test_a_part_may_come_or_go_along_the_sequence() -> None:
    """A photograph of No. 10 without a hood is one of its absence."""
    hood = a_feature(kind="presence", name="Hood")

    change = computed(
        an_archive_of(hood, a_sighting("present", "8"), a_sighting("present", "10", stance="contradicts"))
    )

    assert (change.before.value, change.after.value, change.value) == ("present", "absent", "absent")


def test_the_first_dated_of_several_sightings_dates_a_machine() -> None:
    dates = ["1932", "../1930", "1931-05", "1931/1932", "1931", "1931/..", None]
    sightings = [a_sighting("oil", seen_on("8", date)) for date in dates]

    before = computed(lamps(*sightings, ELECTRIC_ON_10)).before

    assert before.when == a_date("1931")
    assert len(before.sources) == len(dates)
    assert list(before.sources) == sorted(before.sources)


def test_a_broken_reading_that_fits_several_values_is_not_two_values() -> None:
    """The plate of No. 8 fits Ellison, which another photograph shows on it, and Emerson, which No. 10 has."""
    whole = (a_sighting("Ellison", "8"), a_sighting("Emerson", "10"))
    broken = a_sighting("E[...]son", "8", source="broken")

    with_broken = computed(plates(*whole, broken))

    assert with_broken.before.sources == ("8-ellison-supports-undated", "broken")
    assert (with_broken.before.value, with_broken.probability) == ("Ellison", computed(plates(*whole)).probability)


def test_a_broken_reading_alone_tells_nothing_where_it_fits_several_values() -> None:
    """The nearest machine whose plate can be read is No. 7, not No. 8."""
    broken = a_sighting("E[...]son", "8", source="broken")

    change = computed(plates(a_sighting("Ellison", "7"), broken, a_sighting("Emerson", "10")))

    assert change.before.example == "7"


def test_broken_readings_tell_a_value_that_is_the_only_one_to_fit_all_of_them() -> None:
    """`E[...]son` fits three names, `[...]l[...]n` Ellison and Allan, so that No. 8 has Ellison."""
    names = (a_sighting("Ellison", "2"), a_sighting("Emerson", "10"), a_sighting("Allan", "3"))
    broken = (a_sighting("E[...]son", "8", source="one"), a_sighting("[...]l[...]n", "8", source="two"))

    change = computed(plates(*names, *broken))

    assert (change.before.example, change.before.value, change.before.sources) == ("8", "Ellison", ("one", "two"))


def test_broken_readings_that_no_single_value_fits_are_two_values() -> None:
    names = (
        a_sighting("Ellison", "2"),
        a_sighting("Emerson", "10"),
        a_sighting("Alder", "3"),
        a_sighting("Amber", "4"),
    )
    broken = (a_sighting("E[...]son", "8", source="one"), a_sighting("A[...]er", "8", source="two"))

    told = answer(plates(*names, *broken))

    assert told.said == f"{BEFORE} was seen with “Alder”, “Amber”, “Ellison” and “Emerson”, {NONE}"


def test_a_broken_reading_that_cannot_be_what_is_seen_for_certain_is_a_second_value() -> None:
    names = (a_sighting("Alder", "8"), a_sighting("Ellison", "2"), a_sighting("Emerson", "10"))

    told = answer(plates(*names, a_sighting("E[...]son", "8", source="broken")))

    assert told.change_over is None
    assert "“Alder”, “Ellison” and “Emerson”" in told.said


@pytest.mark.parametrize(
    ("one", "other", "may_be_one"),
    [
        ("K[...]", "[...]nt", True),  # Kent
        ("K[...]", "ke[...]", True),
        ("K[...]t", "[...]ent", True),
        ("K[...]", "L[...]", False),
        ("[...]nt", "[...]nd", False),
    ],
)
def test_two_broken_readings_that_may_be_of_one_text_show_no_change(one: str, other: str, *, may_be_one: bool) -> None:
    archive = plates(a_sighting(one, "8", source="one"), a_sighting(other, "10", source="two"))

    assert (answer(archive).change_over is None) is may_be_one


# Every possible place of the one change, each by itself.


@st.composite
def sequences(draw: st.DrawFn) -> tuple[Production, str, str, str, int]:
    """Batches with the last machine of the old value, the first of the new one, the one represented, and the step."""
    sizes = draw(st.lists(st.integers(1, 5), min_size=1, max_size=5).filter(lambda sizes: sum(sizes) > 2))
    numbers = draw(st.permutations([str(number) for number in range(1, sum(sizes) + 1)]))
    rest = iter(numbers)
    production = a_production(*[[next(rest) for _ in range(size)] for size in sizes])
    places = sorted(draw(st.sets(st.integers(0, len(numbers) - 1), min_size=3, max_size=3)))
    before, target, after = (production.order[place] for place in places)
    return production, before, after, target, draw(st.integers(1, 9))


def by_trying_every_place(production: Production, before: str, after: str, target: str, step: int) -> Fraction:
    """How likely the target has the new value: each machine in turn is taken as the first that has it."""
    has_new = has_old = Fraction(0)
    for batch in production.batches:
        for rank, first in enumerate(batch.examples):
            tried = production.order[production.order.index(first) :]
            if before in tried or after not in tried:
                continue
            share = Fraction(step if rank == 0 else 1)
            has_new, has_old = (has_new + share, has_old) if target in tried else (has_new, has_old + share)
    return has_new / (has_new + has_old)


def changed(production: Production, before: str, after: str, target: str, step: int, **values: str) -> Archive:
    old, new = values.get("old", "oil"), values.get("new", "electric")
    sightings = (a_sighting(old, before), a_sighting(new, after))
    return lamps(*sightings, production=production, target=a_target(target), weights={"batch_step": step})


@settings(max_examples=150, deadline=None)
@given(sequences())
def test_the_chance_is_that_of_every_possible_place_of_the_change_tried_in_turn(
    case: tuple[Production, str, str, str, int],
) -> None:
    expected = by_trying_every_place(*case)

    change = computed(changed(*case))

    assert dict(change.chances)[case[3]] == pytest.approx(expected)
    assert change.probability == pytest.approx(max(expected, 1 - expected))
    assert (change.chances[0], change.chances[-1]) == ((case[1], 0), (case[2], 1))


@settings(max_examples=100, deadline=None)
@given(sequences())
def test_the_two_values_changed_over_mirror_each_other(case: tuple[Production, str, str, str, int]) -> None:
    one, turned = computed(changed(*case)), computed(changed(*case, old="electric", new="oil"))

    assert one.chances == turned.chances
    assert one.probability == turned.probability
    if one.probability != 0.5:
        assert {one.value, turned.value} == {"oil", "electric"}


@settings(max_examples=100, deadline=None)
@given(
    st.lists(
        st.tuples(st.sampled_from(["oil", "electric", "acetylene"]), st.sampled_from(PRODUCTION.order)), max_size=7
    ),
    st.randoms(use_true_random=False),
)
def test_the_order_of_entry_never_matters(seen: list[tuple[str, str]], shuffle: Random) -> None:
    sightings = [
        a_sighting(value, each, source=f"s{number}") for number, (value, each) in enumerate(seen) if each != "9"
    ]
    archive = lamps(*sightings)
    shuffle.shuffle(sightings)

    shuffled = backwards(lamps(*sightings))

    assert answer(archive) == answer(shuffled)
    weights = weights_of(archive)
    assert change_over(LAMP, groups_of(archive)[::-1], archive, weights) == answer(archive)
