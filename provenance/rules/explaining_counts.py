"""Which items were counted, which were not and why, in words."""

from collections.abc import Iterator, Mapping, Sequence

from provenance.records.kinds import SourceKind
from provenance.records.sources import Source
from provenance.rules.copy_families import COPY
from provenance.rules.descent import UNSTATED, WITNESS, in_order
from provenance.rules.grades import Category
from provenance.rules.sentences import listed_at_length, namer
from provenance.rules.source_words import introducer, made_in_words
from provenance.rules.verdicts import Candidate, JudgedItem

Sources = Mapping[str, Source]
_PICTURES = frozenset({SourceKind.PHOTOGRAPH, SourceKind.FILM, SourceKind.ARTWORK})


def counted_for(best: Candidate, sources: Sources) -> Iterator[str]:
    """Name what was counted for a value, the weightiest first, with what each shows and of which machine."""
    chosen = sorted((item for item in best.supporting if item.counted), key=lambda item: -item.weight)
    introduce = introducer(sources)
    told = [f"{introduce(item.source)}, which {_what_it_says(item)}" for item in chosen]
    yield f"Counted for it: {listed_at_length(told)}."


def _what_it_says(item: JudgedItem) -> str:
    first, *more = item.reasons
    return f"{first} ({', '.join(more)})" if more else first


def not_counted(best: Candidate, sources: Sources) -> Iterator[str]:
    """Name what supports a value and was not counted beside the rest, each with its reason."""
    chosen = [item for item in best.supporting if item.counted]
    at_once = {(item.claim, item.source, item.at) for item in chosen}  # a picture, and what its signs tell, are one
    introduce = introducer(sources)
    told = [
        f"{introduce(item.source)}, {_what_it_shares(item, chosen, sources)}"
        for item in best.supporting
        if not item.counted and (item.claim, item.source, item.at) not in at_once
    ]
    if told:
        yield f"Not counted beside that: {listed_at_length(list(dict.fromkeys(told)))}."


def _what_it_shares(item: JudgedItem, chosen: Sequence[JudgedItem], sources: Sources) -> str:
    other = next(each for each in chosen if each.descent & item.descent)
    if other.source == item.source:
        return "the same source once more"
    first = min(other.descent & item.descent, key=in_order)
    beside = namer(sources)(other.source)
    if first == item.source:
        return f"since {beside} {_made(other.source, first, sources)} it"
    if first == other.source:
        return f"since it {_made(item.source, first, sources)} {beside}"
    return _what_lies_behind(item, first, beside, sources)


def _what_lies_behind(item: JudgedItem, first: str, beside: str, sources: Sources) -> str:
    """Say what is behind two items of which neither was made from the other."""
    if first == UNSTATED:
        return f"since neither it nor {beside} says where its facts come from, and both may have them from one place"
    if first.startswith(COPY):
        return f"since it may be a copy of the same thing as {beside}, and nobody has ruled on that"
    if first.startswith(WITNESS):
        return f"since {_same_witness(item, sources)} {beside}: {first.removeprefix(WITNESS)}"
    return f"since it goes back to {namer(sources)(first)}, as {beside} does"


def _made(source: str, parent: str, sources: Sources) -> str:
    """How a source was made from one that it goes back to, at once or over others."""
    return (made_in_words(sources[source], parent) if source in sources else None) or "goes back to"


def _same_witness(item: JudgedItem, sources: Sources) -> str:
    source = sources.get(item.source)
    if source is not None and source.kind in _PICTURES:
        return "it was taken by the same hand on the same occasion as"
    return "it is the word of the same witness as"


def set_aside(items: Sequence[JudgedItem], sources: Sources) -> Iterator[str]:
    """Name what has no weight, each with its reason: it came later, an unbuilt design, withdrawn, proves nothing."""
    introduce = introducer(sources)
    told = [f"{introduce(item.source)} ({why_weightless(item)})" for item in items if item.weight == 0]
    if told:
        yield f"Set aside, without weight: {listed_at_length(list(dict.fromkeys(told)))}."


def why_weightless(item: JudgedItem) -> str:
    """Say why an item has no weight."""
    if item.left_out or item.circular or item.applies in (Category.OTHER_TIME, Category.UNKNOWN):
        return item.reasons[0]
    return item.reasons[1] if len(item.reasons) > 1 else "it counts nothing by the weights in use"
