"""An older archive is brought up to date line by line; a newer one is left alone."""

from pathlib import Path

import pytest

from provenance.errors import ArchiveError, ArchiveNotFoundError, NewerFormatError, WriteRefusedError
from provenance.store.editing import AddKey, edit_file
from provenance.store.fixity import sha256_of
from provenance.store.record_kinds import FORMAT
from provenance.store.upgrading import STEPS, UpgradeResult, format_of, leave_records, upgrade

OLD = "# Our railcar.\ntitle: Railcar 9   # the last one\n"


def an_archive(folder: Path, text: str = OLD) -> Path:
    (folder / "archive.yaml").write_text(text)
    return folder


def test_an_archive_without_a_number_gets_one_and_keeps_everything_else(tmp_path: Path) -> None:
    result = upgrade(an_archive(tmp_path))

    assert result == UpgradeResult(before=0, after=FORMAT, written=("archive.yaml",))
    assert (tmp_path / "archive.yaml").read_text() == "format: 1\n" + OLD


def test_an_archive_of_todays_format_is_left_as_it_is(tmp_path: Path) -> None:
    an_archive(tmp_path, "title: Railcar 9\nformat: 1\n")

    result = upgrade(tmp_path)

    assert result == UpgradeResult(before=1, after=1)
    assert (tmp_path / "archive.yaml").read_text() == "title: Railcar 9\nformat: 1\n"


def test_a_newer_archive_is_refused_and_left_as_it_is(tmp_path: Path) -> None:
    an_archive(tmp_path, f"format: {FORMAT + 1}\n{OLD}")

    with pytest.raises(NewerFormatError, match=f"the archive has format {FORMAT + 1}") as refused:
        upgrade(tmp_path)

    assert refused.value.exit_code == 3
    assert (tmp_path / "archive.yaml").read_text() == f"format: {FORMAT + 1}\n{OLD}"


def test_there_is_a_step_from_every_earlier_format() -> None:
    assert sorted(STEPS) == list(range(FORMAT))


def add_shelf(folder: Path) -> tuple[str, ...]:
    """A step such as a later format may need: every source gets a key that it lacks."""
    changed = []
    for path in sorted((folder / "sources").iterdir()):
        if "x-shelf" not in path.read_text():
            edit_file(path, [AddKey((), "x-shelf", "C4")], expected_sha256=sha256_of(path), within=folder)
            changed.append(f"sources/{path.name}")
    return tuple(changed)


def test_steps_are_taken_one_after_the_other_and_can_be_taken_up_again(tmp_path: Path) -> None:
    an_archive(tmp_path)
    (tmp_path / "sources").mkdir()
    for name in ("a.yaml", "b.yaml"):
        (tmp_path / "sources" / name).write_text("title: A letter\n")

    def breaks_off(folder: Path) -> tuple[str, ...]:
        edit_file(
            folder / "sources/a.yaml",
            [AddKey((), "x-shelf", "C4")],
            expected_sha256=sha256_of(folder / "sources/a.yaml"),
            within=folder,
        )
        raise WriteRefusedError("the disk is full")

    with pytest.raises(WriteRefusedError):
        upgrade(tmp_path, steps={0: leave_records, 1: breaks_off}, to=2)
    halfway = format_of(tmp_path)
    result = upgrade(tmp_path, steps={0: leave_records, 1: add_shelf}, to=2)

    assert halfway == 1
    assert result == UpgradeResult(before=1, after=2, written=("sources/b.yaml", "archive.yaml"))
    assert (tmp_path / "archive.yaml").read_text() == "format: 2\n" + OLD
    assert (tmp_path / "sources/b.yaml").read_text() == "title: A letter\nx-shelf: C4\n"


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("format: one\n", "format one is no whole number"),
        ("format: -1\n", "format -1 is no whole number"),
        ("format: [1]\n", "is no whole number"),
        ("title: [x\n", "archive.yaml:"),
        ("title: x\ntitle: y\n", "archive.yaml:2"),
    ],
)
def test_a_format_that_cannot_be_told_is_a_fault_of_the_archive(tmp_path: Path, text: str, what: str) -> None:
    an_archive(tmp_path, text)

    with pytest.raises(ArchiveError, match=what):
        upgrade(tmp_path)

    assert (tmp_path / "archive.yaml").read_text() == text


def test_a_folder_that_is_no_archive_is_named(tmp_path: Path) -> None:
    with pytest.raises(ArchiveNotFoundError, match=r"there is no archive\.yaml in"):
        upgrade(tmp_path)
    (tmp_path / "archive.yaml").mkdir()
    with pytest.raises(ArchiveError, match="cannot be read: Is a directory"):
        upgrade(tmp_path)
