"""The list of what the cases hold names every file of them, and no other."""

import re
from pathlib import Path

import cases

FOLDER = Path(__file__).parent


def test_the_list_names_every_file_of_cases() -> None:
    named = set(re.findall(r"\btest_[a-z_]+", cases.__doc__ or ""))

    assert named == {path.stem for path in FOLDER.glob("test_*.py")} - {Path(__file__).stem}


def test_every_case_shows_its_sums() -> None:
    """A file of cases works with figures: each has sums in the words of its tests or at its head."""
    for path in FOLDER.glob("test_*.py"):
        if path.stem not in {Path(__file__).stem, "test_decided"}:
            assert len(re.findall(r"\d / \(?\d|= \.?\d", path.read_text(encoding="utf-8"))) > 3, path.stem
