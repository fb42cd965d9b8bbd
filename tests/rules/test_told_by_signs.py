"""What the signs in a picture add to a verdict: one more item beside the one that bears them."""

from dataclasses import replace
from random import Random
from typing import Any

import pytest
from builders import (
    FEATURE,
    a_claim,
    a_component,
    a_pair,
    a_source,
    a_withdrawal,
    against,
    an_archive,
    an_item,
    seen_on,
)
from hypothesis import given, settings
from hypothesis import strategies as st
from public_archives import DAY
from rules.signed import NOT_SEEN, OUT_OF_VIEW, SEEN, a_choice, option_showing, told_by_conduit

from provenance.records.archive import Archive
from provenance.records.claims import EvidenceItem
from provenance.records.components import Feature
from provenance.records.decisions import CopyPair
from provenance.records.kinds import Access, How, Legibility, SignSeen
from provenance.records.sources import Source
from provenance.rules.grades import Category, Grade
from provenance.rules.judging import judge_feature
from provenance.rules.public_view import public_view
from provenance.rules.verdicts import Candidate, JudgedItem, Verdict

HANDBOOK = a_source("handbook", "manual")
WHOLE = 12.787536  # 10 log10 19, one decisive sign between two options


def judge(
    feature: Feature, *items: EvidenceItem, records: tuple[Source | CopyPair, ...] = (), value: str = "acetylene"
) -> Verdict:
    """The verdict where these items stand in one claim; `view` is a photograph, `handbook` a manual."""
    return judge_feature(the_archive(feature, *items, records=records, value=value), FEATURE)


def the_archive(
    feature: Feature, *items: EvidenceItem, records: tuple[Source | CopyPair, ...] = (), value: str = "acetylene"
) -> Archive:
    sources = (HANDBOOK, a_source("view"), *records)
    return an_archive(a_component("headlamp", feature), a_claim(value, *items, claim_id="c"), *sources)


def bearing(
    source: str = "view", how: str = "implies", signs: dict[str, SignSeen] | None = None, **fields: Any
) -> EvidenceItem:
    """An item of No. 9 by its number that bears signs: the conduit is seen, unless said otherwise."""
    fields.setdefault("seen", seen_on("9", "1934"))
    return an_item(source, how, signs=tuple((signs or {"conduit": SEEN}).items()), **fields)


def told(verdict: Verdict, value: str = "electric") -> JudgedItem:
    """The one item that signs tell of a value."""
    (found,) = (item for item in candidate(verdict, value).items if item.told_by)
    return found


def candidate(verdict: Verdict, value: str) -> Candidate:
    return next(each for each in verdict.candidates if each.value == value)


def test_the_signs_in_a_picture_become_an_item_of_their_own_under_the_option_that_they_tell() -> None:
    """The picture implies acetylene, 14 x .5 = 7 points; its conduit tells electric, 10 log10 19 points.

    Chance of electric 19/(1 + 19 + 10^.7) = 19/25.011872 = .759639.
    """
    verdict = judge(told_by_conduit(), bearing(stance="supports", page=2, quote="the tube"))

    item = told(verdict)
    assert (verdict.value, verdict.shown, verdict.grade) == ("electric", "Electric", Grade.UNCORROBORATED)
    assert verdict.posterior == pytest.approx(0.759639, abs=1e-6)
    assert (item.claim, item.source, item.at.page) == ("c", "view", 2)
    assert (item.how, item.direct) == (How.SHOWS, True)
    assert item.weight == pytest.approx(WHOLE)
    assert (item.told_by, item.seen) == ((("conduit", SEEN),), seen_on("9", "1934"))
    assert (candidate(verdict, "electric").claims, candidate(verdict, "acetylene").claims) == ((), ("c",))
    assert item.why.endswith("; told by signs: conduit (seen).")
    assert [each.told_by for each in candidate(verdict, "acetylene").items] == [()]


def test_a_sign_is_called_by_the_name_that_the_component_gives_it() -> None:
    component = a_component("headlamp", _with_sign_renamed(told_by_conduit(), "conduit-on-cantrail"))
    item = bearing(signs={"conduit-on-cantrail": SEEN})

    verdict = judge_feature(an_archive(component, a_source("view"), HANDBOOK, a_claim("acetylene", item)), FEATURE)

    assert "told by signs: conduit on the cantrail (seen)" in told(verdict).why


