"""Verdicts that are taken over, held against judging everything anew; the whole of each, with every word of it."""

from dataclasses import replace
from typing import Any

import pytest
from builders import a_claim, a_component, a_decision, a_feature, a_pair, a_source, an_archive, an_item
from hypothesis import given, settings
from hypothesis import strategies as st
from tasks.test_trying import FEATURES, LAMPS, NAMES, archives, archives_with_pairs, sources

from provenance.records.archive import Archive
from provenance.records.decisions import CopyPair, FoundBy, Lead
from provenance.records.kinds import Ruling
from provenance.rules.judging import judge_all
from provenance.tasks.judging_again import Judged, judge_again


@st.composite
def claims(draw: st.DrawFn, name: str) -> Any:
    item = an_item(draw(st.sampled_from(NAMES)), "states", via=draw(st.sampled_from((None, *NAMES))))
    about, value = draw(st.sampled_from(FEATURES)), draw(st.sampled_from(LAMPS))
    return a_claim(value, item, about=about, claim_id=name, to="5..8")


@st.composite
def edited(draw: st.DrawFn, before: Archive) -> Archive:
    """The archive after somebody changed, added or took away a few of its records."""
    after = before
    for _ in range(draw(st.integers(1, 3))):
        edit = draw(st.sampled_from((_source, _claim, _pair, _decision)))
        after = edit(draw, after)
    return after


def _source(draw: st.DrawFn, archive: Archive) -> Archive:
    name = draw(st.sampled_from(NAMES))
    other = replace(draw(sources(name)), title=draw(st.sampled_from(("A print", "A letter"))))
    return replace(archive, sources={**archive.sources, name: other})


def _claim(draw: st.DrawFn, archive: Archive) -> Archive:
    name = draw(st.sampled_from(("c0", "c1", "new")))
    kept = {each: claim for each, claim in archive.claims.items() if each != name}
    return replace(archive, claims=kept if draw(st.booleans()) else {**kept, name: draw(claims(name))})


def _pair(draw: st.DrawFn, archive: Archive) -> Archive:
    one, other = draw(st.lists(st.sampled_from(NAMES), min_size=2, max_size=2, unique=True))
    method = draw(st.sampled_from(("picture", "text")))
    ruling = draw(st.sampled_from([str(each) for each in Ruling]))
    pair = replace(a_pair(one, other, ruling), found_by=FoundBy(method=method))
    kept = {each: there for each, there in archive.copies.items() if each != pair.id}
    return replace(archive, copies=dict(sorted((kept if draw(st.booleans()) else {**kept, pair.id: pair}).items())))


def _decision(draw: st.DrawFn, archive: Archive) -> Archive:
    decision = replace(a_decision("lamp"), about=draw(st.sampled_from(FEATURES)), build=draw(st.sampled_from(LAMPS)))
    return replace(archive, decisions={} if draw(st.booleans()) else {"lamp": decision})


@given(archives() | archives_with_pairs(), st.data())
@settings(max_examples=300)
def test_what_is_taken_over_is_what_would_be_judged(before: Archive, data: st.DataObject) -> None:
    after = data.draw(edited(before))

    again = judge_again(after, Judged(before, judge_all(before)))

    assert again == judge_all(after)
    assert list(again) == list(after.features)


def a_small_archive() -> Archive:
    return an_archive(
        a_component("one", a_feature("form")),
        a_component("two", a_feature("form")),
        a_source("s0", "book"),
        a_source("s1", "book"),
        a_claim("oil", "s0", about="one/form", claim_id="c0"),
        a_claim("oil", "s1", about="two/form", claim_id="c1"),
    )


def of_pictures(one: str, other: str) -> CopyPair:
    return replace(a_pair(one, other), found_by=FoundBy(method="picture"))


@pytest.mark.parametrize(
    ("before", "after"), [(["print:negative"], []), ([], ["print:negative"])], ids=["no longer", "only now"]
)
@pytest.mark.parametrize("cited", ["negative", "postcard"])
def test_what_looks_like_a_copy_reaches_what_it_was_made_from_and_what_is_like_it(
    before: list[str], after: list[str], cited: str
) -> None:
    """The view may be the postcard, and is said, then or now, to be a print of the negative."""
    claim = a_claim("oil", an_item(cited, "shows"), about="one/form", claim_id="c0")
    rest = (claim, a_component("one", a_feature("form")), of_pictures("postcard", "view"))
    names = (a_source("negative"), a_source("postcard"))
    was, now = (an_archive(*rest, *names, a_source("view", of=of)) for of in (before, after))

    again = judge_again(now, Judged(was, judge_all(was)))

    assert again == judge_all(now)
    assert again != judge_all(was)


def test_what_no_change_reaches_is_not_judged_again() -> None:
    before = a_small_archive()
    verdicts = judge_all(before)
    after = replace(before, claims={**before.claims, "c0": replace(before.claims["c0"], value="gas")})

    again = judge_again(after, Judged(before, verdicts))

    assert again["two/form"] is verdicts["two/form"]
    assert again["one/form"].value == "gas"


def test_of_the_very_same_archive_nothing_is_judged_again() -> None:
    before = a_small_archive()
    verdicts = judge_all(before)

    assert judge_again(before, Judged(before, verdicts)) is verdicts


def test_a_lead_has_no_part_in_any_verdict() -> None:
    before = a_small_archive()
    verdicts = judge_all(before)
    lead = Lead(id="tins", what="tins of photographs", by="mh", date=before.claims["c0"].date)

    again = judge_again(replace(before, leads={"tins": lead}), Judged(before, verdicts))

    assert all(again[feature] is verdicts[feature] for feature in verdicts)


@pytest.mark.parametrize(
    "changes",
    [
        {"title": "Another"},
        {"events": ()},
        {"components": {**a_small_archive().components, "one": a_component("one", a_feature("form", "text"))}},
    ],
    ids=["archive.yaml says something else", "it says the same", "a component says something else"],
)
def test_where_the_archives_own_record_or_a_component_changed_everything_is_judged(changes: dict[str, Any]) -> None:
    before = a_small_archive()
    verdicts = judge_all(before)
    after = replace(before, **changes)

    again = judge_again(after, Judged(before, verdicts))

    assert again == judge_all(after)
    assert (again["two/form"] is verdicts["two/form"]) == (after == before)


def test_what_was_never_judged_is_judged() -> None:
    archive = a_small_archive()

    assert judge_again(archive) == judge_all(archive)
