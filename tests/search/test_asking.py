"""What is asked is found: as people write it, within the fields and filters they name."""

import random
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from search.making import LAMP_PAGES, a_claim, a_page, a_source, at, build, found, keys

from provenance.search.asking import Filters, Hit, ask
from provenance.search.entries import What
from provenance.search.opening import Index, open_verified


@pytest.fixture(scope="module")
def lamps(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Index]:
    folder = tmp_path_factory.mktemp("lamps")
    build(folder, LAMP_PAGES)
    with open_verified(at(folder)) as index:
        yield index


@pytest.mark.parametrize(
    ("query", "first"),
    [
        ("bracket 1/2 in", "handbook/p0001"),
        ('bracket ½"', "handbook/p0001"),
        ("No. 4", "handbook/p0002"),
        ("type A", "handbook/p0001"),
        ('"type B"', "handbook/p0002"),
        ("H-204", "handbook/p0001"),
        ("h204", "handbook/p0001"),
        ("MS", "handbook/p0001"),
        ('"3 ft 4 1/2 in"', "letter/p0001"),
        ('text:"3\'-4½"', "letter/p0001"),
        ("brackets", "handbook/p0002"),
        ("railcar", "handbook"),
        ("rail-car text:locomotive", "letter/p0001"),
        ("BX/12/4", "handbook"),
        ("brand", "handbook"),
        ("headlamp", "claims/lamp-finish"),
        ("claim:black", "claims/lamp-finish"),
    ],
)
def test_what_a_fitter_types_leads_to_the_place(query: str, first: str, lamps: Index) -> None:
    answer = ask(lamps, query)

    assert answer.hits[0].key == first


def test_a_hit_carries_what_is_shown_of_it(lamps: Index) -> None:
    (hit,) = ask(lamps, "+claim:finish japan H-999 component:headlamp").hits

    assert hit == Hit(
        key="claims/lamp-finish",
        source="",
        page=None,
        what=What.CLAIM,
        score=hit.score,
        matched=("finish", "japan", "headlamp"),
        title="headlamp/finish: black japan",
        components=("headlamp",),
        text="black japan",
    )


def test_the_total_counts_what_the_limit_cuts(lamps: Index) -> None:
    answer = ask(lamps, "lamp bracket black", limit=1)

    assert (len(answer.hits), answer.total) == (1, 4)
    assert ask(lamps, "lamp", limit=0).hits == ()
    assert ask(lamps, "lamp", limit=-3).total == 3


def test_a_book_is_found_by_its_title_and_its_pages_only_when_the_title_is_asked(tmp_path: Path) -> None:
    pages = [a_page("handbook", number, "of lamps", title="Handbook of the railcar") for number in (1, 2)]
    build(tmp_path, [*pages, a_source("handbook", title="Handbook of the railcar")])

    free, named = found(tmp_path, "handbook"), found(tmp_path, "title:handbook")

    assert keys(free) == ["handbook"]
    assert keys(named) == ["handbook", "handbook/p0001", "handbook/p0002"]


def test_no_phrase_reaches_from_one_field_into_the_next(tmp_path: Path) -> None:
    build(tmp_path, [a_source("s", title="Head lamp", text="bracket", references=("H-1", "2 B"))])

    totals = {query: found(tmp_path, query).total for query in ('"lamp bracket"', '"1 2"', '"head lamp"', '"h 1"')}

    assert totals == {'"lamp bracket"': 0, '"1 2"': 0, '"head lamp"': 1, '"h 1"': 1}


