"""A folder as people hand it in: good files among broken ones and among such as were made to do harm."""

from pathlib import Path

import pikepdf
from cli.command_line import SOUND, a_copy_of, read_answer, run_really
from pages.hostile_pdfs import (
    bomb,
    drawn,
    loop_of_pages,
    nested_arrays,
    nested_beside,
    pages_of_text,
    with_actions,
    write_pdf,
)
from pages.made_originals import born_digital, image_only
from tasks.team import a_scan, a_text

GOOD = {
    "actions.pdf": 1,
    "letter.txt": 1,
    "manual.pdf": 3,
    "mended.pdf": 1,
    "nested-beside.pdf": 1,
    "scan.pdf": 1,
    "scan.png": 1,
}
"""The files that are to be read whole, each with its number of pages."""

BAD = {
    "bomb.pdf": 1,
    "cut.pdf": None,
    "empty.pdf": None,
    "locked.pdf": None,
    "loop.pdf": 1,
    "nested.pdf": 1,
    "stated.pdf": 2,
    "words.pdf": None,
}
"""The files of which something is unread, with the pages that they are said to have; None where none can be counted."""


def a_mixed_folder(folder: Path) -> Path:
    folder.mkdir()
    bomb(folder / "bomb.pdf")
    loop_of_pages(folder / "loop.pdf")
    nested_arrays(folder / "nested.pdf")
    nested_beside(folder / "nested-beside.pdf")
    with_actions(folder / "actions.pdf", folder / "nothing.sh")
    write_pdf(folder / "mended.pdf", *drawn(), has_table=False)
    pages_of_text(folder / "stated.pdf", 1, count=2)
    whole = born_digital(folder / "manual.pdf", pages=3).read_bytes()
    (folder / "cut.pdf").write_bytes(whole[: len(whole) // 2])
    (folder / "empty.pdf").touch()
    a_text(folder / "words.pdf", "404 not found\n")
    with pikepdf.open(folder / "mended.pdf") as opened:
        opened.save(folder / "locked.pdf", encryption=pikepdf.Encryption(owner="owner", user="open sesame"))
    image_only(folder / "scan.pdf")
    a_scan(folder / "scan.png")
    a_text(folder / "letter.txt", "The bracket is of steel.\n")
    return folder


def test_hostile_files_among_good_ones_are_kept_named_and_flagged_and_the_good_ones_are_read(tmp_path: Path) -> None:
    archive = a_copy_of(SOUND, tmp_path)
    folder = a_mixed_folder(tmp_path / "box")

    done = run_really("--archive", archive, "ingest", folder, "--by", "mh", "--json")

    assert done.returncode == 1, done.stderr
    files = {Path(file["path"]).name: file for file in read_answer(done.stdout)["files"]}
    assert files.keys() == GOOD.keys() | BAD.keys()
    assert {name: (files[name]["state"], files[name]["read"]) for name in GOOD} == {
        name: ("registered", pages) for name, pages in GOOD.items()
    }
    assert {name: (files[name]["state"], files[name]["pages"]) for name in BAD} == {
        name: ("unread", pages) for name, pages in BAD.items()
    }
    assert all(files[name]["why"] for name in BAD)
    assert "two readers count its pages differently: 2 and 1" in files["stated.pdf"]["why"]
    assert "page 2 was not read: page 2 of stated.pdf cannot be opened" in files["stated.pdf"]["why"]
    assert unread_sources(archive) - {"handbook"} == {files[name]["source"] for name in BAD}
    assert all((archive / "originals" / files[name]["source"]).is_dir() for name in BAD)


def unread_sources(archive: Path) -> set[str]:
    done = run_really("--archive", archive, "flags", "--rule", "unread-page", "--json")
    return {source for flag in read_answer(done.stdout)["flags"] for source in flag["sources"]}


def test_a_sheet_that_was_drawn_smaller_is_said_to_have_been(tmp_path: Path) -> None:
    archive = a_copy_of(SOUND, tmp_path)
    write_pdf(tmp_path / "drawing.pdf", *drawn(box=b"/MediaBox[0 0 14400 14400]", content=b"0 0 m 9000 9000 l S"))

    done = run_really("--archive", archive, "ingest", tmp_path / "drawing.pdf", "--by", "mh")

    assert done.returncode == 0, done.stderr
    assert "page 1: a very large page, drawn at 30 dpi" in " ".join(done.stdout.split())