def _with_sign_renamed(feature: Feature, sign: str) -> Feature:
    options = (replace(o, signs=tuple(replace(each, sign=sign) for each in o.signs)) for o in feature.options)
    return replace(feature, options=tuple(options))


@pytest.mark.parametrize("how", ["supports", "contradicts"])
def test_what_signs_tell_supports_whatever_the_item_itself_speaks_for_or_against(how: str) -> None:
    speaks = bearing() if how == "supports" else against("view", "implies", signs=(("conduit", SEEN),))

    item = told(judge(told_by_conduit(), speaks))

    assert (item.stance, item.item.stance) == ("supports", how)


def test_where_signs_and_item_agree_they_stand_together_and_count_once() -> None:
    verdict = judge(told_by_conduit(), bearing(how="shows"), value="electric")

    both = candidate(verdict, "electric")
    assert [bool(item.told_by) for item in both.items] == [False, True]
    assert [item.counted for item in both.items] == [True, False]
    assert (both.weight_for, both.lines, both.claims) == (14.0, 1, ("c",))


def test_items_of_one_claim_keep_their_order_with_what_signs_tell_just_after_each() -> None:
    items = [bearing(page=page, signs={"conduit": SEEN}) for page in (3, 1, 2)]

    verdict = judge(told_by_conduit(), *items, value="electric")

    listed = [(item.at.page, bool(item.told_by)) for item in candidate(verdict, "electric").items]
    assert listed == [(1, False), (1, True), (2, False), (2, True), (3, False), (3, True)]


@pytest.mark.parametrize(
    ("kind", "fields", "weight"),
    [
        ("film", {}, 12.0),
        ("photograph", {"reliability": "C"}, 8.4),
        ("artwork", {}, 4.0),
        ("drawing", {"executed": False}, 0.0),
        (None, {}, 0.0),
    ],
    ids=["a film", "of reliability C", "an artwork", "an unbuilt design", "of no kind"],
)
def test_signs_never_tell_more_than_the_picture_itself_can_carry(
    kind: str | None, fields: dict[str, Any], weight: float
) -> None:
    """Base by kind 12, 14 x .6, 4 and 0, each below 10 log10 19 = 12.8 points."""
    verdict = judge(told_by_conduit(), bearing("picture"), records=(a_source("picture", kind, **fields),))

    assert told(verdict).weight == pytest.approx(weight)


def test_signs_in_a_place_that_can_hardly_be_read_tell_half() -> None:
    assert told(judge(told_by_conduit(), bearing(legibility=Legibility.DOUBTFUL))).weight == 7.0


def test_what_is_only_implied_is_held_to_half_of_what_the_picture_can_carry() -> None:
    """Among three options the conduit gives .904762, so it implies: 12.8 points, held to 14 x .5."""
    item = told(judge(told_by_conduit("handbook", option_showing("oil", conduit="never")), bearing()))

    assert (item.how, item.direct, item.weight) == ("implies", False, 7.0)


def test_signs_that_tell_less_than_that_count_for_what_they_tell() -> None:
    """Chance .633333 of three: 10 log10 3.454545 = 5.3839 points, below 7."""
    item = told(judge(told_by_conduit("handbook", option_showing("oil")), bearing()))

    assert item.weight == pytest.approx(5.3839, abs=5e-5)


@pytest.mark.parametrize(
    ("aspect", "process", "how", "weight"),
    [
        ("material", None, How.IMPLIES, 7.0),
        ("finish", None, How.IMPLIES, 7.0),
        ("finish", "colour", How.SHOWS, WHOLE),
        ("quantity", None, How.IMPLIES, 7.0),
    ],
)
def test_what_a_photograph_cannot_show_its_signs_only_imply(
    aspect: str, process: str | None, how: How, weight: float
) -> None:
    feature = replace(told_by_conduit(), aspect=a_choice(aspect=aspect).aspect)

    item = told(judge(feature, bearing("picture"), records=(a_source("picture", process=process),)))

    assert item.how is how
    assert item.weight == pytest.approx(weight)


def test_what_an_old_man_says_of_signs_long_after_is_held_to_half_of_his_word() -> None:
    """A letter of 1960 on 1934: 8 x .5 = 4 points at most."""
    verdict = judge(told_by_conduit(), bearing("letter"), records=(a_source("letter", "letter", created="1960"),))

    assert (told(verdict).weight, told(verdict).late_memory) == (4.0, True)


