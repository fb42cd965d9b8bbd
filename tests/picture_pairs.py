"""Pairs of likely copies as the comparing of pictures leaves them."""

from dataclasses import replace

from builders import a_pair

from provenance.records.decisions import AlikePlace, CopyPair, FoundBy


def alike(one: str, other: str, ruling: str = "open", pages: tuple[int | None, int | None] | None = None) -> CopyPair:
    """Two pictures that look like copies of one another.

    Args:
        one: a source.
        other: another.
        ruling: open unless said otherwise.
        pages: where the pictures stand in `one` and `other`; None where the pair does not say.
    """
    pair = a_pair(one, other, ruling)
    page_of = dict(zip((one, other), pages or (), strict=bool(pages)))
    places = tuple(AlikePlace(page=page_of[source]) for source in pair.between) if pages else ()
    return replace(pair, found_by=FoundBy(method="picture", places=places))
