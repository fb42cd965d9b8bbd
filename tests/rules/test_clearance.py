import pytest
from builders import a_date, a_source

from provenance.records.dates import Day
from provenance.records.kinds import Access, Publish
from provenance.records.sources import Permission, Rights
from provenance.rules.clearance import NotCleared, access_on, whom_to_ask, why_not_cleared

DAY = Day(2026, 11, 25)
ALLOWED = Publish.ALLOWED


@pytest.mark.parametrize(
    ("access", "until", "seen_as"),
    [
        ("open", None, "open"),
        ("team", None, "team"),
        ("closed", None, "closed"),
        # A closure is over when its last day certainly is.
        ("closed", "2026-11-24", "open"),
        ("closed", "2026-11-25", "closed"),
        ("closed", "2026", "closed"),
        ("closed", "2025", "open"),
        ("team", "2025", "open"),
        ("team", "2027", "team"),
        ("closed", "2020/..", "closed"),
        ("closed", "2020/", "closed"),
        # What is open until a day is so on that day, and nobody's after it; where it may have ended, it has.
        ("open", "2026-11-25", "open"),
        ("open", "2026-11-24", "closed"),
        ("open", "2026", "closed"),
        ("open", "2027", "open"),
        ("open", "../2027", "closed"),
    ],
)
def test_access_is_so_until_its_date_and_doubt_withholds(access: str, until: str | None, seen_as: str) -> None:
    source = a_source("album", access=Access(access), access_until=a_date(until) if until else None)

    assert access_on(source, DAY) is Access(seen_as)


@pytest.mark.parametrize(
    ("rights", "why"),
    [
        (None, "nothing is entered"),
        (Rights(statement="CNE"), "not said"),
        (Rights(publish=Publish.ASK), "still to be asked"),
        (Rights(publish=Publish.REFUSED), "refused"),
        (Rights(publish=Publish.ASK, permission=Permission(scope=("panel",))), "still to be asked"),
        (Rights(publish=ALLOWED, permission=Permission()), "does not say what it covers"),
        (Rights(publish=ALLOWED, permission=Permission(scope=("web", "book"))), "covers web, book, not panels"),
        (Rights(publish=ALLOWED, permission=Permission(scope=("panel",), until=a_date("2026-11-24"))), "ended"),
        (Rights(publish=ALLOWED, permission=Permission(scope=("panel",), until=a_date("2026-11-25"))), ""),
        (Rights(publish=ALLOWED, permission=Permission(scope=("panel",), until=a_date("2026/.."))), ""),
        (Rights(publish=ALLOWED, permission=Permission(scope=("web", "panel"))), ""),
        (Rights(publish=ALLOWED), ""),
    ],
)
def test_a_source_is_printed_only_where_its_record_allows_that_for_panels_on_that_day(
    rights: Rights | None, why: str
) -> None:
    said = why_not_cleared(a_source("album", rights=rights), DAY)

    assert why in said
    assert bool(said) == bool(why)


def test_the_holder_of_the_rights_is_asked_before_the_holder_of_the_thing() -> None:
    assert whom_to_ask(a_source("a", rights=Rights(holder="heirs of M. Oskell"), holder="Orrin Library")) == (
        "heirs of M. Oskell"
    )
    assert whom_to_ask(a_source("a", rights=Rights(), holder="Orrin Library")) == "Orrin Library"
    assert whom_to_ask(a_source("a")) == "whoever holds the rights"


def test_what_is_not_cleared_is_told_as_what_to_ask_whom() -> None:
    missing = NotCleared(source="album", title="Album", why="nothing is entered about its rights", ask="Orrin Library")

    assert str(missing) == "ask Orrin Library about “Album” (album): nothing is entered about its rights"
