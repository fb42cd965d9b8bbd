"""What single machines were seen to have."""

from dataclasses import replace

import pytest
from builders import a_date, a_feature, an_event, seen_on
from rules.sighting_groups import a_sighting, an_archive_of, groups_of

from provenance.records.kinds import Changes
from provenance.rules.sighted_values import Sighting, sightings_against, sightings_of, values_shown, why_not_as_built

PLATE = a_feature(kind="text", aspect="marking", changes=Changes.AT_BUILD)
ARCHIVE = an_archive_of(PLATE, a_sighting("Ellison", "8"), events=(an_event("1931-04", "burnt out", example="8"),))
(ELLISON,) = sightings_of(PLATE, groups_of(ARCHIVE))


def reading(*values: str) -> Sighting:
    """A sighting that may show any of the values."""
    return replace(ELLISON, values=frozenset(values))


@pytest.mark.parametrize(
    ("readings", "shown"),
    [
        ([], ""),
        (["A"], "A"),
        (["A", "A"], "A"),
        (["A", "B"], "AB"),
        (["AB"], ""),
        (["AB", "AB"], ""),
        (["AB", "BC"], "B"),
        (["ABC", "BC"], ""),
        (["AB", "BC", "CA"], "ABC"),  # each two have one in common, all three none
        (["A", "AB"], "A"),
        (["A", "BC"], "ABC"),
        (["A", "B", "AB"], "AB"),
    ],
)
def test_readings_of_one_machine_show_one_value_several_or_none_for_certain(readings: list[str], shown: str) -> None:
    """Each letter is a value; several together are a broken reading that may be any of them."""
    sightings = [reading(*each) for each in readings]

    assert values_shown(sightings) == frozenset(shown)
    assert values_shown(sightings[::-1]) == frozenset(shown)


def test_an_item_that_fits_several_values_is_one_sighting() -> None:
    archive = an_archive_of(
        PLATE, a_sighting("Ellison", "8"), a_sighting("Emerson", "10"), a_sighting("E[...]son", "9", source="broken")
    )

    sightings = sightings_of(PLATE, groups_of(archive))

    shown = {each.source: sorted(each.values) for each in sightings}
    assert shown["broken"] == ["Ellison", "Emerson"]
    assert len(sightings) == 3


def test_a_sighting_of_what_a_machine_has_not_is_kept_apart() -> None:
    archive = an_archive_of(PLATE, a_sighting("Ellison", "8", stance="contradicts"))

    assert sightings_of(PLATE, groups_of(archive)) == ()
    assert [sorted(each.values) for each in sightings_against(groups_of(archive))] == [["Ellison"]]


def test_a_sighting_long_after_the_building_or_after_an_event_says_why_it_does_not_tell() -> None:
    def why(when: str | None) -> str:
        return why_not_as_built(seen_on("8", when), ARCHIVE, 5)

    assert a_date("1930") == ARCHIVE.production.batch_of("8").built
    assert why("1936") == "seen more than 5 years after it was built"
    assert why("1931-05") == "seen after what happened to it: burnt out (1931-04)"
    assert [why("1931-04"), why("1931"), why(None)] == ["", "", ""]
