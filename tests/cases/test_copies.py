"""Copies, citations, translations and likely copies: what is one witness and what is two.

A photograph of No. 9 known by its number weighs 14 points: L = 25.1189. A letter of the time weighs 8: L = 6.30957.
"""

import pytest
from builders import Record, a_claim, a_pair, a_source, a_withdrawal, an_item
from picture_pairs import alike

from cases.case_building import chances, counted, flag_on, flags_on, judge, near, values, view, weights
from provenance.records.sources import Within
from provenance.rules.grades import Grade
from provenance.rules.verdicts import Overlap

PHOTOGRAPH: tuple[Record, ...] = (a_source("view"), a_claim("acetylene", view("view")))


def test_three_books_that_repeat_one_error_are_one_voice_against_a_photograph() -> None:
    """One book names no origin, one cites it, a third names no origin either: all share the same unnamed origin.

    Each 4 x .5 (written after 1944) = 2 points; one line, 2 points: L = 1.58489. Photograph 14: L = 25.1189.
    Of 1 + 26.7038 = 27.7038: .9067 and .0572.
    """
    records: tuple[Record, ...] = (
        *PHOTOGRAPH,
        a_source("first-book", "book", created="1955"),
        a_source("second-book", "book", created="1962", of=["cites:first-book"]),
        a_source("third-book", "book", created="1971"),
        a_claim("electric", "first-book", "second-book", "third-book"),
    )

    verdict = judge(*records)

    assert (verdict.grade, verdict.value, verdict.lines, verdict.rests_on) == (
        Grade.UNCORROBORATED,
        "acetylene",
        1,
        ("view",),
    )
    assert chances(verdict) == near(0.90670, 0.05721)
    electric = values(verdict)["electric"]
    assert (electric.grade, electric.lines, electric.rests_on) == (Grade.OUTWEIGHED, 1, ("*unstated*",))
    assert (electric.weight_for, counted(electric)) == (2, ["first-book"])
    assert flags_on(*records) == ("single-source",)


def test_three_books_that_each_say_where_they_have_it_would_be_three() -> None:
    """3 x 2 = 6 points: L = 3.98107; of 1 + 29.1000 = 30.0999: .8345 and .1323, still under .15."""
    books = [a_source(f"book-{n}", "book", created="1955", origin_stated=True) for n in (1, 2, 3)]

    verdict = judge(*PHOTOGRAPH, *books, a_claim("electric", "book-1", "book-2", "book-3"))

    assert chances(verdict) == near(0.83452, 0.13226)
    electric = values(verdict)["electric"]
    assert (electric.grade, electric.lines, electric.rests_on, electric.weight_for) == (Grade.OUTWEIGHED, 3, (), 6)


def test_books_that_cite_one_burnt_ledger_rest_on_the_ledger() -> None:
    """4 x .5 = 2 points, one line: 1.58489 / 2.58489 = .6131. The ledger, of which nothing is left, is named."""
    books = [a_source(f"book-{n}", "book", created="1955", of=["cites:ledger"]) for n in (1, 2)]
    records: tuple[Record, ...] = (*books, a_source("ledger", "logbook"), a_claim("electric", "book-1", "book-2"))

    verdict = judge(*records)

    assert (verdict.grade, verdict.lines, verdict.rests_on) == (Grade.UNCORROBORATED, 1, ("ledger",))
    assert verdict.posterior == near(0.61314)
    assert flag_on("single-source", *records).sources == ("book-1", "book-2", "ledger")
    assert judge(*records, without="ledger").grade is Grade.UNSUPPORTED


TWO_PRINTS: tuple[Record, ...] = (
    a_source("print-a"),
    a_source("print-b"),
    a_claim("acetylene", view("print-a"), view("print-b")),
)


def test_two_likely_copies_count_once_until_somebody_rules_on_them() -> None:
    """14 points, one line (two if they are no copies): 25.1189 / 26.1189 = .9617, and only one witness."""
    records: tuple[Record, ...] = (*TWO_PRINTS, a_pair("print-a", "print-b"))

    verdict = judge(*records)

    assert (verdict.grade, verdict.lines, verdict.lines_if_ruled_out) == (Grade.UNCORROBORATED, 1, 2)
    assert (verdict.rests_on, verdict.posterior) == ((), near(0.96171))
    assert verdict.overlaps == (Overlap(sources=("print-a", "print-b"), shared=("copy:print-a--print-b",)),)
    assert counted(verdict.candidates[0]) == ["print-a"]
    assert "single-source" in flags_on(*records)


