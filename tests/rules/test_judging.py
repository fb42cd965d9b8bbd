"""Hand-worked cases for every rule of the ladder, each with its arithmetic.

A balance of s points beside "none of these" gives the chance 10^(s/10) / (1 + 10^(s/10)).
"""

from dataclasses import replace

import pytest
from builders import (
    FEATURE,
    Record,
    a_claim,
    a_component,
    a_date,
    a_decision,
    a_feature,
    a_pair,
    a_source,
    a_withdrawal,
    against,
    an_archive,
    an_item,
    applies,
    common_over,
    seen_on,
)
from checkout import ROOT
from picture_pairs import alike

from provenance.errors import UnknownRecordError
from provenance.records.archive import Archive, Target
from provenance.records.claims import EvidenceItem
from provenance.records.kinds import Changes, How, Stance
from provenance.rules.grades import Category, Grade
from provenance.rules.judging import grade_feature, judge_all, judge_feature
from provenance.rules.verdicts import Overlap, Verdict
from provenance.tasks.opening import open_folder


def judge(*records: Record, without: frozenset[str] = frozenset()) -> Verdict:
    return judge_feature(an_archive(*records), FEATURE, without=without)


def of_no_9(source: str, how: str = "shows") -> EvidenceItem:
    return an_item(source, how, seen=seen_on("9", "1934"))


def test_without_any_claim_a_feature_is_unsupported() -> None:
    verdict = judge()

    assert (verdict.grade, verdict.value, verdict.posterior, verdict.lines) == (Grade.UNSUPPORTED, None, 0, 0)
    assert (verdict.rests_on, verdict.lines_if_ruled_out, verdict.shown, verdict.overlaps) == ((), None, None, ())
    assert (verdict.candidates, verdict.quantity, verdict.change_over) == ((), None, None)


def test_a_value_that_is_only_contradicted_is_unsupported() -> None:
    verdict = judge(a_claim("electric", against("works-drawing")))

    assert (verdict.grade, verdict.value) == (Grade.UNSUPPORTED, None)
    (electric,) = verdict.candidates
    assert (electric.grade, electric.weight_against) == (Grade.UNSUPPORTED, 12)
    # 10^-1.2 = .063096; .063096 / 1.063096
    assert electric.posterior == pytest.approx(0.05935, abs=5e-6)


def test_a_rival_that_is_likely_enough_and_direct_makes_it_contested() -> None:
    """12 and 8 points: 15.849 and 6.310 of 1 + 22.158: .684 and .272, which is .15 or more and stated of No. 9."""
    letter = a_source("letter", "letter", created="1934")

    verdict = judge(
        letter, a_claim("acetylene", "works-drawing"), a_claim("electric", "letter"), a_claim("oil", "notes")
    )

    assert (verdict.grade, verdict.value) == (Grade.CONTESTED, "acetylene")
    grades = {each.value: each.grade for each in verdict.candidates}
    assert grades == {"acetylene": Grade.CONTESTED, "electric": Grade.CONTESTED, "oil": Grade.CONTESTED}


def test_the_chances_of_a_contested_feature_are_those_worked_by_hand() -> None:
    letter = a_source("letter", "letter", created="1934")

    verdict = judge(letter, a_claim("acetylene", "works-drawing"), a_claim("electric", "letter"))

    assert [each.posterior for each in verdict.candidates] == pytest.approx([0.6844, 0.2725], abs=5e-5)


def test_a_rival_that_only_implies_is_outweighed() -> None:
    """12 against 6 points: .760 and .191, but the rival is not direct."""
    verdict = judge(a_claim("acetylene", "works-drawing"), a_claim("electric", an_item("other-drawing", "implies")))

    assert verdict.grade is Grade.UNCORROBORATED
    assert [each.grade for each in verdict.candidates] == [Grade.UNCORROBORATED, Grade.OUTWEIGHED]


