from dataclasses import replace
from typing import Any

import pytest
from builders import (
    FEATURE,
    a_component,
    a_feature,
    a_source,
    an_archive,
    an_event,
    an_item,
    applies,
    common_over,
    seen_on,
    shows,
)

from provenance.records.archive import Archive
from provenance.records.claims import AppliesTo, Seen
from provenance.records.dates import parse_edtf
from provenance.records.kinds import Changes, KnownBy
from provenance.rules.applicability import Reach, reach_of_sighting, reach_of_statement, seen_in
from provenance.rules.grades import Category
from provenance.rules.replaced_issues import Replacement
from provenance.rules.standpoint import Standpoint, standpoint_of

NOTHING: frozenset[str] = frozenset()


def standpoint(archive: Archive | None = None) -> Standpoint:
    archive = archive or an_archive(related=["shunter"])
    return standpoint_of(archive, archive.components["headlamp"], archive.features[FEATURE])


def sighting(seen: Seen, archive: Archive | None = None, out: frozenset[str] = NOTHING) -> Reach:
    return reach_of_sighting(seen, standpoint(archive), 5, out)


def statement(applies_to: AppliesTo, archive: Archive | None = None, replaced: Replacement | None = None) -> Reach:
    return reach_of_statement(applies_to, standpoint(archive), replaced, NOTHING)


@pytest.mark.parametrize(
    ("known_by", "category"),
    [("number", Category.ITSELF), ("caption", Category.COVERED), ("likeness", Category.SAME_BATCH)],
)
def test_a_sighting_of_the_target_counts_by_how_it_is_known(known_by: str, category: Category) -> None:
    assert sighting(seen_on("9", "1934", known_by)).category is category


@pytest.mark.parametrize(
    ("example", "category"),
    [
        ("10", Category.SAME_BATCH),
        ("4", Category.SAME_TYPE),
        ("shunter", Category.RELATED_TYPE),
        ("77", Category.UNKNOWN),
    ],
)
def test_a_sighting_of_another_machine_counts_by_how_near_it_is(example: str, category: Category) -> None:
    assert sighting(seen_on(example, "1934")).category is category


@pytest.mark.parametrize(
    ("when", "category", "said"),
    [
        ("1928", Category.SAME_BATCH, False),  # 31 Dec 1928 + 5 years is before 1 June 1934
        ("1929", Category.ITSELF, True),  # 1 Jan 1929 + 5 years is, 31 Dec 1929 + 5 years is not
        ("1930", Category.ITSELF, False),
        ("1939-06", Category.ITSELF, True),  # 30 June 1939 is more than five years after 1 June 1934
        ("1940", Category.SAME_BATCH, False),
        ("../1930", Category.ITSELF, True),
        ("1930/..", Category.ITSELF, True),
    ],
)
def test_a_sighting_certainly_more_than_five_years_off_is_as_of_a_sister(
    when: str, category: Category, *, said: bool
) -> None:
    reach = sighting(seen_on("9", when))

    assert reach.category is category
    assert bool(reach.notes) is said


def test_a_sighting_without_a_date_keeps_its_category_and_says_so() -> None:
    reach = sighting(seen_on("9"))

    assert reach.category is Category.ITSELF
    assert reach.notes == ("when it was seen is not known",)


@pytest.mark.parametrize(
    ("when", "event", "category", "said"),
    [
        ("1931", "1932-03", Category.SAME_BATCH, False),
        ("1936", "1935", Category.SAME_BATCH, False),
        ("1932", "1932-03", Category.ITSELF, True),  # before or after: not certain
        ("1933", "1932-03", Category.ITSELF, False),  # both after it
        ("1936", "1934", Category.ITSELF, True),  # the event may be in the month represented
    ],
)
def test_what_certainly_happened_to_the_machine_in_between_makes_it_as_a_sister(
    when: str, event: str, category: Category, *, said: bool
) -> None:
    reach = sighting(seen_on("9", when), an_archive(events=(an_event(event),)))

    assert reach.category is category
    assert bool(reach.notes) is said


def test_a_sighting_before_and_one_after_an_event_say_on_which_side_they_lie() -> None:
    archive = an_archive(events=(an_event("1932-03"), an_event("1935")))

    assert (
        "but before what happened to it: rebuilt after a collision (1932-03)"
        in sighting(seen_on("9", "1931"), archive).reason
    )
    assert (
        "but after what happened to it: rebuilt after a collision (1935)"
        in sighting(seen_on("9", "1936"), archive).reason
    )


def test_a_machine_known_by_a_sign_of_the_very_feature_proves_nothing() -> None:
    reach = sighting(seen_on("9", "1934", "likeness", ["conduit-on-cantrail"]))

    assert reach.circular
    assert "proves nothing" in reach.reason


def test_a_machine_known_by_a_sign_of_something_else_is_known() -> None:
    assert not sighting(seen_on("9", "1934", "likeness", ["dented-buffer"])).circular


def test_the_period_of_a_claim_is_not_looked_at_for_a_sighting_and_that_of_a_statement_is() -> None:
    """The feature changes at build, and the batch was built in 1933."""
    assert statement(applies("9", since="1935")).category is Category.OTHER_TIME
    assert statement(applies("9", until="1932")).category is Category.OTHER_TIME
    assert statement(applies("9", since="1933")).notes
    assert statement(applies("9", until="1933")).notes
    assert statement(applies("9", since="1932", until="1934")).notes == ()


def test_what_came_later_and_what_had_ended_are_told_apart() -> None:
    assert (
        statement(applies("9", since="1935")).reason == "came later: from 1935, after the building of its batch (1933)"
    )
    assert (
        statement(applies("9", until="1932")).reason == "had ended: until 1932, before the building of its batch (1933)"
    )


