"""The tests of the judgement notice every one of the named changes."""

from pathlib import Path

import pytest
from changed_lines import MUTATIONS, Mutation
from checkout import ROOT
from mutations import UnfitError, apply, survive

SOURCE = "low = 1\nhigh = low + 1\n"


def test_there_are_twenty_changes_with_names_of_their_own() -> None:
    names = {mutation.name for mutation in MUTATIONS}

    assert len(names) == len(MUTATIONS) >= 20


@pytest.mark.parametrize("mutation", MUTATIONS, ids=lambda mutation: mutation.name)
def test_a_change_still_fits_the_source_that_it_was_written_for(mutation: Mutation) -> None:
    source = mutation.module(ROOT).read_text(encoding="utf-8")

    assert apply(mutation, source) != source


def test_a_change_is_made_in_its_one_place() -> None:
    mutation = Mutation(name="one too many", file="x.py", old="low + 1", new="low + 2")

    assert apply(mutation, SOURCE) == "low = 1\nhigh = low + 2\n"


@pytest.mark.parametrize(
    ("old", "new"),
    [("gone", "x"), ("low", "x"), ("low + 1", "low +"), ("1\nhigh", "2\nhigh")],
    ids=["not there", "there twice", "no Python afterwards", "two lines"],
)
def test_a_change_that_does_not_fit_is_refused(old: str, new: str) -> None:
    with pytest.raises(UnfitError, match="unfit change"):
        apply(Mutation(name="unfit change", file="x.py", old=old, new=new), SOURCE)


@pytest.mark.long
def test_every_change_is_noticed_by_a_test_of_its_room(capsys: pytest.CaptureFixture[str]) -> None:
    unnoticed = survive(MUTATIONS)

    assert unnoticed == ()
    assert capsys.readouterr().out.count("\n") == len(MUTATIONS)


@pytest.mark.long
def test_a_change_that_changes_nothing_is_reported_as_unnoticed() -> None:
    (first, *_) = sorted((ROOT / "provenance" / "rules").glob("[a-z]*.py"))
    line = next(line for line in first.read_text(encoding="utf-8").splitlines() if line.startswith("def "))
    idle = Mutation(name="nothing", file=Path(first).name, old=line, new=f"{line}  # as it was")

    assert survive([idle]) == ("nothing",)
