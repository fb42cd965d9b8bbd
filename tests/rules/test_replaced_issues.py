from builders import a_date, a_source

from provenance.records.dates import Day
from provenance.records.sources import Source
from provenance.rules.replaced_issues import Replacement, replacements


def by_id(*sources: Source) -> dict[str, Source]:
    return {source.id: source for source in sources}


def test_an_issue_ends_at_the_latest_date_of_the_one_that_replaces_it() -> None:
    sources = by_id(
        a_source("issue-b", "drawing"), a_source("issue-c", "drawing", replaces="issue-b", created="1932-04")
    )

    found = replacements(sources, frozenset())

    assert found == {"issue-b": Replacement("issue-c", a_date("1932-04"))}
    assert found["issue-b"].ends == Day(1932, 4, 30)


def test_a_print_a_scan_a_facsimile_and_a_redrawing_end_with_their_issue_and_an_extract_does_not() -> None:
    copies = [
        a_source(f"a-{how}", "drawing", of=[f"{how}:issue-b"]) for how in ("print", "facsimile", "redrawn", "extract")
    ]
    scan = a_source("a-scan", "drawing", of=["scan:a-print"])
    later = a_source("issue-c", "drawing", replaces="issue-b", created="1932")

    found = replacements(by_id(a_source("issue-b", "drawing"), *copies, scan, later), frozenset())

    assert set(found) == {"issue-b", "a-print", "a-facsimile", "a-redrawn", "a-scan"}


def test_of_several_later_issues_the_first_known_end_counts() -> None:
    """Issue b is undated; issue c, which replaced b, is of 1933: issue a had ended by 1933 at the latest."""
    sources = by_id(
        a_source("issue-a", "drawing"),
        a_source("issue-b", "drawing", replaces="issue-a"),
        a_source("issue-c", "drawing", replaces="issue-b", created="1933"),
        a_source("issue-d", "drawing", replaces="issue-c", created="1936"),
    )

    found = replacements(sources, frozenset())

    assert found["issue-a"].source == "issue-c"
    assert found["issue-b"].source == "issue-c"
    assert found["issue-c"].source == "issue-d"


def test_what_a_withdrawn_issue_replaced_goes_on_to_hold() -> None:
    sources = by_id(a_source("issue-b", "drawing"), a_source("issue-c", "drawing", replaces="issue-b", created="1932"))

    assert replacements(sources, frozenset({"issue-c"})) == {}


def test_two_issues_that_replace_each_other_end_each_other_and_the_search_ends_too() -> None:
    sources = by_id(
        a_source("issue-b", "drawing", replaces="issue-c", created="1931", of=["print:issue-x", "print:issue-b"]),
        a_source("issue-c", "drawing", replaces="issue-b"),
    )

    found = replacements(sources, frozenset())

    assert found["issue-b"] == Replacement("issue-c", None)
    assert found["issue-b"].ends is None
    assert found["issue-c"].source == "issue-b"
