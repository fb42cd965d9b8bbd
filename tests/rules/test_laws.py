"""The laws of independence, on archives of any shape."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from random import Random

import pytest
from builders import FEATURE, Record, a_claim, a_pair, a_source, a_withdrawal, an_archive, an_item, seen_on
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from picture_pairs import alike

from provenance.records.archive import Archive
from provenance.records.claims import EvidenceItem
from provenance.records.decisions import CopyPair
from provenance.records.kinds import Derivation, Ruling, Stance
from provenance.records.sources import DerivesFrom, Source
from provenance.rules.copy_families import is_of_pictures
from provenance.rules.descent import UNSTATED, Lineage
from provenance.rules.judged_part import judged_part
from provenance.rules.judging import judge_feature
from provenance.rules.verdicts import Verdict

KINDS = ("photograph", "drawing", "manual", "letter", "book", "notes", "artefact", "oral-history")
HOWS = ("print", "cites", "redrawn", "transcription", "extract")
PEOPLE = (None, "unknown", "A. Fitter", "B. Clerk")
VALUES = ("acetylene", "electric", "oil")


@dataclass(frozen=True)
class World:
    """Sources that may derive from one another, pairs of likely copies, and items that speak for one value."""

    sources: tuple[Source, ...]
    items: tuple[EvidenceItem, ...]
    pairs: tuple[CopyPair, ...]

    def archive(self, shuffle: Random | None = None) -> Archive:
        claims = [
            a_claim("acetylene", *self.items[::2], claim_id="a", to="all") if self.items[::2] else None,
            a_claim("acetylene", *self.items[1::2], claim_id="b", to="9") if self.items[1::2] else None,
        ]
        records: list[Record] = [*self.sources, *(claim for claim in claims if claim)]
        records += self.pairs
        if shuffle:
            shuffle.shuffle(records)
        return an_archive(*records)

    def judge(self) -> Verdict:
        return judge_feature(self.archive(), FEATURE)


@st.composite
def pairs_of(draw: st.DrawFn, names: Sequence[str]) -> tuple[CopyPair, ...]:
    """Open pairs, of pictures with or without their pages, or found otherwise; at most one between two sources."""
    two = st.tuples(st.sampled_from(names), st.sampled_from(names)).filter(lambda each: each[0] < each[1])
    pages = st.none() | st.tuples(st.integers(1, 2), st.integers(1, 2))
    between = draw(st.sets(two, max_size=5)) if len(names) > 1 else set()
    return tuple(
        alike(one, other, pages=draw(pages)) if draw(st.booleans()) else a_pair(one, other)
        for one, other in sorted(between)
    )


def item_strategy(sources: Sequence[str]) -> st.SearchStrategy[EvidenceItem]:
    return st.builds(
        lambda source, how, example, who, page: an_item(
            source, how, who=who, page=page, seen=seen_on(example, "1934") if example else None
        ),
        st.sampled_from(sources),
        st.sampled_from(("states", "implies", "shows")),
        st.sampled_from((None, "9", "10", "4")),
        st.sampled_from(PEOPLE),
        st.integers(1, 3),
    )


@st.composite
def worlds(draw: st.DrawFn) -> World:
    names = [f"s{number}" for number in range(draw(st.integers(1, 7)))]
    sources = []
    for name in names:
        parents = draw(st.lists(st.sampled_from(names), max_size=2, unique=True))
        of = [f"{draw(st.sampled_from(HOWS))}:{parent}" for parent in parents if parent != name]
        sources.append(a_source(name, draw(st.sampled_from(KINDS)), of=of, creator=draw(st.sampled_from(PEOPLE))))
    items = draw(st.lists(item_strategy(names), min_size=1, max_size=8))
    return World(tuple(sources), tuple(items), draw(pairs_of(names)))


@settings(max_examples=400, deadline=None)
@given(worlds(), st.data())
def test_a_copy_never_raises_lines(world: World, data: st.DataObject) -> None:
    """The copy is cited at the same place, with the same speaker."""
    original = data.draw(st.sampled_from(world.items))
    how = data.draw(st.sampled_from(("print", "scan", "transcription", "redrawn")))
    kind = next(source.kind for source in world.sources if source.id == original.source)
    copy = a_source("copy", kind, of=[f"{how}:{original.source}"])

    more = replace(world, sources=(*world.sources, copy), items=(*world.items, an_item("copy", who=original.at.who)))

    assert more.judge().lines <= max(world.judge().lines, 1)


@settings(max_examples=150, deadline=None)
@given(worlds(), st.sampled_from(("9", "10", "4")))
def test_an_independent_item_never_lowers_lines_or_weight(world: World, example: str) -> None:
    alone = a_source("alone", "photograph")
    before = world.judge()

    more = replace(
        world, sources=(*world.sources, alone), items=(*world.items, an_item("alone", "shows", seen=seen_on(example)))
    )

    after = more.judge()
    assert after.lines == before.lines + 1
    assert after.candidates[0].weight_for >= before.candidates[0].weight_for - 1e-9


@settings(max_examples=150, deadline=None)
@given(worlds(), st.integers(0, 1000))
def test_the_order_of_entry_never_matters(world: World, seed: int) -> None:
    expected = judge_feature(world.archive(), FEATURE)
    shuffle = Random(seed)
    archive = world.archive(shuffle)
    claims = {
        claim.id: replace(claim, evidence=tuple(shuffle.sample(claim.evidence, len(claim.evidence))))
        for claim in archive.claims.values()
    }

    assert judge_feature(replace(archive, claims=claims), FEATURE) == expected


@settings(max_examples=150, deadline=None)
@given(worlds())
def test_withdrawing_what_a_value_rests_on_leaves_nothing(world: World) -> None:
    archive = world.archive()
    verdict = judge_feature(archive, FEATURE)

    for name in verdict.rests_on:
        without = judge_feature(archive, FEATURE, without=frozenset({name}))
        assert (without.lines, without.value, without.posterior) == (0, None, 0)


@settings(max_examples=100, deadline=None)
@given(worlds())
def test_the_items_counted_are_independent_and_carry_the_whole_weight(world: World) -> None:
    (candidate,) = world.judge().candidates

    counted = [item for item in candidate.items if item.counted]
    assert all(one.descent.isdisjoint(other.descent) for place, one in enumerate(counted) for other in counted[:place])
    assert all(
        any(item.descent & other.descent for other in counted) for item in candidate.supporting if not item.counted
    )


@settings(max_examples=100, deadline=None)
@given(worlds(), st.data())
def test_one_more_derivation_never_raises_lines(world: World, data: st.DataObject) -> None:
    """Among sources that all have a parent already, so that no unnamed origin is given up for it."""
    place = data.draw(st.integers(0, len(world.sources) - 1))
    parent = data.draw(st.sampled_from(world.sources))
    child = world.sources[place]
    linked = replace(child, derives_from=(*child.derives_from, DerivesFrom(source=parent.id, how=Derivation.CITES)))
    if not child.derives_from:
        return

    sources = (*world.sources[:place], linked, *world.sources[place + 1 :])

    assert replace(world, sources=sources).judge().lines <= world.judge().lines


@settings(max_examples=60, deadline=None)
@given(worlds(), st.data())
def test_one_more_pair_of_likely_copies_never_raises_lines(world: World, data: st.DataObject) -> None:
    """Nor what they would be if all were ruled no copies: that is what they are without any pair."""
    names = [source.id for source in world.sources]
    more = data.draw(pairs_of(names))
    known = {pair.id for pair in world.pairs}

    before = world.judge()
    after = replace(world, pairs=(*world.pairs, *(pair for pair in more if pair.id not in known))).judge()

    assert after.lines <= before.lines
    without = replace(world, pairs=()).judge().lines
    assert [each.lines_if_ruled_out or each.lines for each in (before, after)] == [without, without]


@settings(max_examples=100, deadline=None)
@given(worlds(), st.data())
def test_to_rule_likely_copies_copies_never_raises_lines(world: World, data: st.DataObject) -> None:
    """One after another is ruled: made from the other, or both from a third that is not held.

    None is made from two others, which may be two originals, and none gives up an unnamed origin or its witness for it.
    All are pictures, or none is: as long as nobody has ruled on two pictures, each may go back to whatever the other is
    likely to be a copy of in another way. A ruling says which it is; what it does not go back to is a second original.
    """
    assume(len({is_of_pictures(pair) for pair in world.pairs}) < 2)
    now = world
    for pair in world.pairs:
        how = data.draw(st.sampled_from((None, pair.between, pair.between[::-1])))
        if how is None and any(len(source.derives_from) > 1 for source in now.sources):
            continue
        ruled = tuple(replace(each, ruling=Ruling.COPY) if each.id == pair.id else each for each in now.pairs)
        sources = now.sources
        if how is not None:
            made, original = how
            child = next(source for source in sources if source.id == made)
            if child.derives_from or UNSTATED in Lineage(now.archive()).added_by(made):
                continue
            child = replace(child, derives_from=(DerivesFrom(source=original, how=Derivation.REDRAWN),))
            sources = tuple(child if source.id == made else source for source in sources)
        then = replace(now, sources=sources, pairs=ruled)

        assert then.judge().lines <= now.judge().lines

        now = then


def test_in_the_part_on_which_a_verdict_depends_what_is_merely_like_a_source_has_its_title() -> None:
    titled = (a_source("s0"), a_source("s1"), a_source("s2", title="The third print", of=["print:s3"]), a_source("s3"))
    archive = an_archive(*titled, a_claim("acetylene", "s0", "s0", "s1"), a_pair("s0", "s1"), a_pair("s0", "s2"))

    alone = judge_feature(judged_part(archive, FEATURE), FEATURE)

    assert alone == judge_feature(archive, FEATURE)
    assert "The third print" in alone.explanation


@settings(max_examples=40, deadline=None)
@given(worlds())
def test_the_part_on_which_a_verdict_depends_holds_whole_families(world: World) -> None:
    archive = world.archive()

    assert judge_feature(judged_part(archive, FEATURE), FEATURE) == judge_feature(archive, FEATURE)


@dataclass(frozen=True)
class Dispute:
    """Sources that may derive from one another, some open pairs, and items for and against several values."""

    sources: tuple[Source, ...]
    items: tuple[tuple[str, EvidenceItem], ...]
    pairs: tuple[CopyPair, ...]

    def archive(self, shuffle: Random | None = None) -> Archive:
        records: list[Record] = [*self.sources, *self.pairs]
        for value in VALUES:
            items = [item for of, item in self.items if of == value]
            if shuffle:
                shuffle.shuffle(items)
            if items:
                records.append(a_claim(value, *items, to="all"))
        if shuffle:
            shuffle.shuffle(records)
        return an_archive(*records)

    def judge(self) -> Verdict:
        return judge_feature(self.archive(), FEATURE)

    def with_one_more(self, value: str, item: EvidenceItem, kind: str) -> "Dispute":
        """The same with an item of a source that has nothing in common with the others."""
        alone = a_source(item.source, kind)
        return replace(self, sources=(*self.sources, alone), items=(*self.items, (value, item)))


@st.composite
def disputes(draw: st.DrawFn) -> Dispute:
    """Some items descend through one parent alone; some sources say where they have it from, or are of one occasion."""
    world = draw(worlds())
    sources = {
        source.id: replace(
            source, origin_stated=draw(st.booleans()), occasion=draw(st.sampled_from((None, "the opening day")))
        )
        for source in world.sources
    }
    items = []
    for item in world.items:
        stance = draw(st.sampled_from((Stance.SUPPORTS, Stance.SUPPORTS, Stance.CONTRADICTS)))
        via = draw(st.sampled_from((None, *(parent.source for parent in sources[item.source].derives_from))))
        items.append((draw(st.sampled_from(VALUES)), replace(item, stance=stance, via=via)))
    return Dispute(tuple(sources.values()), tuple(items), world.pairs)


lone_witnesses = st.one_of(
    st.builds(
        lambda how, example: (an_item("alone", how, seen=seen_on(example, "1934")), "photograph"),
        st.sampled_from(("shows", "implies")),
        st.sampled_from(("9", "10", "4")),
    ),
    st.builds(lambda how: (an_item("alone", how), "drawing"), st.sampled_from(("states", "implies", "analogy"))),
)


def chance_of(verdict: Verdict, value: str) -> float:
    return next((each.posterior for each in verdict.candidates if each.value == value), 0.0)


def both_by_the_scales(before: Verdict, after: Verdict) -> bool:
    """Whether neither verdict is decided by a change from one machine to the next, which asks for no weights."""
    return before.change_over is None and after.change_over is None


@settings(max_examples=150, deadline=None)
@given(disputes(), st.sampled_from(VALUES), lone_witnesses)
def test_an_independent_witness_never_lowers_the_chance_of_what_it_supports(
    dispute: Dispute, value: str, witness: tuple[EvidenceItem, str]
) -> None:
    """Nor does it raise the chance of any other value, nor lower the number of its witnesses."""
    before = dispute.judge()
    after = dispute.with_one_more(value, *witness).judge()
    assume(both_by_the_scales(before, after))

    assert chance_of(after, value) >= chance_of(before, value) - 1e-12
    assert all(chance_of(after, other) <= chance_of(before, other) + 1e-12 for other in VALUES if other != value)


@settings(max_examples=80, deadline=None)
@given(disputes(), st.sampled_from(VALUES), lone_witnesses)
def test_an_independent_witness_against_never_raises_the_chance_of_what_it_denies(
    dispute: Dispute, value: str, witness: tuple[EvidenceItem, str]
) -> None:
    """Of a value that is weighed already: one that nobody spoke of comes among the values with what denies it."""
    item, kind = witness
    before = dispute.judge()
    assume(chance_of(before, value) > 0)
    after = dispute.with_one_more(value, replace(item, stance=Stance.CONTRADICTS), kind).judge()
    assume(both_by_the_scales(before, after))

    assert chance_of(after, value) <= chance_of(before, value) + 1e-12


@settings(max_examples=80, deadline=None)
@given(disputes())
def test_the_chances_of_all_values_leave_room_for_none_of_these(dispute: Dispute) -> None:
    """Where the scales decide: 10^(s/10) for each value, beside 1 for none of these."""
    verdict = dispute.judge()
    assume(both_by_the_scales(verdict, verdict))

    odds = [
        10 ** ((each.weight_for - each.weight_against) / 10)
        for each in verdict.candidates
        if any(item.weight > 0 for item in each.items)
    ]
    expected = [each / (1 + sum(odds)) for each in odds]
    assert [each.posterior for each in verdict.candidates][: len(odds)] == pytest.approx(expected, abs=1e-12)
    assert all(each.posterior == 0 for each in verdict.candidates[len(odds) :])


@settings(max_examples=80, deadline=None)
@given(disputes(), st.integers(0, 1000))
def test_the_order_of_entry_never_matters_between_values(dispute: Dispute, seed: int) -> None:
    shuffled = dispute.archive(Random(seed))

    assert judge_feature(shuffled, FEATURE) == dispute.judge()


@settings(max_examples=80, deadline=None)
@given(disputes())
def test_withdrawing_what_a_value_rests_on_leaves_nothing_for_it(dispute: Dispute) -> None:
    """Whether it is left out for the asking or its record is withdrawn."""
    archive = dispute.archive()

    for candidate in judge_feature(archive, FEATURE).candidates:
        for name in candidate.rests_on:
            without = judge_feature(archive, FEATURE, without=frozenset({name}))
            assert supporting_of(without, candidate.value) == ()
            if name in archive.sources:
                withdrawn = replace(archive.sources[name], withdrawn=a_withdrawal())
                gone = replace(archive, sources={**archive.sources, name: withdrawn})
                assert supporting_of(judge_feature(gone, FEATURE), candidate.value) == ()


def supporting_of(verdict: Verdict, value: str) -> tuple[str, ...]:
    return tuple(item.source for each in verdict.candidates if each.value == value for item in each.supporting)