def test_a_feature_that_changes_in_service_is_held_against_the_day_represented() -> None:
    archive = an_archive(a_component("headlamp", a_feature(changes=Changes.IN_SERVICE)))

    assert statement(applies("9", since="1934-01"), archive).category is Category.ITSELF
    assert statement(applies("9", since="1934-07"), archive).category is Category.OTHER_TIME


@pytest.mark.parametrize(
    ("covers", "category"),
    [
        (applies("9"), Category.ITSELF),
        (applies(["9"]), Category.ITSELF),
        (applies("all"), Category.COVERED),
        (applies(None, batch="third"), Category.COVERED),
        (applies(["4", "9"]), Category.COVERED),
        (applies(["4", "10"]), Category.SAME_BATCH),
        (applies("5..8"), Category.SAME_TYPE),
        (applies(None, related="shunter"), Category.RELATED_TYPE),
        (applies("77"), Category.UNKNOWN),
        (applies(None, batch="fourth"), Category.UNKNOWN),
    ],
)
def test_a_statement_counts_by_which_machines_it_is_about(covers: AppliesTo, category: Category) -> None:
    assert statement(covers).category is category


@pytest.mark.parametrize(
    ("created", "category", "said"),
    [
        ("1932", Category.OTHER_TIME, False),
        ("1933-02", Category.ITSELF, True),
        ("1934", Category.ITSELF, False),
        (None, Category.ITSELF, True),
    ],
)
def test_a_replaced_issue_ends_with_the_one_that_replaced_it(
    created: str | None, category: Category, *, said: bool
) -> None:
    replaced = Replacement("issue-c", parse_edtf(created) if created else None)

    reach = statement(applies("9"), replaced=replaced)

    assert reach.category is category
    assert bool(reach.notes) is said


COMMON = a_component(common_to=(common_over("5..11", "stores-list"),))


@pytest.mark.parametrize("example", ["10", "5"])
def test_a_part_that_is_interchangeable_over_both_machines_is_covered(example: str) -> None:
    reach = sighting(seen_on(example, "1934"), an_archive(COMMON))

    assert (reach.category, reach.joins) == (Category.COVERED, "stores-list")


def test_a_machine_outside_the_set_is_not_raised_and_neither_is_the_target_nor_a_related_type() -> None:
    archive = an_archive(COMMON, related=["shunter"])

    assert sighting(seen_on("4", "1934"), archive).category is Category.SAME_TYPE
    assert sighting(seen_on("9", "1934", "likeness"), archive) == Reach(
        Category.SAME_BATCH, "shows what is thought to be this machine, by likeness only"
    )
    assert sighting(seen_on("shunter", "1934"), archive).category is Category.RELATED_TYPE


def test_a_statement_is_raised_only_when_every_machine_it_is_about_is_in_the_set() -> None:
    archive = an_archive(COMMON)

    assert statement(applies("5..8"), archive).joins == "stores-list"
    assert statement(applies("4..8"), archive).joins is None
    assert statement(applies("all"), archive) == Reach(Category.COVERED, "speaks of a group with this machine in it")


def test_a_source_that_stands_says_so_before_one_that_is_out_of_judgement() -> None:
    archive = an_archive(a_component(common_to=(common_over("5..11", "forged"), common_over("all", "stores-list"))))

    assert sighting(seen_on("5", "1934"), archive, frozenset({"forged"})).joins == "stores-list"
    assert sighting(seen_on("5", "1934"), archive, frozenset({"forged", "stores-list"})).joins == "forged"


def test_an_archive_that_represents_nothing_yet_can_weigh_nothing() -> None:
    archive = replace(an_archive(), target=None)

    assert sighting(seen_on("9", "1934"), archive).category is Category.UNKNOWN
    assert statement(applies("9"), archive).category is Category.UNKNOWN


@pytest.mark.parametrize(
    ("kind", "shown", "example"),
    [
        ("photograph", [shows("5", "1931")], "5"),
        ("report", [shows("5"), shows(None)], "5"),
        ("logbook", [shows("5", component="headlamp")], "5"),
        ("photograph", [shows("5", component="buffer")], None),
        ("photograph", [shows("5"), shows("6")], None),
        ("photograph", [], None),
        ("letter", [shows("5")], None),
        ("drawing", [shows("5")], None),
    ],
)
def test_the_single_machine_that_a_source_shows_is_the_one_seen(kind: str, shown: Any, example: str | None) -> None:
    seen = seen_in(an_item("find"), a_source("find", kind, shows=tuple(shown)), "headlamp")

    assert (seen.example if seen else None) == example


def test_a_machine_from_the_source_is_known_as_the_source_says_and_by_caption_if_it_does_not() -> None:
    by_number = a_source("find", shows=(shows("9", "1931", "number"),))
    by_caption = a_source("find", shows=(shows("9"),))

    assert seen_in(an_item("find"), by_number, "headlamp") == seen_on("9", "1931", "number")
    assert seen_in(an_item("find"), by_caption, "headlamp") == Seen(example="9", known_by=KnownBy.CAPTION)


def test_what_the_item_says_it_saw_goes_before_what_its_source_shows() -> None:
    source = a_source("find", "letter", shows=(shows("5"),))

    assert seen_in(an_item("find", seen=seen_on("6")), source, "headlamp") == seen_on("6")
    assert seen_in(an_item("lost", seen=seen_on("6")), None, "headlamp") == seen_on("6")
    assert seen_in(an_item("lost"), None, "headlamp") is None
