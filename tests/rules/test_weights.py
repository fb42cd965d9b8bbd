from decimal import Decimal

from builders import an_archive

from provenance.records.kinds import How, SourceKind
from provenance.rules.grades import Category
from provenance.rules.weights import STANDARD, changed_weights, weights_of


def test_the_standard_weights_cover_every_kind_of_source_and_every_way_of_speaking() -> None:
    weights = weights_of(an_archive())

    assert set(weights.base) == set(SourceKind)
    assert set(weights.how) == set(How)
    assert (weights.base[SourceKind.ARTEFACT], weights.base[SourceKind.WEBSITE]) == (16, 2)
    assert (weights.late_years, weights.same_time, weights.batch_step) == (10, 5, 5)


def test_a_team_changes_one_weight_and_keeps_the_others() -> None:
    archive = an_archive(weights={"base.photograph": "9.5", "agreement.same-batch": ".8"})

    weights = weights_of(archive)

    assert weights.base[SourceKind.PHOTOGRAPH] == 9.5
    assert weights.agreement[Category.SAME_BATCH] == 0.8
    assert weights.base[SourceKind.FILM] == 12


def test_our_weights_are_listed_beside_the_standard_ones_and_an_unchanged_one_is_not() -> None:
    archive = an_archive(weights={"probable": "0.7", "doubtful": "0.5"})

    changed = changed_weights(archive)

    assert changed == (("probable", 0.7, 0.8),)
    assert archive.weights["doubtful"] == Decimal("0.5")
    assert STANDARD["doubtful"] == 0.5
