"""The ranking against two others: one by brute force, and one of an outside library."""

import random
from collections.abc import Iterator
from pathlib import Path

import bm25s
import pytest
from search.making import a_claim, a_page, a_source, at, build, found, scores
from search.second_ranking import SecondRanking

from provenance.search.entries import Entry
from provenance.search.grammar import parse_query
from provenance.search.opening import open_verified
from provenance.search.tokens import tokenise

WORDS = """
    the of a in and lamp bracket brackets bracketed brass steel rivet riveted locomotive locomotion happy happiness
    frame door window roof drawing sheet rail-car cross-member type No. A B 1/2 3/8 16 SWG H-204 H-206 BX/12 M.S.
    4½ 1,029 driver's Träger oil-fired fired oil
"""
QUERIES = (
    "lamp",
    "the",
    "lamp bracket",
    "lamp brass 1/2 in",
    "the of a in and",
    "H-204",
    "h206 bracket",
    "M.S. steel",
    "rail-car",
    "oil-fired lamp",
    "railcar",
    '"lamp bracket"',
    '"brass rivet" lamp',
    '"type A" "type B"',
    '"the of the"',
    "+lamp bracket",
    "+lamp +bracket brass",
    "lamp -bracket",
    'lamp -"lamp bracket"',
    "+lamp steel -brass -of",
    "brack*",
    "loco* lamp",
    "locomotiv*",
    "happi*",
    "H-20*",
    "title:lamp",
    "title:lamp bracket",
    "title:loco*",
    "kind:drawing lamp",
    "component:door",
    "reference:H-204 H-204",
    "text:lamp claim:bracket",
    "creator:brand holder:office",
    "trager driver",
    "nowhere lamp",
    "nowhere",
)


def some_entries(seed: int, count: int) -> Iterator[Entry]:
    """Pages, sources and claims of words drawn so that a few are common and most are rare."""
    draw = random.Random(seed)
    known = WORDS.split()
    rates = [1 / (place + 1) for place in range(len(known))]

    def text(longest: int) -> str:
        words = draw.choices(known, rates, k=draw.randint(1, longest))
        return "".join(word + draw.choice((" ", " ", " ", "\n", ". ")) for word in words)

    for number in range(count):
        rest: dict[str, object] = {
            "title": text(5),
            "references": tuple(draw.sample(("H-204", "BX/12/4", "drawing 30921", "H 206"), draw.randint(0, 2))),
            "kind": draw.choice(("drawing", "oral-history", "")),
            "creator": draw.choice(("Ada Brand", "")),
            "holder": draw.choice(("County Record Office", "")),
            "components": tuple(draw.sample(("door", "door-lamp", "roof"), draw.randint(0, 2))),
        }
        if number % 10 == 8:
            yield a_source(f"source-{seed}-{number}", text=text(20), **rest)
        elif number % 10 == 9:
            yield a_claim(f"claim-{seed}-{number}", text=text(30), **rest)
        else:
            yield a_page(f"source-{seed}-{number // 10}", number, text(120), **rest)


@pytest.fixture(scope="module")
def changed_index(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, list[Entry], SecondRanking]:
    """An index that came about in four steps, with entries replaced and removed, in several segments."""
    folder = tmp_path_factory.mktemp("index")
    first, second, third = (list(some_entries(seed, 100)) for seed in (1, 2, 3))
    build(folder, first)
    build(folder, first[20:] + second)
    changed = [a_page("source-1-0", number, f"lamp bracket {number}") for number in range(5)]
    build(folder, first[20:] + second + changed)
    entries = first[30:] + second[:90] + changed + third
    build(folder, entries)
    with open_verified(at(folder)) as index:
        leaves = [leaf for leaf, _ in index.searcher.reader().leaf_readers()]
        assert len(leaves) > 2
        assert any(leaf.has_deletions() for leaf in leaves)
    return folder, entries, SecondRanking(entries)


@pytest.mark.parametrize("query", QUERIES)
def test_hits_and_scores_are_those_of_going_through_every_entry(
    query: str, changed_index: tuple[Path, list[Entry], SecondRanking]
) -> None:
    folder, _, second = changed_index

    answer = found(folder, query)

    assert scores(answer) == pytest.approx(second.rank(parse_query(query)), abs=1e-6)
    assert answer.total == len(answer.hits)


@pytest.mark.parametrize("query", ["lamp", "lamp bracket brass", "the of a", "1/2 steel rivet", "trager driver sheet"])
def test_scores_on_pages_are_those_of_an_outside_library(query: str, tmp_path: Path) -> None:
    # outside reference: bm25s, method "lucene" (Kamphuis et al., ECIR 2020: "Which BM25 do you mean?")
    pages = [entry for entry in some_entries(4, 300) if entry.page]
    build(tmp_path, pages)
    outside = bm25s.BM25(k1=1.2, b=0.75, method="lucene", dtype="float64")
    outside.index([[token.text for token in tokenise(page.text)] for page in pages], show_progress=False)

    answer = found(tmp_path, query)

    given = outside.get_scores([token.text for token in tokenise(query)])
    expected = {page.key: float(score) for page, score in zip(pages, given, strict=True) if score > 0}
    assert len(expected) > 10
    assert scores(answer) == pytest.approx(expected, abs=1e-6)


def test_an_index_that_grew_answers_as_one_built_at_once(
    changed_index: tuple[Path, list[Entry], SecondRanking], tmp_path: Path
) -> None:
    folder, entries, _ = changed_index
    build(tmp_path, entries)

    answers = [found(folder, query) for query in QUERIES]

    assert answers == [found(tmp_path, query) for query in QUERIES]


def test_equal_scores_stand_in_the_order_of_source_and_page(tmp_path: Path) -> None:
    pages = [a_page(source, page, "the same lamp") for source in ("b", "a") for page in (10, 9, 2)]
    build(tmp_path, pages[:2])
    build(tmp_path, pages)

    answer = found(tmp_path, "lamp", limit=4)

    assert answer.total == 6
    assert [(hit.source, hit.page) for hit in answer.hits] == [("a", 2), ("a", 9), ("a", 10), ("b", 2)]
    assert len({hit.score for hit in answer.hits}) == 1


def test_a_score_by_hand(tmp_path: Path) -> None:
    # N = 2, n = 1: idf = ln(1 + 1.5 / 1.5) = 0.693147; lengths 2 and 4, mean 3; tf = 1, k1 = 1.2, b = .75:
    # 0.693147 * 1 / (1 + 1.2 * (.25 + .75 * 2 / 3)) = 0.693147 / 1.9 = 0.364814 (own arithmetic)
    build(tmp_path, [a_page("a", 1, "lamp bracket"), a_page("a", 2, "door window roof frame")])

    (hit,) = found(tmp_path, "lamp").hits

    assert hit.score == pytest.approx(0.364814, abs=1e-6)
