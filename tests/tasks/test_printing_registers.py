import csv
import re
from collections.abc import Iterator
from html import unescape
from io import BytesIO, StringIO
from pathlib import Path
from zipfile import ZipFile

import pdfplumber
import pikepdf
import pytest
from openpyxl import load_workbook
from public_folders import CANARY, TODAY, a_folder_that_holds_back, canaries_in, let_names_tell

from provenance.errors import ArchiveError, UsageRefusedError, WriteRefusedError
from provenance.tasks.printing_registers import FORMATS, WHICH, print_register

KINDS = [(which, ending) for which in WHICH for ending in FORMATS]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Two sources are open and cleared, one is the team's, one closed, and their album is closed."""
    return a_folder_that_holds_back(tmp_path)


def _change(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def unpacked(path: Path) -> Iterator[bytes]:
    """Every byte of a file as it may be read: parts of a workbook, texts, streams and properties of a PDF."""
    data = path.read_bytes()
    if path.suffix == ".xlsx":
        parts = ZipFile(BytesIO(data))
        yield "\n".join(parts.namelist()).encode()
        yield from (parts.read(name) for name in parts.namelist())
    elif path.suffix == ".pdf":
        with pdfplumber.open(path) as pdf:
            yield "\n".join(page.extract_text() for page in pdf.pages).encode()
            yield " ".join(word["text"] for page in pdf.pages for word in page.extract_words()).encode()
        with pikepdf.open(path) as pdf:
            for each in pdf.objects:
                yield str(each).encode("utf-8", errors="replace")
                if isinstance(each, pikepdf.Stream):
                    yield each.read_bytes().decode("latin-1").encode()
    yield data.decode("utf-8", errors="replace").encode()


def seen_in(path: Path) -> list[str]:
    return [line for data in unpacked(path) for line in canaries_in(data)]


def made(folder: Path, tmp_path: Path, which: str, ending: str, *, draft: bool = False) -> Path:
    output = tmp_path / f"{which}.{ending}"
    print_register(folder, which, output, day=TODAY, draft=draft)
    return output


@pytest.mark.parametrize(("which", "ending"), KINDS)
@pytest.mark.parametrize("draft", [False, True])
def test_no_word_of_what_is_withheld_is_in_any_part_of_a_register(
    folder: Path, tmp_path: Path, which: str, ending: str, *, draft: bool
) -> None:
    derived = "title: Print after it\nkind: photograph\nderives_from: [{source: canary%sid, how: print}]\n"
    rest = "within: {source: canaryteamid}\naccess: open\nby: mh\ndate: 2026-01-10\n"
    for kind in ("team", "closed"):
        (folder / f"sources/print-{kind}.yaml").write_text(derived % kind + rest, encoding="utf-8")

    output = made(folder, tmp_path, which, ending, draft=draft)

    assert seen_in(output) == []
    words = re.sub(r"\s+", " ", b" ".join(unpacked(output)).decode())
    assert "modern re-creation" in words
    assert ("DRAFT" in words) is draft
    if which == "sources":
        assert "Print after it" in words
        assert "Working instructions" in words


@pytest.mark.parametrize(("which", "ending"), KINDS)
def test_names_that_tell_are_struck_out_of_a_register(folder: Path, tmp_path: Path, which: str, ending: str) -> None:
    let_names_tell(folder)
    _change(
        folder / "sources/handbook.yaml",
        "access: open",
        "reliability: B\nreliability_why: Canaryteamcreator says\naccess: open",
    )

    output = made(folder, tmp_path, which, ending)

    assert seen_in(output) == []
    assert "[withheld]" in b" ".join(unpacked(output)).decode()


@pytest.mark.parametrize("ending", FORMATS)
def test_the_search_for_canaries_finds_them_in_each_format(folder: Path, tmp_path: Path, ending: str) -> None:
    _change(folder / "sources/handbook.yaml", "Working instructions", f"A {CANARY}")

    assert seen_in(made(folder, tmp_path, "sources", ending))


@pytest.mark.parametrize(("which", "ending"), KINDS)
def test_the_same_archive_gives_the_same_bytes(folder: Path, tmp_path: Path, which: str, ending: str) -> None:
    first = made(folder, tmp_path, which, ending).read_bytes()

    assert made(folder, tmp_path, which, ending).read_bytes() == first


@pytest.mark.parametrize(("notes", "told"), [(0, "One further source is"), (2, "3 further sources are")])
def test_of_what_is_withheld_the_number_of_the_teams_sources_alone_is_told(
    folder: Path, tmp_path: Path, notes: int, told: str
) -> None:
    """One source is the team's already, two are closed; of what was withdrawn nothing is told either."""
    written = "title: Note\nby: mh\ndate: 2026-01-10\n"
    for number in range(notes):
        (folder / f"sources/note-{number}.yaml").write_text(written, encoding="utf-8")
    gone = "withdrawn: {why: twice, by: mh, date: 2026-01-11}\n"
    (folder / "sources/gone.yaml").write_text(written + gone, encoding="utf-8")

    answer = print_register(folder, "sources", tmp_path / "s.csv", day=TODAY, draft=False)

    text = (tmp_path / "s.csv").read_text(encoding="utf-8-sig")
    lines = list(csv.reader(StringIO(text, newline="")))
    assert [line[1] for line in lines[1:] if line[0]] == ["handbook", "photograph"]
    assert (answer.rows, answer.held_privately) == (2, 1 + notes)
    assert f"{told} held privately." in text


def test_rights_that_are_not_cleared_stop_nothing_and_the_team_is_told_whom_to_ask(
    folder: Path, tmp_path: Path
) -> None:
    _change(folder / "sources/handbook.yaml", "publish: allowed", "holder: heirs of M. Oskell, publish: ask")

    answer = print_register(folder, "sources", tmp_path / "s.csv", day=TODAY, draft=False)
    features = print_register(folder, "features", tmp_path / "f.csv", day=TODAY, draft=False)

    (asking,) = answer.askings
    assert (asking.ask, asking.sources) == ("heirs of M. Oskell", ("“Working instructions” (handbook)",))
    assert features.askings == ()
    text = (tmp_path / "s.csv").read_text(encoding="utf-8")
    assert "no: permission has still to be asked for" in text
    assert "Oskell" not in text


@pytest.mark.parametrize("which", WHICH)
def test_an_archive_of_which_records_cannot_be_used_is_listed_as_a_draft_alone(
    folder: Path, tmp_path: Path, which: str
) -> None:
    (folder / "sources" / "canarybroken.yaml").write_text("title: [\n", encoding="utf-8")
    output = tmp_path / "list.csv"

    with pytest.raises(WriteRefusedError, match=r"sources/canarybroken\.yaml"):
        print_register(folder, which, output, day=TODAY, draft=False)

    assert not output.exists()
    assert print_register(folder, which, output, day=TODAY, draft=True).standing.left_out
    assert seen_in(output) == []
    assert "Not the whole archive: one record could not be used." in output.read_text(encoding="utf-8")


def _without_target(folder: Path) -> None:
    archive = folder / "archive.yaml"
    lines = archive.read_text(encoding="utf-8").splitlines(keepends=True)
    archive.write_text("".join(line for line in lines if not line.startswith("target")), encoding="utf-8")


def test_sources_are_listed_before_it_is_said_what_is_represented_and_features_are_not(
    folder: Path, tmp_path: Path
) -> None:
    _without_target(folder)

    answer = print_register(folder, "sources", tmp_path / "s.csv", day=TODAY, draft=False)
    with pytest.raises(ArchiveError, match="which example is represented"):
        print_register(folder, "features", tmp_path / "f.csv", day=TODAY, draft=False)

    assert answer.rows == 2
    assert "does not say yet what it represents" in (tmp_path / "s.csv").read_text(encoding="utf-8")
    assert seen_in(tmp_path / "s.csv") == []
    assert not (tmp_path / "f.csv").exists()


@pytest.mark.parametrize("ending", FORMATS)
def test_an_empty_archive_has_an_empty_register(tmp_path: Path, ending: str) -> None:
    (tmp_path / "a").mkdir()
    (tmp_path / "a" / "archive.yaml").write_text("format: 1\ntitle: New\n", encoding="utf-8")

    answer = print_register(tmp_path / "a", "sources", tmp_path / f"s.{ending}", day=TODAY, draft=False)

    assert (answer.rows, answer.held_privately) == (0, 0)
    assert (tmp_path / f"s.{ending}").stat().st_size


@pytest.mark.parametrize("name", ["list.docx", "list", "nowhere/list.csv"])
def test_a_place_or_a_format_that_cannot_be_is_refused(folder: Path, tmp_path: Path, name: str) -> None:
    with pytest.raises(UsageRefusedError):
        print_register(folder, "sources", tmp_path / name, day=TODAY, draft=False)


def test_nothing_is_written_among_the_records(folder: Path) -> None:
    with pytest.raises(UsageRefusedError, match="holds the archive's own files"):
        print_register(folder, "sources", folder / "sources" / "list.csv", day=TODAY, draft=False)


def test_a_closure_that_ends_opens_a_source_on_the_day_of_the_register(folder: Path, tmp_path: Path) -> None:
    _change(folder / "sources/handbook.yaml", "access: open", "access: closed\naccess_until: 2030-06-30")

    before, after = (
        print_register(folder, "sources", tmp_path / "s.csv", day=day, draft=False).rows
        for day in ("2030-06-30", "2030-07-01")
    )

    assert (before, after) == (1, 2)


def test_a_text_that_a_workbook_has_to_cut_is_told_of(folder: Path, tmp_path: Path) -> None:
    _change(folder / "sources/handbook.yaml", "title: Working instructions", f"title: {'long ' * 7000}")

    workbook = print_register(folder, "sources", tmp_path / "s.xlsx", day=TODAY, draft=False)
    values = print_register(folder, "sources", tmp_path / "s.csv", day=TODAY, draft=False)

    assert workbook.said == (
        "One cell was too long for a workbook and cut there, which is said in it; a `.csv` holds it whole.",
    )
    assert values.said == ()
    cells = [cell.value for row in load_workbook(tmp_path / "s.xlsx").worksheets[0].iter_rows() for cell in row]
    assert any(str(cell).endswith("[cut here: a cell of a workbook holds no more]") for cell in cells)


@pytest.mark.parametrize("ending", ["html", "csv", "xlsx", pytest.param("pdf", marks=pytest.mark.long)])
def test_whatever_people_write_stands_in_a_register_of_every_format(folder: Path, tmp_path: Path, ending: str) -> None:
    texts = (
        "<script>alert(1)</script> & =1+1",
        "#import $a$ *b* @ref `r`",
        "ספריה, תיק 7",
        "x" * 500,
        "wording " * 2500,
    )
    for number, text in enumerate(texts):
        fields = "".join(
            f"{each}: {text!r}\n" for each in ("title", "creator", "holder", "reference") if len(text) < 999
        )
        title = "" if fields else f"title: {text!r}\n"
        (folder / f"sources/h-{number}.yaml").write_text(
            f"{title}{fields}kind: book\naccess: open\nby: mh\ndate: 2026-01-10\n", encoding="utf-8"
        )

    output = made(folder, tmp_path, "sources", ending)

    shown = unescape(b" ".join(unpacked(output)).decode())
    assert ("<script>alert(1)" in output.read_bytes().decode("latin-1")) is (ending == "csv")
    assert re.sub(r"\s", "", shown).count("wording" * 20) >= 1
    assert "#import $a$" in shown


def test_a_register_changes_no_record(folder: Path, tmp_path: Path) -> None:
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file() and ".derived" not in path.parts}

    for which, ending in KINDS:
        made(folder, tmp_path, which, ending)

    after = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file() and ".derived" not in path.parts}
    assert after == before