def test_filters_keep_to_kind_state_holder_and_any_of_the_components(tmp_path: Path) -> None:
    build(
        tmp_path,
        [
            a_page("a", 1, "lamp", kind="oral-history", state="tagged", holder="County Record Office, Elmford"),
            a_page("b", 1, "lamp", kind="drawing", state="untagged", components=("door", "door-lamp")),
            a_page("c", 1, "lamp", components=("roof",)),
            a_page("d", 1, "door", kind="drawing", holder="Office of the County Record"),
        ],
    )

    def kept(filters: Filters) -> list[str]:
        return keys(found(tmp_path, "lamp", filters))

    assert kept(Filters(kind="oral-history")) == ["a/p0001"]
    assert kept(Filters(kind="oral")) == []
    assert kept(Filters(state="untagged")) == ["b/p0001"]
    assert kept(Filters(holder="county record office")) == ["a/p0001"]
    assert kept(Filters(holder="...")) == []
    assert kept(Filters(components=("door",))) == ["b/p0001"]
    assert kept(Filters(components=("door", "roof"))) == ["b/p0001", "c/p0001"]
    assert kept(Filters(components=("lamp",))) == []
    assert kept(Filters(kind="drawing", components=("roof",))) == []


def test_a_filter_changes_no_score(tmp_path: Path) -> None:
    build(tmp_path, [a_page("a", 1, "lamp", kind="drawing", holder="Office"), a_page("b", 1, "lamp or not")])

    kept = found(tmp_path, "lamp", Filters(kind="drawing", holder="office"))

    assert kept.hits == found(tmp_path, "lamp").hits[:1]


@pytest.mark.parametrize(
    ("since", "until", "kept"),
    [
        (19300101, 19301231, ["about-1930", "since-1925", "until-1935"]),
        (19301231, None, ["about-1930", "since-1925", "until-1935"]),
        (19310101, None, ["since-1925", "until-1935"]),
        (19360101, None, ["since-1925"]),
        (None, 19300101, ["about-1930", "since-1925", "until-1935"]),
        (None, 19291231, ["since-1925", "until-1935"]),
        (None, 19200101, ["until-1935"]),
    ],
)
def test_what_may_be_from_the_time_asked_for_is_kept(
    since: int | None, until: int | None, kept: list[str], tmp_path: Path
) -> None:
    build(
        tmp_path,
        [
            a_source("about-1930", text="lamp", earliest=19300101, latest=19301231),
            a_source("since-1925", text="lamp", earliest=19250101),
            a_source("undated", text="lamp"),
            a_source("until-1935", text="lamp", latest=19351231),
        ],
    )

    answer = found(tmp_path, "lamp", Filters(since=since, until=until))

    assert sorted(keys(answer)) == kept
    assert answer.total == len(kept)
    assert answer.notes == ("1 without a date was left out",)


def test_where_everything_is_dated_nothing_is_said(tmp_path: Path) -> None:
    build(tmp_path, [a_page("a", 1, "lamp", earliest=19300101, latest=19300101)])

    answer = found(tmp_path, "lamp", Filters(since=19310101))

    assert (answer.total, answer.notes) == (0, ())


def test_dates_hold_in_every_segment_of_an_index(tmp_path: Path) -> None:
    dated = [a_page("a", n, f"lamp {n}", earliest=19300000 + n, latest=19300000 + n) for n in range(40)]
    undated = [a_page("b", n, f"lamp {n}") for n in range(40)]
    build(tmp_path, undated)
    build(tmp_path, undated + dated)

    answer = found(tmp_path, "lamp", Filters(since=19300010, until=19300012))

    assert sorted(keys(answer)) == ["a/p0010", "a/p0011", "a/p0012"]
    assert answer.notes == ("40 without a date were left out",)


def test_a_beginning_that_stands_for_very_many_words_is_cut_and_said(tmp_path: Path) -> None:
    names = [first + second for first in "abcdefghij" for second in "klmnopqrst"]
    build(tmp_path, [a_page("a", 1, "zex"), *(a_page("b", n, f"ze{name}") for n, name in enumerate(names))])

    answer = found(tmp_path, "ze*", limit=200)

    assert answer.notes == ("`ze*` stands for very many words; the 64 shortest were looked for",)
    assert answer.total == 64
    assert [hit.text for hit in answer.hits][:2] == ["zex", "zeak"]
    assert found(tmp_path, "zea*").notes == ()


