import zlib
from pathlib import Path

import pikepdf
import pytest
from pages.hostile_pdfs import CATALOG, ONE_PAGE, SQUARE, page, pages_of_text, stream, unfolding, write_pdf

from provenance.pages import page_contents
from provenance.pages.page_contents import is_blank_in_earnest

PACKED = b"/Filter/FlateDecode"


def document(path: Path, *contents: bytes, named: bytes = b"/Contents 4 0 R") -> Path:
    return write_pdf(path, CATALOG, ONE_PAGE, page(SQUARE + named), *contents)


@pytest.mark.parametrize(
    "contents",
    [
        stream(b""),
        stream(b"q 1 0 0 1 0 0 cm Q\n"),
        stream(zlib.compress(b""), PACKED),
        stream(zlib.compress(b"q Q " * 1000), PACKED),
        stream(b"71 20 51 >", b"/Filter/ASCIIHexDecode"),
        stream(unfolding(50_000_000), PACKED),
    ],
)
def test_a_page_with_nothing_to_draw_is_blank(tmp_path: Path, contents: bytes) -> None:
    assert is_blank_in_earnest(document(tmp_path / "blank.pdf", contents), 1)


def test_a_page_that_has_no_content_is_blank(tmp_path: Path) -> None:
    assert is_blank_in_earnest(write_pdf(tmp_path / "blank.pdf", CATALOG, ONE_PAGE, page()), 1)


@pytest.mark.parametrize(
    "contents",
    [
        stream(b"\0\1 rot has been at this", PACKED),
        stream(b"q Q \xfe\x80\x81"),
        stream(b"q Q", b"/Filter/NobodyKnows"),
        b"<</Length 3>>",
    ],
)
def test_a_page_whose_content_is_damaged_is_not_blank(tmp_path: Path, contents: bytes) -> None:
    assert not is_blank_in_earnest(document(tmp_path / "lost.pdf", contents), 1)


def test_a_page_whose_content_is_not_in_the_file_is_not_blank(tmp_path: Path) -> None:
    path = document(tmp_path / "lost.pdf", named=b"/Contents[4 0 R 9 0 R]")

    assert not is_blank_in_earnest(path, 1)


def test_a_content_that_leads_in_a_circle_is_not_blank(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(page_contents, "SECONDS_TO_WALK", 0.3)  # the same end, sooner

    assert not is_blank_in_earnest(document(tmp_path / "circle.pdf", b" 4 0 R", named=b"/Contents[4 0 R]"), 1)


def test_where_two_readers_count_differently_no_page_is_called_blank(tmp_path: Path) -> None:
    path = pages_of_text(tmp_path / "fewer.pdf", 3, count=2)

    assert not is_blank_in_earnest(path, 1)


def test_a_blank_page_of_a_document_that_only_forbids_copying_is_blank(tmp_path: Path) -> None:
    plain = document(tmp_path / "plain.pdf", stream(zlib.compress(b"q Q"), PACKED))
    path = tmp_path / "restricted.pdf"
    with pikepdf.open(plain) as opened:
        opened.save(path, encryption=pikepdf.Encryption(owner="owner", user=""))

    assert is_blank_in_earnest(path, 1)