def test_two_likely_copies_ruled_distinct_are_two_witnesses() -> None:
    """28 points: L = 630.957; 630.957 / 631.957 = .9984, two lines, seen as built: established."""
    verdict = judge(*TWO_PRINTS, a_pair("print-a", "print-b", "distinct"))

    assert (verdict.grade, verdict.lines, verdict.lines_if_ruled_out) == (Grade.ESTABLISHED, 2, None)
    assert (verdict.candidates[0].weight_for, verdict.posterior) == (28, near(0.99842))


def test_two_likely_copies_ruled_copies_are_one_witness_for_good() -> None:
    verdict = judge(*TWO_PRINTS, a_pair("print-a", "print-b", "copy"))

    assert (verdict.grade, verdict.lines, verdict.lines_if_ruled_out) == (Grade.UNCORROBORATED, 1, None)
    assert verdict.posterior == near(0.96171)


TRANSLATION = a_source("translation", "letter", created="1934", creator="J. Clerk", of=["translation:german-letter"])
GERMAN_LETTER = a_source("german-letter", "letter", created="1934", creator="K. Monteur", language=("de",))


def test_a_translation_and_its_original_are_one_witness() -> None:
    """8 points once: 6.30957 / 7.30957 = .8632. Both go back to the original and to the man who wrote it."""
    verdict = judge(GERMAN_LETTER, TRANSLATION, a_claim("acetylene", "german-letter", "translation"))

    assert (verdict.grade, verdict.lines) == (Grade.UNCORROBORATED, 1)
    assert verdict.rests_on == ("german-letter", "witness:K. Monteur")
    assert (verdict.candidates[0].weight_for, verdict.posterior) == (8, near(0.86319))


def test_the_translator_is_no_witness_and_may_be_one_in_a_letter_of_his_own() -> None:
    """Translation 8 and the translator's own letter 8: two lines, 16 points, 39.8107 / 40.8107 = .9755; not seen
    built."""
    own_letter = a_source("own-letter", "letter", created="1934", creator="J. Clerk")

    verdict = judge(GERMAN_LETTER, TRANSLATION, own_letter, a_claim("acetylene", "translation", "own-letter"))

    assert (verdict.grade, verdict.lines, verdict.rests_on) == (Grade.PROBABLE, 2, ())
    assert verdict.posterior == near(0.97550)


def test_two_photographs_in_one_album_are_two_witnesses() -> None:
    """To be kept together is no descent: 28 points, .9984, two lines."""
    pictures = [a_source(f"view-{n}", within=Within(source="album")) for n in (1, 2)]

    verdict = judge(a_source("album", "photograph"), *pictures, a_claim("acetylene", view("view-1"), view("view-2")))

    assert (verdict.grade, verdict.lines, verdict.posterior) == (Grade.ESTABLISHED, 2, near(0.99842))


@pytest.mark.parametrize(
    ("second_visit", "lines", "chance", "rests_on"),
    [
        ("works visit", 1, 0.96171, ("witness:A. Lens, works visit",)),
        ("open day", 2, 0.99842, ()),
    ],
    ids=["same-visit", "another-visit"],
)
def test_what_one_photographer_took_on_one_visit_is_one_witness(
    second_visit: str, lines: int, chance: float, rests_on: tuple[str, ...]
) -> None:
    """One visit: 14 points, .9617. Two visits: 28 points, .9984."""
    verdict = judge(
        a_source("view-1", creator="A. Lens", occasion="works visit"),
        a_source("view-2", creator="A. Lens", occasion=second_visit),
        a_claim("acetylene", view("view-1"), view("view-2")),
    )

    assert (verdict.lines, verdict.rests_on, verdict.posterior) == (lines, rests_on, near(chance))


