"""The rules of the ladder that no other case turns on: rivals, comparison, and what weighs nothing."""

import pytest
from builders import Record, a_claim, a_source, an_item

from cases.case_building import chances, flags_on, judge, near, values, view, weights
from provenance.rules.grades import Grade


def test_without_any_claim_there_is_no_evidence() -> None:
    verdict = judge()

    assert (verdict.grade, verdict.value, verdict.posterior, verdict.lines) == (Grade.UNSUPPORTED, None, 0, 0)
    assert flags_on() == ("no-evidence",)


def test_a_rival_that_only_implies_it_is_outweighed_however_likely() -> None:
    """12 against 12 x .5 = 6: 15.8489 and 3.98107 of 1 + 19.8300 = 20.8300: .7609 and .1911, which is over .15."""
    verdict = judge(a_claim("acetylene", "works-drawing"), a_claim("electric", an_item("other-drawing", "implies")))

    assert (verdict.grade, values(verdict)["electric"].grade) == (Grade.UNCORROBORATED, Grade.OUTWEIGHED)
    assert chances(verdict) == near(0.76087, 0.19112)


def test_a_rival_below_fifteen_in_a_hundred_is_outweighed() -> None:
    """Drawing 12, newspaper of 1934 5 x .8 (B) = 4: L = 2.51189; of 1 + 18.3608 = 19.3608: .8186 and .1297."""
    paper = a_source("paper", "newspaper", created="1934", reliability="B")

    verdict = judge(paper, a_claim("acetylene", "works-drawing"), a_claim("electric", "paper"))

    assert (verdict.grade, values(verdict)["electric"].grade) == (Grade.UNCORROBORATED, Grade.OUTWEIGHED)
    assert chances(verdict) == near(0.81861, 0.12974)


def test_a_rival_over_fifteen_in_a_hundred_contests_even_two_witnesses() -> None:
    """Drawing 12 and newspaper 5: 17 points, L = 50.1187; a manual of No. 9, 11: L = 12.5893; of 1 + 62.7080 = 63.7080:
    .7867 and .1976: two witnesses do not settle it."""
    paper = a_source("paper", "newspaper", created="1934", origin_stated=True)

    verdict = judge(
        paper,
        a_source("manual", "manual"),
        a_claim("acetylene", "works-drawing", "paper"),
        a_claim("electric", "manual"),
    )

    assert (verdict.grade, verdict.lines) == (Grade.CONTESTED, 2)
    assert chances(verdict) == near(0.78669, 0.19761)


def test_what_is_shown_of_other_batches_only_is_by_comparison_and_both_flags_say_so() -> None:
    """Nos 4 and 6, 14 each: 28 points, L = 630.957: (.75 x 630.957 + .25) / (.25 x 630.957 + .75) = 473.468 / 158.489 =
    2.98738, 4.7529 points; .7492."""
    records: tuple[Record, ...] = (
        a_source("view-of-4"),
        a_source("view-of-6"),
        a_claim("acetylene", view("view-of-4", "4", "1930"), view("view-of-6", "6", "1932")),
    )

    verdict = judge(*records)

    assert (verdict.grade, verdict.lines, verdict.posterior) == (Grade.INFERRED, 2, near(0.74921))
    assert verdict.candidates[0].weight_for == near(4.7529)
    assert set(flags_on(*records)) == {"inferred-only", "other-example-only"}


def test_what_is_only_implied_of_this_machine_is_inferred_though_it_speaks_of_it() -> None:
    """12 x .5 = 6: 3.98107 / 4.98107 = .7992; it is of this machine, so only one of the two flags."""
    records: tuple[Record, ...] = (a_claim("acetylene", an_item("works-drawing", "implies")),)

    assert (judge(*records).grade, judge(*records).posterior) == (Grade.INFERRED, near(0.79924))
    assert set(flags_on(*records)) == {"inferred-only", "single-source"}


def test_two_witnesses_establish_it_from_ninety_five_in_a_hundred_on() -> None:
    """Report 9 and opinion 4: 13 points, L = 19.9526; 19.9526 / 20.9526 = .9523: established.

    The opinion judged B, 4 x .8 = 3.2: 12.2 points, L = 16.5959; 16.5959 / 17.5959 = .9432: probable.
    """

    def graded(reliability: str | None) -> tuple[Grade, float]:
        report = a_source("report", "report", created="1934")
        opinion = a_source("opinion", "opinion", created="1934", reliability=reliability)
        verdict = judge(report, opinion, a_claim("acetylene", "report", "opinion"))
        return verdict.grade, verdict.posterior

    assert graded(None) == (Grade.ESTABLISHED, near(0.95227))
    assert graded("B") == (Grade.PROBABLE, near(0.94317))


def test_a_source_that_nobody_has_said_the_kind_of_weighs_nothing() -> None:
    """Listed and quoted, no weight: beside it the drawing alone: .9406."""
    verdict = judge(
        a_source("unknown-scan", None), a_claim("acetylene", "works-drawing"), a_claim("electric", "unknown-scan")
    )

    assert chances(verdict) == near(0.94065, 0)
    assert weights(values(verdict)["electric"]) == {"unknown-scan": 0}


@pytest.mark.parametrize(
    ("kind", "points"),
    {
        "artefact": 16,
        "photograph": 14,
        "survey": 14,
        "analysis": 14,
        "film": 12,
        "drawing": 12,
        "specification": 11,
        "manual": 11,
        "catalogue": 11,
        "logbook": 11,
        "report": 9,
        "letter": 8,
        "newspaper": 5,
        "oral-history": 5,
        "book": 4,
        "opinion": 4,
        "artwork": 4,
        "notes": 3,
        "scale-model": 2,
        "3d-model": 2,
        "website": 2,
    }.items(),
)
def test_a_kind_of_source_weighs_what_the_trade_gives_it(kind: str, points: int) -> None:
    """Stated of No. 9 by a source of 1934: the points of its kind, L / (1 + L) = 10^(points/10) / (1 +
    10^(points/10))."""
    verdict = judge(a_source("source", kind, created="1934"), a_claim("acetylene", "source"))

    assert weights(verdict.candidates[0]) == {"source": points}
    assert verdict.posterior == near(10 ** (points / 10) / (1 + 10 ** (points / 10)))
