"""A finished document turned into the bytes of a file, with the typefaces that the archive has of its own."""

import tempfile
from collections.abc import Callable
from pathlib import Path

import pytest
from reports.made_typefaces import a_typeface, without_shapes
from reports.pdf_reading import marks_on_pages, named, reached_marks, texts_by_pdfium, typefaces
from reports.printed_documents import a_document, a_paragraph, a_table
from tasks.team import a_team_archive

from provenance.errors import DerivedDataError, WriteRefusedError
from provenance.reports.document_pdf import document_pdf
from provenance.reports.pdf_joining import joined
from provenance.reports.pdf_parts import pdf_parts, set_part
from provenance.tasks.checking import check_folder
from provenance.tasks.opening import Opened
from provenance.tasks.printing_documents import printed

PLAIN = a_document(a_paragraph(), a_table(3))


@pytest.fixture
def opened(tmp_path: Path) -> Opened:
    return a_team_archive(tmp_path)


@pytest.mark.parametrize(
    ("wanted", "begins"), [("pdf", b"%PDF-1.7"), ("docx", b"PK"), ("html", b"<!"), ("md", b"*Made for the")]
)
def test_each_format_is_written_from_the_same_document(opened: Opened, wanted: str, begins: bytes) -> None:
    data = printed(opened, PLAIN, wanted)

    assert data.lstrip()[: len(begins)].lower() == begins.lower()
    assert printed(opened, PLAIN, wanted) == data


def test_a_long_document_is_set_in_processes_of_its_own_and_is_the_same_as_without_them(opened: Opened) -> None:
    document = a_document(a_table(120), lying=True)
    told: list[tuple[str, int, int]] = []

    data = printed(opened, document, "pdf", on_progress=lambda *how_far: told.append(how_far), most=120)

    parts = pdf_parts(document, most=120)
    assert told == [("setting pages", done, len(parts)) for done in range(1, len(parts) + 1)]
    assert data == joined(parts, [set_part(part) for part in parts])
    assert named(data, "TD") == [cell for row in a_table(120).rows for cell in row]
    assert reached_marks(data) == marks_on_pages(data)


def _interrupt(_what: str, _done: int, _all: int) -> None:
    raise KeyboardInterrupt


def test_ctrl_c_leaves_no_process_and_no_file(opened: Opened, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "temporary").mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "temporary"))
    others = _children()  # of tests that ran before in this process, such as a browser that stays open for all

    with pytest.raises(KeyboardInterrupt):
        printed(opened, a_document(a_table(200)), "pdf", on_progress=_interrupt, most=120)

    assert _children() <= others
    assert list((tmp_path / "temporary").iterdir()) == []


def _children() -> set[str]:
    """The processes that this one has started and that are still there (proc(5))."""
    found = Path("/proc/self/task").glob("*/children")
    return {each for path in found for each in path.read_text().split()}


def test_a_character_that_no_typeface_has_is_refused_with_its_records_and_the_mend(opened: Opened) -> None:
    note = opened.folder / "sources" / "one-more.yaml"
    note.write_text("title: 漢 of the lamp\n", encoding="utf-8")

    with pytest.raises(WriteRefusedError) as caught:
        printed(opened, a_document(a_paragraph("it says 漢 and 字 there")), "pdf")

    assert "漢 (U+6F22, CJK UNIFIED IDEOGRAPH-6F22)" in caught.value.what
    assert "“it says 漢 and 字 there”" in caught.value.what
    assert "sources/one-more.yaml" in caught.value.what
    assert "字 (U+5B57" in caught.value.what
    assert "folder `fonts`" in caught.value.mend
    assert caught.value.exit_code == 4


def test_five_records_at_most_are_named_and_the_others_counted(opened: Opened) -> None:
    for number in range(7):
        (opened.folder / "sources" / f"more-{number}.yaml").write_text("title: 漢\n", encoding="utf-8")

    with pytest.raises(WriteRefusedError) as caught:
        printed(opened, a_document(a_paragraph("漢")), "pdf")

    assert "sources/more-4.yaml and 2 more" in caught.value.what
    assert "more-5" not in caught.value.what


def test_a_typeface_in_the_archive_mends_it_and_check_says_nothing_of_its_folder(opened: Opened) -> None:
    before = check_folder(opened.folder)

    a_typeface(opened.folder / "fonts" / "own.ttf", "漢")
    data = printed(opened, a_document(a_paragraph("a 漢 b")), "pdf")

    assert named(data, "P") == ["a 漢 b"]
    assert all(typefaces(data).values())
    assert check_folder(opened.folder).problems == before.problems


def test_a_folder_of_typefaces_that_holds_none_changes_nothing(opened: Opened) -> None:
    (opened.folder / "fonts").mkdir()
    (opened.folder / "fonts" / "README.txt").write_text("put fonts here", encoding="utf-8")

    assert printed(opened, PLAIN, "pdf") == document_pdf(PLAIN)


def _cut_short(data: bytes) -> bytes:
    return data[: len(data) // 3]


def _no_face(_data: bytes) -> bytes:
    return b"this is no typeface"


def _empty(_data: bytes) -> bytes:
    return b""


@pytest.mark.parametrize("damage", [_cut_short, _no_face, _empty])
def test_a_damaged_typeface_is_named(opened: Opened, damage: Callable[[bytes], bytes]) -> None:
    path = a_typeface(opened.folder / "fonts" / "own.ttf", "漢")
    path.write_bytes(damage(path.read_bytes()))

    with pytest.raises(WriteRefusedError, match=r"fonts/own\.ttf cannot be read as a typeface") as caught:
        printed(opened, PLAIN, "pdf")

    assert "sound copy" in caught.value.mend


def test_a_typeface_whose_shapes_are_damaged_is_named_where_it_is_needed(opened: Opened) -> None:
    path = a_typeface(opened.folder / "fonts" / "own.ttf", "鐵", family="Damaged Squares")
    path.write_bytes(without_shapes(path.read_bytes()))

    with pytest.raises(WriteRefusedError, match="typeface “Damaged Squares” is damaged"):
        printed(opened, a_document(a_paragraph("鐵")), "pdf")
    assert printed(opened, PLAIN, "pdf") == document_pdf(PLAIN)


def test_a_part_that_cannot_be_set_is_told_with_what_to_do(opened: Opened, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("provenance.tasks.printing_documents.PART_SECONDS", 0.001)

    with pytest.raises(DerivedDataError, match=r"part 1 of the PDF could not be set") as caught:
        printed(opened, a_document(a_table(4000, columns=7)), "pdf", most=9000)

    assert "html" in caught.value.mend


def test_pages_of_a_document_say_how_many_there_are(opened: Opened) -> None:
    pages = texts_by_pdfium(printed(opened, a_document(a_table(120)), "pdf", most=120))

    assert [f"page {number} of {len(pages)}" in page for number, page in enumerate(pages, start=1)] == [True] * len(
        pages
    )