def test_a_rival_below_fifteen_in_a_hundred_is_outweighed() -> None:
    """12 against 4 points: 2.512 / (1 + 15.849 + 2.512) = .130."""
    book = a_source("book", "book", created="1934")

    verdict = judge(book, a_claim("acetylene", "works-drawing"), a_claim("electric", "book"))

    assert verdict.candidates[1].posterior == pytest.approx(0.1297, abs=5e-5)
    assert verdict.candidates[1].grade is Grade.OUTWEIGHED


def test_a_rival_seen_on_a_sister_only_is_outweighed() -> None:
    """A photograph of No. 10, 14 points: L = 25.12, (.9 L + .1) / (.1 L + .9) = 6.656; 6.656 / (1 + 15.849 + 6.656)."""
    sister = an_item("photograph-of-10", "shows", seen=seen_on("10", "1934"))

    verdict = judge(a_source("photograph-of-10"), a_claim("acetylene", "works-drawing"), a_claim("electric", sister))

    assert verdict.candidates[1].posterior == pytest.approx(0.2832, abs=5e-5)
    assert [each.grade for each in verdict.candidates] == [Grade.UNCORROBORATED, Grade.OUTWEIGHED]


def test_what_is_known_only_of_other_batches_is_inferred() -> None:
    verdict = judge(
        a_source("view-of-4"),
        a_source("view-of-6"),
        a_claim(
            "acetylene",
            an_item("view-of-4", "shows", seen=seen_on("4")),
            an_item("view-of-6", "shows", seen=seen_on("6")),
        ),
    )

    assert (verdict.grade, verdict.lines) == (Grade.INFERRED, 2)
    # T_.75(28): L = 630.96; (473.22 + .25) / (157.74 + .75) = 2.9874; 4.753 points
    assert verdict.candidates[0].weight_for == pytest.approx(4.753, abs=5e-4)


def test_what_is_only_implied_of_this_machine_is_inferred() -> None:
    assert judge(a_claim("acetylene", an_item("works-drawing", "implies"))).grade is Grade.INFERRED


def test_a_sister_of_the_batch_is_near_enough_not_to_be_inferred() -> None:
    view = an_item("view-of-10", "shows", seen=seen_on("10"))

    assert judge(a_source("view-of-10"), a_claim("acetylene", view)).grade is Grade.UNCORROBORATED


def test_one_independent_witness_is_uncorroborated_however_often_it_is_copied() -> None:
    tracing = a_source("tracing", "drawing", of=["redrawn:works-drawing"])

    verdict = judge(tracing, a_source("works-drawing", "drawing"), a_claim("acetylene", "works-drawing", "tracing"))

    assert (verdict.grade, verdict.lines, verdict.rests_on) == (Grade.UNCORROBORATED, 1, ("works-drawing",))


def test_the_part_itself_needs_no_second_witness() -> None:
    """16 points: 39.81 / 40.81 = .9755, seen on the part of No. 9, known by its number."""
    verdict = judge(a_source("lamp", "artefact"), a_claim("acetylene", of_no_9("lamp")))

    assert (verdict.grade, verdict.lines) == (Grade.ESTABLISHED, 1)
    assert verdict.posterior == pytest.approx(0.9755, abs=5e-5)


def test_the_part_itself_in_doubt_is_probable_or_only_possible() -> None:
    """Reliability C: 16 x .6 = 9.6 points: 9.120 / 10.120 = .901; D: 6.4 points: 4.365 / 5.365 = .814;
    E: 1.6 points: 1.445 / 2.445 = .591."""

    def graded(letter: str) -> Grade:
        lamp = a_source("lamp", "artefact", reliability=letter)
        return judge(lamp, a_claim("acetylene", of_no_9("lamp"))).grade

    assert [graded(letter) for letter in "CDE"] == [Grade.PROBABLE, Grade.PROBABLE, Grade.POSSIBLE]


@pytest.mark.parametrize("known_by", ["caption", "likeness"])
def test_a_part_not_known_by_its_number_needs_a_second_witness(known_by: str) -> None:
    item = an_item("lamp", "shows", seen=seen_on("9", "1934", known_by))

    assert judge(a_source("lamp", "artefact"), a_claim("acetylene", item)).grade is Grade.UNCORROBORATED


