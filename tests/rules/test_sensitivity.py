"""What a verdict hangs on: judged without one source after another, and with one weight after another changed."""

from decimal import Decimal

import pytest
from builders import FEATURE, Record, a_claim, a_source, against, an_archive, an_item, seen_on

from provenance.rules.grades import Grade
from provenance.rules.judging import judge_feature
from provenance.rules.sensitivity import Sensitivity, is_same_value, sensitivity_of

PHOTO = an_item("view", "shows", seen=seen_on("9"))


def hangs(*records: Record, without: frozenset[str] = frozenset(), **fields: object) -> Sensitivity:
    archive = an_archive(a_source("view"), *records, **fields)
    return sensitivity_of(archive, judge_feature(archive, FEATURE, without=without), without=without)


def weights_of(found: Sensitivity) -> list[tuple[str, Decimal, Grade, str | None]]:
    return [(each.weight, each.factor, each.then.grade, each.then.value) for each in found.weights]


def test_the_loss_that_leaves_the_smallest_chance_hurts_most_where_the_grade_falls_the_same() -> None:
    """Photograph 14, letter 8. Without the one: 6.31 / 7.31 = .8632, without the other 14: .9617; one witness each."""
    found = hangs(a_source("letter", "letter"), a_claim("acetylene", PHOTO, "letter"))

    assert found.loss is not None
    assert (found.loss.source, found.loss.then.grade) == ("view", Grade.UNCORROBORATED)
    assert found.loss.then.posterior == pytest.approx(0.8632, abs=5e-5)


def test_a_weight_that_would_change_the_grade_is_named() -> None:
    """Photograph 14 + newspaper 5 = 19, established. Photographs halved: 12 points, 15.85 / 16.85 = .9406: probable."""
    found = hangs(a_source("paper", "newspaper", origin_stated=True), a_claim("acetylene", PHOTO, "paper"))

    assert weights_of(found) == [("base.photograph", Decimal("0.5"), Grade.PROBABLE, "acetylene")]


def test_a_verdict_that_bears_every_weight_doubled_or_halved_names_none() -> None:
    """Photograph 14 + letter 8; halved 7 + 8 = 15: .9693, or 14 + 4 = 18: .9844. Established all the same."""
    assert hangs(a_source("letter", "letter"), a_claim("acetylene", PHOTO, "letter")).weights == ()


def test_another_value_that_would_lead_is_the_worst_loss() -> None:
    """Photograph 14 against drawing 12: contested. Without the photograph the drawing's value is the best.

    Photographs doubled, 28 against 12: the rival has 15.8 / 647.8 = .024, no longer .15: one witness. Halved, 7 against
    12: the rival has 5.01 / 21.9 = .229. Drawings doubled, 24 against 14: 25.1 / 277.3 = .091; halved, 6 against 14:
    3.98 / 30.1 = .132.
    """
    found = hangs(a_claim("acetylene", PHOTO), a_claim("electric", "plan"))

    assert found.loss is not None
    assert (found.loss.source, found.loss.then.value) == ("view", "electric")
    assert weights_of(found) == [
        ("base.photograph", Decimal(2), Grade.UNCORROBORATED, "acetylene"),
        ("base.photograph", Decimal("0.5"), Grade.CONTESTED, "electric"),
        ("base.drawing", Decimal(2), Grade.UNCORROBORATED, "electric"),
        ("base.drawing", Decimal("0.5"), Grade.UNCORROBORATED, "acetylene"),
    ]


def test_a_parent_whose_loss_leaves_nothing_is_found_behind_its_copies() -> None:
    copies = [a_source(name, "photograph", of=["print:negative"]) for name in ("one", "two")]

    found = hangs(a_source("negative"), *copies, a_claim("acetylene", "one", "two"))

    assert found.loss is not None
    assert (found.loss.source, found.loss.then.best) == ("negative", None)


def test_of_losses_that_hurt_the_same_the_first_by_id_is_named() -> None:
    found = hangs(a_source("a", "letter"), a_source("b", "letter"), a_claim("acetylene", "b", "a"))

    assert found.loss is not None
    assert found.loss.source == "a"


def test_where_nothing_supports_a_value_nothing_can_be_lost() -> None:
    assert hangs() == Sensitivity(loss=None, weights=())
    assert hangs(a_claim("acetylene", against("plan"))).loss is None


def test_what_was_left_out_for_the_asking_stays_left_out() -> None:
    letter = a_source("letter", "letter")

    found = hangs(letter, a_claim("acetylene", PHOTO, "letter"), without=frozenset({"view"}))

    assert found.loss is not None
    assert (found.loss.source, found.loss.then.best) == ("letter", None)


def test_the_teams_own_weight_is_what_is_doubled_and_halved() -> None:
    """Our photograph 7 + newspaper 5 = 12: probable, .9406. Doubled it is 14 + 5: established; halved 3.5 + 5: .876."""
    paper = a_source("paper", "newspaper", origin_stated=True)

    found = hangs(paper, a_claim("acetylene", PHOTO, "paper"), weights={"base.photograph": 7})

    assert ("base.photograph", Decimal(2), Grade.ESTABLISHED, "acetylene") in weights_of(found)
    assert ("base.photograph", Decimal("0.5"), Grade.PROBABLE, "acetylene") not in weights_of(found)


def test_two_verdicts_without_a_value_are_the_same_and_one_with_it_is_another() -> None:
    archive = an_archive(a_claim("acetylene", "plan"))
    verdict, nothing = judge_feature(archive, FEATURE), judge_feature(archive, FEATURE, without=frozenset({"plan"}))

    assert is_same_value(nothing, nothing)
    assert not is_same_value(verdict, nothing)
