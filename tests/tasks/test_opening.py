"""What an opened archive says it represents."""

from dataclasses import replace
from pathlib import Path

import pytest
from tasks.team import a_team_archive

from provenance.errors import ArchiveError
from provenance.records.production import Production
from provenance.tasks.opening import Opened


def _represents(opened: Opened, example: str) -> Opened:
    assert opened.archive.target is not None
    return replace(opened, archive=replace(opened.archive, target=replace(opened.archive.target, example=example)))


def test_a_machine_that_was_never_built_is_not_judged_for(tmp_path: Path) -> None:
    opened = _represents(a_team_archive(tmp_path), "19")

    with pytest.raises(ArchiveError) as refused:
        _ = opened.target

    assert refused.value.what == "archive.yaml: target.example: there is no example `19`, so nothing can be judged"
    assert refused.value.mend == f"name one of its order of production: {', '.join(opened.archive.production.order)}"


def test_where_no_order_of_production_is_written_yet_any_machine_may_be_represented(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    without = replace(opened, archive=replace(opened.archive, production=Production()))

    assert without.target == opened.archive.target


def test_nothing_can_be_judged_where_nothing_is_represented(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    with pytest.raises(ArchiveError, match="does not say which example is represented"):
        _ = replace(opened, archive=replace(opened.archive, target=None)).target
