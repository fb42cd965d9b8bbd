import os
from pathlib import Path

import pytest
from pages.hostile_pdfs import CATALOG, pages_of_text, write_pdf
from pages.made_originals import born_digital, canvas, image_only, picture_of, write_lines
from reportlab.lib.pdfencrypt import StandardEncryption
from reportlab.pdfgen.canvas import Canvas

from provenance.errors import UnreadableOriginalError
from provenance.pages.identifying import OriginalFacts, identify


def test_a_pdf_is_told_with_the_number_of_its_pages(tmp_path: Path) -> None:
    path = born_digital(tmp_path / "manual.pdf", pages=3)

    facts = identify(path)

    assert facts == OriginalFacts(media_type="application/pdf", pages=3)
    assert facts.is_read


@pytest.mark.parametrize(
    ("name", "media_type"),
    [
        *(("a.jpg", "image/jpeg"), ("a.png", "image/png"), ("a.tif", "image/tiff"), ("a.webp", "image/webp")),
        *(("a.gif", "image/gif"), ("a.bmp", "image/bmp"), ("a.jp2", "image/jp2"), ("a.j2k", "image/j2c")),
    ],
)
def test_a_picture_is_one_page(tmp_path: Path, name: str, media_type: str) -> None:
    picture_of().save(tmp_path / name)

    facts = identify(tmp_path / name)

    assert facts == OriginalFacts(media_type=media_type, pages=1)
    assert facts.is_read


def test_a_text_is_one_page_whatever_form_feeds_it_holds(tmp_path: Path) -> None:
    path = tmp_path / "notes.txt"
    path.write_text("first sheet\fsecond sheet\n", encoding="utf-8")

    facts = identify(path)

    assert facts == OriginalFacts(media_type="text/plain", pages=1)


def test_markdown_is_told_from_other_text_by_its_name(tmp_path: Path) -> None:
    path = tmp_path / "notes.md"
    path.write_text("# Visit to the works\n", encoding="utf-8")

    facts = identify(path)

    assert facts == OriginalFacts(media_type="text/markdown", pages=1)


def test_a_pdf_with_the_name_of_a_picture_is_a_pdf_and_said_to_be_named_otherwise(tmp_path: Path) -> None:
    path = born_digital(tmp_path / "scan.jpg")

    facts = identify(path)

    assert facts.media_type == "application/pdf"
    assert facts.pages == 2
    assert facts.note == "named like image/jpeg, and is application/pdf"


@pytest.mark.parametrize(
    ("name", "head", "media_type", "helps"),
    [
        ("a.heic", b"\0\0\0\x18ftypheic\0\0\0\0", "image/heic", "saved as JPEG or PNG"),
        ("a.djvu", b"AT&TFORM\0\0\0\x20DJVM", "image/vnd.djvu", "saved as PDF"),
        ("a.rtf", b"{\\rtf1 a letter}", "application/rtf", "saved as PDF"),
        ("a.svg", b'<svg xmlns="http://www.w3.org/2000/svg"/>', "image/svg+xml", "saved as PDF"),
    ],
)
def test_a_file_of_a_kind_that_is_not_read_is_known_has_no_pages_and_says_what_helps(
    tmp_path: Path, name: str, head: bytes, media_type: str, helps: str
) -> None:
    path = tmp_path / name
    path.write_bytes(head)

    facts = identify(path)

    assert facts.media_type == media_type
    assert facts.pages is None
    assert not facts.is_read
    assert "opened here" in facts.note
    assert helps in facts.note


def test_a_pdf_that_only_forbids_copying_is_open(tmp_path: Path) -> None:
    path = tmp_path / "restricted.pdf"
    sheet = Canvas(str(path), encrypt=StandardEncryption("", "owner", canCopy=0))
    write_lines(sheet)
    sheet.save()

    facts = identify(path)

    assert facts.pages == 1


def refusal(path: Path) -> UnreadableOriginalError:
    with pytest.raises(UnreadableOriginalError) as caught:
        identify(path)
    assert path.name in caught.value.what
    assert caught.value.mend
    return caught.value


def test_a_pdf_locked_by_a_password_says_so(tmp_path: Path) -> None:
    path = tmp_path / "locked.pdf"
    sheet = Canvas(str(path), encrypt=StandardEncryption("open sesame", "owner"))
    write_lines(sheet)
    sheet.save()

    error = refusal(path)

    assert "locked by a password" in error.what
    assert "unlocked copy" in error.mend


@pytest.mark.parametrize("share", [0.02, 0.1, 0.5, 0.9, 0.99])
def test_a_pdf_that_is_cut_short_says_so(tmp_path: Path, share: float) -> None:
    whole = born_digital(tmp_path / "whole.pdf", pages=10).read_bytes()
    path = tmp_path / "cut.pdf"
    path.write_bytes(whole[: int(len(whole) * share)])

    error = refusal(path)

    assert "damaged or cut-short PDF" in error.what


def test_a_pdf_without_its_end_marker_that_still_opens_is_read_and_said_to_be_doubtful(tmp_path: Path) -> None:
    whole = born_digital(tmp_path / "whole.pdf", pages=2).read_bytes()
    path = tmp_path / "no-end.pdf"
    path.write_bytes(whole[: whole.rindex(b"%%EOF")])

    facts = identify(path)

    assert facts.pages == 2
    assert "may be cut short; pages found: 2" in facts.note


