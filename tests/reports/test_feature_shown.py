from dataclasses import replace

from builders import a_claim, a_component, a_decision, a_feature, a_source, an_archive, an_item
from reports.answering import the_answer

from provenance.records.archive import Archive
from provenance.records.claims import At
from provenance.reports.dossier import compose_dossier, shown_of
from provenance.reports.feature_shown import FeatureShown, WhatIf, compose_feature_shown
from provenance.rules.judging import judge_feature

TYPE = "headlamp/type"


def shown_feature(archive: Archive, why_not: str = "") -> FeatureShown:
    dossier = compose_dossier(the_answer(archive), archive, {}, {})
    items = [item for each in dossier.features[0].feature.verdict.candidates for item in each.items]
    return compose_feature_shown(archive, dossier, {shown_of(item): why_not for item in items}, (), None)


def test_each_place_is_found_by_its_claim_and_the_number_of_the_item_in_it() -> None:
    places = (At(page=3), At(page=1), At(page=2))
    items = [an_item(f"s{number}", at=at, quote="lamp") for number, at in enumerate(places)]
    archive = an_archive(a_claim("electric", *items, claim_id="gas"))

    that = shown_feature(archive)

    for candidate in that.verdict.candidates:
        for item in candidate.items:
            there = that.picture_of(item)
            assert there is not None
            named = archive.claims[there.claim].evidence[there.number - 1]
            assert (named.source, named.at, named.quote) == (item.source, item.at, item.quote)
    assert that.sources == ("s0", "s1", "s2")


def test_what_the_team_noted_stands_by_what_it_was_noted_on() -> None:
    archive = an_archive(
        a_component("headlamp", a_feature("type", note="ask the museum")),
        a_source("one", title="A photograph"),
        replace(a_claim("electric", an_item("one", note="through the glass")), note="seen twice"),
        a_claim("acetylene", "two"),
        a_decision(build="electric", note="until the survey"),
        a_decision("of-another", about="headlamp/rim", note="of another feature"),
    )

    assert shown_feature(archive).notes == (
        ("the feature", "ask the museum"),
        ("what is claimed, “electric”", "seen twice"),
        ("what “A photograph” says for that", "through the glass"),
        ("the decision to build “electric”", "until the survey"),
    )


def test_a_value_that_only_one_of_two_verdicts_names_stands_beside_nothing() -> None:
    archive = an_archive(a_claim("electric", "one"), a_claim("acetylene", "two"))
    stands = judge_feature(archive, TYPE)
    then = judge_feature(an_archive(a_claim("electric", "one")), TYPE)

    values = {name: (now is not None, after is not None) for name, now, after in _asked(stands, then).values}

    assert values == {"Electric": (True, True), "Acetylene": (True, False)}
    assert [name for name, _, _ in _asked(then, stands).values] == ["Electric", "Acetylene"]
    assert [after for _, _, after in _asked(stands, None).values] == [None, None]


def _asked(stands: object, then: object) -> WhatIf:
    return WhatIf(without=("two",), unknown=(), stands=stands, then=then)  # type: ignore[arg-type]  # fields by name