def test_a_part_that_is_only_said_to_be_of_this_machine_needs_a_second_witness() -> None:
    verdict = judge(a_source("lamp", "artefact"), a_claim("acetylene", an_item("lamp", "shows")))

    assert verdict.grade is Grade.UNCORROBORATED


def test_two_witnesses_of_which_one_saw_it_as_built_establish_a_value() -> None:
    """14 + 12 = 26 points: 398.1 / 399.1 = .9975."""
    verdict = judge(a_source("view"), a_claim("acetylene", of_no_9("view"), "works-drawing"))

    assert (verdict.grade, verdict.lines) == (Grade.ESTABLISHED, 2)
    assert verdict.posterior == pytest.approx(0.9975, abs=5e-5)


def test_two_drawings_make_it_probable_as_designed() -> None:
    """12 + 12 = 24 points: .996, but nothing saw it as built."""
    verdict = judge(a_claim("acetylene", "works-drawing", "second-drawing"))

    assert verdict.grade is Grade.PROBABLE
    assert "It stands as designed: nothing that we hold shows it to have been built so." in verdict.explanation


def test_a_late_report_does_not_establish_that_it_was_built_so() -> None:
    """9 x .5 + 12 = 16.5 points: .978, but the report is of 1950."""
    report = a_source("report", "report", created="1950")

    verdict = judge(report, a_claim("acetylene", of_no_9("report"), "works-drawing"))

    assert verdict.posterior == pytest.approx(0.9781, abs=5e-5)
    assert [item.late_memory for item in verdict.candidates[0].items] == [True, False]
    assert verdict.grade is Grade.PROBABLE


def test_two_weak_witnesses_leave_it_possible() -> None:
    """A newspaper of 5 and notes of 3, both of reliability D: 2 + 1.2 = 3.2 points: 2.089 / 3.089 = .676."""
    paper = a_source("paper", "newspaper", created="1934", reliability="D", origin_stated=True)
    notes = a_source("notes", "notes", created="1934", reliability="D", origin_stated=True)

    verdict = judge(paper, notes, a_claim("acetylene", "paper", "notes"))

    assert (verdict.grade, verdict.lines) == (Grade.POSSIBLE, 2)
    assert verdict.posterior == pytest.approx(0.6763, abs=5e-5)


def test_a_team_that_asks_for_more_gets_a_lower_grade_from_the_same_evidence() -> None:
    """24 points: 251.19 / 252.19 = .9960."""
    claim = a_claim("acetylene", "works-drawing", "second-drawing")

    graded = [
        judge_feature(an_archive(claim, weights={"probable": least}), FEATURE).grade for least in ("0.996", "0.9961")
    ]

    assert graded == [Grade.PROBABLE, Grade.POSSIBLE]


def test_a_tracing_is_not_a_second_line_beside_its_own_drawing_and_the_earlier_in_order_is_counted() -> None:
    tracing = a_source("tracing", "drawing", of=["redrawn:works-drawing"])

    verdict = judge(tracing, a_source("works-drawing", "drawing"), a_claim("acetylene", "works-drawing", "tracing"))

    (acetylene,) = verdict.candidates
    assert [(item.source, item.counted) for item in acetylene.items] == [("tracing", True), ("works-drawing", False)]
    assert acetylene.weight_for == 12


def test_a_circle_of_copies_is_one_line() -> None:
    one = a_source("one", "drawing", of=["print:other"])
    other = a_source("other", "drawing", of=["print:one"])

    verdict = judge(one, other, a_claim("acetylene", "one", "other"))

    assert (verdict.lines, verdict.rests_on) == (1, ("one", "other"))


def test_two_items_of_one_source_are_never_two_lines() -> None:
    verdict = judge(a_claim("acetylene", an_item("manual", page=3), an_item("manual", page=7), to="9"))

    assert verdict.lines == 1
    assert [item.counted for item in verdict.candidates[0].items] == [True, False]


