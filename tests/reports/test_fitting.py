from dataclasses import replace

from builders import a_claim, a_component, a_date, a_feature, a_source, an_archive, common_over

from provenance.records.archive import Archive
from provenance.records.decisions import Query
from provenance.reports.fitting import Fitting, compose_fitting
from provenance.reports.standing import Standing
from provenance.rules.flag_values import Flag, Level
from provenance.rules.grades import Grade
from provenance.rules.judging import judge_all


def fitting_of(archive: Archive, component: str, raised: tuple[Flag, ...] = ()) -> Fitting:
    return compose_fitting(archive, Standing(archive="a"), component, judge_all(archive), raised)


def a_flag(about: str, flag: str = "single-source", **fields: object) -> Flag:
    return Flag(flag=flag, severity=Level.WARN, about=about, sentence="One.", mend="look", **fields)  # type: ignore[arg-type]  # fields by name


def a_query(query_id: str, about: str, *, is_open: bool = True) -> Query:
    return Query(id=query_id, about=about, by="mh", date=a_date("2025"), grounds="It looks odd.", open=is_open)


def a_body() -> Archive:
    archive = an_archive(
        a_component("car", a_feature("width", "text")),
        a_component("body", a_feature("height", "text"), part_of="car", common_to=(common_over("5..11", "list"),)),
        a_component("lamp", a_feature("rim", "text"), a_feature("glass", "text"), part_of="body", hazards=("lead",)),
        a_component("bulb", a_feature("glow", "text"), part_of="lamp"),
        a_source("list", "manual", title="List of parts"),
        a_source("tape", "report", hazards=("nitrate-film",)),
        a_claim("broad", "tape", about="lamp/rim"),
    )
    queries = (a_query("one", "lamp/rim"), a_query("two", "lamp/rim", is_open=False), a_query("three", "bulb/glow"))
    return replace(archive, queries={each.id: each for each in queries})


def test_the_way_up_and_everything_below_are_told_with_the_grades_below() -> None:
    fitting = fitting_of(a_body(), "body")

    assert [part.id for part in fitting.above] == ["car"]
    below = [(each.component.id, each.depth, dict(each.grades)) for each in fitting.below]
    assert below == [
        ("lamp", 1, {Grade.UNCORROBORATED: 1, Grade.UNSUPPORTED: 1}),
        ("bulb", 2, {Grade.UNSUPPORTED: 1}),
    ]
    assert fitting.common_to == (("5..11", "list", "List of parts"),)


def test_cautions_are_of_the_part_and_of_the_sources_that_its_evidence_names() -> None:
    fitting = fitting_of(a_body(), "lamp")

    assert {each.hazard for each in fitting.cautions} == {"lead", "nitrate-film"}
    assert fitting_of(a_body(), "bulb").cautions == ()


def test_flags_and_open_queries_are_those_of_the_part_and_its_features_alone() -> None:
    raised = (
        a_flag("lamp/rim"),
        a_flag("bulb/glow"),
        a_flag("lamp", "hazard-no-caution"),
        a_flag("lamp", "untagged-find", sources=("lamp",)),  # a source may have the same id
    )

    fitting = fitting_of(a_body(), "lamp", raised)

    assert fitting.flags == (raised[0], raised[2])
    assert [query.id for query in fitting.queries] == ["one"]