def test_a_handbook_that_is_known_to_follow_one_drawing_is_a_witness_beside_the_other() -> None:
    """The handbook (11) derives from drawings A and B; its page descends through A. With B (12): two lines,
    23 points, L = 199.526; 199.526 / 200.526 = .9950."""
    records: tuple[Record, ...] = (
        a_source("handbook", "manual", of=["cites:drawing-a", "cites:drawing-b"]),
        a_source("drawing-a", "drawing"),
        a_source("drawing-b", "drawing"),
    )

    known = judge(*records, a_claim("acetylene", an_item("handbook", via="drawing-a"), "drawing-b"))
    unknown = judge(*records, a_claim("acetylene", "handbook", "drawing-b"))

    assert (known.grade, known.lines, known.posterior) == (Grade.PROBABLE, 2, near(0.99501))
    # without `via` both go back to B: 12 points, 15.8489 / 16.8489
    assert (unknown.grade, unknown.lines, unknown.posterior) == (Grade.UNCORROBORATED, 1, near(0.94065))
    assert unknown.rests_on == ("drawing-b",)


def test_two_light_letters_count_before_the_heavier_report_that_used_them_both() -> None:
    """Report 9 cites both letters, 8 each: {report} 9 points, {letter, letter} 16: the letters count, two lines.

    39.8107 / 40.8107 = .9755; a letter does not see as built, but the report, of weight, does: established.
    """
    verdict = judge(
        a_source("report", "report", created="1934", of=["cites:letter-1", "cites:letter-2"]),
        a_source("letter-1", "letter", created="1934"),
        a_source("letter-2", "letter", created="1934"),
        a_claim("acetylene", "report", "letter-1", "letter-2"),
    )

    (acetylene,) = verdict.candidates
    assert (counted(acetylene), acetylene.weight_for) == (["letter-1", "letter-2"], 16)
    assert (verdict.grade, verdict.lines, verdict.posterior) == (Grade.ESTABLISHED, 2, near(0.97550))


def test_of_two_that_exclude_one_another_the_one_worth_more_to_this_machine_counts() -> None:
    """A report on No. 9 (9 points, itself) cites a photograph of No. 6 (14 points, another batch).

    14 carried over: (.75 x 25.1189 + .25) / (.25 x 25.1189 + .75) = 19.0891 / 7.02972 = 2.71549, 4.3385 points: less
    than 9. So the report counts, though it weighs less by itself: 7.94328 / 8.94328 = .8882.
    """
    verdict = judge(
        a_source("report", "report", created="1934", of=["cites:view-of-6"]),
        a_source("view-of-6"),
        a_claim("acetylene", "report", view("view-of-6", "6")),
    )

    (acetylene,) = verdict.candidates
    assert weights(acetylene) == {"report": 9, "view-of-6": 14}
    assert (counted(acetylene), acetylene.weight_for, verdict.lines) == (["report"], 9, 1)
    assert (verdict.rests_on, verdict.posterior) == (("view-of-6",), near(0.88818))


def test_of_two_sets_that_weigh_the_same_the_larger_counts() -> None:
    """Drawing A (12) was made from drawings B and C, which only imply it (6 each): 12 = 6 + 6: B and C count."""
    verdict = judge(
        a_source("drawing-a", "drawing", of=["redrawn:drawing-b", "redrawn:drawing-c"]),
        a_claim("acetylene", "drawing-a", an_item("drawing-b", "implies"), an_item("drawing-c", "implies")),
        a_source("drawing-b", "drawing"),
        a_source("drawing-c", "drawing"),
    )

    (acetylene,) = verdict.candidates
    assert (counted(acetylene), acetylene.weight_for, acetylene.lines) == (["drawing-b", "drawing-c"], 12, 2)


def test_points_of_each_category_are_added_before_they_are_carried_over() -> None:
    """Nos 10 and 11, two sisters, 14 each: 28 points, L = 630.957: (.9 x 630.957 + .1) / (.1 x 630.957 + .9) =
    567.962 / 63.9957 = 8.87499, 9.4817 points (not 2 x 8.2316); 8.87499 / 9.87499 = .8987."""
    verdict = judge(
        a_source("view-of-10"),
        a_source("view-of-11"),
        a_claim("acetylene", view("view-of-10", "10"), view("view-of-11", "11")),
    )

    assert (verdict.grade, verdict.lines, verdict.posterior) == (Grade.PROBABLE, 2, near(0.89873))
    assert verdict.candidates[0].weight_for == near(9.4817)


