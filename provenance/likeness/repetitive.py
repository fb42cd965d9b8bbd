"""Texts that say the same few words over and over: by runs of letters they are alike whatever they mean."""

from collections.abc import Callable, Collection, Iterator
from typing import Final

import numpy as np

from provenance.likeness.letters import gram_hashes
from provenance.likeness.shared_runs import RARE_FAMILIES
from provenance.likeness.text_holdings import Holdings
from provenance.likeness.values import Likeness, TextMatch

LEAST_VARIED: Final = 0.15
"""Which share of a text's words have to be different ones. Of prose and lists of parts a third and more are; of texts
put together from ten words a tenth and less. Our own choice, on texts made for it."""
_LOOKED_AT: Final = 300
_FEWEST: Final = 60
_TELLING: Final = 40


def is_repetitive(text: str) -> bool:
    """Whether a text, by its first few hundred words, says few words over and over; never one of few words in all."""
    words = text.casefold().split(maxsplit=_LOOKED_AT)[:_LOOKED_AT]
    return len(words) >= _FEWEST and len(set(words)) < LEAST_VARIED * len(words)


def equal_texts(
    holdings: Holdings, number: int, family: Callable[[int], str], without: Collection[str]
) -> Iterator[TextMatch]:
    """The texts that have just the letters of one, in order of their keys: all that can be said of a repetitive one.

    None where more families have them than a copied text would: then it is a form. None of a text without as many
    different runs of letters as half a line has: a row of one letter tells nothing.

    Args:
        holdings: all texts.
        number: of the one.
        family: names the family of copies of a text of a number.
        without: keys that are not wanted.
    """
    codes = holdings.letters(number)
    if len(np.unique(gram_hashes(codes))) < _TELLING:
        return
    alike = np.flatnonzero((holdings.lengths == len(codes)) & holdings.is_held).tolist()
    equal = [other for other in alike if other != number and np.array_equal(holdings.letters(other), codes)]
    if len({family(other) for other in equal} - {family(number)}) > RARE_FAMILIES:
        return
    for key, other in sorted((holdings.keys[other], other) for other in equal):
        if key not in without:
            yield TextMatch(
                key=key,
                likeness=Likeness.COPY,
                score=1.0,
                letters=len(codes),
                alike=1.0,
                one=(0, len(holdings.text(number))),
                other=(0, len(holdings.text(other))),
                errors=(),
                why=f"all {len(codes)} letters are the same",
            )
