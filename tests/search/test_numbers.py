"""Numbers that were misread are found, said to be so, and never take the place of those that stand there as typed."""

import random
import string
from math import inf
from pathlib import Path

import pytest
from search.making import a_page, a_source, at, build, found, keys

from provenance.records.misreading import boundary_trigrams
from provenance.records.reference_numbers import Tier, can_be_near, distance_of_keys, reference_key
from provenance.search.grammar import parse_query
from provenance.search.layout import FURTHEST_MOVED
from provenance.search.numbers import MOST_STAND_INS, misread_numbers, number_key
from provenance.search.opening import open_verified
from provenance.search.snippets import matched_spans


def test_a_misread_number_is_found_after_the_true_one_and_says_how_it_reads(tmp_path: Path) -> None:
    build(tmp_path, [a_page("b", 1, "bracket H-204, lamp"), a_page("a", 1, "bracket H-2O4"), a_page("c", 1, "H-205")])

    answer = found(tmp_path, "H-204")

    assert keys(answer) == ["b/p0001", "a/p0001"]
    assert [hit.tier for hit in answer.hits] == [Tier.EXACT, Tier.FOLDED]
    assert [hit.read_as for hit in answer.hits] == [(), ("H-2O4",)]
    assert (answer.total, answer.hits[1].matched) == (2, ("H-204",))


def test_a_misread_number_never_goes_before_one_as_typed_however_short_its_page(tmp_path: Path) -> None:
    long = a_page("z", 1, "H-204 " + "lamp of the type and more " * 200)
    common = [a_page("b", n, "of the H type; 204 bolts") for n in range(1, 40)]
    build(tmp_path, [long, *common, *(a_page("a", n, "H-2O4") for n in range(1, 4))])

    assert keys(found(tmp_path, "H-204"))[0] == "z/p0001"
    assert len(found(tmp_path, "H-204", limit=2).hits) == 2


def test_a_number_one_character_apart_is_shown_only_where_there_is_no_better(tmp_path: Path) -> None:
    build(tmp_path, [a_page("a", 1, "bracket H-204"), a_page("b", 1, "stud K-77")])

    near, none = found(tmp_path, "H-214"), found(tmp_path, "K-99")

    assert [(hit.key, hit.tier, hit.read_as) for hit in near.hits] == [("a/p0001", Tier.NEAR, ("H-204",))]
    assert none.hits == ()


def test_what_recognisers_often_do_is_found_beside_the_number_as_typed(tmp_path: Path) -> None:
    build(tmp_path, [a_page("a", 1, "bracket H-20A"), a_page("b", 1, "bracket H-204"), a_page("c", 1, "stud H-294")])

    answer = found(tmp_path, "H-204")

    assert [(hit.key, hit.tier, hit.read_as) for hit in answer.hits] == [
        ("b/p0001", Tier.EXACT, ()),
        ("a/p0001", Tier.FOLDED, ("H-20A",)),
    ]


def test_the_nearest_of_the_near_comes_first_and_each_says_how_it_reads(tmp_path: Path) -> None:
    texts = ["HK-20495", "HK-20416 twice", "HK-2O466", "HK-31519", "HK-2045"]
    build(tmp_path, [a_page("a", n, f"stud {text}") for n, text in enumerate(texts, 1)])

    hits = found(tmp_path, "HK-20456").hits

    # by hand: one figure changed 1, one lost 1, one changed to a near look and one changed 1.85 or 2
    assert {hit.read_as for hit in hits[:3]} == {("HK-20416",), ("HK-2O466",), ("HK-2045",)}
    assert [hit.read_as for hit in hits[3:]] == [("HK-20495",)]
    assert {hit.tier for hit in hits} == {Tier.NEAR}


def test_a_number_one_figure_off_is_never_found_as_the_one_asked_for(tmp_path: Path) -> None:
    draw = random.Random(1927)
    numbers = [f"{draw.choice('HKDM')}-{draw.randint(10000, 99999)}" for _ in range(60)]
    build(tmp_path, [a_page("list", n, f"stud {number}") for n, number in enumerate(numbers, 1)])

    for number in numbers:
        at = draw.randrange(2, 7)
        other = number[:at] + str((int(number[at]) + draw.randint(1, 9)) % 10) + number[at + 1 :]
        if other not in numbers:
            hits = found(tmp_path, other).hits
            assert number in {read for hit in hits for read in hit.read_as}
            assert {hit.tier for hit in hits} == {Tier.NEAR}


def test_the_trigrams_lead_to_every_near_key_that_comparing_all_of_them_finds(tmp_path: Path) -> None:
    draw = random.Random(1931)
    keys_made = ["".join(draw.choices("HK0123", k=draw.randint(4, 8))) for _ in range(400)]
    keys_made = [key for key in keys_made if can_be_near(key) and any(c.isdigit() for c in key)]
    build(tmp_path, [a_page("list", n, f"bolt {key}") for n, key in enumerate(keys_made, 1)])

    for asked in keys_made[:60]:
        asked_changed = asked[:-2] + draw.choice("VXY") + asked[-1]
        key = reference_key(asked_changed)
        near = {other: distance_of_keys(key, reference_key(other)) for other in keys_made}
        expected = {reference_key(o) for o, apart in near.items() if apart < inf and has_common(key, reference_key(o))}
        with open_verified(at(tmp_path)) as index:
            (stand_ins,) = misread_numbers(parse_query(asked_changed), index).values() or (None,)
        found_keys = set(stand_ins.keys) if stand_ins else set()
        nearest = sorted(expected, key=lambda other: (distance_of_keys(key, other), other))[:MOST_STAND_INS]
        assert found_keys == set(nearest)