def test_withdrawing_a_forged_print_takes_its_enlargement_out_too() -> None:
    """Left is the drawing alone: 15.8489 / 16.8489 = .9406."""
    verdict = judge(
        a_source("print", withdrawn=a_withdrawal()),
        a_source("enlargement", of=["enhanced:print"]),
        a_claim("acetylene", view("print"), view("enlargement"), "works-drawing"),
    )

    assert (verdict.grade, verdict.lines, verdict.rests_on) == (Grade.UNCORROBORATED, 1, ("works-drawing",))
    assert verdict.posterior == near(0.94065)
    assert weights(verdict.candidates[0]) == {"enlargement": 0, "print": 0, "works-drawing": 12}


def test_leaving_out_what_a_value_rests_on_leaves_nothing() -> None:
    tracing = a_source("tracing", "drawing", of=["redrawn:works-drawing"])
    records: tuple[Record, ...] = (
        tracing,
        a_source("works-drawing", "drawing"),
        a_claim("acetylene", "tracing", "works-drawing"),
    )

    assert judge(*records).rests_on == ("works-drawing",)
    assert judge(*records, without="works-drawing").grade is Grade.UNSUPPORTED


def test_two_books_by_one_author_are_one_witness_though_both_name_their_origins() -> None:
    """4 x .5 = 2 points once: 1.58489 / 2.58489 = .6131."""
    books = [a_source(f"book-{n}", "book", created="1955", creator="D. Author", origin_stated=True) for n in (1, 2)]

    verdict = judge(*books, a_claim("acetylene", "book-1", "book-2"))

    assert (verdict.lines, verdict.rests_on, verdict.posterior) == (1, ("witness:D. Author",), near(0.61314))


def test_three_manuals_of_which_each_two_share_a_drawing_are_one_line_and_rest_on_no_one_source() -> None:
    """11 points once: 12.5893 / 13.5893 = .9264; independence cannot be shown, and the three overlaps are named."""
    ring = [a_source(f"manual-{n}", "manual", of=[f"cites:d{n}", f"cites:d{(n + 1) % 3}"]) for n in range(3)]
    records: tuple[Record, ...] = (*ring, a_claim("acetylene", "manual-0", "manual-1", "manual-2"))

    verdict = judge(*records)

    assert (verdict.grade, verdict.lines, verdict.rests_on) == (Grade.UNCORROBORATED, 1, ())
    assert verdict.posterior == near(0.92641)
    assert [(each.sources, each.shared) for each in verdict.overlaps] == [
        (("manual-0", "manual-1"), ("d1",)),
        (("manual-0", "manual-2"), ("d0",)),
        (("manual-1", "manual-2"), ("d2",)),
    ]
    assert flags_on(*records) == ("single-source",)


def test_a_chain_of_citations_leaves_its_two_ends_independent_where_only_neighbours_share() -> None:
    """Five letters in a row, each two neighbours share a lost note; 8, 8, 8, 8, 8: the 1st, 3rd and 5th count: 24
    points, three lines. L = 251.189; 251.189 / 252.189 = .9960; letters saw nothing built: probable."""
    letters = [
        a_source(f"letter-{n}", "letter", created="1934", of=[f"cites:note-{n}", f"cites:note-{n + 1}"])
        for n in range(1, 6)
    ]

    verdict = judge(*letters, a_claim("acetylene", *(letter.id for letter in letters)))

    assert counted(verdict.candidates[0]) == ["letter-1", "letter-3", "letter-5"]
    assert (verdict.grade, verdict.lines, verdict.posterior) == (Grade.PROBABLE, 3, near(0.99603))


def test_a_likely_copy_that_would_change_nothing_is_not_said() -> None:
    """Two prints known to be of one negative: ruled distinct or not, one line."""
    prints = [a_source(f"print-{each}", of=["print:negative"]) for each in "ab"]

    verdict = judge(*prints, a_pair("print-a", "print-b"), a_claim("acetylene", view("print-a"), view("print-b")))

    assert (verdict.lines, verdict.lines_if_ruled_out, verdict.rests_on) == (1, None, ("negative",))


def three_views(*records: Record) -> tuple[Record, ...]:
    """Three photographs of No. 9, 14 points each, cited for one value."""
    views = tuple(a_source(f"view-{each}") for each in "abc")
    own = {record.id for record in records}
    return (
        *(each for each in views if each.id not in own),
        *records,
        a_claim("acetylene", *(view(each.id) for each in views)),
    )


