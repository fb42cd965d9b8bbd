from pathlib import Path

import pytest

from provenance.errors import UnreadableOriginalError
from provenance.pages.plain_text import MAX_TEXT_BYTES, DecodedText, looks_like_text, read_text


def text_file(folder: Path, content: bytes) -> Path:
    path = folder / "letter.txt"
    path.write_bytes(content)
    return path


@pytest.mark.parametrize(
    ("content", "encoding"),
    [
        ("3\u00bd in \u2013 4\u00b0".encode(), "utf-8"),
        ("3\u00bd in \u2013 4\u00b0".encode("utf-8-sig"), "utf-8"),
        ("3\u00bd in \u2013 4\u00b0".encode("utf-16"), "utf-16"),
        ("\ufeff3\u00bd in \u2013 4\u00b0".encode("utf-16-be"), "utf-16"),
    ],
)
def test_text_in_unicode_is_read_without_a_remark(tmp_path: Path, content: bytes, encoding: str) -> None:
    path = text_file(tmp_path, content)

    decoded = read_text(path)

    assert decoded == DecodedText(text="3\u00bd in \u2013 4\u00b0", encoding=encoding)


def test_text_of_an_older_machine_is_read_by_its_code_page_and_that_is_said(tmp_path: Path) -> None:
    path = text_file(tmp_path, b"3\xbd in \x96 4\xb0")

    decoded = read_text(path)

    assert decoded.text == "3\u00bd in \u2013 4\u00b0"
    assert decoded.encoding == "cp1252"
    assert decoded.note == "not UTF-8; read as Windows-1252"


def test_line_ends_of_every_kind_are_line_feeds(tmp_path: Path) -> None:
    path = text_file(tmp_path, b"one\r\ntwo\rthree\nfour\x1a")

    decoded = read_text(path)

    assert decoded.text == "one\ntwo\nthree\nfour"


def test_bytes_that_no_code_page_knows_are_refused_with_their_place(tmp_path: Path) -> None:
    path = text_file(tmp_path, b"abc\x81\x9d")

    with pytest.raises(UnreadableOriginalError, match="neither UTF-8 nor Windows-1252 text \\(byte 3\\)"):
        read_text(path)


def test_a_text_that_breaks_off_within_a_character_is_refused(tmp_path: Path) -> None:
    path = text_file(tmp_path, "\u20ac 5".encode("utf-8-sig")[:5])

    with pytest.raises(UnreadableOriginalError, match="marked as UTF-8 and breaks off or is damaged at byte"):
        read_text(path)


def test_a_text_beyond_all_measure_is_refused_without_being_read(tmp_path: Path) -> None:
    path = tmp_path / "endless.txt"
    with path.open("wb") as file:
        file.truncate(MAX_TEXT_BYTES + 1)

    with pytest.raises(UnreadableOriginalError, match="20 million bytes") as caught:
        read_text(path)

    assert "split it" in caught.value.mend


def test_nothing_is_not_text() -> None:
    assert not looks_like_text(b"")
