from pathlib import Path

import pytest

from provenance.errors import UsageRefusedError
from provenance.tasks.output_files import format_of, require_place, write_output


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