def test_two_photographs_that_look_alike_are_one_witness_and_two_if_they_are_no_copies() -> None:
    """14 points once: 25.1189 / 26.1189 = .9617."""
    verdict = judge(*TWO_PRINTS, alike("print-a", "print-b"))

    assert (verdict.grade, verdict.lines, verdict.lines_if_ruled_out) == (Grade.UNCORROBORATED, 1, 2)
    assert (verdict.candidates[0].weight_for, verdict.posterior) == (14, near(0.96171))
    assert verdict.explanation.endswith(
        "There would be 2 independent witnesses if “Print a” is not a copy of “Print b”."
    )


def test_three_pictures_that_hang_together_by_two_pairs_are_one_witness() -> None:
    """A is like B and B is like C; nobody has compared A with C, and they are no two witnesses either: 14 points.

    Three without any copies among them.
    """
    records = three_views(alike("view-a", "view-b"), alike("view-b", "view-c"))

    verdict = judge(*records)

    assert (verdict.grade, verdict.lines, verdict.lines_if_ruled_out) == (Grade.UNCORROBORATED, 1, 3)
    assert (verdict.posterior, counted(verdict.candidates[0])) == (near(0.96171), ["view-a"])
    said = "3 independent witnesses if “View a” is not a copy of “View b” and “View b” is not a copy of “View c”"
    assert said in verdict.explanation
    assert said in flag_on("single-source", *records).sentence


def test_a_letter_is_a_second_witness_beside_a_family_of_likely_copies() -> None:
    """14 for the family and 8 for the letter: 22 points, L = 158.489; 158.489 / 159.489 = .9937: established.

    Were the two photographs no copies, they and the letter would be three.
    """
    letter = a_source("letter", "letter", created="1934")

    verdict = judge(
        *TWO_PRINTS[:2], letter, alike("print-a", "print-b"),
        a_claim("acetylene", view("print-a"), view("print-b"), "letter"),
    )  # fmt: skip

    assert (verdict.grade, verdict.lines, verdict.lines_if_ruled_out) == (Grade.ESTABLISHED, 2, 3)
    assert (verdict.candidates[0].weight_for, verdict.posterior) == (22, near(0.99373))
    assert "3 independent witnesses if “Print a” is not a copy of “Print b”" in verdict.explanation


REPORTS: tuple[Record, ...] = (
    *(a_source(each, "report", created="1934") for each in ("bulletin", "report-a", "report-b")),
    a_claim("acetylene", "bulletin", "report-a", "report-b"),
)


def test_a_bulletin_that_may_have_copied_two_reports_does_not_make_copies_of_the_reports() -> None:
    """By their text: each report shares something with the bulletin, and the two nothing with one another.

    The reports count, 9 points each: 18 points, L = 63.0957; 63.0957 / 64.0957 = .9844. The bulletin would be a third.
    """
    verdict = judge(*REPORTS, a_pair("bulletin", "report-a"), a_pair("bulletin", "report-b"))

    assert (verdict.grade, verdict.lines, verdict.lines_if_ruled_out) == (Grade.ESTABLISHED, 2, 3)
    assert (counted(verdict.candidates[0]), verdict.posterior) == (["report-a", "report-b"], near(0.98440))


def test_a_picture_like_two_others_makes_likely_copies_of_them_all() -> None:
    """9 points once: 7.94328 / 8.94328 = .8882."""
    verdict = judge(*REPORTS, alike("bulletin", "report-a"), alike("bulletin", "report-b"))

    assert (verdict.grade, verdict.lines, verdict.lines_if_ruled_out) == (Grade.UNCORROBORATED, 1, 3)
    assert verdict.posterior == near(0.88818)


def test_a_book_of_plates_ties_no_plate_to_another() -> None:
    """View A is like the plate on page 1 of view B, which is a book; view C like that on page 2. A and C are two
    witnesses: 28 points, .9984. The book would be a third."""
    verdict = judge(
        *three_views(alike("view-a", "view-b", pages=(1, 1)), alike("view-b", "view-c", pages=(2, 1)))
    )  # fmt: skip

    assert (verdict.grade, verdict.lines, verdict.lines_if_ruled_out) == (Grade.ESTABLISHED, 2, 3)
    assert (counted(verdict.candidates[0]), verdict.posterior) == (["view-a", "view-c"], near(0.99842))


