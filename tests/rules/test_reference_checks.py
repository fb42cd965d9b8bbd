"""References that lead nowhere, and circles; these against networkx."""

from dataclasses import replace

import networkx as nx
import pytest
from builders import (
    BY,
    TODAY,
    a_claim,
    a_component,
    a_decision,
    a_feature,
    a_pair,
    a_source,
    a_withdrawal,
    an_archive,
    an_item,
    shows,
)
from hypothesis import given
from hypothesis import strategies as st

from provenance.records.archive import Archive
from provenance.records.components import Mate
from provenance.records.decisions import Lead, Panel, Query, Statement
from provenance.records.sources import Within
from provenance.rules.reference_checks import circles, find_circles, unknown_ids

_NAMES = tuple("abcdefg")


def told(archive: Archive) -> list[tuple[str, str, str]]:
    return [(each.place.file, each.place.field, each.what) for each in unknown_ids(archive)]


def test_an_archive_that_names_only_what_is_there_has_no_fault() -> None:
    archive = an_archive(
        a_claim("oil", "photo", claim_id="oil"),
        a_decision("lamp", basis=("oil",)),
        a_pair("photo", "other"),
        a_source("other", of=["print:photo"]),
    )

    assert list(unknown_ids(archive)) == []
    assert list(circles(archive)) == []


def test_a_reference_that_leads_nowhere_is_told_with_the_nearest_name() -> None:
    archive = an_archive(a_claim("oil", "drawing", about="headlamp/tpe", claim_id="oil"))

    (problem,) = unknown_ids(archive)

    assert (problem.place.file, problem.place.field, problem.rule) == ("claims/oil.yaml", "about", "unknown-id")
    assert problem.what == "there is no `headlamp/tpe` among the features"
    assert problem.mend == "did you mean `headlamp/type`?"


def test_the_mend_says_where_what_is_missing_is_written() -> None:
    archive = replace(
        an_archive(a_source("photo", topics=("zzz",))),
        people=(),
        queries={"q": Query(id="q", about="zzz", by=BY, date=TODAY, grounds="it looks high")},
    )

    mends = {(problem.place.file, problem.place.field): problem.mend for problem in unknown_ids(archive)}

    assert mends == {
        ("components/headlamp.yaml", "by"): "add them under `people` in archive.yaml",
        ("queries/q.yaml", "about"): "name a feature, a decision or a panel",
        ("queries/q.yaml", "by"): "add them under `people` in archive.yaml",
        ("sources/photo.yaml", "by"): "add them under `people` in archive.yaml",
        ("sources/photo.yaml", "topics[0]"): "write one that is there, or add the missing record to the components",
    }


def test_a_name_whose_record_has_faults_of_its_own_is_not_called_missing() -> None:
    archive = replace(an_archive(a_claim("oil", "photo", claim_id="oil")), sources={}, components={})
    spoilt = frozenset({"sources/photo.yaml", "components/headlamp.yaml"})

    problems = list(unknown_ids(archive, unreadable=spoilt))

    assert [(each.what, each.mend) for each in problems] == [
        (
            "`headlamp/type` cannot be used: components/headlamp.yaml has faults of its own",
            "mend that record first",
        ),
        ("`photo` cannot be used: sources/photo.yaml has faults of its own", "mend that record first"),
    ]


def test_every_kind_of_record_is_looked_through() -> None:
    """Each record names one thing that is not there; the expected places are written by hand."""
    gone = "nowhere"
    mate = Mate(mate="nowhere/hole", rule="equal")
    archive = replace(
        an_archive(
            a_source(
                "photo", of=[gone], within=Within(source=gone), replaces=gone, shows=(shows(None, component=gone),)
            ),
            a_claim("oil", an_item("photo", via=gone, by="nn", withdrawn=a_withdrawal()), claim_id="oil"),
            a_component("headlamp", a_feature(mates=(mate,)), part_of=gone),
            a_pair("photo", gone),
            a_decision("lamp", basis=(gone,), set_aside=[(gone, "of another batch")], replaces=gone),
        ),
        panels={
            "p": Panel(
                id="p",
                title="Light",
                by=BY,
                date=TODAY,
                components=(gone,),
                statements=(Statement(text="It had gas lamps.", features=("nowhere/kind",)),),
            )
        },
        leads={"l": Lead(id="l", what="a tin of film", by=BY, date=TODAY, hoped_for=("nowhere/kind",))},
    )

    places = [(file, field) for file, field, _ in told(archive)]

    assert places == [
        ("claims/oil.yaml", "evidence[0].via"),
        ("claims/oil.yaml", "evidence[0].by"),
        ("components/headlamp.yaml", "part_of"),
        ("components/headlamp.yaml", "features[0].mates[0].with"),
        ("copies/nowhere--photo.yaml", "between[0]"),
        ("decisions/lamp.yaml", "basis[0]"),
        ("decisions/lamp.yaml", "set_aside[0].claim"),
        ("decisions/lamp.yaml", "replaces"),
        ("leads/l.yaml", "hoped_for[0]"),
        ("panels/p.yaml", "components[0]"),
        ("panels/p.yaml", "statements[0].features[0]"),
        ("sources/photo.yaml", "derives_from[0].source"),
        ("sources/photo.yaml", "within.source"),
        ("sources/photo.yaml", "replaces"),
        ("sources/photo.yaml", "shows[0].component"),
    ]