def test_a_beginning_finds_words_whose_stem_does_not_begin_so(tmp_path: Path) -> None:
    build(tmp_path, [a_page("a", 1, "locomotive"), a_page("a", 2, "locomotion"), a_page("a", 3, "locate")])

    totals = [keys(found(tmp_path, query)) for query in ("loco*", "locomotiv*", "locomotion*", "loca*")]

    assert totals == [["a/p0001", "a/p0002"], ["a/p0001"], ["a/p0002"], ["a/p0003"]]


def test_words_that_stood_only_in_a_replaced_page_crowd_nothing_out(tmp_path: Path) -> None:
    names = [f"ze{first}{second}" for first in "abcdefghij" for second in "klmnopqrst"]
    many = [a_page("a", number, "plain text") for number in range(30)]
    build(tmp_path, [*many, a_page("b", 1, " ".join(names))])
    build(tmp_path, [*many, a_page("b", 1, "zeppelin")])

    answer = found(tmp_path, "ze*")

    assert keys(answer) == ["b/p0001"]
    assert answer.notes == ()
    assert found(tmp_path, names[0]).total == 0


def test_a_query_with_nothing_to_look_for_finds_nothing_and_says_so(lamps: Index) -> None:
    for typed in ("", "   ", "-lamp", "?!", "***"):
        answer = ask(lamps, typed)

        assert (answer.total, answer.hits) == (0, ())
        assert any(note.startswith("there is nothing to look for") for note in answer.notes)


def test_the_same_question_has_the_same_answer(lamps: Index) -> None:
    assert ask(lamps, "lamp bracket type*") == ask(lamps, "lamp bracket type*")


ODD = "\"'*+-:()[]{}~^?\\/&|<>!.,; \t\n\0½Ø\u0301\u202e\ud7ff😀aAbB12"
FRAGMENTS = ("title:", "AND ", "OR", "lamp", '"', "brack*", "1/2", "-", "+", "\\", "[a TO b]", "*", "H-204", "~2", "^9")


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.sampled_from(FRAGMENTS) | st.text(max_size=8), max_size=25).map("".join))
def test_no_odd_query_fails(lamps: Index, typed: str) -> None:
    answer = ask(lamps, typed)

    assert answer.total >= len(answer.hits)


@pytest.mark.parametrize("count", [1_000, pytest.param(10_000, marks=pytest.mark.long)])
def test_thousands_of_odd_queries_each_end_within_a_second(count: int, lamps: Index) -> None:
    draw = random.Random(count)
    slowest = 0.0

    for _ in range(count):
        pieces = [
            draw.choice(FRAGMENTS) if draw.random() < 0.5 else draw.choice(ODD) for _ in range(draw.randint(0, 60))
        ]
        started = time.process_time()
        ask(lamps, "".join(pieces))
        slowest = max(slowest, time.process_time() - started)

    assert slowest < 1


@pytest.mark.parametrize(
    "typed", ["a" * 50_000, '"' * 20_000, "a* " * 20_000, "-" * 20_000, 'x:"' * 9_000, "1/" * 20_000]
)
def test_very_long_queries_end_within_a_second(typed: str, lamps: Index) -> None:
    started = time.process_time()

    ask(lamps, typed)

    assert time.process_time() - started < 1


def test_a_claim_without_evidence_has_no_source(tmp_path: Path) -> None:
    build(tmp_path, [a_claim("c", title="headlamp/colour: black", text="black")])

    (hit,) = found(tmp_path, "black").hits

    assert (hit.source, hit.page, hit.what) == ("", None, What.CLAIM)


def test_characters_that_no_encoding_knows_do_no_harm(tmp_path: Path) -> None:
    # a lone half of a surrogate pair, as damaged text layers of PDFs and odd arguments carry them
    build(tmp_path, [a_page("a", 1, "lamp \ud800 \x00 x\ud800y", title="\udcff", holder="\udcff office")])

    assert found(tmp_path, "lamp \ud800", Filters(holder="\udcff office")).total == 1
    assert found(tmp_path, "lamp", Filters(kind="\ud800")).total == 0
    assert found(tmp_path, "lamp", Filters(components=("\udcff",))).total == 0
    assert found(tmp_path, "x").hits[0].text == "lamp \ud800 \x00 x\ud800y"
