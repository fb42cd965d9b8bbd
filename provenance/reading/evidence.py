"""How much a reading is worth, told by the reading itself."""

from collections.abc import Sequence

from provenance.records.readings import DOUBTFUL_BELOW, Word

_WELL_READ = 0.6


def letters(words: Sequence[Word]) -> int:
    """Count the letters and figures of words; marks and specks do not count."""
    return sum(map(_letters_of, words))


def share_sure(words: Sequence[Word]) -> float:
    """Give the share of the letters that stand in words of which the recogniser was sure; 0 where there are none."""
    return sum(_letters_of(word) for word in words if _is_sure(word)) / max(1, letters(words))


def is_well_read(words: Sequence[Word]) -> bool:
    """Whether a page was read the right way up.

    Measured on print, typescripts and lists: the share of sure letters is over .8 the right way up, also of worn pages,
    and under .35 sideways or upside down.
    """
    return share_sure(words) >= _WELL_READ


def evidence(words: Sequence[Word]) -> float:
    """Weigh a reading: the letters of which the recogniser was sure, each by how sure it was."""
    return sum(_letters_of(word) * (word.confidence or 0.0) / 100 for word in words if _is_sure(word))


def _letters_of(word: Word) -> int:
    return sum(map(str.isalnum, word.text))


def _is_sure(word: Word) -> bool:
    return word.confidence is not None and word.confidence >= DOUBTFUL_BELOW
