"""Filters keep the same entries whether the index is asked, or the entries themselves; hits come page by page."""

import random
from pathlib import Path

import pytest
from search.making import LAMP_PAGES, a_claim, a_page, a_source, at, build, found, keys

from provenance.search.asking import Filters, ask, matching
from provenance.search.entries import Entry
from provenance.search.keeping import is_kept, stands_side_by_side
from provenance.search.opening import open_verified

HOLDERS = ("", "Orrin Museum", "Museum of Orrin", "Orrin Rail-Car Museum", "Orrin railcar museums", "Träger & Co.")
DAYS = (None, 19281231, 19300101, 19310615, 19391231)


def some_entries(seed: int) -> list[Entry]:
    chance = random.Random(seed)
    made = []
    for number in range(60):
        earliest, latest = chance.choice(DAYS), chance.choice(DAYS)
        if earliest and latest:
            earliest, latest = min(earliest, latest), max(earliest, latest)
        facts = {
            "kind": chance.choice(("", "manual", "drawing")),
            "state": chance.choice(("tagged", "untagged")),
            "holder": chance.choice(HOLDERS),
            "components": tuple(sorted(chance.sample(("lamp", "roof", "axle"), chance.randrange(4)))),
            "earliest": earliest,
            "latest": latest,
        }
        made.append(chance.choice((a_source, a_claim))(f"s{number}", title="bracket", **facts))
    return made


def some_filters(seed: int) -> Filters:
    chance = random.Random(seed)
    asked_holders = (
        None,
        None,
        "Orrin Museum",
        "museum",
        "rail car",
        "railcar",
        "orrin rail car museum",
        "trager",
        "!",
    )
    return Filters(
        components=chance.choice(((), ("lamp",), ("lamp", "axle"))),
        kind=chance.choice((None, None, "manual")),
        state=chance.choice((None, None, "tagged")),
        holder=chance.choice(asked_holders),
        since=chance.choice((None, None, 19300101, 19310615)),
        until=chance.choice((None, None, 19300101, 19310614)),
    )


def test_an_entry_is_kept_where_the_index_keeps_it(tmp_path: Path) -> None:
    entries = some_entries(1)
    build(tmp_path, entries)

    kept_of_all = set()
    with open_verified(at(tmp_path)) as index:
        for seed in range(100):
            filters = some_filters(seed)

            told = {entry.key for entry in entries if is_kept(entry, filters)}

            assert told == set(keys(ask(index, "bracket", filters, limit=100))), filters
            kept_of_all.add(len(told))

    assert len(kept_of_all) > 5
    assert len({0, 60} & kept_of_all) == 2


@pytest.mark.parametrize(
    ("typed", "text", "stands"),
    [
        ("Orrin Museum", "The Orrin Museum at Velling", True),
        ("Orrin Museum", "Museum, Orrin", False),
        ("museums", "Orrin Museum", True),
        ("", "Orrin Museum", False),
        ("Orrin", "", False),
    ],
)
def test_words_of_a_holder_are_looked_for_side_by_side(typed: str, text: str, stands: bool) -> None:  # noqa: FBT001  a case of the table
    assert stands_side_by_side(typed, text) is stands


def test_all_that_is_found_is_counted_by_what_it_belongs_to(tmp_path: Path) -> None:
    build(tmp_path, LAMP_PAGES)

    with open_verified(at(tmp_path)) as index:
        counts = matching(index, "lamp bracket japan handbook")
        nothing = matching(index, "-lamp")

    assert counts == {("handbook", False): 3, ("letter", False): 1, ("claims/lamp-finish", True): 1}
    assert sum(counts.values()) == found(tmp_path, "lamp bracket japan handbook").total
    assert nothing == {}


def test_hits_come_in_the_same_order_page_by_page(tmp_path: Path) -> None:
    numbered = [a_page("book", number, "H-204 lamp" if number % 3 else "H-2O4") for number in range(1, 30)]
    build(tmp_path, numbered)

    with open_verified(at(tmp_path)) as index:
        whole = keys(ask(index, "H-204", limit=100))
        parts = [keys(ask(index, "H-204", limit=7, skip=skip)) for skip in range(0, 35, 7)]
        answer = ask(index, "H-204", limit=7, skip=28)

    assert [key for part in parts for key in part] == whole
    assert len(whole) == answer.total == 29
    assert len(answer.hits) == 1
