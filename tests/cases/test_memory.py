"""Letters, recollections and other accounts: who tells it, and how long after."""

import pytest
from builders import Record, a_claim, a_component, a_feature, a_source, an_item

from cases.case_building import chances, counted, flags_on, judge, near, values, view, weights
from provenance.records.kinds import How, Legibility
from provenance.rules.grades import Grade


def test_a_mans_letter_and_his_recollection_are_one_witness() -> None:
    """Letter of 1936: 8 points; the same man on tape in 1984: 5 x .5 = 2.5. One line, the letter: 8 points.

    6.30957 / 7.30957 = .8632; all rests on the man.
    """
    records: tuple[Record, ...] = (
        a_source("letter", "letter", created="1936", creator="A. Fitter"),
        a_source("tape", "oral-history", created="1984", creator="A. Fitter"),
        a_claim("acetylene", "letter", "tape"),
    )

    verdict = judge(*records)

    (acetylene,) = verdict.candidates
    assert (verdict.grade, verdict.lines, verdict.rests_on) == (Grade.UNCORROBORATED, 1, ("witness:A. Fitter",))
    assert weights(acetylene) == {"letter": 8, "tape": 2.5}
    assert (acetylene.weight_for, counted(acetylene), verdict.posterior) == (8, ["letter"], near(0.86319))
    assert judge(*records, without="witness:A. Fitter").grade is Grade.UNSUPPORTED
    assert flags_on(*records) == ("single-source",)


def test_another_mans_recollection_is_a_second_witness() -> None:
    """8 + 2.5 = 10.5 points, two lines: 11.2202 / 12.2202 = .9182: probable."""
    verdict = judge(
        a_source("letter", "letter", created="1936", creator="A. Fitter"),
        a_source("tape", "oral-history", created="1984", creator="B. Driver"),
        a_claim("acetylene", "letter", "tape"),
    )

    assert (verdict.grade, verdict.lines, verdict.rests_on) == (Grade.PROBABLE, 2, ())
    assert (verdict.candidates[0].weight_for, verdict.posterior) == (10.5, near(0.91817))


def test_who_speaks_at_the_place_is_the_witness_and_not_who_held_the_microphone() -> None:
    """One tape-recorder, two men: on the first tape A. Fitter speaks, who wrote the letter; so letter and tape are
    one."""
    verdict = judge(
        a_source("letter", "letter", created="1936", creator="A. Fitter"),
        a_source("tape", "oral-history", created="1984", creator="C. Collector"),
        a_claim("acetylene", "letter", an_item("tape", who="A. Fitter")),
    )

    assert (verdict.lines, verdict.rests_on) == (1, ("witness:A. Fitter",))


THREE_RECOLLECTIONS: tuple[Record, ...] = (
    *(a_source(f"tape-{n}", "oral-history", created="1984", creator=f"Fitter {n}") for n in (1, 2, 3)),
    a_claim("electric", "tape-1", "tape-2", "tape-3"),
)


def test_three_recollections_fifty_years_later_put_a_lone_photograph_in_doubt() -> None:
    """3 x 5 x .5 = 7.5 points: L = 5.62341; photograph 14: L = 25.1189. Of 1 + 30.7423 = 31.7423: .7913 and .1772.

    .1772 is .15 or more, and they state it of this machine: contested, the photograph ahead.
    """
    records: tuple[Record, ...] = (a_source("view"), a_claim("acetylene", view("view")), *THREE_RECOLLECTIONS)

    verdict = judge(*records)

    assert (verdict.grade, verdict.value, verdict.lines) == (Grade.CONTESTED, "acetylene", 1)
    assert chances(verdict) == near(0.79134, 0.17716)
    electric = values(verdict)["electric"]
    assert (electric.grade, electric.lines, electric.weight_for) == (Grade.CONTESTED, 3, 7.5)
    assert flags_on(*records) == ("contested", "single-source")


def test_a_photograph_with_a_drawing_behind_it_withstands_three_recollections() -> None:
    """14 + 12 = 26 points: L = 398.107; of 1 + 403.731 = 404.731: .9836 and .0139."""
    verdict = judge(a_source("view"), a_claim("acetylene", view("view"), "works-drawing"), *THREE_RECOLLECTIONS)

    assert (verdict.grade, verdict.value, verdict.lines) == (Grade.ESTABLISHED, "acetylene", 2)
    assert chances(verdict) == near(0.98363, 0.01389)
    assert values(verdict)["electric"].grade is Grade.OUTWEIGHED