def test_an_open_pair_counts_once_and_says_what_it_would_be_if_ruled_out() -> None:
    verdict = judge(a_pair("first", "second"), a_claim("acetylene", "first", "second"))

    assert (verdict.lines, verdict.lines_if_ruled_out, verdict.rests_on) == (1, 2, ())
    assert verdict.overlaps == (Overlap(sources=("first", "second"), shared=("copy:first--second",)),)
    assert "2 independent witnesses if “First” is not a copy of “Second”." in verdict.explanation


@pytest.mark.parametrize(("ruling", "lines"), [("copy", 1), ("distinct", 2)])
def test_a_ruled_pair_leaves_nothing_open(ruling: str, lines: int) -> None:
    verdict = judge(a_pair("first", "second", ruling), a_claim("acetylene", "first", "second"))

    assert (verdict.lines, verdict.lines_if_ruled_out) == (lines, None)


def test_what_all_of_a_family_share_is_told_once_beside_each_other() -> None:
    verdict = judge(alike("a", "b"), alike("b", "c"), a_claim("acetylene", "a", "b", "c"))

    assert [(each.sources, each.shared) for each in verdict.overlaps] == [
        (("a", "b"), ("copy:a--b",)),
        (("a", "c"), ("copy:a--b",)),
    ]


def test_an_open_pair_with_a_common_parent_changes_nothing() -> None:
    first, second = (a_source(each, "drawing", of=["print:original"]) for each in ("first", "second"))

    verdict = judge(first, second, a_pair("first", "second"), a_claim("acetylene", "first", "second"))

    assert (verdict.lines, verdict.lines_if_ruled_out) == (1, None)


def test_where_no_source_is_common_to_all_independence_cannot_be_shown() -> None:
    """Three books in a ring: each two share a parent, all three share none."""
    ring = [a_source(f"book-{n}", "book", of=[f"cites:p{n}", f"cites:p{(n + 1) % 3}"]) for n in range(3)]

    verdict = judge(*ring, a_claim("acetylene", "book-0", "book-1", "book-2"))

    assert (verdict.lines, verdict.rests_on) == (1, ())
    assert [each.shared for each in verdict.overlaps] == [("p1",), ("p0",), ("p2",)]
    assert "no two of them can be shown to be independent" in verdict.explanation


def test_withdrawing_a_parent_takes_its_copies_out_of_judgement_and_not_out_of_sight() -> None:
    hoax = a_source("hoax", "letter", withdrawn=a_withdrawal())

    verdict = judge(hoax, a_source("copy", "letter", of=["transcription:hoax"]), a_claim("acetylene", "copy"))

    assert (verdict.grade, verdict.lines) == (Grade.UNSUPPORTED, 0)
    (item,) = verdict.candidates[0].items
    assert (item.left_out, item.weight) == (True, 0)
    assert item.why.startswith("Out of judgement, since it goes back to what was withdrawn: “Hoax”")


def test_an_item_that_descends_through_another_parent_stays_in_judgement() -> None:
    hoax = a_source("hoax", "letter", withdrawn=a_withdrawal())
    manual = a_source("manual", "manual", of=["cites:hoax", "cites:ledger"])

    assert judge(hoax, manual, a_claim("acetylene", an_item("manual", via="ledger"))).lines == 1


def test_a_withdrawn_claim_and_a_withdrawn_item_say_why() -> None:
    item = replace(an_item("manual"), withdrawn=a_withdrawal("misread"))

    verdict = judge(a_claim("acetylene", item), a_claim("electric", "works-drawing", withdrawn=a_withdrawal()))

    whys = {each.value: each.items[0].why for each in verdict.candidates}
    assert verdict.grade is Grade.UNSUPPORTED
    assert whys["acetylene"].startswith("Withdrawn: misread")
    assert whys["electric"].startswith("Its claim was withdrawn: found to be a later hoax")


def test_a_source_left_out_for_the_asking_takes_what_goes_back_to_it() -> None:
    tracing = a_source("tracing", "drawing", of=["redrawn:works-drawing"])
    records = (tracing, a_source("works-drawing", "drawing"), a_claim("acetylene", "tracing", "manual"))

    verdict = judge(*records, without=frozenset({"works-drawing"}))

    assert verdict.lines == 1
    left_out = {item.source: item.why for item in verdict.candidates[0].items if item.left_out}
    assert left_out["tracing"].startswith("Left out for the asking, with “Works drawing”")


