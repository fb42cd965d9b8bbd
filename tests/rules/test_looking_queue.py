"""Which pictures are to be looked at, in which order, and which are done."""

from typing import Any

import pytest
from builders import a_source, a_withdrawal, an_archive, shows

from provenance.records.sources import OriginalFile, Source
from provenance.rules.judging import judge_all
from provenance.rules.looking_queue import (
    InQueue,
    all_pictures,
    is_to_be_looked_at,
    pictures_for,
    pictures_of_lot,
)


def a_file(media_type: str) -> OriginalFile:
    return OriginalFile(path="originals/x/x", sha256="0" * 64, size=1, media_type=media_type)


def a_find(source_id: str, media_type: str = "image/jpeg", **fields: Any) -> Source:
    return a_source(source_id, None, files=(a_file(media_type),), **fields)


def told(queue: tuple[InQueue, ...]) -> list[tuple[str, bool]]:
    return [(each.source, each.is_done) for each in queue]


@pytest.mark.parametrize(
    ("source", "is_one"),
    [
        (a_source("x", "photograph"), True),
        (a_source("x", "film"), True),
        (a_source("x", "drawing"), False),
        (a_find("x"), True),
        (a_find("x", "application/pdf"), False),
        (a_source("x", None), False),
        (a_source("x", "photograph", withdrawn=a_withdrawal()), False),
    ],
)
def test_photographs_films_and_finds_that_are_pictures_are_looked_at(source: Source, *, is_one: bool) -> None:
    assert is_to_be_looked_at(source) is is_one


def test_all_pictures_come_by_id_and_those_in_which_something_was_looked_for_are_done() -> None:
    archive = an_archive(a_source("b"), a_source("a"), a_source("c", "letter"))

    assert told(all_pictures(archive, {"b": {"headlamp/type": ()}})) == [("a", False), ("b", True)]


def test_a_lot_comes_in_the_order_in_which_it_was_taken_in() -> None:
    archive = an_archive(a_find("a"), a_find("b"), a_find("c"), a_find("d"))

    assert told(pictures_of_lot(archive, {"a": 10, "b": 2, "d": 2}, {})) == [("b", False), ("d", False), ("a", False)]


def test_for_a_feature_the_nearest_machine_comes_first_and_finds_last() -> None:
    archive = an_archive(
        a_source("far", shows=(shows("2"),)),
        a_source("near", shows=(shows("9", known_by="number"),)),
        a_source("tagged", topics=("headlamp",)),
        a_source("other"),
        a_find("find"),
    )
    verdicts = judge_all(archive).values()

    queue = pictures_for(archive, verdicts, {"far": {"headlamp/sign:conduit-on-cantrail": ()}}, ["find"])

    assert told(queue) == [("near", False), ("far", True), ("tagged", False), ("find", False)]


def test_a_look_for_something_else_is_no_look_for_this() -> None:
    archive = an_archive(a_source("near", shows=(shows("9"),)))

    queue = pictures_for(archive, judge_all(archive).values(), {"near": {"headlamp/rim": ()}}, [])

    assert told(queue) == [("near", False)]
