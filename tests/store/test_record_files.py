"""What lies in the folders of records: read, or named."""

import errno
import os
import socket
from pathlib import Path

import pytest
from store.small_archive import put

from provenance.errors import Severity
from provenance.store.record_files import list_record_files, read_bytes, unreadable
from provenance.store.record_kinds import RecordKind
from provenance.store.staging import leftover_name
from provenance.store.yaml_text import LARGEST_FILE


def listed(folder: Path) -> tuple[list[str], list[tuple[str, str, str]], list[str]]:
    listing = list_record_files(folder)
    assert all(problem.mend and problem.what for problem in listing.problems)
    return (
        [record.file for record in listing.files],
        [(problem.place.file, problem.rule, problem.severity) for problem in listing.problems],
        listing.left_out,
    )


def test_files_are_listed_by_folder_and_then_by_name(tmp_path: Path) -> None:
    for file in ("claims/b.yaml", "claims/a.yaml", "claims/a-1.yaml", "sources/z.yaml", "components/c.yaml"):
        put(tmp_path, file, "x")
    put(tmp_path, "originals/z/page.yaml", "x")
    put(tmp_path, "transcripts/z/p0001.txt", "x")
    put(tmp_path, "notes.txt", "x")

    files, problems, left_out = listed(tmp_path)

    assert files == ["components/c.yaml", "sources/z.yaml", "claims/a.yaml", "claims/a-1.yaml", "claims/b.yaml"]
    assert (problems, left_out) == ([], [])
    assert list_record_files(tmp_path).files[0].kind is RecordKind.COMPONENT


@pytest.mark.parametrize(
    ("name", "rule", "severity", "mend"),
    [
        ("Lamp 1.yaml", "record/id", Severity.ERROR, "`lamp-1.yaml`"),
        ("a--b.yaml", "record/id", Severity.ERROR, "`a-b.yaml`"),
        ("con.yaml", "record/id", Severity.ERROR, "`claim-con.yaml`"),
        ("Größe.yaml", "record/id", Severity.ERROR, "`gr-e.yaml`"),
        ("???.yaml", "record/id", Severity.ERROR, "`claim.yaml`"),
        ("lamp.yml", "record/file-name", Severity.ERROR, "`lamp.yaml`"),
        ("lamp.YAML", "record/file-name", Severity.ERROR, "`lamp.yaml`"),
    ],
)
def test_what_looks_like_a_record_and_is_not_read_is_left_out_by_name(
    tmp_path: Path, name: str, rule: str, severity: Severity, mend: str
) -> None:
    put(tmp_path, f"claims/{name}", "x")

    files, problems, left_out = listed(tmp_path)

    assert (files, problems) == ([], [(f"claims/{name}", rule, severity)])
    assert left_out == [f"claims/{name}"]
    assert mend in list_record_files(tmp_path).problems[0].mend


@pytest.mark.parametrize(
    "name", ["lamp.yaml~", "#lamp.yaml#", ".lamp.yaml.swp", "lamp.bak", "README", ".DS_Store", ".a.yaml"]
)
def test_what_an_editor_or_a_system_leaves_is_a_note(tmp_path: Path, name: str) -> None:
    put(tmp_path, f"claims/{name}", "x")

    files, problems, left_out = listed(tmp_path)

    assert (files, left_out) == ([], [])
    assert problems == [(f"claims/{name}", "record/file-name", Severity.NOTE)]


def test_what_keeps_an_empty_folder_in_git_and_what_a_killed_writer_leaves_is_no_matter(tmp_path: Path) -> None:
    put(tmp_path, "claims/.gitkeep", "")
    put(tmp_path, f"claims/{leftover_name()}", "half")

    assert listed(tmp_path) == ([], [], [])


def test_a_misnamed_pair_is_told_how_pairs_are_named(tmp_path: Path) -> None:
    put(tmp_path, "copies/a-b.yaml", "x")

    _, problems, left_out = listed(tmp_path)

    assert problems == [("copies/a-b.yaml", "record/id", Severity.ERROR)]
    assert left_out == ["copies/a-b.yaml"]
    assert "joined by --" in list_record_files(tmp_path).problems[0].mend


def test_a_folder_among_records_is_named(tmp_path: Path) -> None:
    put(tmp_path, "claims/old/a.yaml", "x")

    assert listed(tmp_path) == ([], [("claims/old", "record/folder", Severity.WARN)], ["claims/old"])


@pytest.mark.parametrize(("name", "meant"), [("claim", "claims"), ("Sources", "sources"), ("querys", "queries")])
def test_a_folder_whose_name_is_nearly_one_of_records_is_named(tmp_path: Path, name: str, meant: str) -> None:
    put(tmp_path, f"{name}/a.yaml", "x")

    assert listed(tmp_path) == ([], [(name, "record/folder", Severity.WARN)], [name])
    assert f"`{meant}`" in list_record_files(tmp_path).problems[0].mend


def test_a_folder_of_the_teams_own_is_no_matter(tmp_path: Path) -> None:
    for name in ("drafts", "tools", ".git", ".derived", "Fotos 1"):
        put(tmp_path, f"{name}/a.yaml", "x")

    assert listed(tmp_path) == ([], [], [])


def test_links_are_named_and_not_followed(tmp_path: Path) -> None:
    outside = put(tmp_path, "outside/a.yaml", "title: secret\n")
    folder = tmp_path / "archive"
    put(folder, "claims/b.yaml", "x")
    (folder / "claims" / "a.yaml").symlink_to(outside)
    (folder / "claims" / "gone.yaml").symlink_to(tmp_path / "nowhere")
    (folder / "sources").symlink_to(outside.parent)

    files, problems, left_out = listed(folder)

    assert files == ["claims/b.yaml"]
    assert {rule for _, rule, _ in problems} == {"record/link"}
    assert sorted(left_out) == ["claims/a.yaml", "claims/gone.yaml", "sources"]


def test_a_file_in_the_place_of_a_folder_of_records_is_named(tmp_path: Path) -> None:
    put(tmp_path, "claims", "x")

    assert listed(tmp_path) == ([], [("claims", "record/folder", Severity.WARN)], ["claims"])


def test_pipes_and_sockets_are_named_and_not_waited_for(tmp_path: Path) -> None:
    (tmp_path / "claims").mkdir()
    os.mkfifo(tmp_path / "claims" / "a.yaml")
    with socket.socket(socket.AF_UNIX) as server:
        server.bind(str(tmp_path / "claims" / "b.yaml"))

        files, problems, _ = listed(tmp_path)

    assert files == []
    assert [(rule, severity) for _, rule, severity in problems] == [("record/file-name", Severity.WARN)] * 2


def test_a_large_file_is_read_to_one_byte_beyond_what_a_record_may_have(tmp_path: Path) -> None:
    path = put(tmp_path, "a.yaml", "a" * (LARGEST_FILE + 5000))

    assert len(read_bytes(str(path))) == LARGEST_FILE + 1


def test_a_file_that_may_not_be_read_is_named_with_what_the_system_says() -> None:
    problem = unreadable("claims/a.yaml", PermissionError(errno.EACCES, "Permission denied"))

    assert (problem.place.file, problem.rule) == ("claims/a.yaml", "record/unreadable")
    assert "Permission denied" in problem.what
