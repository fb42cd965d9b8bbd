"""Values chosen for one machine that, by what is stated, never went together."""

from collections.abc import Iterable

from builders import (
    Record,
    a_claim,
    a_component,
    a_decision,
    a_feature,
    a_source,
    an_archive,
    an_item,
    applies,
    seen_on,
)

from provenance.records.components import Component
from provenance.records.kinds import Changes
from provenance.rules.coexistence_flags import coexistence_flags
from provenance.rules.flag_values import Flag, Level
from provenance.rules.judging import judge_all
from provenance.rules.verdicts import Verdict

LAMP, SEAT, DOOR = "lamp/kind", "seat/kind", "door/kind"


def parts(**fields: Changes) -> tuple[Component, ...]:
    return tuple(
        a_component(name, a_feature("kind", kind="text", name=name.capitalize(), **fields))
        for name in ("door", "lamp", "seat")
    )


def raised(*records: Record, changes: str = "in-service") -> dict[str, Flag]:
    archive = an_archive(*parts(changes=Changes(changes)), *records)
    verdicts = judge_all(archive).values()
    return {flag.about: flag for flag in coexistence_flags(archive, verdicts, lambda: verdicts)}


def stated(value: str, about: str, examples: str | list[str] = "all", **period: str) -> Record:
    return a_claim(value, f"manual-of-{value}", about=about, to=applies(examples, **period))


def test_values_of_other_machines_never_went_together() -> None:
    """The lamp is stated for No. 9, the seat for Nos. 1 to 4: no machine had both, and the seat is the odd one."""
    flags = raised(stated("electric", LAMP, "9"), stated("slatted", SEAT, "1..4"))

    assert set(flags) == {SEAT}
    flag = flags[SEAT]
    assert (flag.flag, flag.severity) == ("never-coexisted", Level.WARN)
    assert flag.sentence == (
        "“Seat”: by what is stated, “slatted” never went with “electric” for lamp/kind on one machine at one time."
    )
    assert flag.claims == ("lamp-kind-electric", "seat-kind-slatted")
    assert flag.sources == ("manual-of-electric", "manual-of-slatted")


def test_values_that_share_a_machine_and_a_day_may_have_gone_together() -> None:
    assert raised(stated("electric", LAMP, "4..9"), stated("slatted", SEAT, "1..4")) == {}


def test_of_one_machine_the_years_tell_them_apart() -> None:
    """A decision builds what had ended in 1931 beside what came in 1932: both of No. 9, never together."""
    lamp, seat = stated("electric", LAMP, "9", since="1932"), stated("slatted", SEAT, "9", until="1931")
    old = a_decision("old-seat", SEAT, build="slatted")

    flags = raised(lamp, seat, old)

    assert (set(flags), flags[SEAT].severity) == ({SEAT}, Level.STOP)
    assert raised(lamp, stated("slatted", SEAT, "9", until="1932"), old) == {}


def test_a_replaced_drawing_ends_with_the_issue_that_replaced_it() -> None:
    issues = (
        a_source("issue-a", "drawing", created="1927"),
        a_source("issue-b", "drawing", created="1930", replaces="issue-a"),
    )
    seat, old = a_claim("slatted", "issue-a", about=SEAT), a_decision("old-seat", SEAT, build="slatted")

    assert set(raised(*issues, stated("electric", LAMP, since="1932"), seat, old)) == {SEAT}
    assert raised(*issues, stated("electric", LAMP, since="1929"), seat, old) == {}


def test_a_sighting_sets_no_limit() -> None:
    seen = a_claim("slatted", an_item("view", "shows", seen=seen_on("2")), about=SEAT)

    assert raised(stated("electric", LAMP, "9"), a_source("view"), seen) == {}


def test_where_neither_is_stated_for_the_machine_both_are_told() -> None:
    flags = raised(stated("electric", LAMP, "5..8"), stated("slatted", SEAT, "1..4"))

    assert set(flags) == {LAMP, SEAT}


