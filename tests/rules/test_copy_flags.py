"""A pair of likely copies that waits for a ruling is flagged, and what hangs on it is said."""

from dataclasses import replace

from builders import (
    FEATURE,
    Record,
    a_claim,
    a_component,
    a_date,
    a_feature,
    a_pair,
    a_source,
    a_withdrawal,
    against,
    an_archive,
    an_item,
    seen_on,
)
from picture_pairs import alike

from provenance.records.claims import EvidenceItem
from provenance.rules.copy_flags import copy_flags
from provenance.rules.descent import Lineage
from provenance.rules.flag_values import Flag, Level
from provenance.rules.judging import judge_all
from provenance.rules.open_pairs import OpenPairs


def raised(*records: Record) -> list[Flag]:
    archive = an_archive(*records)
    return list(copy_flags(archive, judge_all(archive).values(), OpenPairs(archive, Lineage(archive))))


def sighting(source: str) -> EvidenceItem:
    return an_item(source, "shows", seen=seen_on("9", "1934"))


PRINTS: tuple[Record, ...] = (a_source("print-a"), a_source("print-b"))
CLAIM = a_claim("acetylene", sighting("print-a"), sighting("print-b"))


def test_an_open_pair_warns_where_a_verdict_hangs_on_it() -> None:
    (flag,) = raised(*PRINTS, CLAIM, replace(alike("print-a", "print-b"), why="The same crease\nat the top."))

    assert (flag.flag, flag.severity, flag.about, flag.about_kind) == (
        "suspected-copy",
        Level.WARN,
        "print-b",
        "sources",
    )
    assert (flag.claims, flag.sources) == ((CLAIM.id,), ("print-a", "print-b"))
    assert flag.sentence == (
        "“Print b” may be a copy of “Print a”, or both of one original: The same crease at the top. Until somebody "
        "rules on it they count as one witness; if they are no copies, what is said of “Headlamp type” "
        "(headlamp/type) changes."
    )


def test_the_mend_names_the_command_for_either_ruling() -> None:
    (flag,) = raised(*PRINTS, a_pair("print-a", "print-b"))

    assert '`provenance copies confirm print-a print-b --how print --why "…"`' in flag.mend
    assert '`provenance copies rule-out print-a print-b --why "…"`' in flag.mend


def test_an_open_pair_is_noted_where_nothing_hangs_on_it() -> None:
    """Two prints that are known to be of one negative: ruled or not, one witness."""
    prints = [a_source(each, of=["print:negative"]) for each in ("print-a", "print-b")]

    nothing_hangs: list[tuple[Record, ...]] = [
        PRINTS,
        (*prints, CLAIM),
        (*PRINTS, a_claim("acetylene", sighting("print-a"))),
    ]
    for records in nothing_hangs:
        (flag,) = raised(*records, a_pair("print-a", "print-b"))

        assert (flag.severity, flag.claims) == (Level.NOTE, ())
        assert flag.sentence.endswith("or both of one original. No verdict hangs on it alone.")


def test_a_pair_that_was_ruled_on_is_not_flagged() -> None:
    assert raised(*PRINTS, CLAIM, a_pair("print-a", "print-b", "copy")) == []
    assert raised(*PRINTS, CLAIM, a_pair("print-a", "print-b", "distinct")) == []


def test_it_is_about_the_source_that_was_entered_later() -> None:
    earlier, later = (
        replace(a_source(f"print-{each}"), date=a_date(day)) for each, day in (("b", "2019"), ("a", "2021"))
    )

    (flag,) = raised(earlier, later, a_pair("print-a", "print-b"))

    assert flag.about == "print-a"
    assert flag.sentence.startswith("“Print a” may be a copy of “Print b”")


