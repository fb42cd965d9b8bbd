"""How an archive stands at a glance, counted by hand."""

from dataclasses import replace

from builders import (
    BY,
    FEATURE,
    TODAY,
    a_claim,
    a_component,
    a_feature,
    a_pair,
    a_source,
    a_withdrawal,
    an_archive,
    an_item,
    seen_on,
)

from provenance.records.archive import Archive
from provenance.records.decisions import Query
from provenance.reports.flagged import Flagged
from provenance.reports.overview import Overview, compose_overview
from provenance.reports.standing import Standing
from provenance.rules.flag_values import Flag, Level
from provenance.rules.grades import Grade
from provenance.rules.judging import judge_all

STANDING = Standing(archive="Railcar No. 9")


def a_flag(level: Level) -> Flag:
    return Flag(flag="no-evidence", severity=level, about=FEATURE, sentence="None.", mend="look")


def overview(archive: Archive, *levels: Level) -> Overview:
    flagged = Flagged(standing=STANDING, flags=tuple(map(a_flag, levels)), features=1)
    return compose_overview(archive, STANDING, judge_all(archive), flagged)


def test_features_are_counted_by_grade_the_surest_first() -> None:
    archive = an_archive(
        a_component("headlamp", a_feature("type"), a_feature("rim"), a_feature("lens")),
        a_source("letter", "letter"),
        a_source("lamp", "artefact"),
        a_claim("oil", "letter", about="headlamp/type"),
        a_claim("oil", an_item("lamp", "shows", seen=seen_on("9")), about="headlamp/rim"),
    )

    told = overview(archive)

    # the lamp of No. 9 itself, known by its number, is enough by itself; a letter is one witness; nothing is nothing
    assert told.grades == ((Grade.ESTABLISHED, 1), (Grade.UNCORROBORATED, 1), (Grade.UNSUPPORTED, 1))
    assert (told.features, told.thin) == (3, 2)


def test_what_is_needed_soonest_comes_first_then_what_is_most_prominent() -> None:
    archive = an_archive(
        a_component("a", needed_by="2028"),
        a_component("b", needed_by="2027-06", prominence="hidden"),
        a_component("c", needed_by="2027-06", prominence="focal"),
        a_component("d"),
        a_component("e", needed_by="../2026"),
    )

    assert [each.verdict.component for each in overview(archive).needed] == ["e", "c", "b", "a"]


def test_what_is_well_known_is_not_named_among_what_is_needed() -> None:
    archive = an_archive(
        a_component(needed_by="2027"),
        a_source("lamp", "artefact"),
        a_claim("oil", an_item("lamp", "shows", seen=seen_on("9"))),
    )

    told = overview(archive)

    assert told.grades == ((Grade.ESTABLISHED, 1),)
    assert told.needed == ()


def test_finds_are_what_nobody_has_looked_at_but_for_what_was_withdrawn() -> None:
    archive = an_archive(
        a_source("z", None), a_source("b", None), a_source("c"), a_source("d", None, withdrawn=a_withdrawal())
    )

    assert [each.id for each in overview(archive).finds] == ["b", "z"]


def test_open_queries_and_open_pairs_are_counted_and_settled_ones_are_not() -> None:
    archive = an_archive(*(a_source(each) for each in "abc"), a_pair("a", "b"), a_pair("b", "c", "copy"))
    queries = {
        each: Query(id=each, about=FEATURE, by=BY, date=TODAY, grounds="It looks odd.", open=each != "settled")
        for each in ("settled", "later", "first")
    }

    told = overview(replace(archive, queries=queries))

    assert [each.id for each in told.queries] == ["first", "later"]
    assert told.open_pairs == 1


def test_flags_are_counted_by_level_the_most_pressing_first() -> None:
    told = overview(an_archive(), Level.NOTE, Level.STOP, Level.NOTE)

    assert told.flags == ((Level.STOP, 1), (Level.NOTE, 2))
    assert overview(an_archive()).flags == ()


def test_without_judgement_features_are_counted_and_nothing_is_graded_or_flagged() -> None:
    told = compose_overview(an_archive(a_component(needed_by="2027")), STANDING, {}, None)

    assert (told.features, told.thin, told.grades, told.needed, told.flags) == (1, 0, (), (), None)
    assert not told.is_empty


def test_an_archive_in_which_nothing_is_entered_is_empty() -> None:
    assert overview(replace(an_archive(), components={})).is_empty