def test_what_a_machine_was_built_with_it_kept_so_years_only_say_which_machines() -> None:
    """Lamps of all machines built from 1933 on are Nos. 9 to 11; seats of those built up to 1930 are Nos. 1 to 8.

    Of one machine, built in 1933, a value stated until 1933 and one stated from 1933 on were both built in.
    """
    old = a_decision("old-seat", SEAT, build="slatted")

    lamp = stated("electric", LAMP, since="1933")
    assert set(raised(lamp, stated("slatted", SEAT, until="1930"), old, changes="at-build")) == {SEAT}
    assert raised(lamp, stated("slatted", SEAT, until="1933"), old, changes="at-build") == {}


def test_of_many_that_it_never_went_with_the_first_three_are_named() -> None:
    others = [a_component(f"part-{n}", a_feature("kind", kind="text", changes="in-service")) for n in range(5)]
    claims = [stated(f"fit-{n}", f"part-{n}/kind", "9") for n in range(5)]

    sentence = raised(*others, *claims, stated("slatted", SEAT, "1..4"))[SEAT].sentence

    assert sentence == (
        "“Seat”: by what is stated, “slatted” never went with “fit-0” for part-0/kind, “fit-1” for part-1/kind and "
        "“fit-2” for part-2/kind on one machine at one time, nor with 2 values more."
    )


def test_the_verdicts_on_all_features_are_asked_for_only_where_it_matters() -> None:
    archive = an_archive(*parts(), stated("electric", LAMP, "9"))

    def everything() -> Iterable[Verdict]:
        raise AssertionError("nothing is odd, so nobody need be asked")

    assert list(coexistence_flags(archive, judge_all(archive).values(), everything)) == []


def test_a_build_without_claims_sets_no_limit_and_an_item_may_cover_less_than_its_claim() -> None:
    book = a_claim("slatted", an_item("old-book", applies_to=applies("1..4")), about=SEAT)

    assert raised(stated("electric", LAMP, "9"), a_decision("seat", SEAT, build="moulded")) == {}
    assert set(raised(stated("electric", LAMP, "9"), book)) == {SEAT}


def test_two_values_of_the_same_machines_are_told_each_by_itself() -> None:
    flags = raised(stated("electric", LAMP, "9"), stated("slatted", SEAT, "1..4"), stated("sliding", DOOR, "1..4"))

    assert set(flags) == {SEAT, DOOR}
    assert flags[DOOR].claims == ("door-kind-sliding", "lamp-kind-electric")


def test_several_statements_about_one_machine_count_from_the_first_day_to_the_last() -> None:
    """Seats of No. 9 up to 1930 and from 1936 on: with a lamp of 1932 and 1933 that may have gone together."""
    seats = [stated("slatted", SEAT, "9", until="1930"), stated("Slatted", SEAT, "9", since="1936")]
    lamp = stated("electric", LAMP, "9", since="1932", until="1933")

    assert raised(lamp, *seats, a_decision("seat", SEAT, build="slatted")) == {}


def test_of_statements_that_begin_and_end_the_first_day_and_the_last_count() -> None:
    spans = [
        stated("slatted", SEAT, "9", since="1928", until="1929"),
        stated("Slatted", SEAT, "9", since="1930", until="1931"),
    ]
    old = a_decision("seat", SEAT, build="slatted")

    assert set(raised(stated("electric", LAMP, "9", since="1932"), *spans, old)) == {SEAT}
    assert raised(stated("electric", LAMP, "9", until="1934"), *spans, old) == {}


def test_what_no_machine_was_built_with_in_the_years_stated_sets_no_limit() -> None:
    late = stated("slatted", SEAT, "1..4", since="1940")

    assert raised(stated("electric", LAMP, "9"), late, a_decision("s", SEAT, build="slatted"), changes="at-build") == {}


def test_while_nothing_is_represented_nothing_is_odd() -> None:
    archive = an_archive(*parts(), stated("slatted", SEAT, "1..4"), a_decision("s", SEAT, build="slatted"), target=None)
    verdicts = judge_all(archive).values()

    assert list(coexistence_flags(archive, verdicts, lambda: verdicts)) == []
