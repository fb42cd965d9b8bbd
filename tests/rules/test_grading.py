"""The rules of the ladder one by one stand in test_judging, worked by hand on whole archives; here is their order."""

from builders import an_archive

from provenance.rules.grades import Grade
from provenance.rules.grading import Standing, grade_best
from provenance.rules.weights import weights_of


def test_without_support_not_even_a_rival_makes_it_contested() -> None:
    standing = Standing(supporting=(), lines=0, posterior=0.0, has_rivals=True, weights=weights_of(an_archive()))

    assert grade_best(standing) is Grade.UNSUPPORTED
