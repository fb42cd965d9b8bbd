"""Of a text its telling grams are kept, of a gram that a table repeats only the first places."""

import numpy as np
import pytest
from likeness.passages import OILING

from provenance.likeness.letters import GRAM, fold, gram_hashes
from provenance.likeness.text_segments import arrays_of, kept_grams, thinned


def test_of_a_gram_that_stands_many_times_the_first_eight_places_are_kept() -> None:
    hashes = np.array([5, 3, *[7] * 20, 3], dtype=np.uint64)

    kept, places = thinned(hashes, np.arange(len(hashes)))

    assert list(zip(kept.tolist(), places.tolist(), strict=True)) == [
        (3, 1),
        (3, 22),
        (5, 0),
        *[(7, n) for n in range(2, 10)],
    ]


def test_kept_grams_are_in_order_and_stand_where_they_are_said_to() -> None:
    codes = fold(OILING).codes

    hashes, places = kept_grams(codes)

    assert hashes.tolist() == sorted(hashes.tolist())
    assert gram_hashes(codes)[places].tolist() == hashes.tolist()
    assert 0.3 < len(places) / (len(codes) - GRAM) < 0.5  # 2 of WINDOW + 1 (Schleimer, Wilkerson and Aiken 2003)


@pytest.mark.parametrize("texts", [[], [""], ["", "oo", OILING, ""]])
def test_texts_of_any_length_are_laid_one_after_the_other(texts: list[str]) -> None:
    arrays = arrays_of(texts)

    lengths = [len(fold(text)) for text in texts]
    assert np.diff(arrays["letters_from"].astype(np.int64)).tolist() == lengths
    assert np.diff(arrays["text_from"].astype(np.int64)).tolist() == [len(text.encode()) for text in texts]
    assert set(arrays["gram_text"].tolist()) == {n for n, length in enumerate(lengths) if length >= GRAM}
