"""Drawings, manuals and their later issues: which of them spoke of the machine on the day that counts.

The third batch was built in 1933; No. 9 is represented as at June 1934. Every claim is made of all machines unless said
otherwise, so that it is covered: q = .98.
"""

import pytest
from builders import Record, a_claim, a_component, a_feature, a_source, an_item, applies

from cases.case_building import chances, counted, flags_on, judge, near, values, weights
from provenance.records.kinds import Changes
from provenance.rules.grades import Category, Grade

OF_ALL = applies("all")


def test_a_drawing_superseded_before_the_machine_was_built_says_nothing_of_it() -> None:
    """Issue A 1927 (acetylene), issue B 1931 (electric); built 1933.

    A ended in 1931 at the latest: no weight, chance 0. B: 12 points, L = 15.8489; (.98 x 15.8489 + .02) / (.02 x
    15.8489 + .98) = 15.5519 / 1.29698 = 11.9909, 10.7885 points; 11.9909 / 12.9909 = .9230.
    """
    records: tuple[Record, ...] = (
        a_source("issue-a", "drawing", created="1927"),
        a_source("issue-b", "drawing", created="1931", replaces="issue-a"),
        a_claim("acetylene", "issue-a", to=OF_ALL),
        a_claim("electric", "issue-b", to=OF_ALL),
    )

    verdict = judge(*records)

    assert (verdict.grade, verdict.value, verdict.lines) == (Grade.UNCORROBORATED, "electric", 1)
    assert (verdict.rests_on, counted(values(verdict)["electric"])) == (("issue-b",), ["issue-b"])
    assert values(verdict)["electric"].weight_for == near(10.7885)
    assert chances(verdict) == near(0.92302, 0)
    old = values(verdict)["acetylene"]
    assert (old.grade, old.items[0].applies, old.items[0].weight) == (Grade.OUTWEIGHED, Category.OTHER_TIME, 0)
    assert flags_on(*records) == ("single-source",)


def test_a_drawing_superseded_after_the_machine_was_built_still_speaks_of_it() -> None:
    """Issue B of 1935 says of itself that it holds from 1935, after the building of 1933: it came later, no weight.

    A stands alone with 12 points: the same 11.9909, .9230 as B had in the case before.
    """
    verdict = judge(
        a_source("issue-a", "drawing", created="1927"),
        a_source("issue-b", "drawing", created="1935", replaces="issue-a"),
        a_claim("acetylene", "issue-a", to=OF_ALL),
        a_claim("electric", "issue-b", to=applies("all", since="1935")),
    )

    assert (verdict.grade, verdict.value, verdict.lines) == (Grade.UNCORROBORATED, "acetylene", 1)
    assert (verdict.rests_on, counted(values(verdict)["acetylene"])) == (("issue-a",), ["issue-a"])
    assert chances(verdict) == near(0.92302, 0)
    later = values(verdict)["electric"].items[0]
    assert (later.applies, later.weight) == (Category.OTHER_TIME, 0)
    assert "Came later" in later.why


@pytest.mark.parametrize("how", ["facsimile", "print", "scan", "redrawn"])
def test_a_copy_of_a_superseded_issue_ends_with_it_however_late_it_was_made(how: str) -> None:
    """A print of 1950 of issue A: A ended in 1931, before 1933, and so did the print: nothing supports acetylene."""
    verdict = judge(
        a_source("issue-a", "drawing", created="1927"),
        a_source("issue-b", "drawing", created="1931", replaces="issue-a"),
        a_source("late-print", "drawing", created="1950", of=[f"{how}:issue-a"]),
        a_claim("acetylene", "late-print", to=OF_ALL),
    )

    assert (verdict.grade, verdict.value, verdict.lines) == (Grade.UNSUPPORTED, None, 0)
    assert "Had ended" in verdict.candidates[0].items[0].why