@pytest.mark.parametrize("read", ["XHK-204568", "XYHK-204568", "K-204568", "HK-2045681"])
def test_a_number_is_near_where_characters_come_in_before_it_or_are_lost(read: str, tmp_path: Path) -> None:
    build(tmp_path, [a_page("a", 1, f"stud {read}"), a_page("b", 1, "stud HK-777")])

    hits = found(tmp_path, "HK-204568").hits

    assert [(hit.tier, hit.read_as[-1]) for hit in hits] == [(Tier.NEAR, read)]


def has_common(one: str, other: str) -> bool:
    """Whether two keys have three characters in common, with their ends, in nearly the same place."""
    places = {(one_gram, place) for place, one_gram in enumerate(boundary_trigrams(one))}
    return any(
        (gram, place + moved) in places
        for place, gram in enumerate(boundary_trigrams(other))
        for moved in range(-FURTHEST_MOVED, FURTHEST_MOVED + 1)
    )


def test_a_number_that_stands_nowhere_and_is_near_none_finds_nothing(tmp_path: Path) -> None:
    build(tmp_path, [a_page("a", n, f"stud HK-{number}") for n, number in enumerate((20456, 31555, 77123), 1)])

    for typed in ("HK-20999", "MX-20456-9", "1934", "K-20"):
        assert found(tmp_path, typed).hits == ()


def test_words_beside_a_number_rank_the_page_with_both_first(tmp_path: Path) -> None:
    build(tmp_path, [a_page("a", 1, "the bracket"), a_page("b", 1, "the bracket H-2O4 of steel"), a_page("c", 1, "H")])

    answer = found(tmp_path, "bracket H-204")

    assert keys(answer) == ["b/p0001", "a/p0001"]
    assert [hit.tier for hit in answer.hits] == [Tier.FOLDED, None]


def test_insisting_takes_a_misread_number_and_excluding_does_not(tmp_path: Path) -> None:
    build(tmp_path, [a_page("a", 1, "lamp H-2O4"), a_page("b", 1, "lamp H-204"), a_page("c", 1, "lamp")])

    assert keys(found(tmp_path, "lamp +H-204")) == ["b/p0001", "a/p0001"]
    assert set(keys(found(tmp_path, "lamp -H-204"))) == {"a/p0001", "c/p0001"}


def test_a_reference_of_a_source_is_found_misread_too(tmp_path: Path) -> None:
    build(tmp_path, [a_source("s", title="Sheet D-1O9", references=("BX/12/4",))])

    assert [(hit.key, hit.tier, hit.read_as) for hit in found(tmp_path, "D-109").hits] == [
        ("s", Tier.FOLDED, ("D-1O9",))
    ]
    assert [(hit.key, hit.tier) for hit in found(tmp_path, "8X/l2/4").hits] == [("s", Tier.FOLDED)]


def test_a_page_that_was_removed_lends_its_number_to_nobody(tmp_path: Path) -> None:
    pages = [a_page("a", n, f"lamp {n}") for n in range(1, 9)]
    build(tmp_path, [a_page("b", 1, "H-2O4"), *pages])
    build(tmp_path, pages)

    assert found(tmp_path, "H-204").hits == ()


def test_a_page_that_was_removed_does_not_keep_a_near_number_from_being_shown(tmp_path: Path) -> None:
    pages = [a_page("a", n, f"lamp {n}") for n in range(1, 40)]
    build(tmp_path, [a_page("b", 1, "H-2O4"), a_page("c", 1, "H-205"), *pages])
    build(tmp_path, [a_page("c", 1, "H-205"), *pages])

    assert [(hit.key, hit.tier) for hit in found(tmp_path, "H-204").hits] == [("c/p0001", Tier.NEAR)]


@pytest.mark.parametrize(
    ("typed", "key"),
    [
        ("H-204", "H204"),
        ('"drg. no. 30921"', "30921"),
        ("text:H-204", "H204"),
        ("title:H-204", ""),
        ("H-20*", ""),
        ("bracket", ""),
        ("1/2", ""),
        ('"bracket H-204"', ""),
    ],
)
def test_what_is_a_number_of_the_query(typed: str, key: str) -> None:
    (part,) = parse_query(typed).sought

    assert number_key(part) == key


def test_a_misread_number_is_marked_where_it_stands() -> None:
    text = "the lamp No. H-2O4 is spare"

    assert [text[start:end] for start, end in matched_spans(parse_query("H-204"), text, ("H-2O4",))] == ["H-2O4"]


def test_numbers_with_one_confusion_are_all_found_among_four_hundred(tmp_path: Path) -> None:
    draw = random.Random(1934)
    numbers = sorted({f"{draw.choice('HKDM')}-{draw.randint(1000, 9999)}" for _ in range(400)})
    confused = {"0": "O", "1": "I", "2": "Z", "5": "S", "8": "B"}
    misread = [number[:3] + confused.get(number[3], number[3]) + number[4:] for number in numbers]
    pages = [a_page("list", n, f"{_words(draw)} {number}") for n, number in enumerate(misread, 1)]
    build(tmp_path, pages)

    first = [found(tmp_path, number, limit=1).hits[0].key for number in numbers[:50]]

    assert first == [page.key for page in pages[:50]]


def _words(draw: random.Random) -> str:
    return " ".join("".join(draw.choices(string.ascii_lowercase, k=6)) for _ in range(30))
