from pathlib import Path

import pytest

from provenance.errors import UsageRefusedError, WriteRefusedError
from provenance.store.staging import leftover_name
from provenance.tasks.output_files import format_of, output_ready, require_place, write_output


@pytest.mark.parametrize(("name", "format_"), [("a.html", "html"), ("A.HTML", "html"), ("b.c.md", "md")])
def test_the_end_of_the_name_says_in_which_format(name: str, format_: str) -> None:
    assert format_of(Path(name), ("html", "md")) == format_


@pytest.mark.parametrize("name", ["a.pdf", "html", "a", ".md"])
def test_a_name_that_says_no_format_is_refused_with_those_there_are(name: str) -> None:
    with pytest.raises(UsageRefusedError) as refused:
        format_of(Path(name), ("html", "md"))

    assert refused.value.mend == "let it end in `.html` or `.md`"


@pytest.mark.parametrize("inside", ["panels", "originals/handbook", "transcripts", ".derived"])
def test_nothing_is_written_among_the_archives_own_files(tmp_path: Path, inside: str) -> None:
    (tmp_path / inside).mkdir(parents=True)

    with pytest.raises(UsageRefusedError, match="the archive's own files"):
        require_place(tmp_path / inside / "a.html", tmp_path)


def test_beside_the_records_and_outside_of_the_archive_it_may_be_written(tmp_path: Path) -> None:
    (tmp_path / "archive" / "panels").mkdir(parents=True)
    (tmp_path / "archive" / "printed").mkdir()

    require_place(tmp_path / "archive" / "a.html", tmp_path / "archive")
    require_place(tmp_path / "archive" / "printed" / "a.html", tmp_path / "archive")
    require_place(tmp_path / "a.html", tmp_path / "archive")


def test_a_folder_that_is_not_there_a_link_and_a_folder_are_refused(tmp_path: Path) -> None:
    (tmp_path / "there.html").mkdir()
    (tmp_path / "link.html").symlink_to(tmp_path / "elsewhere.html")

    for name, why in (("gone/a.html", "is not there"), ("there.html", "plain file"), ("link.html", "plain file")):
        with pytest.raises(UsageRefusedError, match=why):
            require_place(tmp_path / name, tmp_path / "archive")


def test_a_link_into_the_archive_leads_no_document_among_its_files(tmp_path: Path) -> None:
    (tmp_path / "archive" / "panels").mkdir(parents=True)
    (tmp_path / "out").symlink_to(tmp_path / "archive" / "panels")

    with pytest.raises(UsageRefusedError, match="the archive's own files"):
        require_place(tmp_path / "out" / "a.html", tmp_path / "archive")


def test_a_later_document_takes_the_place_of_an_earlier_one(tmp_path: Path) -> None:
    write_output(tmp_path / "a.md", "first")
    write_output(tmp_path / "a.md", "second\r\n")

    assert (tmp_path / "a.md").read_bytes() == b"second\r\n"
    assert [path.name for path in tmp_path.iterdir()] == ["a.md"]


def test_what_is_done_with_a_document_is_done_before_anybody_finds_it(tmp_path: Path) -> None:
    with output_ready(tmp_path / "a.md", "whole"):
        (unfinished,) = tmp_path.iterdir()
        there = unfinished.read_bytes()

    assert (unfinished.name != "a.md", there) == (True, b"whole")
    assert [path.name for path in tmp_path.iterdir()] == ["a.md"]


def test_a_document_with_which_something_could_not_be_done_is_not_there(tmp_path: Path) -> None:
    (tmp_path / "a.md").write_bytes(b"earlier")

    with pytest.raises(WriteRefusedError, match="the record"), output_ready(tmp_path / "a.md", "later"):
        raise WriteRefusedError("the record cannot be written")

    assert [path.read_bytes() for path in tmp_path.iterdir()] == [b"earlier"]


def test_what_a_killed_writer_left_beside_a_document_goes_with_the_next(tmp_path: Path) -> None:
    (tmp_path / leftover_name()).write_bytes(b"half")

    write_output(tmp_path / "a.md", "whole")

    assert [path.name for path in tmp_path.iterdir()] == ["a.md"]