def test_a_manual_that_cites_a_superseded_issue_does_not_end_with_it() -> None:
    """A manual is no copy of the drawing that it cites: 11 points, L = 12.5893;
    (.98 x 12.5893 + .02) / (.02 x 12.5893 + .98) = 12.3575 / 1.23179 = 10.0322; 10.0322 / 11.0322 = .9094."""
    verdict = judge(
        a_source("issue-a", "drawing", created="1927"),
        a_source("issue-b", "drawing", created="1931", replaces="issue-a"),
        a_source("manual", "manual", created="1932", of=["cites:issue-a"]),
        a_claim("acetylene", "manual", to=OF_ALL),
    )

    assert (verdict.grade, verdict.lines, verdict.rests_on) == (Grade.UNCORROBORATED, 1, ("issue-a", "manual"))
    assert verdict.posterior == near(0.90936)


@pytest.mark.parametrize(
    ("changes", "weight", "value"),
    [(Changes.AT_BUILD, 12, "acetylene"), (Changes.IN_SERVICE, 0, "electric")],
    ids=["at-build", "in-service"],
)
def test_which_day_counts_depends_on_whether_it_changes_at_build_or_in_service(
    changes: Changes, weight: float, value: str
) -> None:
    """Issue B of January 1934 replaces A. At build (1933) A still held; on the day represented (June 1934) it did not.

    Both of No. 9 alone, 12 points each: at build 15.8489 / (1 + 2 x 15.8489) = .4847 each, the first by text is taken;
    in service B alone, 15.8489 / 16.8489 = .9406.
    """
    verdict = judge(
        a_component("headlamp", a_feature(changes=changes)),
        a_source("issue-a", "drawing", created="1927"),
        a_source("issue-b", "drawing", created="1934-01", replaces="issue-a"),
        a_claim("acetylene", "issue-a"),
        a_claim("electric", "issue-b"),
    )

    assert weights(values(verdict)["acetylene"]) == {"issue-a": weight}
    assert verdict.value == value
    assert verdict.posterior == near(0.48467 if weight else 0.94065)


def test_a_later_issue_of_the_very_year_of_building_leaves_both_standing_and_says_so() -> None:
    """Issue B of 1933, built 1933: A had *possibly* ended. Kept: 12 against 12, .4847 each, contested."""
    verdict = judge(
        a_source("issue-a", "drawing", created="1927"),
        a_source("issue-b", "drawing", created="1933", replaces="issue-a"),
        a_claim("acetylene", "issue-a"),
        a_claim("electric", "issue-b"),
    )

    assert (verdict.grade, verdict.value) == (Grade.CONTESTED, "acetylene")
    assert chances(verdict) == near(0.48467, 0.48467)
    assert values(verdict)["acetylene"].items[0].notes != ()


def test_an_amendment_after_the_machine_was_built_came_later() -> None:
    """Manual 1928 of all: 11 points, 10.0322 as carried over, 10.0139 points; amendment slip from 1936: no weight.

    10.0322 / 11.0322 = .9094.
    """
    records: tuple[Record, ...] = (
        a_source("manual", "manual", created="1928"),
        a_source("amendment", "manual", created="1936"),
        a_claim("acetylene", "manual", to=OF_ALL),
        a_claim("electric", "amendment", to=applies("all", since="1936")),
    )

    verdict = judge(*records)

    assert (verdict.grade, verdict.value, verdict.lines) == (Grade.UNCORROBORATED, "acetylene", 1)
    assert (verdict.rests_on, verdict.posterior) == (("manual",), near(0.90936))
    assert values(verdict)["acetylene"].weight_for == near(10.0139)
    assert "Came later" in values(verdict)["electric"].items[0].why
    assert flags_on(*records) == ("single-source",)