def test_a_pdf_that_two_readers_count_differently_has_the_larger_number_of_pages_and_that_is_said(
    tmp_path: Path,
) -> None:
    path = pages_of_text(tmp_path / "fewer.pdf", 3, count=1)

    facts = identify(path)

    assert facts.pages == 3
    assert facts.note == "two readers count its pages differently: 1 and 3"


def test_a_pdf_without_a_page_says_so(tmp_path: Path) -> None:
    path = write_pdf(tmp_path / "none.pdf", CATALOG, b"<</Type/Pages/Kids[]/Count 0>>")

    refusal(path)


@pytest.mark.parametrize("name", ["cut.jpg", "cut.png", "cut.tif", "cut.webp", "cut.gif", "cut.bmp", "cut.jp2"])
@pytest.mark.parametrize("share", [0.01, 0.5, 0.999])
def test_a_picture_that_is_cut_short_says_so(tmp_path: Path, name: str, share: float) -> None:
    picture_of().save(tmp_path / f"whole-{name}")
    whole = (tmp_path / f"whole-{name}").read_bytes()
    path = tmp_path / name
    path.write_bytes(whole[: int(len(whole) * share)])

    error = refusal(path)

    assert "damaged or cut-short picture" in error.what


def test_a_tiff_of_several_frames_counts_them_and_a_name_that_promises_another_kind_is_said(tmp_path: Path) -> None:
    picture_of().save(tmp_path / "scan.jpg", "TIFF", save_all=True, append_images=[picture_of(), picture_of()])

    facts = identify(tmp_path / "scan.jpg")

    assert facts == OriginalFacts(media_type="image/tiff", pages=3, note="named like image/jpeg, and is image/tiff")


def test_a_picture_with_something_behind_its_end_is_whole(tmp_path: Path) -> None:
    path = tmp_path / "trailer.jpg"
    picture_of().save(path)
    path.write_bytes(path.read_bytes() + bytes(100_000))

    facts = identify(path)

    assert facts.pages == 1


def test_an_empty_file_says_so(tmp_path: Path) -> None:
    path = tmp_path / "empty.pdf"
    path.touch()

    error = refusal(path)

    assert "is empty (0 bytes)" in error.what


def test_a_missing_file_says_so(tmp_path: Path) -> None:
    path = tmp_path / "gone.pdf"

    error = refusal(path)

    assert "is not here" in error.what


def test_a_folder_and_a_pipe_are_no_originals(tmp_path: Path) -> None:
    folder, pipe = tmp_path / "folder.pdf", tmp_path / "pipe.pdf"
    folder.mkdir()
    os.mkfifo(pipe)

    errors = [refusal(folder), refusal(pipe)]

    assert all("is not a plain file" in error.what for error in errors)


def test_bytes_that_are_nothing_known_are_mislabelled_where_the_name_promises_something(tmp_path: Path) -> None:
    named, unnamed = tmp_path / "scan.jpg", tmp_path / "scan.dat"
    named.write_bytes(bytes(range(256)) * 20)
    unnamed.write_bytes(bytes(range(256)) * 20)

    errors = [refusal(named), refusal(unnamed)]

    assert "mislabelled or damaged" in errors[0].what
    assert "of no kind that is known here" in errors[1].what


def test_a_page_of_an_error_saved_as_a_picture_is_no_picture(tmp_path: Path) -> None:
    path = tmp_path / "scan.jpg"
    path.write_text("404 not found", encoding="utf-8")

    error = refusal(path)

    assert "holds text: perhaps a failed download" in error.what


def test_a_text_that_turns_into_something_else_further_on_says_so(tmp_path: Path) -> None:
    path = tmp_path / "list.txt"
    path.write_bytes(b"a line\n" * 1000 + bytes(10))

    error = refusal(path)

    assert "not text further on" in error.what


def test_a_scan_in_a_pdf_counts_its_page(tmp_path: Path) -> None:
    path = image_only(tmp_path / "scan.pdf")

    facts = identify(path)

    assert facts == OriginalFacts(media_type="application/pdf", pages=1)


def test_a_pdf_that_begins_a_little_later_is_a_pdf(tmp_path: Path) -> None:
    path = tmp_path / "late.pdf"
    sheet = canvas(path)
    write_lines(sheet)
    sheet.save()
    path.write_bytes(b"\x00a mail header\n" + path.read_bytes())

    facts = identify(path)

    assert facts.media_type == "application/pdf"


@pytest.mark.parametrize(
    ("name", "text", "facts"),
    [
        ("a.vtt", "WEBVTT\n\n00:01.000 --> 00:02.000\nBell\n", OriginalFacts(media_type="text/vtt", pages=1)),
        (
            "a.srt",
            "1\n00:00:01,000 --> 00:00:02,000\nBell\n",
            OriginalFacts(media_type="application/x-subrip", pages=1),
        ),
        (
            "a.txt",
            "WEBVTT\n\nBell\n",
            OriginalFacts(
                media_type="text/vtt",
                pages=1,
                note="named like text/plain, and is text/vtt; line 3: a line that belongs to no cue: `Bell`",
            ),
        ),
        (
            "a.vtt",
            "There was a bell.\n",
            OriginalFacts(media_type="text/plain", pages=1, note="named like text/vtt, and is text/plain"),
        ),
    ],
)
def test_a_text_with_times_is_one_page_and_told_by_its_content(
    tmp_path: Path, name: str, text: str, facts: OriginalFacts
) -> None:
    (tmp_path / name).write_text(text, encoding="utf-8")

    assert identify(tmp_path / name) == facts
