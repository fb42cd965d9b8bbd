"""The pairs of likely copies that stand in the public view: what is withheld loosens no tie between the rest."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from provenance.records.decisions import AlikePlace, CopyPair
from provenance.records.kinds import Ruling
from provenance.rules.copy_families import Alike, Place, is_of_pictures, places_of


def pairs_among(copies: Iterable[CopyPair], shown: frozenset[str]) -> list[CopyPair]:
    """Give the pairs between sources that are shown.

    Pictures that hang together by a withheld one alone, open or ruled copies, are paired with one another in its place:
    else two prints of one photograph would be two witnesses to whoever may not see the third.

    Args:
        copies: all pairs.
        shown: the ids of the sources that are shown.
    """
    pairs = list(copies)
    between = [pair for pair in pairs if shown.issuperset(pair.between)]
    standing = {pair.id: pair for pair in between if pair.ruling is not Ruling.DISTINCT}
    of_pictures = [pair for pair in pairs if is_of_pictures(pair)]
    for ruling in (Ruling.OPEN, Ruling.COPY):
        for pair in _in_place_of_withheld([each for each in of_pictures if each.ruling is ruling], shown):
            standing.setdefault(pair.id, pair)
    return [*standing.values(), *(pair for pair in between if pair.id not in standing)]


def _in_place_of_withheld(copies: list[CopyPair], shown: frozenset[str]) -> Iterator[CopyPair]:
    """One pair for each two families of shown pictures that are one family with what is withheld."""
    whole, seen = Alike(lambda _: ()), Alike(lambda _: ())
    first: dict[Place, tuple[Place, CopyPair]] = {}
    for pair in copies:
        whole.join(*places_of(pair))
        if shown.issuperset(pair.between):
            seen.join(*places_of(pair))
    for pair in sorted(copies, key=lambda each: each.id):
        for place in places_of(pair):
            if place[0] in shown:
                family = whole.family_at(place)
                other, _ = first.setdefault(family, (place, pair))
                if other[0] != place[0] and seen.family_at(other) != seen.family_at(place):
                    seen.join(other, place)
                    yield _paired(pair, other, place)


def _paired(like: CopyPair, one: Place, other: Place) -> CopyPair:
    first, second = sorted((one, other), key=lambda place: place[0])
    places = tuple(AlikePlace(page=page) for _, page in (first, second))
    found_by = replace(like.found_by, places=places) if like.found_by else None
    return replace(like, id=f"{first[0]}--{second[0]}", between=(first[0], second[0]), found_by=found_by)