def test_an_amendment_that_may_have_come_in_the_year_of_building_keeps_its_weight() -> None:
    """From 1933, built 1933: possibly later, so both count: 10.0322 / (1 + 2 x 10.0322) = .4763 each, contested."""
    records: tuple[Record, ...] = (
        a_source("manual", "manual", created="1928"),
        a_source("amendment", "manual", created="1933"),
        a_claim("acetylene", "manual", to=OF_ALL),
        a_claim("electric", "amendment", to=applies("all", since="1933")),
    )

    verdict = judge(*records)

    assert (verdict.grade, chances(verdict)) == (Grade.CONTESTED, near(0.47626, 0.47626))
    assert values(verdict)["electric"].items[0].notes != ()
    assert flags_on(*records) == ("contested", "single-source")


def test_what_had_ended_before_the_machine_was_built_says_nothing_of_it() -> None:
    """Until 1930, built 1933: no weight; nothing supports acetylene."""
    records: tuple[Record, ...] = (a_claim("acetylene", "works-drawing", to=applies("all", until="1930")),)

    verdict = judge(*records)

    assert (verdict.grade, verdict.value, verdict.posterior) == (Grade.UNSUPPORTED, None, 0)
    assert "Had ended" in verdict.candidates[0].items[0].why
    assert flags_on(*records) == ("no-evidence",)


def test_a_second_replacement_ends_the_first_issue_at_the_first_of_them() -> None:
    """A 1927, B 1931 replaces A, C 1935 (from 1935) replaces B: in 1933 B alone held: 15.8489 / 16.8489 = .9406."""
    verdict = judge(
        a_source("issue-a", "drawing", created="1927"),
        a_source("issue-b", "drawing", created="1931", replaces="issue-a"),
        a_source("issue-c", "drawing", created="1935", replaces="issue-b"),
        a_claim("acetylene", "issue-a"),
        a_claim("electric", "issue-b"),
        a_claim("oil", "issue-c", to=applies("9", since="1935")),
    )

    assert (verdict.value, verdict.posterior) == ("electric", near(0.94065))
    assert [weights(each) for each in values(verdict).values()] == [{"issue-b": 12}, {"issue-a": 0}, {"issue-c": 0}]


def test_an_issue_between_two_dated_ones_ended_the_first_before_the_second() -> None:
    """B is of 1930 to 1936, C of 1932 replaces B: so A and B had both ended in 1932 at the latest, before 1933.

    C alone: 15.8489 / 16.8489 = .9406.
    """
    verdict = judge(
        a_source("issue-a", "drawing", created="1927"),
        a_source("issue-b", "drawing", created="1930/1936", replaces="issue-a"),
        a_source("issue-c", "drawing", created="1932", replaces="issue-b"),
        a_claim("acetylene", "issue-a"),
        a_claim("electric", "issue-b"),
        a_claim("oil", "issue-c"),
    )

    assert (verdict.value, chances(verdict)) == ("oil", near(0.94065, 0, 0))


def test_an_item_that_covers_other_machines_than_its_claim_is_weighed_by_its_own_word() -> None:
    """The claim is of No. 9; the manual's page speaks of Nos 1 to 4, another batch: q = .75.

    Drawing 12 points; manual 11: L = 12.5893, (.75 x 12.5893 + .25) / (.25 x 12.5893 + .75) = 9.69194 / 3.89731 =
    2.48683, 3.9565 points. Together 15.9565: L = 15.8489 x 2.48683 = 39.4136; 39.4136 / 40.4136 = .9753.
    Two lines, but neither saw it as built: probable.
    """
    verdict = judge(
        a_source("manual", "manual"),
        a_claim("acetylene", "works-drawing", an_item("manual", applies_to=applies("1..4"))),
    )

    assert (verdict.grade, verdict.lines, verdict.rests_on) == (Grade.PROBABLE, 2, ())
    assert (verdict.candidates[0].weight_for, verdict.posterior) == (near(15.9565), near(0.97526))
    assert counted(verdict.candidates[0]) == ["manual", "works-drawing"]