def test_one_pair_of_a_family_ruled_distinct_leaves_two_families() -> None:
    """A and B, and C apart: 28 points, 630.957 / 631.957 = .9984."""
    verdict = judge(*three_views(alike("view-a", "view-b"), alike("view-b", "view-c", "distinct")))

    assert (verdict.grade, verdict.lines, verdict.lines_if_ruled_out) == (Grade.ESTABLISHED, 2, 3)
    assert verdict.posterior == near(0.99842)
    assert "3 independent witnesses if “View a” is not a copy of “View b”." in verdict.explanation


@pytest.mark.parametrize("made", [("view-b", "view-c"), ("view-c", "view-b")], ids=["b-of-c", "c-of-b"])
def test_to_rule_one_pair_of_a_family_a_copy_makes_no_witness_of_the_third(made: tuple[str, str]) -> None:
    """B and C are one for good. A, which may be a copy of B, may go back to C too, whichever of the two came first."""
    copy, original = made

    verdict = judge(
        *three_views(
            a_source(copy, of=[f"print:{original}"]), alike("view-b", "view-c", "copy"), alike("view-a", "view-b")
        )
    )

    assert (verdict.grade, verdict.lines, verdict.lines_if_ruled_out) == (Grade.UNCORROBORATED, 1, 2)
    assert verdict.posterior == near(0.96171)
    assert "2 independent witnesses if “View a” is not a copy of “View b”." in verdict.explanation


def test_three_prints_of_one_lost_negative_are_one_witness_once_all_is_ruled() -> None:
    """Neither of A and B was made from the other, nor of B and C: they go back to a third, and that is the same."""
    verdict = judge(*three_views(alike("view-a", "view-b", "copy"), alike("view-b", "view-c", "copy")))

    assert (verdict.grade, verdict.lines, verdict.lines_if_ruled_out) == (Grade.UNCORROBORATED, 1, None)


def test_a_likely_copy_that_was_withdrawn_goes_on_to_tie_the_two_that_it_is_like() -> None:
    """B was found to be a hoax and counts no more; what A and C have in common with it they have all the same."""
    records = three_views(
        a_source("view-b", withdrawn=a_withdrawal()), alike("view-a", "view-b"), alike("view-b", "view-c")
    )

    verdict = judge(*records)

    assert (verdict.lines, verdict.lines_if_ruled_out) == (1, 2)
    assert weights(verdict.candidates[0]) == {"view-a": 14, "view-b": 0, "view-c": 14}


def test_what_ties_two_sources_is_named_where_the_one_between_them_is_not_cited() -> None:
    """A and C are cited, B is not, and D, which is like C, leads to nothing that is cited."""
    verdict = judge(
        *(a_source(f"view-{each}") for each in "abcd"),
        alike("view-a", "view-b"), alike("view-b", "view-c"), alike("view-c", "view-d"),
        a_claim("acetylene", view("view-a"), view("view-c")),
    )  # fmt: skip

    assert (verdict.lines, verdict.lines_if_ruled_out) == (1, 2)
    assert verdict.explanation.endswith(
        "There would be 2 independent witnesses if “View a” is not a copy of “View b” and “View b” is not a copy of "
        "“View c”."
    )


@pytest.mark.parametrize(
    ("prints", "said"),
    [
        (5, "“Print 1” is not a copy of “Print 3”, and one more pair is no copy."),
        (7, "“Print 1” is not a copy of “Print 3”, and three more pairs are no copies."),
    ],
)
def test_of_many_pairs_three_are_named(prints: int, said: str) -> None:
    """In a tree of prints each is like the one with half its number."""
    views = [a_source(f"print-{number}") for number in range(prints)]
    tree = [alike(f"print-{(number - 1) // 2}", f"print-{number}") for number in range(1, prints)]

    verdict = judge(*views, *tree, a_claim("acetylene", *(view(each.id) for each in views)))

    assert (verdict.lines, verdict.lines_if_ruled_out) == (1, prints)
    assert verdict.explanation.endswith(said)
