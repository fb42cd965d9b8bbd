"""Dates that contradict one another for certain. The batches were built in 1927/1928, 1930 and 1933."""

import pytest
from builders import a_claim, a_date, a_source, an_archive, an_event, an_item, applies, seen_on, shows

from provenance.records.archive import Archive, Target
from provenance.rules.date_checks import impossible_dates


def told(archive: Archive) -> list[tuple[str, str]]:
    problems = list(impossible_dates(archive))
    assert all(problem.rule == "impossible-date" and problem.mend for problem in problems)
    return [(problem.place.file, problem.place.field) for problem in problems]


@pytest.mark.parametrize(
    ("when", "is_fault"),
    [("1932", True), ("1933", False), ("1933-01-01", False), ("1932-12-31", True), ("../1934", False), ("193X", False)],
)
def test_a_machine_cannot_be_represented_before_it_was_built(when: str, *, is_fault: bool) -> None:
    archive = an_archive(target=Target(example="9", as_at=a_date(when)))

    assert told(archive) == ([("archive.yaml", "target.as_at")] if is_fault else [])


def test_nothing_happens_to_a_machine_and_nobody_sees_it_before_it_was_built() -> None:
    archive = an_archive(
        a_source("photo", shows=(shows("1", "1926"), shows("9", "1934"), shows(None, "1900"), shows("5"))),
        a_claim("oil", an_item("photo", seen=seen_on("5", "1929")), claim_id="one"),
        events=(an_event("1928", example="4"), an_event("1928", example="5")),
    )

    assert told(archive) == [
        ("archive.yaml", "events[1].date"),
        ("sources/photo.yaml", "shows[0].when"),
        ("claims/one.yaml", "evidence[0].seen.when"),
    ]


def test_a_machine_that_is_not_of_the_sequence_has_no_date_of_building() -> None:
    archive = an_archive(
        a_source("photo", shows=(shows("Velling trailer", "1900"), shows("12", "1900"))), related=["Velling trailer"]
    )

    assert told(archive) == []


def test_a_picture_cannot_show_a_time_after_it_was_made() -> None:
    archive = an_archive(
        a_source("photo", created="1934-05", shows=(shows("9", "1934-06"), shows("9", "1934"))),
        a_claim(
            "oil", an_item("photo", seen=seen_on("9", "1935")), an_item("photo", seen=seen_on("9")), claim_id="one"
        ),
    )

    assert told(archive) == [("sources/photo.yaml", "shows[0].when"), ("claims/one.yaml", "evidence[0].seen.when")]


def test_a_sighting_in_a_source_that_is_not_here_is_not_compared() -> None:
    archive = an_archive(a_claim("oil", an_item("photo", seen=seen_on("9", "1935"))), sources={})

    assert told(archive) == []


@pytest.mark.parametrize(
    ("made", "parent", "is_fault"),
    [
        ("1930", "1931", True),
        ("1931", "1930", False),
        ("1930", "1930-06", False),
        (None, "1931", False),
        ("1930", None, False),
        ("1930~", "1931", True),
        ("193X", "1939", False),
    ],
)
def test_a_copy_is_not_older_than_what_it_is_made_from(made: str | None, parent: str | None, *, is_fault: bool) -> None:
    archive = an_archive(a_source("print", created=made, of=["print:plate"]), a_source("plate", created=parent))

    assert told(archive) == ([("sources/print.yaml", "derives_from[0].source")] if is_fault else [])


def test_an_issue_does_not_replace_a_later_one_and_one_that_is_not_here_is_passed_over() -> None:
    archive = an_archive(
        a_source("issue-b", "drawing", created="1930", replaces="issue-c"),
        a_source("issue-c", "drawing", created="1932", replaces="issue-a"),
    )

    (problem,) = impossible_dates(archive)

    assert (problem.place.file, problem.place.field) == ("sources/issue-b.yaml", "replaces")
    assert problem.what == "issue-b (1930) replaces issue-c, which was made later (1932)"


def test_a_period_does_not_end_before_it_begins() -> None:
    backwards = applies("9", since="1934", until="1933")
    archive = an_archive(
        a_claim("oil", an_item("drawing", applies_to=backwards), to=backwards, claim_id="one"),
        a_claim(
            "electric",
            an_item("drawing", applies_to=applies("9", since="1933", until="1933")),
            to=applies("9", since="1934"),
            claim_id="two",
        ),
        a_claim("acetylene", "drawing", to=applies("9", until="1934"), claim_id="three"),
    )

    assert told(archive) == [
        ("claims/one.yaml", "applies_to.until"),
        ("claims/one.yaml", "evidence[0].applies_to.until"),
    ]