@pytest.mark.parametrize(("written", "points"), [("1944-06", 8), ("1944", 8), ("1945", 4), ("1944-07", 4)], ids=str)
def test_a_letter_is_late_memory_when_it_is_certainly_more_than_ten_years_later(written: str, points: float) -> None:
    """As at June 1934 (until the 30th) plus ten years is 30 June 1944: a letter of July 1944 or later is late."""
    verdict = judge(a_source("letter", "letter", created=written), a_claim("acetylene", "letter"))

    assert weights(verdict.candidates[0]) == {"letter": points}


def test_an_account_looks_back_to_the_day_on_which_its_writer_saw_the_machine() -> None:
    """A letter of 1945 about what its writer saw on No. 9 in 1936: nine years, not late: 8 points, .8632."""
    verdict = judge(
        a_source("letter", "letter", created="1945"), a_claim("acetylene", view("letter", when="1936", how="states"))
    )

    assert (weights(verdict.candidates[0]), verdict.posterior) == ({"letter": 8}, near(0.86319))


def test_drawings_and_logbooks_do_not_forget() -> None:
    """A logbook written up in 1950 is no account from memory: 11 points, 12.5893 / 13.5893 = .9264."""
    verdict = judge(a_source("log", "logbook", created="1950"), a_claim("acetylene", "log"))

    assert (weights(verdict.candidates[0]), verdict.posterior) == ({"log": 11}, near(0.92641))


def test_every_weakness_of_an_account_is_a_factor() -> None:
    """A letter of 1950 (.5), fairly reliable (C, .6), hardly legible (.5), that only implies it (.5):
    8 x .5 x .6 x .5 x .5 = .6 points: L = 1.14815; 1.14815 / 2.14815 = .5345. Not direct: inferred."""
    verdict = judge(
        a_source("letter", "letter", created="1950", reliability="C"),
        a_claim("acetylene", an_item("letter", "implies", legibility=Legibility.DOUBTFUL)),
    )

    assert (verdict.grade, verdict.lines) == (Grade.INFERRED, 1)
    assert (verdict.candidates[0].weight_for, verdict.posterior) == (near(0.6), near(0.53448))


def test_a_recollected_dimension_is_only_implied() -> None:
    """Nobody remembers inches: 5 x .5 (implied) x .5 (late) = 1.25 points: L = 1.33352; .5715. Not direct: inferred."""
    verdict = judge(
        a_component("headlamp", a_feature(aspect="dimension", datum="top of rail")),
        a_source("tape", "oral-history", created="1984", creator="A. Fitter"),
        a_claim("acetylene", "tape"),
    )

    (item,) = verdict.candidates[0].items
    assert (item.how, item.how_written, item.weight) == (How.IMPLIES, How.STATES, 1.25)
    assert (verdict.grade, verdict.posterior) == (Grade.INFERRED, near(0.57146))


def test_an_analogy_weighs_a_quarter_and_is_no_direct_word() -> None:
    """Opinion 4 x .25 = 1 point: L = 1.25893; 1.25893 / 2.25893 = .5573."""
    verdict = judge(a_source("opinion", "opinion", created="1934"), a_claim("acetylene", an_item("opinion", "analogy")))

    assert (verdict.grade, weights(verdict.candidates[0])) == (Grade.INFERRED, {"opinion": 1})
    assert verdict.posterior == near(0.55731)


def test_two_weak_voices_that_agree_leave_it_possible() -> None:
    """Newspaper 5 and notes 3, both D (.4): 2 + 1.2 = 3.2 points: 2.08930 / 3.08930 = .6763, two lines, under .80."""
    verdict = judge(
        a_source("paper", "newspaper", created="1934", reliability="D", origin_stated=True),
        a_source("notes", "notes", created="1934", reliability="D", origin_stated=True),
        a_claim("acetylene", "paper", "notes"),
    )

    assert (verdict.grade, verdict.lines, verdict.posterior) == (Grade.POSSIBLE, 2, near(0.67630))
