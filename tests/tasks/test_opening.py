"""What an opened archive says it represents."""

from dataclasses import replace
from pathlib import Path

import pytest
from tasks.team import a_team_archive, a_text

from provenance.errors import ArchiveError
from provenance.records.production import Production
from provenance.tasks.opening import Opened, open_folder, opened_at


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


def test_an_archive_that_did_not_change_is_the_very_same_when_it_is_opened_again(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    assert opened_at(opened).archive is opened.archive


def test_what_changed_since_it_was_opened_is_there_and_what_names_what_is_gone_is_set_aside(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    a_text(opened.folder / "leads/tins.yaml", "what: tins\nby: mh\ndate: 2026-01-10\n")
    (opened.folder / "sources/handbook.yaml").unlink()

    again = opened_at(opened)

    assert again == open_folder(opened.folder)
    assert "tins" in again.archive.leads
    assert [each.file for each in again.left_out] == ["claims/headlamp-kind-acetylene.yaml"]


def test_a_record_that_was_broken_otherwise_is_told_otherwise(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    a_text(opened.folder / "sources/handbook.yaml", "title: A\ndate: 2026-01-10\n")
    broken = opened_at(opened)
    a_text(opened.folder / "sources/handbook.yaml", "title: A\nby: mh\n")

    again = opened_at(broken)

    assert again == open_folder(opened.folder)
    assert again.left_out != broken.left_out


def test_an_archive_looked_at_as_if_it_were_another_is_opened_as_it_is(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    assert opened_at(_represents(opened, "19")) == opened


def test_an_archive_that_came_from_no_folder_is_read_from_the_one_it_names(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    made = Opened(folder=opened.folder, archive=replace(opened.archive, sources={}), left_out=())

    assert opened_at(made) == opened


def test_a_folder_is_opened(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    assert opened_at(opened.folder / "claims") == opened