def test_only_what_judgement_needs_is_told_where_that_is_asked() -> None:
    archive = an_archive(a_source("photo", of=["plate"], topics=("bogie",)))

    needed = [problem.place.field for problem in unknown_ids(archive, needed_only=True)]

    assert needed == ["derives_from[0].source"]


@pytest.mark.parametrize(
    ("archive", "file", "field", "path"),
    [
        (an_archive(a_source("a", of=["b"]), a_source("b", of=["a"])), "sources/a.yaml", "derives_from", "a -> b -> a"),
        (an_archive(a_source("a", replaces="a")), "sources/a.yaml", "replaces", "a -> a"),
        (
            an_archive(a_source("b", within=Within(source="a")), a_source("a", within=Within(source="b"))),
            "sources/a.yaml",
            "within",
            "a -> b -> a",
        ),
        (an_archive(a_component(part_of="headlamp")), "components/headlamp.yaml", "part_of", "headlamp -> headlamp"),
        (
            an_archive(a_decision("a", replaces="b"), a_decision("b", replaces="a")),
            "decisions/a.yaml",
            "replaces",
            "a -> b -> a",
        ),
    ],
)
def test_what_leads_back_to_itself_is_told_with_the_way(archive: Archive, file: str, field: str, path: str) -> None:
    (problem,) = circles(archive)

    assert (problem.place.file, problem.place.field, problem.rule) == (file, field, "circle")
    assert problem.what.endswith(f": {path}")
    assert f"`{field}`" in problem.mend


def test_two_kinds_of_reference_make_no_circle_together() -> None:
    """The print is made from the plate, and the plate lies in the album page that shows the print."""
    archive = an_archive(a_source("print", of=["print:plate"]), a_source("plate", within=Within(source="print")))

    assert list(circles(archive)) == []


def test_a_long_line_of_copies_is_no_circle_and_does_not_exhaust_the_machine() -> None:
    line = {f"{number:05}": (f"{number + 1:05}",) for number in range(20_000)}

    assert find_circles(line) == ()
    assert find_circles({**line, "20000": ("00000",)}) == ((*sorted(line), "20000"),)


graphs = st.dictionaries(
    st.sampled_from(_NAMES), st.lists(st.sampled_from((*_NAMES, "unknown")), max_size=3).map(tuple), max_size=7
)


def as_graph(leads_to: dict[str, tuple[str, ...]]) -> "nx.DiGraph[str]":
    graph: nx.DiGraph[str] = nx.DiGraph()
    graph.add_nodes_from(leads_to)
    graph.add_edges_from((name, to) for name, parents in leads_to.items() for to in parents if to in leads_to)
    return graph


def arrows(circle: tuple[str, ...]) -> list[tuple[str, str]]:
    return list(zip(circle, (*circle[1:], circle[0]), strict=True))


@given(graphs)
def test_every_circle_that_is_told_is_one_by_networkx_too(leads_to: dict[str, tuple[str, ...]]) -> None:
    """`networkx.simple_cycles` (Johnson 1975) lists all of them; begun with the first name, as ours are."""
    simple = set()
    for cycle in nx.simple_cycles(as_graph(leads_to)):
        first = cycle.index(min(cycle))
        simple.add((*cycle[first:], *cycle[:first]))

    found = find_circles(leads_to)

    assert set(found) <= simple
    assert len(set(found)) == len(found)


@given(graphs)
def test_no_circle_is_told_exactly_where_networkx_finds_none(leads_to: dict[str, tuple[str, ...]]) -> None:
    assert (find_circles(leads_to) == ()) == nx.is_directed_acyclic_graph(as_graph(leads_to))


@given(graphs)
def test_every_knot_of_circles_has_one_that_is_told(leads_to: dict[str, tuple[str, ...]]) -> None:
    """By networkx's strongly connected components: within one, and in a loop of one, everything leads back."""
    graph = as_graph(leads_to)
    knots = [
        knot for knot in nx.strongly_connected_components(graph) if len(knot) > 1 or graph.has_edge(*(2 * tuple(knot)))
    ]

    found = find_circles(leads_to)

    for knot in knots:
        assert any(set(circle) <= knot for circle in found)


@given(graphs)
def test_once_the_circles_that_are_told_are_broken_up_none_is_left(leads_to: dict[str, tuple[str, ...]]) -> None:
    graph = as_graph(leads_to)

    for circle in find_circles(leads_to):
        graph.remove_edges_from(arrows(circle))

    assert nx.is_directed_acyclic_graph(graph)
