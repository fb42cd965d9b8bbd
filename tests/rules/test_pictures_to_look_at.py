"""In which pictures nobody has looked yet."""

import pytest
from builders import a_claim, a_component, a_source, a_withdrawal, an_archive, an_item, common_over, shows
from rules.signed import OUT_OF_VIEW, SEEN, told_by_conduit

from provenance.records.claims import EvidenceItem
from provenance.records.components import CommonTo
from provenance.records.sources import Source
from provenance.rules.judging import judge_feature
from provenance.rules.looking_list import looking_list
from provenance.rules.pictures_to_look_at import PictureToLookAt


def pictures(
    *sources: Source, looked_at: tuple[EvidenceItem, ...] = (), common: tuple[CommonTo, ...] = ()
) -> list[PictureToLookAt]:
    """What is left to look at, for a choice between lamps."""
    part = a_component("headlamp", told_by_conduit(), common_to=common)
    claims = [a_claim("electric", *looked_at)] if looked_at else []
    archive = an_archive(part, a_source("handbook", "manual", topics=("headlamp",)), *sources, *claims)
    return list(looking_list(archive, judge_feature(archive, "headlamp/type")).pictures)


def test_pictures_come_by_how_near_they_are_then_the_tagged_ones_then_by_id() -> None:
    found = pictures(
        a_source("a-tagged", topics=("headlamp",)),
        a_source("b-first-batch", shows=(shows("4"),)),
        a_source("c-by-caption", "film", shows=(shows("9", "1934"),)),
        a_source("d-by-number", shows=(shows("9", "1934", "number"),)),
        a_source("e-tagged", topics=("headlamp",), shows=(shows("9", "1934", "number"),)),
        a_source("f-long-after", shows=(shows("9", "1950", "number"), shows("3"))),
    )

    assert [(each.source, each.nearness, each.is_tagged) for each in found] == [
        ("e-tagged", "itself", True),
        ("d-by-number", "itself", False),
        ("c-by-caption", "covered", False),
        ("f-long-after", "same-batch", False),
        ("b-first-batch", "same-type", False),
        ("a-tagged", "unknown", True),
    ]
    assert found[2].shows == "shows this machine by its caption; its number cannot be seen"
    assert (found[-1].shows, found[-1].title) == ("", "A tagged")


@pytest.mark.parametrize(
    "source",
    [
        a_source("view"),
        a_source("view", topics=("coupling",)),
        a_source("view", shows=(shows(None, component="headlamp"),)),
        a_source("view", shows=(shows("9", component="coupling"),)),
        a_source("view", "artwork", topics=("headlamp",)),
        a_source("view", None, topics=("headlamp",)),
        a_source("view", topics=("headlamp",), withdrawn=a_withdrawal()),
    ],
    ids=[
        "of nothing",
        "of another part",
        "of no machine",
        "of another part of it",
        "a painting",
        "untagged",
        "withdrawn",
    ],
)
def test_what_is_no_picture_of_the_part_or_of_a_machine_is_not_offered(source: Source) -> None:
    assert pictures(source) == []


@pytest.mark.parametrize(("sign", "is_left"), [("conduit", False), ("buffer", True)])
def test_a_picture_is_done_with_once_something_was_reported_even_that_it_is_out_of_view(
    sign: str, *, is_left: bool
) -> None:
    """A sign that tells nothing of this feature does not count."""
    view = a_source("view", topics=("headlamp",))

    found = pictures(view, looked_at=(an_item("view", "shows", signs=((sign, OUT_OF_VIEW),)),))

    assert [each.source for each in found] == (["view"] if is_left else [])


def test_a_report_in_one_picture_leaves_the_others() -> None:
    views = [a_source(name, topics=("headlamp",)) for name in ("one", "other")]

    found = pictures(*views, looked_at=(an_item("one", "shows", signs=(("conduit", SEEN),)),))

    assert [each.source for each in found] == ["other"]


def test_a_machine_that_has_the_same_part_is_as_near_as_a_group_with_this_one() -> None:
    found = pictures(a_source("view", shows=(shows("5"),)), common=(common_over("5..11", "handbook"),))

    assert [each.nearness for each in found] == ["covered"]
