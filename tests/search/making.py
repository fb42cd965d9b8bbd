"""Entries and indexes for the tests of this room: what matters is named, the rest is filled in."""

import hashlib
from collections.abc import Iterable
from pathlib import Path

from provenance.search.asking import Answer, Filters, ask
from provenance.search.building import Changes, bring_up_to_date
from provenance.search.entries import Entry, What
from provenance.search.manifest import IndexPlace
from provenance.search.opening import open_verified


def a_page(source: str, page: int, text: str, **rest: object) -> Entry:
    """A page of a source; its digest is of everything in it."""
    return _entry(f"{source}/p{page:04}", what=What.PAGE, source=source, page=page, text=text, **rest)


def a_source(source: str, **rest: object) -> Entry:
    return _entry(source, what=What.SOURCE, source=source, **rest)


def a_claim(claim: str, **rest: object) -> Entry:
    return _entry(f"claims/{claim}", what=What.CLAIM, source="", **rest)


def _entry(key: str, **rest: object) -> Entry:
    digest = hashlib.sha256(repr((key, sorted(rest.items()))).encode()).hexdigest()
    return Entry(key=key, digest=digest, **rest)  # type: ignore[arg-type]  # each test names fields of an entry


def at(folder: Path) -> IndexPlace:
    """The place of an index of ours in a folder."""
    return IndexPlace(folder, b"a secret of our own, for the tests")


def build(folder: Path, entries: Iterable[Entry]) -> Changes:
    """Bring the index in a folder up to date with exactly these entries."""
    wanted = {entry.key: entry for entry in entries}
    return bring_up_to_date(at(folder), {key: entry.digest for key, entry in wanted.items()}, wanted.__getitem__)


def found(folder: Path, query: str, filters: Filters | None = None, *, limit: int = 1000) -> Answer:
    """Ask the index in a folder."""
    with open_verified(at(folder)) as index:
        return ask(index, query, filters, limit=limit)


def keys(answer: Answer) -> list[str]:
    return [hit.key for hit in answer.hits]


def scores(answer: Answer) -> dict[str, float]:
    return {hit.key: hit.score for hit in answer.hits}


LAMP_PAGES = (
    a_page("handbook", 1, "The bracket of the head lamp is of M.S., 1/2 in thick.\nSee drawing H-204, type A."),
    a_page("handbook", 2, "Lamps of type B hang from two brack-\nets; No. 4 is spare."),
    a_page("letter", 1, "Dear Sir, the rail-car wants a locomotive lamp of 3 ft 4½ in."),
    a_source("handbook", title="Handbook of the railcar", references=("BX/12/4",), creator="Ada Brand", kind="manual"),
    a_claim("lamp-finish", title="headlamp/finish: black japan", text="black japan", components=("headlamp",)),
)
"""A handful of entries that most questions can be asked of."""
