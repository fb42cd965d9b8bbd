from dataclasses import replace

from builders import (
    FEATURE,
    PRODUCTION,
    a_component,
    a_date,
    a_feature,
    an_archive,
    an_event,
    applies,
    common_over,
)

from provenance.records.archive import Archive, Target
from provenance.records.kinds import Changes
from provenance.rules.standpoint import Standpoint, examples_of, standpoint_of


def of(archive: Archive) -> Standpoint:
    return standpoint_of(archive, archive.components["headlamp"], archive.features[FEATURE])


def test_a_feature_that_changes_at_build_is_held_against_the_building_of_the_batch() -> None:
    standpoint = of(an_archive())

    assert str(standpoint.counts) == "1933"
    assert str(standpoint.as_at) == "1934-06"
    assert standpoint.batch == {"9", "10", "11"}


def test_a_feature_that_changes_in_service_is_held_against_the_day_represented() -> None:
    standpoint = of(an_archive(a_component("headlamp", a_feature(changes=Changes.IN_SERVICE))))

    assert str(standpoint.counts) == "1934-06"


def test_an_archive_without_a_target_has_no_standpoint_to_speak_of() -> None:
    standpoint = of(replace(an_archive(), target=None))

    assert (standpoint.target, standpoint.as_at, standpoint.counts) == (None, None, None)


def test_a_target_that_is_in_no_batch_is_held_against_the_day_represented() -> None:
    standpoint = of(replace(an_archive(), target=Target(example="12", as_at=a_date("1934"))))

    assert str(standpoint.counts) == "1934"
    assert standpoint.batch == frozenset()


def test_only_what_happened_to_the_target_itself_matters() -> None:
    standpoint = of(an_archive(events=(an_event("1932", example="6"), an_event("1935"))))

    assert [str(event.date) for event in standpoint.events] == ["1935"]


def test_only_sets_of_interchangeable_parts_with_the_target_in_them_matter() -> None:
    common = (common_over("5..11", "stores-list"), common_over("1..4", "old-list"), common_over("9..99", "wrong-list"))

    standpoint = of(an_archive(a_component(common_to=common)))

    assert [(len(examples), source) for examples, source in standpoint.common] == [(7, "stores-list")]


def test_a_set_of_examples_is_listed_by_run_batch_or_all_and_an_unknown_one_is_none() -> None:
    assert examples_of(applies("5..8"), PRODUCTION) == frozenset("5678")
    assert examples_of(applies(None, batch="third"), PRODUCTION) == frozenset({"9", "10", "11"})
    assert examples_of(applies("all"), PRODUCTION) == frozenset(PRODUCTION.order)
    assert examples_of(applies("12"), PRODUCTION) is None
    assert examples_of(applies(None, batch="fourth"), PRODUCTION) is None
    assert examples_of(applies(None, related="shunter"), PRODUCTION) is None
