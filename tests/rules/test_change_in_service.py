"""A change during the life of the machine represented."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from fractions import Fraction
from random import Random

import pytest
from builders import FEATURE, a_component, a_date, a_feature, a_source, an_archive, common_over, seen_on
from hypothesis import given, settings
from hypothesis import strategies as st
from rules.sighting_groups import a_sighting, a_target, an_archive_of, backwards, groups_of

from provenance.records.archive import Archive
from provenance.records.claims import Claim
from provenance.records.kinds import Changes
from provenance.records.sources import Source
from provenance.rules.candidates import Group
from provenance.rules.change_in_service import over_time
from provenance.rules.change_values import ChangeAnswer, ChangeOver, Over

LAMP = a_feature(changes=Changes.IN_SERVICE)
PLATE = a_feature(kind="text", aspect="marking", name="Maker's plate", changes=Changes.IN_SERVICE)


def on_9(value: str, when: str | None, known_by: str = "number", **fields: str) -> tuple[Source, Claim]:
    return a_sighting(value, seen_on("9", when, known_by), **fields)


def lamps(*sightings: tuple[Source, Claim], as_at: str = "1934-06") -> Archive:
    return an_archive_of(LAMP, *sightings, target=a_target("9", as_at))


def asked(archive: Archive) -> tuple[Sequence[Group], ChangeAnswer]:
    return over_time(archive.features[FEATURE], groups_of(archive), archive)


def computed(archive: Archive) -> ChangeOver:
    change = asked(archive)[1].change_over
    assert change is not None
    return change


def categories(groups: Sequence[Group]) -> dict[str, str]:
    """How near each item comes, by its source; those that contradict under the source's name too."""
    items = [each for group in groups for each in (*group.supporting, *group.contradicting)]
    return {each.item.source: each.reach.category.value for each in items}


OIL = on_9("oil", "1933-05-10", source="early")
ELECTRIC = on_9("electric", "1936-05-10", source="late")


def test_as_at_a_day_before_the_change_what_was_seen_later_counts_as_a_sister_would() -> None:
    groups, told = asked(lamps(OIL, ELECTRIC, as_at="1933-05-10"))

    assert categories(groups) == {"early": "itself", "late": "same-batch"}
    assert told == ChangeAnswer(
        said="No. 9 was seen with “Oil” (1933-05-10) and later with “Electric” (1936-05-10); what was seen after the "
        "change counts as a sister of its batch would."
    )


def test_as_at_a_day_after_the_change_what_was_seen_earlier_counts_as_a_sister_would() -> None:
    groups, told = asked(lamps(OIL, ELECTRIC, as_at="1937"))

    assert categories(groups) == {"early": "same-batch", "late": "itself"}
    assert told.change_over is None
    assert told.said.endswith("; what was seen before the change counts as a sister of its batch would.")


def test_what_is_placed_anew_says_so_and_the_groups_that_came_are_left_as_they_were() -> None:
    archive = lamps(OIL, ELECTRIC, as_at="1932")
    came = groups_of(archive)

    groups, _ = over_time(LAMP, came, archive)

    (late,) = next(group.supporting for group in groups if group.value == "electric")
    assert late.reasons[0] == (
        "shows this machine, known by its number, but as it was after the change from “Oil” to “Electric”"
    )
    assert late.weight == 14
    assert categories(came)["late"] == "itself"


@pytest.mark.parametrize(
    ("as_at", "category"),
    [
        ("1933-05-09", "same-batch"),
        ("1933-05-10", "same-batch"),
        ("1933-05", "itself"),  # it may be the day after that of the photograph
        ("1933-05-11", "itself"),
        ("1932/1933-04", "same-batch"),
        ("1932/1933-05-10", "same-batch"),
        ("../1933", "itself"),
        ("../1932", "same-batch"),
    ],
)
def test_only_a_day_at_or_before_the_last_of_the_old_value_for_certain_places_the_new_one_anew(
    as_at: str, category: str
) -> None:
    groups, _ = asked(lamps(OIL, ELECTRIC, as_at=as_at))

    assert categories(groups)["late"] == category


