"""A new archive: sound as it is written, and explained line by line."""

from pathlib import Path

import pytest
from tracing import run_with_fault

from provenance.errors import WriteRefusedError
from provenance.store.document import Document
from provenance.store.key_order import known_keys
from provenance.store.new_archive import make_archive
from provenance.store.record_kinds import RecordKind
from provenance.store.schema_check import check_schema
from provenance.store.staging import leftover_name
from provenance.store.typing_by_schema import type_content
from provenance.store.yaml_text import read_yaml

MAKE = """
import sys
from pathlib import Path
from provenance.store.new_archive import make_archive
make_archive(Path(sys.argv[1]), title="Railcar 9", by="mh")
"""


def read(text: str) -> Document:
    document = read_yaml(text, "archive.yaml")
    assert isinstance(document, Document), document
    return document


def faults(text: str) -> list[str]:
    document = read(text)
    typed = Document(
        file=document.file, content=type_content(document.content, RecordKind.ARCHIVE), lines=document.lines
    )
    return [str(problem) for problem in check_schema(typed, RecordKind.ARCHIVE)]


def test_a_new_archive_says_what_is_known_and_nothing_else(tmp_path: Path) -> None:
    written = make_archive(tmp_path / "railcar", title='Railcar 9: "reproduced"', by="mh", name="Martha Holm")

    text = (tmp_path / "railcar" / "archive.yaml").read_text()
    assert written == (".gitattributes", ".gitignore", "archive.yaml")
    assert sorted(entry.name for entry in (tmp_path / "railcar").iterdir()) == sorted(written)
    assert read(text).content == {
        "format": "1",
        "title": 'Railcar 9: "reproduced"',
        "people": [{"id": "mh", "name": "Martha Holm"}],
    }
    assert faults(text) == []


def test_every_key_of_an_archive_is_explained_and_every_example_is_sound(tmp_path: Path) -> None:
    make_archive(tmp_path, title=None, by=None)
    text = (tmp_path / "archive.yaml").read_text()

    shown = [
        line.removeprefix("# ")
        for line in text.splitlines()
        if not line.startswith(("# The ", "# What ", "# (", "# Lines"))
    ]
    used = "\n".join(
        line for line in shown if line.startswith((" ", "-")) or line.partition(":")[0] in known_keys("archive")
    )

    assert set(read(used).content) == set(known_keys("archive")) - {"note"}
    assert faults(used) == []


def test_a_title_and_a_person_that_are_not_known_are_gaps(tmp_path: Path) -> None:
    make_archive(tmp_path, title=None, by=None)

    text = (tmp_path / "archive.yaml").read_text()

    assert read(text).content == {"format": "1"}
    assert len(faults(text)) == 1
    assert "title" in faults(text)[0]


def test_a_person_without_a_name_goes_by_the_id(tmp_path: Path) -> None:
    make_archive(tmp_path, title="Railcar 9", by="mh")

    assert read((tmp_path / "archive.yaml").read_text()).content["people"] == [{"id": "mh", "name": "mh"}]


def test_git_leaves_originals_alone_and_what_can_be_made_again_out(tmp_path: Path) -> None:
    make_archive(tmp_path, title="Railcar 9", by="mh")

    assert (tmp_path / ".gitattributes").read_text() == "originals/** -text\n"
    assert (tmp_path / ".gitignore").read_text() == ".derived/\n.provenance.local.yaml\n"


def test_files_of_git_that_are_there_keep_their_lines(tmp_path: Path) -> None:
    (tmp_path / ".gitignore").write_bytes(b"*.bak\n.derived/")
    (tmp_path / ".gitattributes").write_bytes(b"originals/** -text\n")
    (tmp_path / ".git").mkdir()

    written = make_archive(tmp_path, title="Railcar 9", by="mh")

    assert written == (".gitignore", "archive.yaml")
    assert (tmp_path / ".gitignore").read_bytes() == b"*.bak\n.derived/\n.provenance.local.yaml\n"
    assert (tmp_path / ".gitattributes").read_bytes() == b"originals/** -text\n"


def test_an_archive_is_never_begun_over_another(tmp_path: Path) -> None:
    make_archive(tmp_path, title="Railcar 9", by="mh")
    before = (tmp_path / "archive.yaml").read_bytes()

    with pytest.raises(WriteRefusedError, match="is an archive already"):
        make_archive(tmp_path, title="Railcar 10", by="mh")

    assert (tmp_path / "archive.yaml").read_bytes() == before


def test_a_folder_that_holds_something_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "letter.pdf").write_bytes(b"%PDF")

    with pytest.raises(WriteRefusedError, match=r"is not empty: it holds letter\.pdf"):
        make_archive(tmp_path, title="Railcar 9", by="mh")
    with pytest.raises(WriteRefusedError, match="cannot be written: Not a directory"):
        make_archive(tmp_path / "letter.pdf", title="Railcar 9", by="mh")

    assert [entry.name for entry in tmp_path.iterdir()] == ["letter.pdf"]


def test_an_archive_broken_off_at_its_beginning_can_be_begun_again(tmp_path: Path) -> None:
    done = run_with_fault(MAKE, tmp_path, fault="linkat:error=ENOSPC:when=3", log=tmp_path / ".calls")

    assert "the disk is full" in done.stderr
    assert not (tmp_path / "archive.yaml").exists()
    assert make_archive(tmp_path, title="Railcar 9", by="mh") == ("archive.yaml",)


def test_an_archive_is_begun_anew_where_a_killed_beginning_left_its_unfinished_file(tmp_path: Path) -> None:
    (tmp_path / leftover_name()).write_bytes(b"format: 1")

    make_archive(tmp_path, title="Railcar 9", by="mh")

    assert sorted(path.name for path in tmp_path.iterdir()) == [".gitattributes", ".gitignore", "archive.yaml"]
