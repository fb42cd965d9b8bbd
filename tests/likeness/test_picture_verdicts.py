"""The verdict on figures set by hand, and the sentence that goes with it."""

import numpy as np
import pytest

from provenance.likeness.aligned import Agreement
from provenance.likeness.picture_verdicts import Findings, judge, say_why, score
from provenance.likeness.values import Form, Likeness


def found(
    *, inliers: int = 60, told_by: int = 120, agreeing: float = 0.95, contrary: float = 0.0, between_rules: float = 1.0,
    overlap: float = 1.0, turn: float = 0.0, form: Form = Form.PLAIN,
) -> Findings:  # fmt: skip
    cells = np.zeros((2, 2), np.bool_)
    seen = Agreement(
        told_by=told_by, agreeing=agreeing, correlation=0.9, contrary=contrary, between_rules=between_rules, like=cells,
        unlike=cells,
    )  # fmt: skip
    return Findings(
        inliers=inliers, agreement=seen, overlap=overlap, smaller="second", place="in the upper right of", turn=turn,
        form=form,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("findings", "likeness"),
    [
        pytest.param(found(), Likeness.COPY, id="all agrees"),
        pytest.param(found(inliers=8, agreeing=0.7, told_by=10), Likeness.COPY, id="just enough"),
        pytest.param(found(inliers=7), Likeness.DISTINCT, id="too few points"),
        pytest.param(found(told_by=9), Likeness.DISTINCT, id="too little to see"),
        pytest.param(found(overlap=0.05), Likeness.DISTINCT, id="a corner of both"),
        pytest.param(found(agreeing=0.62), Likeness.POSSIBLE, id="two views of one place"),
        pytest.param(found(agreeing=0.45), Likeness.DISTINCT, id="next to nothing agrees"),
        pytest.param(found(agreeing=0.62, inliers=11), Likeness.DISTINCT, id="half agrees by few points"),
        pytest.param(found(contrary=0.12), Likeness.POSSIBLE, id="one form filled in twice"),
        pytest.param(found(contrary=0.13), Likeness.DISTINCT, id="each has much that the other lacks"),
        pytest.param(found(between_rules=0.85), Likeness.POSSIBLE, id="two tables of one layout"),
        pytest.param(found(inliers=0, agreeing=0.9), Likeness.POSSIBLE, id="without points never a copy"),
        pytest.param(found(inliers=0, agreeing=0.8), Likeness.DISTINCT, id="without points and not quite alike"),
        pytest.param(found(inliers=0, told_by=29), Likeness.DISTINCT, id="without points and little to see"),
    ],
)
def test_the_verdict_follows_the_figures(findings: Findings, likeness: Likeness) -> None:
    assert judge(findings) is likeness


def test_the_sentence_gives_the_figures_and_how_the_picture_lies() -> None:
    said = say_why(found(turn=-90.3, form=Form.MIRRORED), Likeness.COPY)

    assert said == (
        "60 points agree; the whole of the second picture lies in the upper right of the first, turned by 90 degrees "
        "and as in a mirror; light and dark agree in 95 % of what can be seen there"
    )


@pytest.mark.parametrize(
    ("findings", "likeness", "words"),
    [
        (found(contrary=0.25), Likeness.DISTINCT, "in 25 % of it each has something that the other lacks"),
        (found(contrary=0.11), Likeness.POSSIBLE, "in 11 % of it each has something that the other lacks"),
        (found(between_rules=0.8), Likeness.POSSIBLE, "but between the ruled lines in 80 %"),
        (found(agreeing=0.6), Likeness.POSSIBLE, "perhaps one place photographed twice"),
        (found(inliers=0), Likeness.POSSIBLE, "too few points to tell by; "),
        (found(agreeing=0.2), Likeness.DISTINCT, "in 20 % of what can be seen there, which is too little"),
        (found(overlap=0.6), Likeness.COPY, "60 % of the second picture lies"),
        (found(form=Form.NEGATIVE), Likeness.COPY, "of the first, as a negative; "),
    ],
)
def test_the_sentence_says_what_speaks_against_it(findings: Findings, likeness: Likeness, words: str) -> None:
    assert words in say_why(findings, likeness)


def test_the_score_orders_the_sure_before_the_doubtful_and_keeps_within_bounds() -> None:
    cases = [found(agreeing=1), found(), found(contrary=0.1), found(inliers=10), found(agreeing=0.3), found(agreeing=0)]

    scores = [score(case) for case in cases]

    assert scores == sorted(scores, reverse=True)
    assert 0 <= scores[-1] < scores[0] <= 1
