import pytest
from builders import (
    FEATURE,
    Record,
    a_claim,
    a_component,
    a_decision,
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
from rules.signed import SEEN, told_by_conduit

from provenance.rules.descent import Lineage
from provenance.rules.feature_flags import feature_flags
from provenance.rules.flag_values import Flag, Level
from provenance.rules.judging import judge_feature
from provenance.rules.open_pairs import OpenPairs


def raised(*records: Record) -> dict[str, Flag]:
    archive = an_archive(*records)
    pairs = OpenPairs(archive, Lineage(archive))
    return {flag.flag: flag for flag in feature_flags(archive, judge_feature(archive, FEATURE), pairs)}


def test_a_feature_without_a_claim_has_no_evidence() -> None:
    flag = raised()["no-evidence"]

    assert (flag.severity, flag.about, flag.claims) == (Level.STOP, FEATURE, ())
    assert flag.sentence == "“Headlamp type” has no claim about it: whatever is built would be conjecture."


def test_a_feature_whose_build_is_declared_conjecture_stops_nobody() -> None:
    declared = raised(a_decision(build="oil", why="Conjecture, after the trade of the time."))["no-evidence"]
    undeclared = raised(a_decision(build="oil", why="It looks right."))["no-evidence"]

    assert (declared.severity, undeclared.severity) == (Level.NOTE, Level.STOP)
    assert declared.sentence.endswith("what is built is declared conjecture.")


def test_a_feature_with_nothing_but_contradictions_has_no_evidence_and_names_what_it_has() -> None:
    flag = raised(a_claim("electric", against("manual")))["no-evidence"]

    assert (flag.claims, flag.sources) == (("headlamp-type-electric",), ("manual",))
    assert "none of their evidence supports a value" in flag.sentence


def test_several_citations_of_one_drawing_are_a_single_source_and_it_is_named() -> None:
    tracing = a_source("tracing", "drawing", of=["redrawn:works-drawing"])

    flags = raised(tracing, a_source("works-drawing", "drawing"), a_claim("acetylene", "works-drawing", "tracing"))

    assert set(flags) == {"single-source"}
    flag = flags["single-source"]
    assert flag.severity is Level.WARN
    assert flag.sentence == ("“Headlamp type”: “Acetylene” rests on “Works drawing” alone, though 2 places are cited.")
    assert (flag.claims, flag.sources) == (("headlamp-type-acetylene",), ("tracing", "works-drawing"))


def test_a_lost_original_is_named_among_the_sources_of_a_single_source() -> None:
    books = [a_source(f"book-{n}", "book", of=["cites:ledger"]) for n in (1, 2)]

    flag = raised(*books, a_source("ledger", "logbook"), a_claim("acetylene", "book-1", "book-2"))["single-source"]

    assert flag.sources == ("book-1", "book-2", "ledger")
    assert "rests on “Ledger” alone" in flag.sentence


def test_two_books_that_do_not_say_where_they_have_it_are_a_single_source() -> None:
    books = [a_source(f"book-{n}", "book") for n in (1, 2)]

    flag = raised(*books, a_claim("acetylene", "book-1", "book-2"))["single-source"]

    assert "rests on the same unnamed origin alone" in flag.sentence
    assert flag.sources == ("book-1", "book-2")


def test_an_open_pair_is_a_single_source_and_says_what_a_ruling_would_change() -> None:
    flag = raised(a_pair("first", "second"), a_claim("acetylene", "first", "second"))["single-source"]

    assert flag.sentence == (
        "“Headlamp type”: “Acetylene” rests on one witness only, since independence cannot be shown (“First” and "
        "“Second” share an original of which both may be copies), though 2 places are cited; 2 independent witnesses "
        "if “First” is not a copy of “Second”."
    )
    assert flag.mend.endswith("rule on the pairs of likely copies")


def test_the_part_itself_alone_is_only_noted() -> None:
    lamp = an_item("lamp", "shows", seen=seen_on("9", "1934"))

    assert raised(a_source("lamp", "artefact"), a_claim("acetylene", lamp))["single-source"].severity is Level.NOTE


def test_two_witnesses_raise_nothing() -> None:
    assert raised(a_claim("acetylene", "works-drawing", "manual")) == {}


CONTEST = (a_claim("acetylene", "works-drawing", claim_id="a"), a_claim("electric", "manual", claim_id="e"))


def test_a_contested_feature_stops_until_it_is_ruled_on() -> None:
    flag = raised(*CONTEST)["contested"]

    assert (flag.severity, flag.claims, flag.sources) == (Level.STOP, ("a", "e"), ("manual", "works-drawing"))
    assert flag.sentence == (
        "“Headlamp type” is contested between “Acetylene” (about 48 chances in 100) and “Electric” (about 48 "
        "chances in 100)."
    )


@pytest.mark.parametrize(
    ("decision", "level"),
    [
        (a_decision(set_aside=[("e", "the manual is of the first batch")]), Level.NOTE),
        (a_decision(set_aside=[("e", " ")]), Level.STOP),
        (a_decision(set_aside=[("a", "not the rival's")]), Level.STOP),
        (a_decision(set_aside=[("e", "a reason")], status="proposed"), Level.STOP),
        (a_decision(set_aside=[("e", "a reason")], withdrawn=a_withdrawal()), Level.STOP),
    ],
)
def test_only_a_decision_in_force_that_says_why_brings_a_contest_down_to_a_note(decision: Record, level: Level) -> None:
    assert raised(*CONTEST, decision)["contested"].severity is level


@pytest.mark.parametrize(
    ("aside", "level"), [((), Level.STOP), ((("bearing", "the tube is that of the brake"),), Level.NOTE)]
)
def test_a_rival_of_which_signs_alone_tell_is_set_aside_with_the_claim_that_bears_them(
    aside: tuple[tuple[str, str], ...], level: Level
) -> None:
    """Acetylene by a drawing, 12 points, and by analogy, 3.5: 35.5 to 1; the conduit shows electric, 19 to 1: .3424."""
    flag = raised(
        a_component("headlamp", told_by_conduit()),
        a_source("photo"),
        a_source("handbook", "manual"),
        a_claim("acetylene", "works-drawing", claim_id="drawn"),
        a_claim(
            "acetylene",
            an_item("photo", "analogy", seen=seen_on("9"), signs=(("conduit", SEEN),)),
            claim_id="bearing",
        ),
        a_decision(set_aside=aside),
    )["contested"]

    assert flag.severity is level
    assert flag.claims == ("bearing", "drawn")


def test_a_contest_with_two_rivals_stops_until_both_are_set_aside() -> None:
    oil = a_claim("oil", "other-drawing", claim_id="o")

    one = raised(*CONTEST, oil, a_decision(set_aside=[("e", "of the first batch")]))["contested"]
    both = raised(*CONTEST, oil, a_decision(set_aside=[("e", "of the first batch"), ("o", "never built")]))["contested"]

    assert (one.severity, both.severity) == (Level.STOP, Level.NOTE)


def test_the_note_names_the_decision() -> None:
    flag = raised(*CONTEST, a_decision(set_aside=[("e", "the manual is of the first batch")]))["contested"]

    assert flag.sentence.endswith("; decision build-the-lamp sets the other claims aside, with its reason.")


def test_photographs_of_other_batches_are_inferred_only_and_of_other_examples_only() -> None:
    views = [an_item(f"view-{n}", "shows", seen=seen_on(n)) for n in ("4", "5")]

    flags = raised(a_source("view-4"), a_source("view-5"), a_claim("acetylene", *views))

    assert set(flags) == {"inferred-only", "other-example-only"}
    assert flags["inferred-only"].sentence.endswith(
        "is inferred only: by comparison with another of the type; nothing speaks directly of this machine or of its "
        "batch."
    )
    assert flags["other-example-only"].sentence == (
        "“Headlamp type”: all that supports “Acetylene” speaks of other machines (another of the type)."
    )


def test_a_sister_of_the_batch_is_another_example_and_not_inferred() -> None:
    views = [an_item(f"view-{n}", "shows", seen=seen_on(n)) for n in ("10", "11")]

    assert set(raised(a_source("view-10"), a_source("view-11"), a_claim("acetylene", *views))) == {"other-example-only"}


def test_what_is_only_implied_of_this_machine_is_inferred_and_not_of_another() -> None:
    items = [an_item("works-drawing", "implies"), an_item("manual", "implies")]

    assert set(raised(a_claim("acetylene", *items))) == {"inferred-only"}


def test_a_machine_told_by_the_sign_of_the_feature_is_a_circular_identification() -> None:
    circular = an_item("view", "shows", seen=seen_on("9", "1934", "likeness", ["conduit-on-cantrail"]))

    flag = raised(a_source("view"), a_claim("acetylene", circular, "works-drawing"))["circular-identification"]

    assert (flag.severity, flag.sources, flag.claims) == (Level.WARN, ("view",), ("headlamp-type-acetylene",))
    assert "“View” was told by a sign of this very feature" in flag.sentence


def test_a_withdrawn_circular_identification_is_no_longer_flagged() -> None:
    circular = an_item("view", "shows", seen=seen_on("9", "1934", "likeness", ["conduit-on-cantrail"]))

    flags = raised(a_source("view", withdrawn=a_withdrawal()), a_claim("acetylene", circular, "works-drawing"))

    assert "circular-identification" not in flags


@pytest.mark.parametrize("aspect", ["dimension", "position"])
def test_a_measure_is_taken_from_somewhere(aspect: str) -> None:
    def flags(datum: str | None, *records: Record) -> dict[str, Flag]:
        return raised(a_component("headlamp", a_feature(kind="text", aspect=aspect, datum=datum)), *records)

    claimed = flags(None, a_claim("40 in", "drawing"))["no-datum"]
    decided = flags(None, a_decision(build="40 in"))["no-datum"]

    assert (claimed.severity, claimed.claims) == (Level.NOTE, ("headlamp-type-40-in",))
    assert claimed.sentence == f"“Headlamp type” is a {aspect}, and it is not said from where it is taken."
    assert decided.severity is Level.WARN
    assert "no-datum" not in flags("top of rail", a_claim("40 in", "drawing"))
    assert "no-datum" not in flags(None)
    assert "no-datum" not in flags(None, a_claim("40 in", "drawing", withdrawn=a_withdrawal()))


def test_a_form_needs_no_datum() -> None:
    assert "no-datum" not in raised(a_claim("acetylene", "drawing"))


def test_what_likely_copies_share_is_named_once_however_much_may_be_behind_them() -> None:
    """Print B was made from a negative; Print A may go back to B, and to that."""
    flag = raised(
        a_source("print-a"),
        a_source("print-b", of=["print:negative"]),
        alike("print-a", "print-b"),
        a_claim("acetylene", *(an_item(f"print-{each}", "shows", seen=seen_on("9", "1934")) for each in ("a", "b"))),
    )["single-source"]

    assert flag.sentence == (
        "“Headlamp type”: “Acetylene” rests on one witness only, since independence cannot be shown (“Print a” and "
        "“Print b” share an original of which both may be copies), though 2 places are cited; 2 independent witnesses "
        "if “Print a” is not a copy of “Print b”."
    )
