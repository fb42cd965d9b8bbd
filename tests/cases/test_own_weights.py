"""A team that weighs otherwise: its own weights under `doctrine`, and outcomes that turn on them."""

import pytest
from builders import Record, a_claim, a_source

from cases.case_building import chances, judge, near, values, view, weights
from provenance.rules.grades import Grade

SISTER_AGAINST_LETTER: tuple[Record, ...] = (
    a_source("view"),
    a_source("letter", "letter", created="1934"),
    a_claim("acetylene", view("view", "10")),
    a_claim("electric", "letter"),
)
PHOTOGRAPH_AGAINST_RECOLLECTIONS: tuple[Record, ...] = (
    a_source("view"),
    *(a_source(f"tape-{n}", "oral-history", created="1984", creator=f"Fitter {n}") for n in (1, 2, 3)),
    a_claim("acetylene", view("view")),
    a_claim("electric", "tape-1", "tape-2", "tape-3"),
)
DESIGN_PAPERS: tuple[Record, ...] = (
    a_source("specification", "specification"),
    a_claim("acetylene", "works-drawing", "specification"),
)


def test_with_the_standard_weights_a_sister_is_ahead_of_a_letter() -> None:
    """Sister 14 with q = .9: 6.65526; letter 8: 6.30957; of 1 + 12.9648 = 13.9648: .4766 and .4518: contested."""
    verdict = judge(*SISTER_AGAINST_LETTER)

    assert (verdict.grade, verdict.value, chances(verdict)) == (Grade.CONTESTED, "acetylene", near(0.47657, 0.45182))


def test_a_team_that_trusts_sisters_less_comes_to_the_other_value() -> None:
    """q = .75 for sisters: 2.71549; letter 6.30957; of 1 + 9.02507 = 10.0251: .6294 and .2709, a sister: outweighed."""
    verdict = judge(*SISTER_AGAINST_LETTER, weights={"agreement.same-batch": "0.75"})

    assert (verdict.grade, verdict.value, verdict.lines) == (Grade.UNCORROBORATED, "electric", 1)
    assert chances(verdict) == near(0.62938, 0.27087)
    assert values(verdict)["acetylene"].grade is Grade.OUTWEIGHED


def test_a_team_that_trusts_sisters_wholly_adds_their_points_in_full() -> None:
    """q = 1: T is W. 14: 25.1189; of 1 + 31.4284 = 32.4284: .7746 and .1946; the letter speaks of No. 9: contested."""
    verdict = judge(*SISTER_AGAINST_LETTER, weights={"agreement.same-batch": 1})

    assert (verdict.grade, verdict.value, values(verdict)["acetylene"].weight_for) == (Grade.CONTESTED, "acetylene", 14)
    assert chances(verdict) == near(0.77459, 0.19457)


@pytest.mark.parametrize(
    ("own", "grade"),
    [({}, Grade.CONTESTED), ({"contested": "0.177"}, Grade.CONTESTED), ({"contested": "0.178"}, Grade.UNCORROBORATED)],
    ids=["standard", "just-below", "just-above"],
)
def test_from_which_chance_a_rival_counts_is_the_teams_to_say(own: dict[str, str], grade: Grade) -> None:
    """Photograph 14 against 3 x 2.5: the rival has .17716: contested from .15 or .177, and not from .178."""
    assert judge(*PHOTOGRAPH_AGAINST_RECOLLECTIONS, weights=own).grade is grade


def test_a_team_that_does_not_discount_late_memory_turns_the_outcome() -> None:
    """3 x 5 = 15 points: L = 31.6228 against 25.1189; of 1 + 56.7417 = 57.7417: electric .5477, acetylene .4350."""
    verdict = judge(*PHOTOGRAPH_AGAINST_RECOLLECTIONS, weights={"late_memory": 1})

    assert (verdict.grade, verdict.value, verdict.lines) == (Grade.CONTESTED, "electric", 3)
    assert chances(verdict) == near(0.54766, 0.43502)


@pytest.mark.parametrize(
    ("own", "points"),
    [({"late_years": 50}, 5), ({"late_years": 49}, 2.5), ({"base.oral-history": 6}, 3), ({"how.states": "0.5"}, 1.25)],
    ids=["fifty-years", "forty-nine-years", "base", "how"],
)
def test_each_factor_of_a_recollection_is_the_teams_to_say(own: dict[str, int | str], points: float) -> None:
    """A tape of 1984 about June 1934: at most 50.5 years, so not *certainly* more than 50, but than 49.
    5 x 1; 5 x .5; 6 x .5; 5 x .5 x .5."""
    verdict = judge(*PHOTOGRAPH_AGAINST_RECOLLECTIONS, weights=own)

    assert weights(values(verdict)["electric"]) == dict.fromkeys(("tape-1", "tape-2", "tape-3"), points)


@pytest.mark.parametrize(
    ("own", "grade"),
    [({"probable": "0.995"}, Grade.PROBABLE), ({"probable": "0.9951"}, Grade.POSSIBLE)],
    ids=["reached", "not-reached"],
)
def test_what_is_probable_is_the_teams_to_say(own: dict[str, str], grade: Grade) -> None:
    """Drawing 12 and specification 11: 199.526 / 200.526 = .99501: .995 or more, less than .9951."""
    assert judge(*DESIGN_PAPERS, weights=own).grade is grade


def test_what_is_established_is_the_teams_to_say() -> None:
    """Photograph 14 and drawing 12: 398.107 / 399.107 = .99749: established from .95, only probable from .9975."""
    records: tuple[Record, ...] = (a_source("view"), a_claim("acetylene", view("view"), "works-drawing"))

    assert judge(*records).grade is Grade.ESTABLISHED
    assert judge(*records, weights={"established": "0.9975"}).grade is Grade.PROBABLE


def test_for_how_long_a_machine_stays_the_same_is_the_teams_to_say() -> None:
    """Seen in 1940, six years on: as a sister 6.65526 / 7.65526 = .8694; with ten years itself, .9617."""
    records: tuple[Record, ...] = (a_source("view"), a_claim("acetylene", view("view", when="1940")))

    assert judge(*records).posterior == near(0.86937)
    assert judge(*records, weights={"same_time": 10}).posterior == near(0.96171)


def test_how_far_a_letter_of_reliability_is_believed_is_the_teams_to_say() -> None:
    """A drawing judged C: 12 x .6 = 7.2; with C at .5: 6 points, 3.98107 / 4.98107 = .7992."""
    records: tuple[Record, ...] = (
        a_source("works-drawing", "drawing", reliability="C"),
        a_claim("acetylene", "works-drawing"),
    )

    assert weights(judge(*records).candidates[0]) == {"works-drawing": pytest.approx(7.2)}
    assert judge(*records, weights={"reliability.C": "0.5"}).posterior == near(0.79924)
