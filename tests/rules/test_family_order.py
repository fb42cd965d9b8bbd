"""The order of a family: the oldest first, whatever the records say; circles against networkx."""

from itertools import pairwise
from random import Random

import networkx as nx
from builders import a_source, an_archive
from hypothesis import given
from hypothesis import strategies as st

from provenance.records.archive import Archive
from provenance.rules.family_order import oldest_first

NAMES = tuple(f"s{number:02}" for number in range(12))
links = st.lists(st.tuples(st.sampled_from(NAMES), st.sampled_from(NAMES)), max_size=30)


def undated(*names: str) -> Archive:
    return an_archive(*(a_source(name) for name in names))


def test_what_was_made_stands_after_what_it_was_made_from_however_it_is_dated() -> None:
    archive = an_archive(a_source("negative", created="1934"), a_source("print", created="1933"))

    assert oldest_first(archive, ["print", "negative"], [("print", "negative")]) == (("negative", "print"), ())


def test_what_does_not_hang_together_stands_by_the_earliest_day_then_by_id_and_the_undated_last() -> None:
    archive = an_archive(
        a_source("b"),
        a_source("a"),
        a_source("ledger", created="1929/1941"),
        a_source("card", created="1934"),
        a_source("plan", created="../1920"),
    )

    order, circles = oldest_first(archive, list(archive.sources), [])

    assert order == ("ledger", "card", "a", "b", "plan")
    assert circles == ()


def test_of_a_circle_the_oldest_begins_and_the_rest_follows_what_it_was_made_from() -> None:
    archive = an_archive(
        a_source("a", created="1950"), a_source("b", created="1930"), a_source("c"), a_source("after", created="1900")
    )
    circle = [("a", "c"), ("c", "b"), ("b", "a"), ("after", "c")]

    order, circles = oldest_first(archive, ["a", "after", "b", "c"], circle)

    assert order == ("b", "c", "a", "after")
    assert circles == (("b", "c", "a"),)


def test_a_circle_inside_a_circle_is_opened_too() -> None:
    """Without the ends at `a`, b and c are still made from one another: the older of them comes next."""
    archive = an_archive(a_source("a", created="1900"), a_source("b", created="1920"), a_source("c", created="1910"))
    tangle = [("a", "b"), ("b", "a"), ("b", "c"), ("c", "b")]

    order, circles = oldest_first(archive, ["a", "b", "c"], tangle)

    assert order == ("a", "c", "b")
    assert circles == (("a", "c", "b"),)


def test_a_source_that_is_entered_as_made_from_itself_stands_alone() -> None:
    assert oldest_first(undated("a"), ["a"], [("a", "a")]) == (("a",), ())


def test_a_chain_of_ten_thousand_copies_is_no_difficulty() -> None:
    names = [f"s{number:05}" for number in range(10_000)]

    order, _ = oldest_first(undated(*names), names, list(pairwise(names)))

    assert order == tuple(reversed(names))


@given(links)
def test_circles_are_the_strongly_connected_parts_of_the_graph(made: list[tuple[str, str]]) -> None:
    graph = nx.DiGraph(made)
    graph.add_nodes_from(NAMES)

    order, circles = oldest_first(undated(*NAMES), NAMES, made)

    tangled = {frozenset(part) for part in nx.strongly_connected_components(graph) if len(part) > 1}
    assert {frozenset(circle) for circle in circles} == tangled
    assert sorted(order) == sorted(NAMES)
    place = {name: number for number, name in enumerate(order)}
    inside = {name: circle for circle in tangled for name in circle}
    for later, earlier in made:
        assert later == earlier or place[earlier] < place[later] or later in inside.get(earlier, ())


@given(links, st.randoms())
def test_the_order_in_which_records_are_read_changes_nothing(made: list[tuple[str, str]], mixed: Random) -> None:
    names, others = list(NAMES), list(made)
    mixed.shuffle(names)
    mixed.shuffle(others)

    assert oldest_first(undated(*names), names, others) == oldest_first(undated(*NAMES), NAMES, made)
