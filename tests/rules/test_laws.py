"""The laws of independence, on archives of any shape."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from random import Random

from builders import FEATURE, Record, a_claim, a_pair, a_source, an_archive, an_item, seen_on
from hypothesis import given, settings
from hypothesis import strategies as st

from provenance.records.archive import Archive
from provenance.records.claims import EvidenceItem
from provenance.records.kinds import Derivation
from provenance.records.sources import DerivesFrom, Source
from provenance.rules.judging import judge_feature
from provenance.rules.verdicts import Verdict

KINDS = ("photograph", "drawing", "manual", "letter", "book", "notes", "artefact", "oral-history")
HOWS = ("print", "cites", "redrawn", "transcription", "extract")
PEOPLE = (None, "unknown", "A. Fitter", "B. Clerk")


@dataclass(frozen=True)
class World:
    """Sources that may derive from one another, some open pairs, and items that speak for one value."""

    sources: tuple[Source, ...]
    items: tuple[EvidenceItem, ...]
    pairs: tuple[tuple[str, str], ...]

    def archive(self, shuffle: Random | None = None) -> Archive:
        claims = [
            a_claim("acetylene", *self.items[::2], claim_id="a", to="all") if self.items[::2] else None,
            a_claim("acetylene", *self.items[1::2], claim_id="b", to="9") if self.items[1::2] else None,
        ]
        records: list[Record] = [*self.sources, *(claim for claim in claims if claim)]
        records += [a_pair(one, other) for one, other in self.pairs]
        if shuffle:
            shuffle.shuffle(records)
        return an_archive(*records)

    def judge(self) -> Verdict:
        return judge_feature(self.archive(), FEATURE)


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
    pairs = draw(st.sets(st.tuples(st.sampled_from(names), st.sampled_from(names)), max_size=2))
    return World(tuple(sources), tuple(items), tuple(sorted(pair for pair in pairs if pair[0] < pair[1])))


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
