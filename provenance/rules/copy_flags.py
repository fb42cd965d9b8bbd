"""Flags about pairs of likely copies on which nobody has ruled, and what hangs on the ruling."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from provenance.records.archive import Archive
from provenance.records.decisions import CopyPair
from provenance.records.kinds import Ruling
from provenance.records.sources import Source
from provenance.rules.flag_values import Flag, Level
from provenance.rules.judged_part import JudgedParts
from provenance.rules.judging import judge_feature
from provenance.rules.open_pairs import OpenPairs, pairs_behind, ruled_distinct, sides_of
from provenance.rules.sentences import counted, namer
from provenance.rules.verdicts import JudgedItem, Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class _Hanging:
    """A verdict that would change if a pair were ruled no copies.

    Attributes:
        claims: ids of the claims that the pair bears on.
    """

    verdict: Verdict
    claims: frozenset[str]


def copy_flags(archive: Archive, verdicts: Iterable[Verdict], open_pairs: OpenPairs) -> Iterator[Flag]:
    """Raise `suspected-copy` for each open pair, about the source that was entered later.

    A pair of which either source was withdrawn, and on which no verdict hangs, is not worth a ruling.

    Args:
        archive: the archive.
        verdicts: on the features that are asked about.
        open_pairs: the pairs on which nobody has ruled.
    """
    hanging = _hanging(archive, verdicts, open_pairs)
    name = namer(archive.sources)
    for _, pair in sorted(archive.copies.items()):
        sources = [archive.sources[each] for each in pair.between if each in archive.sources]
        is_moot = any(source.withdrawn is not None for source in sources) and pair.id not in hanging
        if pair.ruling is Ruling.OPEN and len(sources) == len(pair.between) and not is_moot:
            yield _flag(pair, sources, hanging.get(pair.id, ()), name)


def _flag(pair: CopyPair, sources: Iterable[Source], hanging: Sequence[_Hanging], name: Callable[[str], str]) -> Flag:
    earlier, later = sorted(sources, key=lambda source: (str(source.date), source.id))
    why = f": {_unended(pair.why)}" if pair.why and pair.why.strip() else ""
    one, other = pair.between
    return Flag(
        flag="suspected-copy",
        severity=Level.WARN if hanging else Level.NOTE,
        about=later.id,
        sentence=f"{name(later.id)} may be a copy of {name(earlier.id)}, or both of one original{why}. "
        f"{_what_hangs(hanging)}",
        mend=f'look at both, and rule: `provenance copies confirm {one} {other} --how print --why "…"` where one was '
        f'made from the other, or `provenance copies rule-out {one} {other} --why "…"` where they are no copies',
        claims=tuple(sorted(frozenset[str]().union(*(each.claims for each in hanging)))),
        sources=pair.between,
    )


def _unended(text: str) -> str:
    return " ".join(text.split()).removesuffix(".")


def _what_hangs(hanging: Sequence[_Hanging]) -> str:
    if not hanging:
        return "No verdict hangs on it alone."
    first = hanging[0].verdict
    told = f"what is said of “{first.name}” ({first.feature})"
    if len(hanging) > 1:
        told += f" and of {counted(len(hanging) - 1, 'other feature', 'other features')}"
    return f"Until somebody rules on it they count as one witness; if they are no copies, {told} changes."


def _hanging(archive: Archive, verdicts: Iterable[Verdict], open_pairs: OpenPairs) -> Mapping[str, list[_Hanging]]:
    """The verdicts that hang on each pair, by its id: looked for only where items share what the pair stands for."""
    found: dict[str, list[_Hanging]] = defaultdict(list)
    concerned = [(verdict, pairs) for verdict in verdicts if (pairs := pairs_behind(verdict, open_pairs))]
    if not concerned:
        return found
    parts = JudgedParts(archive)
    for verdict, pairs in concerned:
        sides = sides_of(verdict)
        for pair in _that_change(parts, verdict, pairs, open_pairs):
            found[pair.id].append(_Hanging(verdict=verdict, claims=_claims_of(pair, sides)))
    return found


def _that_change(
    parts: JudgedParts, verdict: Verdict, pairs: Iterable[CopyPair], open_pairs: OpenPairs
) -> list[CopyPair]:
    """Those of the pairs that change the verdict when they are ruled no copies, each alone.

    One witness becomes two wherever that is plain, so that of a large family not every pair has to be tried.
    """
    alone = [item.descent for item in verdict.best.supporting] if verdict.best and verdict.lines == 1 else []
    plain = {pair.id: pair for pair in pairs if open_pairs.plainly_parts(pair, alone)}
    unclear = [pair for pair in pairs if pair.id not in plain]
    if not unclear:
        return list(plain.values())
    part, about = parts.of(verdict.feature), verdict.feature
    stands = judge_feature(part, about)
    tried = ((pair, judge_feature(ruled_distinct(part, [pair]), about)) for pair in unclear)
    return [*plain.values(), *(pair for pair, then in tried if not _reads_alike(stands, then))]


def _claims_of(pair: CopyPair, sides: Iterable[Iterable[JudgedItem]]) -> frozenset[str]:
    """The claims whose items go back to either of the two; else all that stand beside one another."""
    items = [item for side in sides for item in side]
    own = frozenset(item.claim for item in items if not item.descent.isdisjoint(pair.between))
    return own or frozenset(item.claim for item in items)


def _reads_alike(verdict: Verdict, then: Verdict) -> bool:
    """Whether two verdicts say the same to people: value, grade, number of witnesses, and the chances of all values."""
    return _told(verdict) == _told(then)


def _told(verdict: Verdict) -> object:
    chances = [(each.value, each.grade, round(each.posterior, 12)) for each in verdict.candidates]
    return verdict.value, verdict.grade, verdict.lines, chances