def test_whoever_says_how_often_a_sign_is_there_stands_behind_what_it_tells_with_all_behind_him() -> None:
    manual = a_source("handbook", "manual", of=["redrawn:drawing"])
    view = a_source("view", of=["print:negative"])
    item = bearing(via="negative")

    verdict = judge(
        told_by_conduit(), item, records=(manual, view, a_source("negative"), a_source("drawing", "drawing"))
    )

    assert told(verdict).descent == {"view", "negative", "handbook", "drawing"}
    assert told(verdict).item.via == "negative"
    assert candidate(verdict, "acetylene").items[0].descent == {"view", "negative"}


def test_two_photographs_that_are_read_by_one_word_are_one_witness() -> None:
    """Where nobody is named who says so, they are two."""
    items = [bearing("view"), bearing("other")]

    by_handbook = judge(told_by_conduit(), *items, records=(a_source("other"),))
    by_nobody = judge(
        a_choice(option_showing("electric", conduit="always"), option_showing("acetylene", conduit="never")),
        *items,
        records=(a_source("other"),),
    )

    electric = candidate(by_handbook, "electric")
    assert (electric.lines, electric.rests_on) == (1, ("handbook",))
    assert candidate(by_nobody, "electric").lines == 2


def test_a_sign_out_of_view_brings_nobody_in() -> None:
    feature = a_choice(
        option_showing("electric", conduit="always", tank="never by letter"),
        option_showing("acetylene", conduit="never"),
    )

    with_it = judge(feature, bearing(signs={"conduit": SEEN, "tank": OUT_OF_VIEW}))
    without = judge(feature, bearing())

    assert told(with_it).descent == told(without).descent == {"view"}
    assert (with_it.posterior, with_it.lines) == (without.posterior, without.lines)


def test_signs_that_tell_nothing_add_nothing() -> None:
    verdict = judge(told_by_conduit(), bearing(signs={"conduit": OUT_OF_VIEW}))

    assert [each.value for each in verdict.candidates] == ["acetylene"]
    assert len(verdict.candidates[0].items) == 1


def test_a_machine_that_was_told_by_a_sign_tells_nothing_by_that_sign() -> None:
    seen = seen_on("9", "1934", "likeness", signs=["conduit"])

    verdict = judge(told_by_conduit(), bearing(seen=seen))

    assert (told(verdict).circular, told(verdict).weight) == (True, 0.0)
    assert verdict.grade is Grade.UNSUPPORTED


def test_a_picture_of_another_machine_tells_of_this_one_as_far_as_any_picture_of_it_would() -> None:
    item = told(judge(told_by_conduit(), bearing(seen=seen_on("4", "1934"))))

    assert item.applies is Category.SAME_TYPE
    assert item.weight == pytest.approx(WHOLE)


@pytest.mark.parametrize("what", ["item", "picture", "claim"])
def test_what_signs_tell_goes_out_with_what_bears_them(what: str) -> None:
    item = bearing(withdrawn=a_withdrawal()) if what == "item" else bearing()
    records = (a_source("view", withdrawn=a_withdrawal()),) if what == "picture" else ()
    archive = the_archive(told_by_conduit(), item, records=records)
    if what == "claim":
        archive = replace(archive, claims={"c": replace(archive.claims["c"], withdrawn=a_withdrawal())})

    verdict = judge_feature(archive, FEATURE)

    assert verdict.grade is Grade.UNSUPPORTED
    assert (told(verdict).left_out, told(verdict).weight) == (True, 0.0)


def test_without_who_says_how_often_a_sign_is_there_it_tells_nothing_and_the_picture_stands() -> None:
    archive = the_archive(told_by_conduit(), bearing(how="shows"))

    verdict = judge_feature(archive, FEATURE, without=frozenset({"handbook"}))

    assert (verdict.value, told(verdict).left_out) == ("acetylene", True)
    assert candidate(verdict, "acetylene").weight_for == 14.0


SIGNS = ("conduit", "switch", "tank")
EXPECTED = st.dictionaries(
    st.sampled_from(SIGNS),
    st.tuples(st.sampled_from(("always", "never", "sometimes")), st.sampled_from(("", " by handbook", " by letter"))),
)
REPORTED = st.lists(
    st.dictionaries(st.sampled_from(SIGNS), st.sampled_from((SEEN, NOT_SEEN, OUT_OF_VIEW)), min_size=1),
    min_size=1,
    max_size=4,
)