def test_a_witness_can_be_left_out_for_the_asking() -> None:
    letter = a_source("letter", "letter", creator="A. Fitter", created="1934")

    verdict = judge(letter, a_claim("acetylene", "letter"), without=frozenset({"witness:A. Fitter"}))

    assert verdict.lines == 0
    assert "witness:A. Fitter" in verdict.candidates[0].items[0].why


def test_a_part_made_common_by_a_source_goes_out_with_that_source() -> None:
    component = a_component(common_to=(common_over("5..11", "stores-list"),))
    claim = a_claim("acetylene", an_item("view", "shows", seen=seen_on("5")))
    archive = an_archive(component, claim, a_source("view"), a_source("stores-list", "catalogue"))

    verdict = judge_feature(archive, FEATURE)
    without = judge_feature(archive, FEATURE, without=frozenset({"stores-list"}))

    assert verdict.candidates[0].items[0].applies is Category.COVERED
    assert verdict.rests_on == ("stores-list", "view")
    assert without.lines == 0


def test_a_value_without_weight_comes_last_and_is_not_in_the_sum() -> None:
    unbuilt = a_source("unbuilt", "drawing", executed=False)

    verdict = judge(unbuilt, a_claim("acetylene", "works-drawing"), a_claim("electric", "unbuilt"))

    assert verdict.posterior == pytest.approx(15.8489 / 16.8489, abs=5e-6)
    last = verdict.candidates[-1]
    assert (last.value, last.posterior, last.grade) == ("electric", 0, Grade.OUTWEIGHED)


def test_weight_for_and_against_are_weighed_each_by_their_own_weightiest_set() -> None:
    """For 12; against 8 from a letter of 1934: 4 points: 2.512 / 3.512 = .715."""
    letter = a_source("letter", "letter", created="1934")

    verdict = judge(letter, a_claim("acetylene", "works-drawing", against("letter")))

    assert (verdict.candidates[0].weight_for, verdict.candidates[0].weight_against) == (12, 8)
    assert verdict.posterior == pytest.approx(0.7153, abs=5e-5)
    assert "Against it speaks “Letter”." in verdict.explanation


def test_an_item_against_presence_is_counted_once_for_absence() -> None:
    component = a_component("headlamp", a_feature(kind="presence", aspect="presence"))

    manual = a_source("manual", "manual")

    verdict = judge(component, manual, a_claim("present", against("works-drawing"), "manual"))

    by_value = {each.value: each for each in verdict.candidates}
    assert by_value["absent"].weight_for == 12
    assert by_value["absent"].items[0].stance is Stance.SUPPORTS
    assert (by_value["present"].weight_for, by_value["present"].weight_against) == (11, 0)


def test_equal_chances_go_to_the_first_in_order_of_text() -> None:
    verdict = judge(a_claim("oil", "one-drawing"), a_claim("electric", "another-drawing"))

    assert (verdict.value, verdict.grade) == ("electric", Grade.CONTESTED)


def test_what_a_photograph_is_made_to_say_of_a_material_is_taken_as_implied() -> None:
    component = a_component("headlamp", a_feature(kind="text", aspect="material"))

    verdict = judge(component, a_source("view"), a_claim("brass", of_no_9("view")))

    item = verdict.candidates[0].items[0]
    assert (item.how, item.how_written, item.weight) == (How.IMPLIES, How.SHOWS, 7)


def test_the_verdict_names_its_feature_and_the_decision_in_force() -> None:
    decision = a_decision()

    verdict = judge(decision, a_claim("gas lamp", "works-drawing"))

    assert (verdict.component, verdict.name, verdict.kind, verdict.aspect) == (
        "headlamp",
        "Headlamp type",
        "choice",
        "form",
    )
    assert (verdict.value, verdict.shown, verdict.decision) == ("acetylene", "Acetylene", decision)