@pytest.mark.parametrize(
    ("as_at", "category"),
    [
        ("1936-05-09", "itself"),
        ("1936-05-10", "same-batch"),
        ("1936-05", "itself"),
        ("1936-06/..", "same-batch"),
        ("1936/..", "itself"),
    ],
)
def test_only_a_day_at_or_after_the_first_of_the_new_value_for_certain_places_the_old_one_anew(
    as_at: str, category: str
) -> None:
    groups, _ = asked(lamps(OIL, ELECTRIC, as_at=as_at))

    assert categories(groups)["early"] == category


def test_a_machine_represented_in_the_month_that_a_photograph_is_dated_to_is_represented_as_it_shows() -> None:
    groups, _ = asked(lamps(on_9("oil", "1934-06", source="early"), ELECTRIC, as_at="1934-06"))
    in_the_same_year, _ = asked(lamps(on_9("oil", "1934", source="early"), ELECTRIC, as_at="1934-06"))

    assert categories(groups)["late"] == "same-batch"
    assert categories(in_the_same_year)["late"] == "itself"


def test_between_the_two_the_chance_of_the_new_value_grows_evenly_with_the_days() -> None:
    """From 31 December 1933 to 1 January 1936 are 731 days, to the middle of June 1934 166 and a half.

    31 + 28 + 31 + 30 + 31 = 151 days to 31 May 1934, and 15.5 to the middle between 1 and 30 June.
    """
    archive = lamps(on_9("oil", "1933", source="early"), on_9("electric", "1936", source="late"), as_at="1934-06")

    groups, told = asked(archive)
    change = computed(archive)

    assert (change.over, change.value, change.chances) == (Over.TIME, "oil", ())
    assert change.probability == pytest.approx(1 - Fraction(1665, 10) / 731)
    assert (change.before.example, change.before.shown, change.before.when) == ("9", "Oil", a_date("1933"))
    assert (change.after.value, change.after.sources) == ("electric", ("late",))
    assert categories(groups) == {"early": "itself", "late": "itself"}
    assert told.said == (
        "No. 9 was last seen with “Oil” (1933) and first with “Electric” (1936): if it may have changed on any day "
        "between, it has “Oil” as at 1934-06 with about 77 chances in 100."
    )


def test_the_new_value_is_the_likelier_nearer_to_its_first_sighting() -> None:
    """From 10 to 20 May the 17th is 7 days on."""
    archive = lamps(on_9("oil", "1934-05-10"), on_9("electric", "1934-05-20"), as_at="1934-05-17")

    assert computed(archive).value == "electric"
    assert computed(archive).probability == pytest.approx(0.7)


def test_half_way_the_first_value_in_order_of_text_is_the_better() -> None:
    ends = ("1934-05-10", "1934-05-20")
    archives = [lamps(on_9(old, ends[0]), on_9(new, ends[1]), as_at="1934-05-15") for old, new in
                (("oil", "electric"), ("electric", "oil"))]  # fmt: skip

    assert [(computed(each).value, computed(each).probability) for each in archives] == [("electric", 0.5)] * 2


def test_the_last_of_the_old_and_the_first_of_the_new_value_are_the_ends() -> None:
    """Of sightings that share an end the one known most closely dates it; both sources are named."""
    archive = lamps(
        on_9("oil", "1931", source="first"),
        on_9("oil", "1933", source="wide"),
        on_9("oil", "1933-12", source="close"),
        on_9("oil", "../1933", source="open"),
        on_9("electric", "1936-01", source="month"),
        on_9("electric", "1936/1937", source="years"),
        on_9("electric", "1938", source="last"),
    )

    change = computed(archive)

    assert (change.before.when, change.before.sources) == (a_date("1933-12"), ("close", "open", "wide"))
    assert (change.after.when, change.after.sources) == (a_date("1936-01"), ("month", "years"))