def a_feature_of(drawn: list[dict[str, tuple[str, str]]]) -> Feature:
    names = ("electric", "acetylene", "oil")
    options = [
        option_showing(name, **{sign: "".join(written) for sign, written in expected.items()})
        for name, expected in zip(names, drawn, strict=False)
    ]
    return a_choice(*options)


def lines_of(verdict: Verdict) -> dict[str, int]:
    return {each.value: each.lines for each in verdict.candidates}


@settings(max_examples=100, deadline=None)
@given(
    st.lists(EXPECTED, min_size=2, max_size=3), REPORTED, st.sampled_from(SIGNS), st.sampled_from(("print", "ruling"))
)
def test_a_copy_of_who_says_so_never_raises_lines(
    drawn: list[dict[str, tuple[str, str]]], reported: list[dict[str, SignSeen]], sign: str, known_by: str
) -> None:
    """The copy says the same of one sign as the handbook: each entry of the handbook's is credited to the copy."""
    feature = a_feature_of(drawn)
    photographs = tuple(a_source(f"view{number}") for number in range(len(reported)))
    items = [bearing(each.id, signs=signs) for each, signs in zip(photographs, reported, strict=True)]
    copy = a_source("copy", "manual", of=["print:handbook"] if known_by == "print" else ())
    pairs = (a_pair("copy", "handbook", "copy"),) if known_by == "ruling" else ()
    other = _with_copy_saying(feature, sign)
    records = (*photographs, copy, a_source("letter", "letter"), *pairs)

    before, after = judge(feature, *items, records=records), judge(other, *items, records=records)

    assert lines_of(after) == lines_of(before)


def _with_copy_saying(feature: Feature, sign: str) -> Feature:
    """The feature with the copy, and not the handbook, saying how often that sign is there."""
    options = [
        replace(
            option,
            signs=tuple(
                replace(e, source="copy") if (e.sign, e.source) == (sign, "handbook") else e for e in option.signs
            ),
        )
        for option in feature.options
    ]
    return replace(feature, options=tuple(options))


@settings(max_examples=100, deadline=None)
@given(st.lists(EXPECTED, min_size=2, max_size=3), REPORTED, st.integers(0, 1000))
def test_the_order_of_signs_and_items_never_matters_to_a_verdict(
    drawn: list[dict[str, tuple[str, str]]], reported: list[dict[str, SignSeen]], seed: int
) -> None:
    shuffle = Random(seed)
    photographs = tuple(a_source(f"view{number}") for number in range(len(reported)))
    items = [bearing(each.id, signs=signs) for each, signs in zip(photographs, reported, strict=True)]
    mixed = [replace(item, signs=tuple(shuffle.sample(item.signs, len(item.signs)))) for item in items]
    shuffle.shuffle(mixed)
    records = (*photographs, a_source("letter", "letter"))

    before, after = (judge(a_feature_of(drawn), *each, records=records) for each in (items, mixed))

    assert _without_records(after) == _without_records(before)


def _without_records(verdict: Verdict) -> list[object]:
    return [
        (each.value, each.posterior, each.lines, each.rests_on, [(i.source, i.told_by, i.weight) for i in each.items])
        for each in verdict.candidates
    ]


@pytest.mark.parametrize(
    ("access", "behind", "is_told"),
    [
        (Access.OPEN, (), True),
        (Access.TEAM, (), False),
        (Access.CLOSED, (), False),
        (Access.OPEN, ["print:ledger"], False),
    ],
    ids=["open", "the team's", "closed", "open, and printed from a closed one"],
)
def test_in_public_signs_are_read_by_open_words_alone_and_the_picture_stands(
    access: Access, behind: list[str], *, is_told: bool
) -> None:
    open_view = a_source("view", access=Access.OPEN)
    records = (
        open_view,
        a_source("handbook", "manual", access=access, of=behind),
        a_source("ledger", "logbook", access=Access.CLOSED),
    )
    archive = the_archive(told_by_conduit(), bearing(how="shows"), records=records)

    public = public_view(archive, DAY).verdicts[FEATURE]

    items = [item for each in public.candidates for item in each.items]
    assert [item.source for item in items if not item.told_by] == ["view"]
    assert any(item.told_by for item in items) is is_told
    assert public.value == "acetylene"
