"""What a change can reach, held against judging everything before and after."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from builders import (
    a_claim,
    a_component,
    a_decision,
    a_feature,
    a_pair,
    a_source,
    a_withdrawal,
    an_archive,
    an_item,
    an_option,
    common_over,
    seen_on,
)
from hypothesis import given, settings
from hypothesis import strategies as st
from tasks.team import TODAY, a_team_archive

from provenance.records.archive import Archive
from provenance.records.components import OptionSign
from provenance.records.dates import parse_edtf
from provenance.records.decisions import FoundBy, Made, Panel, Statement
from provenance.records.kinds import Expected, Ruling
from provenance.records.sources import Source
from provenance.rules.judging import judge_all
from provenance.rules.verdicts import Verdict
from provenance.store.editing import SetScalar
from provenance.store.record_kinds import RecordKind
from provenance.tasks.changing import RecordEdit
from provenance.tasks.trying import changes_between, features_reached, try_out

FEATURES = ("one/form", "two/form", "two/finish")
NAMES = ("s0", "s1", "s2", "s3", "s4")
KINDS = ("photograph", "drawing", "book", "letter", "notes")
LAMPS = ("acetylene", "electric", "oil")


@st.composite
def sources(draw: st.DrawFn, name: str) -> Source:
    earlier = [each for each in NAMES if each < name]
    of = draw(st.lists(st.sampled_from(earlier), max_size=2, unique=True)) if earlier else []
    how = draw(st.sampled_from(("print", "cites", "redrawn")))
    return a_source(
        name,
        draw(st.sampled_from(KINDS)),
        of=[f"{how}:{parent}" for parent in of],
        created=draw(st.sampled_from((None, "1928", "1933", "1950"))),
        creator=draw(st.sampled_from((None, "A. Fitter"))),
        replaces=draw(st.sampled_from((None, *earlier))),
        reliability=draw(st.sampled_from((None, "A", "D"))),
    )


@st.composite
def archives(draw: st.DrawFn) -> Archive:
    records: list[Any] = [draw(sources(name)) for name in NAMES]
    for number, about in enumerate(draw(st.lists(st.sampled_from(FEATURES), min_size=2, max_size=6))):
        items = [
            an_item(
                draw(st.sampled_from(NAMES)),
                draw(st.sampled_from(("states", "shows"))),
                page=page,
                seen=seen_on("6", "1931") if draw(st.booleans()) else None,
                via=draw(st.sampled_from((None, *NAMES))),
            )
            for page in range(1, draw(st.integers(2, 3)))
        ]
        records.append(a_claim(draw(st.sampled_from(LAMPS)), *items, about=about, claim_id=f"c{number}", to="5..8"))
    common = (common_over("5..9", draw(st.sampled_from(NAMES))),) if draw(st.booleans()) else ()
    records.append(a_component("one", a_feature("form"), common_to=common))
    records.append(a_component("two", a_feature("form"), a_feature("finish")))
    return an_archive(*records)


@st.composite
def archives_with_pairs(draw: st.DrawFn) -> Archive:
    """The same with sources that look like copies of one another, ruled on or not."""
    pairs = {}
    for _ in range(draw(st.integers(1, 4))):
        one, other = draw(st.lists(st.sampled_from(NAMES), min_size=2, max_size=2, unique=True))
        pair = a_pair(one, other, draw(st.sampled_from(("open", "open", "copy", "distinct"))))
        method = draw(st.sampled_from(("picture", "picture", "text")))
        pairs[pair.id] = replace(pair, found_by=FoundBy(method=method))
    return replace(draw(archives()), copies=dict(sorted(pairs.items())))


def standing(verdict: Verdict) -> tuple[object, ...]:
    return verdict.grade, verdict.lines, verdict.posterior, verdict.value


@given(archives() | archives_with_pairs(), st.data())
@settings(max_examples=200)
def test_every_verdict_that_a_change_of_a_source_changes_is_told(before: Archive, data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(NAMES))
    after = replace(before, sources={**before.sources, name: data.draw(sources(name))})

    told = [change.feature for change in changes_between(before, after, [f"sources/{name}.yaml"])]

    old, new = judge_all(before), judge_all(after)
    assert told == [feature for feature in new if standing(old[feature]) != standing(new[feature])]


@given(archives_with_pairs(), st.data())
def test_every_verdict_that_a_ruling_changes_is_told(before: Archive, data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(sorted(before.copies)))
    pair = replace(before.copies[name], ruling=data.draw(st.sampled_from(Ruling)))
    after = replace(before, copies={**before.copies, name: pair})

    told = [change.feature for change in changes_between(before, after, [f"copies/{name}.yaml"])]

    old, new = judge_all(before), judge_all(after)
    assert told == [feature for feature in new if standing(old[feature]) != standing(new[feature])]


@given(archives(), st.data())
def test_every_verdict_that_a_change_of_a_claim_changes_is_told(before: Archive, data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(sorted(before.claims)))
    about, value = data.draw(st.sampled_from(FEATURES)), data.draw(st.sampled_from(LAMPS))
    claim = replace(before.claims[name], about=about, value=value)
    after = replace(before, claims={**before.claims, name: claim})

    told = [change.feature for change in changes_between(before, after, [f"claims/{name}.yaml"])]

    old, new = judge_all(before), judge_all(after)
    assert told == [feature for feature in new if standing(old[feature]) != standing(new[feature])]


def test_the_parent_through_which_an_item_descends_has_a_part_in_its_feature() -> None:
    letters = (a_source("letter", "drawing"), a_source("note", "drawing"))
    items = (an_item("letter", via="ledger"), an_item("note", via="ledger-copy"))
    parents = (a_source("ledger", "report"), a_source("ledger-copy", "report"))
    before = an_archive(a_claim("acetylene", *items), *letters, *parents)
    after = replace(before, sources={**before.sources, "ledger-copy": a_source("ledger-copy", "report", of=["ledger"])})

    (change,) = changes_between(before, after, ["sources/ledger-copy.yaml"])

    # Once the copy goes back to the ledger, both items do.
    assert (change.before.lines, change.after.lines) == (2, 1)


@pytest.mark.parametrize(("changed", "cited"), [("a", "b"), ("b", "a")])
def test_what_a_picture_was_made_from_has_a_part_in_what_may_be_its_copy(changed: str, cited: str) -> None:
    pair = replace(a_pair("a", "b"), found_by=FoundBy(method="picture"))
    claim = a_claim("acetylene", an_item(cited, "shows"), an_item("negative", "shows"))
    before = an_archive(claim, *(a_source(name) for name in ("a", "b", "negative")), pair)
    after = replace(before, sources={**before.sources, changed: a_source(changed, of=["print:negative"])})

    (change,) = changes_between(before, after, [f"sources/{changed}.yaml"])

    assert (change.before.lines, change.after.lines) == (2, 1)


def test_a_source_that_says_what_is_common_to_several_machines_has_a_part_in_all_features_of_the_component() -> None:
    component = a_component("headlamp", a_feature("type"), common_to=(common_over("5..9", "list"),))
    sighting = an_item("photograph", "shows", seen=seen_on("6", "1931"))
    claim = a_claim("acetylene", sighting, an_item("list", page=2), to="9")
    before = an_archive(claim, component, a_source("photograph"), a_source("list", "catalogue"))
    withdrawn = replace(before.sources["list"], withdrawn=a_withdrawal())
    after = replace(before, sources={**before.sources, "list": withdrawn})

    told = {change.feature for change in changes_between(before, after, ["sources/list.yaml"])}

    assert told == {"headlamp/type"}
    assert features_reached(replace(before, claims={}), ["sources/list.yaml"]) == {"headlamp/type"}


def test_a_source_that_says_which_signs_belong_to_an_option_has_a_part_in_the_feature() -> None:
    lamp = replace(an_option("electric"), signs=(OptionSign(sign="conduit", expect=Expected.ALWAYS, source="manual"),))
    archive = an_archive(a_component("headlamp", a_feature("type", options=(lamp,)), a_feature("hood", "presence")))

    assert features_reached(archive, ["sources/manual.yaml"]) == {"headlamp/type"}
    assert features_reached(archive, ["sources/letter.yaml", "leads/tins.yaml"]) == set()


def test_what_hangs_on_a_verdict_is_told_with_it() -> None:
    made = Made(date=parse_edtf("2026-01-20"))
    before = an_archive(
        a_claim("acetylene", "handbook"),
        a_source("handbook", "manual"),
        a_decision("lamp", made=(made,)),
        a_decision("lamp-later"),
    )
    panels = {
        name: Panel(id=name, title=name, by="mh", date=parse_edtf(TODAY), components=components, statements=statements)
        for name, components, statements in (
            ("light", ("headlamp",), ()),
            ("night", (), (Statement(text="Lit by gas.", features=("headlamp/type",)),)),
            ("livery", (), (Statement(text="Painted green."),)),
        )
    }
    before = replace(before, panels=panels)
    after = replace(before, sources={"handbook": a_source("handbook", "notes")})

    (change,) = changes_between(before, after, ["sources/handbook.yaml"])

    assert change.decisions == ("lamp", "lamp-later")
    assert change.made == ("lamp",)
    assert change.panels == ("light", "night")


def test_nothing_is_judged_where_nobody_has_said_what_is_represented() -> None:
    archive = an_archive(a_claim("acetylene", "handbook"), target=None)

    assert changes_between(archive, archive, ["claims/headlamp-type-acetylene.yaml"]) == ()


def test_a_plan_is_tried_on_the_archive_as_it_is(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    step = RecordEdit(kind=RecordKind.CLAIM, id="headlamp-kind-acetylene", changes=(SetScalar(("value",), "electric"),))

    tried = try_out(opened, [step], answer="claim", record="headlamp-kind-acetylene", said=["a sentence"])

    assert (tried.files, tried.said) == (("claims/headlamp-kind-acetylene.yaml",), ("a sentence",))
    assert [(each.before.value, each.after.value) for each in tried.changes] == [("acetylene", "electric")]


@given(archives() | archives_with_pairs(), st.data())
def test_with_verdicts_that_are_known_the_same_is_told(before: Archive, data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(NAMES))
    after = replace(before, sources={**before.sources, name: data.draw(sources(name))})
    files = [f"sources/{name}.yaml"]

    assert changes_between(before, after, files, judge_all(before)) == changes_between(before, after, files)


def test_verdicts_that_are_given_are_not_worked_out_again(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    step = RecordEdit(kind=RecordKind.CLAIM, id="headlamp-kind-acetylene", changes=(SetScalar(("value",), "electric"),))
    known = judge_all(opened.archive)

    tried = try_out(opened, [step], answer="claim", record="headlamp-kind-acetylene", verdicts=known)

    assert [change.before for change in tried.changes] == [known["headlamp/kind"]]
    assert tried.changes[0].before is known["headlamp/kind"]