UNSURE = (
    "No. 9 was seen with “Electric” and with “Oil”, but not for certain with the one first and the other later, so no "
    "change is assumed."
)


@pytest.mark.parametrize(
    "more",
    [
        on_9("oil", "1937"),
        on_9("electric", "1932"),
        on_9("oil", "1936-05-10"),  # both on one day
        on_9("oil", "1933/1936"),
        on_9("oil", "1933/.."),
        on_9("electric", "../1937"),
        on_9("oil", "1934", stance="contradicts"),  # without the old one, and not yet seen with the new one
        on_9("electric", "1935", stance="contradicts"),
    ],
)
def test_sightings_that_do_not_go_cleanly_from_one_value_to_the_other_change_nothing(
    more: tuple[Source, Claim],
) -> None:
    archive = lamps(OIL, ELECTRIC, more, as_at="1932")

    groups, told = asked(archive)

    assert told == ChangeAnswer(said=UNSURE)
    assert categories(groups) == categories(groups_of(archive))


@pytest.mark.parametrize(
    "as_at", ["1933/1935", "1933-05-10/1935", "1935/1936", "1935/1936-05-10", "1935/..", "1930/1940"]
)
def test_a_day_represented_that_may_lie_on_either_side_of_an_end_changes_nothing_and_that_is_said(as_at: str) -> None:
    archive = lamps(OIL, ELECTRIC, as_at=as_at)

    assert asked(archive)[1] == ChangeAnswer(
        said="No. 9 was seen with “Oil” (1933-05-10) and later with “Electric” (1936-05-10); whether the day "
        f"represented ({as_at}) lies before or after the change is not certain, so no change is assumed."
    )


@pytest.mark.parametrize(
    "sightings",
    [
        (OIL,),
        (OIL, ELECTRIC, on_9("acetylene", "1938")),
        (OIL, on_9("electric", None)),
        (OIL, on_9("electric", "1936", how="implies")),
        (OIL, a_sighting("electric", seen_on("10", "1936"))),
        (OIL, on_9("electric", "1936", kind="drawing", stance="contradicts")),
    ],
)
def test_nothing_is_said_unless_the_machine_was_seen_with_two_values(sightings: Sequence[tuple[Source, Claim]]) -> None:
    """One alone; three; one not dated; one only implied; one on a sister; one that it did not have."""
    archive = lamps(*sightings)

    groups, told = asked(archive)

    assert told == ChangeAnswer()
    assert categories(groups) == categories(groups_of(archive))


def test_nothing_is_asked_of_a_feature_that_changes_at_building_or_without_a_machine_represented() -> None:
    archive = lamps(OIL, ELECTRIC)
    groups = groups_of(archive)

    assert over_time(a_feature(), groups, archive) == (groups, ChangeAnswer())
    assert over_time(LAMP, groups, replace(archive, target=None)) == (groups, ChangeAnswer())


def test_only_what_is_seen_of_the_machine_beyond_the_change_is_placed_anew() -> None:
    archive = lamps(
        OIL,
        ELECTRIC,
        on_9("electric", "1936-06", "caption", source="captioned"),
        on_9("electric", "1936-06", "likeness", source="alike"),
        on_9("electric", "1937", how="implies", source="implied"),
        on_9("oil", "1937", source="without", stance="contradicts"),
        on_9("oil", "1932", source="before-too"),
        on_9("electric", "1932", source="lacking", stance="contradicts"),
        on_9("electric", None, source="undated"),
        on_9("acetylene", "1937", source="third", stance="contradicts"),
        on_9("electric", "1932", source="implied-early", how="implies"),
        a_sighting("electric", seen_on("4", "1936"), source="another"),
        a_sighting("electric", seen_on("9"), source="stated"),
        as_at="1932",
    )

    groups, _ = asked(archive)

    beyond = {"late", "captioned", "implied", "without", "alike"}
    assert {source for source, category in categories(groups).items() if category == "same-batch"} == beyond
    assert categories(groups)["another"] == "same-type"