def test_how_many_features_hang_on_it_is_counted_and_the_first_is_named() -> None:
    parts = [a_feature(each, name=each.capitalize()) for each in ("rim", "lens", "hood")]
    claims = [
        a_claim("acetylene", sighting("print-a"), sighting("print-b"), about=f"headlamp/{part.id}") for part in parts
    ]

    (two,) = raised(*PRINTS, a_component("headlamp", *parts[:2]), *claims[:2], a_pair("print-a", "print-b"))
    (three,) = raised(*PRINTS, a_component("headlamp", *parts), *claims, a_pair("print-a", "print-b"))

    assert "what is said of “Rim” (headlamp/rim) and of 1 other feature changes." in two.sentence
    assert "what is said of “Rim” (headlamp/rim) and of 2 other features changes." in three.sentence
    assert three.claims == ("headlamp-hood-acetylene", "headlamp-lens-acetylene", "headlamp-rim-acetylene")


def test_a_family_is_flagged_pair_by_pair_and_says_where_two_rulings_are_needed() -> None:
    """A, B and C in a ring: no one pair parts them. In a row, each does, though B is not cited."""
    views = [a_source(f"print-{each}") for each in "abc"]
    row = [alike("print-a", "print-b"), alike("print-b", "print-c")]
    claim = a_claim("acetylene", sighting("print-a"), sighting("print-c"))

    in_a_row = raised(*views, claim, *row)
    in_a_ring = raised(*views, claim, *row, alike("print-a", "print-c"))

    assert [(flag.about, flag.severity) for flag in in_a_row] == [("print-b", Level.WARN), ("print-c", Level.WARN)]
    assert [flag.severity for flag in in_a_ring] == [Level.NOTE] * 3


def test_a_pair_between_two_that_are_not_cited_bears_on_all_that_stands_on_either_side() -> None:
    views = [a_source(f"print-{each}") for each in "abcd"]
    row = [alike("print-a", "print-b"), alike("print-b", "print-c"), alike("print-c", "print-d")]
    one, other = (
        a_claim("acetylene", sighting(f"print-{each}"), claim_id=claim)
        for each, claim in (("a", "one"), ("d", "other"))
    )

    first, middle, last = raised(*views, one, other, *row)

    assert (first.claims, middle.claims, last.claims) == (("one",), ("one", "other"), ("other",))


def test_what_speaks_against_a_value_hangs_on_a_pair_too() -> None:
    """Two photographs deny it: once or twice is another chance."""
    denying = [against(each, "shows", seen=seen_on("9", "1934")) for each in ("print-a", "print-b")]

    (flag,) = raised(
        *PRINTS, a_claim("acetylene", "letter", *denying), a_source("letter", "letter"), a_pair("print-a", "print-b")
    )

    assert (flag.severity, flag.claims) == (Level.WARN, ("headlamp-type-acetylene",))


def test_of_a_withdrawn_source_only_what_still_ties_others_is_flagged() -> None:
    gone = a_source("print-b", withdrawn=a_withdrawal())
    views = [a_source("print-a"), gone, a_source("print-c")]
    row = [alike("print-a", "print-b"), alike("print-b", "print-c")]

    assert raised(*views, CLAIM, row[0]) == []
    ties = raised(*views, a_claim("acetylene", sighting("print-a"), sighting("print-c")), *row)
    assert [flag.severity for flag in ties] == [Level.WARN, Level.WARN]


def test_a_pair_that_names_a_source_that_is_not_there_is_left_to_the_check() -> None:
    assert raised(a_source("print-a"), a_pair("print-a", "print-z")) == []


def test_a_family_that_goes_back_to_more_is_tried_pair_by_pair() -> None:
    """B was printed from N, which is cited beside A: ruled no copy of B, A is a second witness."""
    records = [a_source("print-a"), a_source("print-b", of=["print:view-n"]), a_source("view-n")]

    (flag,) = raised(
        *records, a_claim("acetylene", sighting("print-a"), sighting("view-n")), alike("print-a", "print-b")
    )

    assert (flag.severity, flag.about) == (Level.WARN, "print-b")
    assert flag.claims == (f"{FEATURE.replace('/', '-')}-acetylene",)