def test_the_decision_in_force_is_released_not_withdrawn_and_not_replaced() -> None:
    decisions = (
        a_decision("first"),
        a_decision("second", replaces="first", date="2026-02-01"),
        a_decision("third", replaces="second", status="proposed", date="2026-03-01"),
        a_decision("fourth", status="withdrawn", date="2026-04-01"),
        a_decision("fifth", withdrawn=a_withdrawal(), date="2026-05-01"),
        a_decision("sixth", date="2026-01-07"),
        a_decision("seventh", date="../2030"),
    )

    in_force = judge(*decisions).decision

    assert in_force is not None
    assert in_force.id == "seventh"
    assert judge(*decisions[:6]).decision == decisions[1]
    assert judge(*decisions[2:5]).decision is None


def test_a_feature_that_no_component_has_is_refused() -> None:
    with pytest.raises(UnknownRecordError, match="headlamp/colour"):
        judge_feature(an_archive(), "headlamp/colour")


def test_all_features_are_judged_in_the_order_of_the_archive() -> None:
    components = (a_component("whistle", a_feature("b"), a_feature("a")), a_component("bell", a_feature("c")))

    assert list(judge_all(an_archive(*components))) == ["bell/c", "whistle/b", "whistle/a"]


def test_an_archive_that_represents_nothing_yet_supports_nothing() -> None:
    archive: Archive = replace(an_archive(a_claim("acetylene", "works-drawing")), target=None)

    verdict = judge_feature(archive, FEATURE)

    assert verdict.grade is Grade.UNSUPPORTED
    assert "does not say yet which machine is represented" in verdict.explanation


def test_an_item_may_cover_something_else_than_its_claim() -> None:
    item = an_item("manual", applies_to=applies("1..4"))

    assert judge(a_claim("acetylene", item)).candidates[0].items[0].applies is Category.SAME_TYPE


def test_the_grade_alone_is_that_of_the_verdict() -> None:
    archive = open_folder(ROOT / "sample_archive" / "archive").archive
    without = frozenset(sorted(archive.sources)[::3])

    grades = {about: grade_feature(archive, about) for about in archive.features}
    fewer = {about: grade_feature(archive, about, without=without) for about in archive.features}

    assert len(set(grades.values())) >= 5
    assert grades != fewer
    assert grades == {about: verdict.grade for about, verdict in judge_all(archive).items()}
    assert fewer == {about: verdict.grade for about, verdict in judge_all(archive, without=without).items()}


def test_a_figure_without_weight_takes_no_chance_from_a_change_that_the_same_figure_with_weight_went_through() -> None:
    """100 mm in 1933, 120.5 mm in 1936, as at the last day of 1934: 365 of 731 days gone, 366/731 = .5007 for 100 mm.

    An unbuilt drawing for all has 100 mm too: a claim of its own, without weight, and so without a chance.
    """
    height = a_feature(kind="quantity", aspect="dimension", unit="mm", changes=Changes.IN_SERVICE)
    archive = an_archive(
        a_component("headlamp", height),
        *(a_source(name, "survey") for name in ("early", "late")),
        a_source("scheme", "drawing", executed=False),
        a_claim("100 mm", an_item("early", "measured", seen=seen_on("9", "1933"))),
        a_claim("120.5 mm", an_item("late", "measured", seen=seen_on("9", "1936"))),
        a_claim("100 mm", "scheme", to="all", claim_id="scheme"),
        target=Target(example="9", as_at=a_date("1934-12-31")),
    )

    verdict = judge_feature(archive, FEATURE)

    assert verdict.best is not None
    assert (verdict.best.claims, verdict.grade) == (("headlamp-type-100-mm",), Grade.INFERRED)
    assert verdict.posterior == pytest.approx(366 / 731)
    assert {each.claims: round(each.posterior, 4) for each in verdict.candidates} == {
        ("headlamp-type-100-mm",): 0.5007,
        ("headlamp-type-120-5-mm",): 0.4993,
        ("scheme",): 0.0,
    }