def test_a_sister_with_an_interchangeable_part_is_not_placed_anew() -> None:
    """A list says that the lamps of No. 9 and No. 10 are interchangeable; it is of No. 9 that the change is known."""
    component = a_component("headlamp", LAMP, common_to=(common_over("9..10", "list"),))
    records = (*OIL, *ELECTRIC, *a_sighting("electric", seen_on("10", "1936-06"), source="sister"))
    archive = an_archive(component, a_source("list", "catalogue"), *records, target=a_target("9", "1932"))

    groups, _ = asked(archive)

    assert categories(groups) == {"early": "itself", "late": "same-batch", "sister": "covered"}


def test_a_broken_reading_that_fits_both_values_is_placed_by_its_date() -> None:
    plates = (on_9("Ellison", "1933", source="early"), on_9("Emerson", "1936", source="late"))
    broken = (on_9("E[...]son", "1931", source="broken-early"), on_9("e[...]son", "1937", source="broken-late"))

    archive = an_archive_of(PLATE, *plates, *broken, target=a_target("9", "1932"))
    groups, told = asked(archive)

    assert told.said.startswith("No. 9 was seen with “Ellison” (1933) and later with “Emerson” (1936)")
    assert categories(groups) == {
        "early": "itself",
        "late": "same-batch",
        "broken-early": "itself",
        "broken-late": "same-batch",
    }


def test_a_broken_reading_that_fits_one_value_alone_counts_as_that_and_of_a_third_forbids_a_change() -> None:
    plates = (on_9("Ellison", "1933"), on_9("Emerson", "1936"))
    sisters = (a_sighting("Elder", "10"), a_sighting("Alder", "11"))

    def told(broken: tuple[Source, Claim]) -> str:
        return asked(an_archive_of(PLATE, *plates, *sisters, broken, target=a_target("9", "1932")))[1].said

    assert "; what was seen after the change" in told(on_9("El[...]", "1931"))  # Ellison or Elder
    assert told(on_9("El[...]", "1937")).startswith("No. 9 was seen with “Ellison” and with “Emerson”, but not")
    assert told(on_9("[...]lder", "1931")) == ""  # neither of the two


days = st.dates(date(1930, 1, 1), date(1939, 12, 31))


@settings(max_examples=150, deadline=None)
@given(st.lists(days, min_size=3, max_size=3, unique=True))
def test_days_between_are_counted_as_the_calendar_of_python_counts_them(found: list[date]) -> None:
    first, as_at, last = sorted(found)
    chance = Fraction((as_at - first).days, (last - first).days)

    archive = lamps(on_9("oil", str(first)), on_9("electric", str(last)), as_at=str(as_at))
    turned = lamps(on_9("electric", str(first)), on_9("oil", str(last)), as_at=str(as_at))

    assert computed(archive).probability == pytest.approx(max(chance, 1 - chance))
    assert computed(turned).probability == computed(archive).probability
    if chance != Fraction(1, 2):
        assert computed(archive).value == ("electric" if chance > Fraction(1, 2) else "oil")
        assert {computed(archive).value, computed(turned).value} == {"oil", "electric"}


dates = st.sampled_from(("1931", "1932-05", "1933", "1934-06-01", "1934", "1936", "1936/..", None))


@settings(max_examples=100, deadline=None)
@given(
    st.lists(st.tuples(st.sampled_from(("oil", "electric", "acetylene")), dates), max_size=6),
    st.sampled_from(("1930", "1934-06", "1935", "1938")),
    st.randoms(use_true_random=False),
)
def test_the_order_of_entry_never_matters(seen: list[tuple[str, str | None]], as_at: str, shuffle: Random) -> None:
    sightings = [on_9(value, when, source=f"s{number}") for number, (value, when) in enumerate(seen)]
    groups, told = asked(lamps(*sightings, as_at=as_at))
    shuffle.shuffle(sightings)

    others, other = asked(backwards(lamps(*sightings, as_at=as_at)))

    assert (told, categories(groups)) == (other, categories(others))
