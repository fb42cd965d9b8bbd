"""What would change a verdict, in words."""

import pytest
from builders import FEATURE, Record, a_claim, a_source, an_archive, an_item, seen_on

from provenance.rules.explaining_change import what_would_change
from provenance.rules.judging import judge_feature
from provenance.rules.lifting import Lifter
from provenance.rules.sensitivity import sensitivity_of


def told(*records: Record, **fields: object) -> str:
    archive = an_archive(*records, **fields)
    verdict = judge_feature(archive, FEATURE)
    lifting = Lifter(archive).lifting_of(verdict)
    return what_would_change(verdict, sensitivity_of(archive, verdict), lifting, archive.sources)


def test_what_all_hangs_on_is_named_where_more_than_one_place_is_cited() -> None:
    prints = [a_source(name, "photograph", of=["print:negative"], title=name) for name in ("First", "Second")]

    assert told(
        a_source("negative", title="The negative"), *prints, a_claim("acetylene", "First", "Second")
    ).startswith("All of it hangs on the photograph “The negative”: without it nothing would be left.")


def test_a_grade_that_is_not_weak_is_not_told_how_to_rise() -> None:
    assert "would make it" not in told(a_claim("acetylene", "plan", "second-plan"))


@pytest.mark.parametrize(
    ("own", "words"),
    [
        (
            3,
            "if changes came in with a new batch half as readily as we take it, “Acetylene” would lead, with about 57 ",
        ),
        (
            1.2,
            "if changes came in with a new batch twice as readily as we take it, “Electric” would lead, with about 55 ",
        ),
    ],
)
def test_how_readily_changes_come_in_with_a_batch_may_decide(own: float, words: str) -> None:
    """Acetylene on No. 8, electric on No. 11, so the first is 9, 10 or 11, of which 9 begins a batch.

    Three times as readily: 3 of 5 for electric on No. 9; half of that, 1.5: 1.5 / 3.5 = .429, so .571 for acetylene.
    1.2 times: 1.2 / 3.2 = .375; twice that, 2.4: 2.4 / 4.4 = .545.
    """
    views = [a_source("early"), a_source("late")]
    claims = [
        a_claim("acetylene", an_item("early", "shows", seen=seen_on("8", "1931"))),
        a_claim("electric", an_item("late", "shows", seen=seen_on("11", "1934"))),
    ]

    assert words in told(*views, *claims, weights={"batch_step": own})
