"""The descent of sources as people read it: an indented tree, the oldest at the top, each source once in full."""

from collections import defaultdict
from collections.abc import Iterator

from provenance.records.decisions import CopyPair
from provenance.reports.cautioned import caution_lines
from provenance.reports.descended import Descended
from provenance.reports.descent_words import (
    about_source,
    bottleneck_words,
    circle_words,
    cited_words,
    holding_words,
    kept_words,
    made_words,
    named,
    pair_words,
    places_words,
    resting_words,
    ruling_words,
    tie_words,
)
from provenance.reports.layout import counted, paragraph
from provenance.rules.family_tree import Link

_STEP = "  "
_HOW_TO_READ = "The oldest stands first; what stands further in was made from what stands above it"
_DEEPEST = 20
"""How many steps are indented; deeper down the number of the step stands before the line."""


def descended_text(descended: Descended, width: int) -> str:
    """The page that people read."""
    lines = [*descended.standing.as_lines(width), *caution_lines(descended.cautions, width)]
    for text in _heading(descended):
        lines += paragraph(text, width)
    for circle in descended.tree.circles:
        lines += paragraph(circle_words(descended, circle), width)
    lines += ["", *_Tree(descended, width).lines()] if descended.tree.members else []
    ties = [tie_words(descended, tie) for tie in descended.tree.ties]
    lines += _section("Besides, one person, or an origin that nobody named, stands behind several:", ties, width)
    ruled_out = [pair_words(descended, pair, _other(pair, descended.about)) for pair in descended.tree.ruled_out]
    lines += _section("Ruled out:", ruled_out, width)
    if descended.verdict is None:
        lines += ["", *_resting_lines(descended, width)]
    return "\n".join(lines)


def _heading(descended: Descended) -> Iterator[str]:
    verdict, best = descended.verdict, descended.best
    if verdict is None:
        yield f"{named(descended, descended.about)}: {_how_many(descended)}"
        return
    if best is None:
        yield f"“{verdict.name}” ({verdict.feature})"
    else:
        yield f"“{verdict.name}” ({verdict.feature}): “{best.shown}”, {verdict.grade.value}, {places_words(best)}"
    yield from bottleneck_words(descended)
    if descended.tree.members:
        yield f"What it goes back to. {_HOW_TO_READ}:"


def _how_many(descended: Descended) -> str:
    """How many it was made from, and how many were made from it, through however many hands."""
    up, down = len(descended.tree.behind), len(descended.tree.after)
    pairs = sum(descended.about in pair.between for pair in descended.tree.pairs)
    if not up and not down and pairs:
        alike = counted(pairs, "pair of copies, likely or ruled", "pairs of copies, likely or ruled")
        return f"nothing is entered that it was made from, or that was made from it; it is in {alike}."
    if not up and not down:
        return "as far as is known it was made from nothing else, and nothing was made from it."
    behind = (
        f"it goes back to {counted(up, 'other source')}" if up else "it is not known to go back to any other source"
    )
    after = f"{counted(down, 'source goes', 'sources go')} back to it"
    return f"{behind}, and {after}. The oldest stands first; what stands further in was made from what stands above it:"


def _other(pair: CopyPair, source_id: str) -> str:
    one, other = pair.between
    return other if one == source_id else one


def _section(title: str, texts: list[str], width: int) -> Iterator[str]:
    if texts:
        yield from ("", *paragraph(title, width))
        for text in texts:
            yield from paragraph(text, width, indent=_STEP, hang="    ")


def _resting_lines(descended: Descended, width: int) -> Iterator[str]:
    resting = descended.resting
    if resting is None:
        yield from paragraph(f"Which features rest on it alone could not be judged: {descended.not_judged}", width)
    elif not resting:
        yield from paragraph("No feature rests on it alone.", width)
    else:
        many = counted(len(resting), "feature rests", "features rest").capitalize()
        yield from paragraph(f"{many} on it alone:", width)
        for verdict in resting:
            yield from paragraph(resting_words(verdict, descended.about), width, indent=_STEP, hang="    ")


class _Tree:
    """The tree, walked into the depth: a source in full where it is met first, and named where it is met again."""

    def __init__(self, descended: Descended, width: int) -> None:
        self._descended = descended
        self._width = width
        self._children: dict[str, list[Link]] = defaultdict(list)
        self._pairs: dict[str, list[CopyPair]] = defaultdict(list)
        place = {source_id: number for number, source_id in enumerate(descended.tree.members)}
        made = set()
        for link in sorted(descended.tree.links, key=lambda link: place[link.later]):
            self._children[link.earlier].append(link)
            if place[link.earlier] < place[link.later]:
                made.add(link.later)
        for pair in descended.tree.pairs:
            for source_id in pair.between:
                self._pairs[source_id].append(pair)
        alike = {source_id for pair in descended.tree.pairs for source_id in pair.between}
        core = {descended.about, *descended.tree.behind, *descended.tree.after}
        self._tops = [
            source_id
            for source_id in descended.tree.members
            if source_id not in made and (descended.verdict is not None or source_id in core or source_id not in alike)
        ]

    def lines(self) -> Iterator[str]:
        met: set[str] = set()
        waiting: list[tuple[int, str, Link | None]] = [(0, top, None) for top in reversed(self._tops)]
        while waiting:
            depth, source_id, link = waiting.pop()
            again = source_id in met
            yield from self._entry(depth, source_id, link, again=again)
            if not again:
                met.add(source_id)
                waiting += [(depth + 1, each.later, each) for each in reversed(self._children[source_id])]

    def _entry(self, depth: int, source_id: str, link: Link | None, *, again: bool) -> Iterator[str]:
        margin = _STEP * (min(depth, _DEEPEST) + 1)
        mark = "> " if source_id == self._descended.about and not again else "- "
        step = f"[step {depth}] " if depth > _DEEPEST else ""
        how = f"{made_words(link.how)}: " if link else ""
        name = f"{step}{how}{named(self._descended, source_id)}{', see above' if again else ''}"
        yield from paragraph(name, self._width, indent=f"{margin[:-2]}{mark}", hang=f"{margin}  ")
        about = () if again else (about_source(self._descended.sources[source_id]),)
        for said in (*about, *self._of_link(link), *(() if again else self._of_source(source_id))):
            yield from paragraph(said, self._width, indent=margin, hang=f"{margin}  ")

    def _of_link(self, link: Link | None) -> Iterator[str]:
        if link is not None:
            if link.note:
                yield link.note
            ruling = ruling_words(self._descended, link)
            if ruling:
                yield ruling

    def _of_source(self, source_id: str) -> Iterator[str]:
        kept = kept_words(self._descended, self._descended.sources[source_id])
        if kept:
            yield kept
        if source_id == self._descended.about and self._descended.holding:
            yield holding_words(self._descended)
        best = self._descended.best
        yield from (cited_words(item) for item in best.supporting if item.source == source_id) if best else ()
        for pair in self._pairs[source_id]:
            yield pair_words(self._descended, pair, _other(pair, source_id))
