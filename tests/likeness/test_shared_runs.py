"""Runs that two texts share are told with their places; grams that stand everywhere are not followed everywhere."""

from pathlib import Path

from likeness.passages import BRAKES, FARES, HEATING, OILING

from provenance.likeness.letters import fold
from provenance.likeness.shared_runs import BAND, Runs, shared_runs
from provenance.likeness.word_index import WordIndex


def runs_of(folder: Path, texts: list[str]) -> Runs:
    index = WordIndex(folder)
    index.add((f"{n}", text) for n, text in enumerate(texts))
    return shared_runs(index._holdings, 0, str)


def test_a_passage_that_stands_elsewhere_is_a_run_at_its_distance(tmp_path: Path) -> None:
    before = len(fold(FARES))

    runs = runs_of(tmp_path, [OILING, f"{FARES} {OILING}", BRAKES])

    longest = int((runs.end - runs.begin).argmax())
    assert runs.text[longest] == 1
    assert runs.low[longest] <= before < runs.low[longest] + BAND
    assert runs.first[longest] == before
    assert runs.end[longest] - runs.begin[longest] > len(fold(OILING)) - 2 * BAND


def test_texts_without_a_gram_in_common_share_no_run(tmp_path: Path) -> None:
    assert len(runs_of(tmp_path, ["lamp oil and wick", "brake shoe", ""])) == 0


def test_of_a_passage_that_stands_in_hundreds_only_some_are_told(tmp_path: Path) -> None:
    runs = runs_of(tmp_path, [OILING, *(f"{n} {OILING} {n}" for n in range(300)), HEATING])

    assert 4 < len(set(runs.text.tolist())) < 150
