"""Design papers: drawn and specified, which is not the same as built."""

from builders import Record, a_claim, a_source, applies

from cases.case_building import counted, flags_on, judge, near, values, view, weights
from provenance.rules.grades import Grade

THIRD = applies(None, batch="third")


def test_design_papers_alone_are_probable_however_many_agree() -> None:
    """Drawing 12 and specification 11 of No. 9: 23 points, L = 199.526; 199.526 / 200.526 = .9950.

    Above .95 on two lines, but nothing saw it as built: probable, not established.
    """
    records: tuple[Record, ...] = (
        a_source("specification", "specification"),
        a_claim("acetylene", "works-drawing", "specification"),
    )

    verdict = judge(*records)

    assert (verdict.grade, verdict.lines, verdict.rests_on) == (Grade.PROBABLE, 2, ())
    assert (verdict.candidates[0].weight_for, verdict.posterior) == (23, near(0.99501))
    assert "as designed" in verdict.explanation.lower()
    assert flags_on(*records) == ()


def test_design_papers_for_the_batch_are_worth_a_little_less_than_for_the_machine() -> None:
    """Drawing of the third batch 12 + manual of all 11 = 23 points, covered, carried over together: (.98 x 199.526 +
    .02) / (.02 x 199.526 + .98) = 195.556 / 4.97052 = 39.3431, 15.9487 points; 39.3431 / 40.3431 = .9752."""
    verdict = judge(
        a_source("manual", "manual"),
        a_claim("acetylene", "works-drawing", to=THIRD),
        a_claim("gas lamp", "manual", to="all"),
    )

    assert (verdict.grade, verdict.value, verdict.lines) == (Grade.PROBABLE, "acetylene", 2)
    assert (verdict.candidates[0].weight_for, verdict.posterior) == (near(15.9487), near(0.97521))


def test_one_photograph_shows_that_it_was_built_as_designed() -> None:
    """Photograph of No. 9 14 (itself) + 15.9487 (covered) = 29.9487 points: L = 25.1189 x 39.3431 = 988.253; .9990."""
    records: tuple[Record, ...] = (
        a_source("manual", "manual"),
        a_source("view"),
        a_claim("acetylene", "works-drawing", to=THIRD),
        a_claim("acetylene", "manual", claim_id="of-all", to="all"),
        a_claim("acetylene", view("view"), claim_id="as-built", to="9"),
    )

    verdict = judge(*records)

    assert (verdict.grade, verdict.lines, verdict.posterior) == (Grade.ESTABLISHED, 3, near(0.99899))
    assert verdict.candidates[0].weight_for == near(29.9487)
    assert flags_on(*records) == ()


def test_a_photograph_that_only_implies_it_does_not_show_that_it_was_built_so() -> None:
    """12 + 7 = 19 points, two lines: 79.4328 / 80.4328 = .9876, but the photograph is no direct sight: probable."""
    verdict = judge(a_source("view"), a_claim("acetylene", "works-drawing", view("view", how="implies")))

    assert (verdict.grade, verdict.lines, verdict.posterior) == (Grade.PROBABLE, 2, near(0.98757))


def test_a_sister_seen_does_not_establish_it_of_this_machine() -> None:
    """12 + 8.2316 = 20.2316 points: 15.8489 x 6.65526 = 105.479; .9906, two lines, seen on a sister only: probable."""
    verdict = judge(a_source("view"), a_claim("acetylene", "works-drawing", view("view", "10")))

    assert (verdict.grade, verdict.lines, verdict.posterior) == (Grade.PROBABLE, 2, near(0.99061))


def test_a_report_written_late_does_not_establish_that_it_was_built_so() -> None:
    """Report of 1950, 9 x .5 = 4.5, with a drawing 12: 16.5 points, 44.6684 / 45.6684 = .9781: probable."""
    verdict = judge(a_source("report", "report", created="1950"), a_claim("acetylene", "report", "works-drawing"))

    assert (verdict.grade, verdict.lines, verdict.posterior) == (Grade.PROBABLE, 2, near(0.97810))


def test_a_design_that_was_never_built_weighs_nothing() -> None:
    """12 x 0 = 0: nothing supports electric; whatever is built would be conjecture."""
    records: tuple[Record, ...] = (a_source("unbuilt", "drawing", executed=False), a_claim("electric", "unbuilt"))

    verdict = judge(*records)

    assert (verdict.grade, verdict.value, verdict.lines, verdict.posterior) == (Grade.UNSUPPORTED, None, 0, 0)
    assert weights(verdict.candidates[0]) == {"unbuilt": 0}
    assert flags_on(*records) == ("no-evidence",)


def test_a_design_never_built_is_listed_last_beside_one_that_was() -> None:
    """Manual of No. 9: 11 points, 12.5893 / 13.5893 = .9264; the unbuilt one is not in the sum."""
    verdict = judge(
        a_source("unbuilt", "drawing", executed=False),
        a_source("manual", "manual"),
        a_claim("acetylene", "manual"),
        a_claim("electric", "unbuilt"),
    )

    assert (verdict.grade, verdict.posterior) == (Grade.UNCORROBORATED, near(0.92641))
    assert list(values(verdict)) == ["acetylene", "electric"]
    last = values(verdict)["electric"]
    assert (last.grade, last.posterior, last.lines, counted(last)) == (Grade.OUTWEIGHED, 0, 0, [])


def test_what_was_copied_from_an_unbuilt_design_has_a_weight_of_its_own() -> None:
    """A catalogue (11) that cites the unbuilt drawing: 12.5893 / 13.5893 = .9264; it rests on the drawing as well."""
    verdict = judge(
        a_source("unbuilt", "drawing", executed=False),
        a_source("catalogue", "catalogue", of=["cites:unbuilt"]),
        a_claim("electric", "unbuilt", "catalogue"),
    )

    assert (verdict.grade, verdict.lines, verdict.posterior) == (Grade.UNCORROBORATED, 1, near(0.92641))
    assert verdict.rests_on == ("catalogue", "unbuilt")
