"""Judged on its part alone, every feature has the verdict that it has in the whole archive."""

import pytest
from builders import (
    FEATURE,
    a_claim,
    a_component,
    a_feature,
    a_pair,
    a_source,
    an_archive,
    an_item,
    an_option,
    common_over,
    seen_on,
)
from checkout import ROOT
from picture_pairs import alike

from provenance.records.archive import Archive
from provenance.rules.judged_part import judged_part
from provenance.rules.judging import judge_all, judge_feature
from provenance.tasks.opening import open_folder


@pytest.fixture(scope="module")
def sample() -> Archive:
    return open_folder(ROOT / "sample_archive" / "archive").archive


def test_every_feature_of_the_sample_is_judged_the_same_alone(sample: Archive) -> None:
    whole = judge_all(sample)

    assert len(whole) > 30
    for about, verdict in whole.items():
        assert judge_feature(judged_part(sample, about), about) == verdict


def test_later_issues_parents_and_pairs_come_along_and_what_is_foreign_stays_away() -> None:
    lamp = a_component(
        "headlamp", a_feature(options=(an_option("acetylene"),)), common_to=(common_over("5..11", "list"),)
    )
    archive = an_archive(
        lamp,
        a_component("door", a_feature("width")),
        a_source("issue-a", "drawing", created="1930"),
        a_source("issue-b", "drawing", created="1931", replaces="issue-a"),
        a_source("issue-c", "drawing", created="1932", replaces="issue-b"),
        a_source("tracing", "drawing", of=["redrawn:issue-a"]),
        a_source("list", "catalogue", of=["cites:register"]),
        a_source("register", "logbook"),
        a_source("postcard"),
        a_source("view"),
        a_pair("postcard", "view"),
        a_pair("postcard", "register"),
        a_pair("postcard", "plan-of-the-door"),
        a_claim("acetylene", "tracing", an_item("view", "shows", seen=seen_on("6"))),
        a_claim("wide", "plan-of-the-door", about="door/width"),
    )

    part = judged_part(archive, FEATURE)

    # The postcard is named in the pairs, so its title comes along.
    assert sorted(part.sources) == ["issue-a", "issue-b", "issue-c", "list", "postcard", "register", "tracing", "view"]
    assert (list(part.claims), list(part.components), list(part.copies)) == (
        ["headlamp-type-acetylene"],
        ["headlamp"],
        ["postcard--view", "postcard--register"],
    )
    assert judge_feature(part, FEATURE) == judge_feature(archive, FEATURE)


def test_a_whole_family_of_likely_copies_comes_along_with_what_stands_behind_it() -> None:
    """View is like Print, and Print like Postcard, which was made from a negative; what is like that comes too."""
    archive = an_archive(
        *(a_source(each) for each in ("view", "print", "negative", "glass-plate", "other", "ruled-out")),
        a_source("postcard", of=["print:negative"]),
        a_pair("negative", "glass-plate", "copy"),
        alike("view", "print"),
        alike("postcard", "print"),
        alike("postcard", "ruled-out", "distinct"),
        alike("other", "ruled-out"),
        a_claim("acetylene", an_item("view", "shows", seen=seen_on("9")), about="headlamp/type"),
        a_claim("oil", an_item("glass-plate", "shows", seen=seen_on("9")), about="lamp/type"),
        a_component("headlamp"),
        a_component("lamp", a_feature("type")),
    )

    for about in ("headlamp/type", "lamp/type"):
        part = judged_part(archive, about)
        assert {"view", "print", "postcard"} < set(part.sources)
        assert "other" not in part.sources
        assert judge_feature(part, about) == judge_feature(archive, about)


def test_a_parent_that_only_an_item_names_comes_along() -> None:
    claim = a_claim("acetylene", an_item("book", via="ledger"))
    archive = an_archive(a_source("book", "book", of=["cites:ledger"]), a_source("ledger", "logbook"), claim)

    assert sorted(judged_part(archive, FEATURE).sources) == ["book", "ledger"]
