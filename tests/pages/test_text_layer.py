from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from pages.made_originals import LINES, born_digital, canvas, image_only, write_lines
from reportlab.pdfgen.canvas import Canvas

from provenance.errors import UnreadableOriginalError
from provenance.pages.rendering import render
from provenance.pages.text_layer import text_layer
from provenance.records.readings import Box, Origin, PageReading, Word

PLAIN = (0.0, 0.0, 595.0, 842.0)


def as_text(words: tuple[Word, ...]) -> str:
    return PageReading(page=1, words=words, origin=Origin.TEXT_LAYER, engine="").text


def changed(
    path: Path,
    *,
    turn: int = 0,
    media: tuple[float, float, float, float] = PLAIN,
    crop: tuple[float, float, float, float] | None = None,
) -> Path:
    """Write a page of text with another MediaBox, CropBox and /Rotate beside it."""
    born_digital(path, pages=1)
    with pypdfium2.PdfDocument(path) as document:
        page = document[0]
        page.set_mediabox(*media)
        if crop is not None:
            page.set_cropbox(*crop)
        page.set_rotation(turn)
        document.save(path.with_suffix(".changed.pdf"))
    return path.with_suffix(".changed.pdf")


def test_the_words_of_a_born_digital_page_are_read_as_they_were_written(tmp_path: Path) -> None:
    path = born_digital(tmp_path / "manual.pdf")

    words = text_layer(path, 2)

    assert as_text(words).split("\n") == ["Page 2", *LINES]
    assert all(word.confidence is None for word in words)


def test_a_word_stands_where_it_was_written(tmp_path: Path) -> None:
    path = tmp_path / "one.pdf"
    sheet = canvas(path, (400, 200))
    sheet.setFont("Courier", 10)
    sheet.drawString(100, 150, "H-204")
    sheet.save()

    (word,) = text_layer(path, 1)

    # Five letters of Courier are 5 x .6 x 10 = 30 points wide (Adobe's font metrics: every width is 600).
    assert word.box is not None
    assert word.box.x == pytest.approx(25, abs=0.01)
    assert word.box.w == pytest.approx(30 / 4, abs=0.01)
    assert word.box.y < 25 < word.box.y + word.box.h + 1  # the foot of the letters lies 50 points from the top
    assert word.box.h == pytest.approx(5, abs=0.5)


@pytest.mark.parametrize("turn", [0, 90, 180, 270])
@pytest.mark.parametrize("media", [PLAIN, (-50.0, 30.0, 600.0, 900.0), (595.0, 842.0, 0.0, 0.0)])
@pytest.mark.parametrize(
    "crop", [None, (40.0, 500.0, 400.0, 800.0), (400.0, 500.0, 40.0, 800.0), (-200.0, -200.0, 2000.0, 2000.0)]
)
def test_the_boxes_lie_on_the_ink_of_the_page_as_another_engine_draws_it(
    tmp_path: Path,
    turn: int,
    media: tuple[float, float, float, float],
    crop: tuple[float, float, float, float] | None,
) -> None:
    """Source: pdfium, an engine apart from pdfminer, applies MediaBox, CropBox and /Rotate by itself."""
    path = changed(tmp_path / "page.pdf", turn=turn, media=media, crop=crop)

    words = text_layer(path, 1)
    ink = np.asarray(render(path, 1, 150).image) < 128

    covered = np.zeros_like(ink)
    for word in words:
        place = pixels(word.box, ink.shape)
        assert ink[place].any(), word.text
        covered[place] = True
    assert len(words) >= 50
    assert (ink & covered).sum() >= 0.98 * ink.sum()
    assert covered.mean() < 0.2


def pixels(box: Box | None, shape: tuple[int, ...]) -> tuple[slice, slice]:
    assert box is not None
    down, across = (side / 100 for side in shape)
    return (
        slice(max(0, int(box.y * down) - 1), int((box.y + box.h) * down) + 2),
        slice(max(0, int(box.x * across) - 1), int((box.x + box.w) * across) + 2),
    )


@pytest.mark.parametrize("turn", [0, 90, 180, 270])
def test_text_that_lies_sideways_or_upside_down_is_read_as_the_page_is_turned_for_it(tmp_path: Path, turn: int) -> None:
    path = changed(tmp_path / "page.pdf", turn=turn)

    words = text_layer(path, 1)

    assert as_text(words).split("\n") == ["Page 1", *LINES]


def test_a_sideways_note_does_not_break_into_the_lines_beside_it(tmp_path: Path) -> None:
    path = tmp_path / "noted.pdf"
    sheet = canvas(path)
    write_lines(sheet)
    sheet.translate(30, 600)
    sheet.rotate(90)
    sheet.drawString(0, 0, "Received 4 March by the drawing office")
    sheet.save()

    words = text_layer(path, 1)

    assert as_text(words).split("\n") == [*LINES, "Received 4 March by the drawing office"]


def test_words_outside_the_visible_page_are_left_out(tmp_path: Path) -> None:
    path = changed(tmp_path / "page.pdf", crop=(40, 700, 595, 735))

    words = text_layer(path, 1)

    assert as_text(words).split("\n") == list(LINES[1:3])


def test_a_scanned_page_has_no_text_layer(tmp_path: Path) -> None:
    path = image_only(tmp_path / "scan.pdf")

    assert text_layer(path, 1) == ()


def test_the_pages_of_two_files_are_not_mistaken_for_one_another(tmp_path: Path) -> None:
    one, other = born_digital(tmp_path / "one.pdf"), tmp_path / "other.pdf"
    sheet = Canvas(str(other))
    sheet.drawString(60, 700, "another")
    sheet.save()

    first, second, again = text_layer(one, 1), text_layer(other, 1), text_layer(one, 2)

    assert as_text(first).startswith("Page 1")
    assert as_text(second) == "another"
    assert as_text(again).startswith("Page 2")


def test_a_file_that_changes_between_two_pages_is_opened_afresh(tmp_path: Path) -> None:
    path = born_digital(tmp_path / "page.pdf")
    before = as_text(text_layer(path, 1))
    sheet = Canvas(str(path))
    sheet.drawString(60, 700, "rewritten")
    sheet.save()

    after = as_text(text_layer(path, 1))

    assert before.startswith("Page 1")
    assert after == "rewritten"


def test_two_engines_that_count_different_pages_are_never_silent(tmp_path: Path) -> None:
    path = tmp_path / "odd.pdf"
    path.write_bytes(
        b"%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n"
        b"2 0 obj<</Type/Pages/Kids[3 0 R 9 0 R]/Count 2>>endobj\n"
        b"3 0 obj<</Type/Page/Parent 2 0 R/MediaBox[0 0 200 200]>>endobj\ntrailer<</Root 1 0 R>>\n%%EOF\n"
    )

    with pytest.raises(UnreadableOriginalError, match="has 2 pages for one engine and 1 for another"):
        text_layer(path, 1)


@pytest.mark.parametrize("page", [-1, 0, 3])
def test_a_page_that_is_not_there_has_no_layer(tmp_path: Path, page: int) -> None:
    path = born_digital(tmp_path / "manual.pdf", pages=2)

    with pytest.raises(UnreadableOriginalError, match=rf"there is no page {page} in manual\.pdf"):
        text_layer(path, page)


def test_a_layer_that_breaks_the_engine_is_refused_and_not_taken_for_an_empty_one(tmp_path: Path) -> None:
    path = tmp_path / "font.pdf"
    path.write_bytes(
        b"%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n2 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj\n"
        b"3 0 obj<</Type/Page/Parent 2 0 R/MediaBox[0 0 200 200]/Contents 4 0 R"
        b"/Resources<</Font<</F 5 0 R>>>>>>endobj\n"
        b"4 0 obj<</Length 33>>stream\nBT /F 9 Tf 9 9 Td (Bracket) Tj ET \nendstream endobj\n"
        b"5 0 obj<</Type/Font/Subtype/Type0/BaseFont/A/Encoding/Identity-H/DescendantFonts[6 0 R]>>endobj\n"
        b"6 0 obj<</Type/Font/Subtype/CIDFontType2/BaseFont/A/W[1[/x]]/CIDSystemInfo<</Registry 5>>>>endobj\n"
        b"trailer<</Root 1 0 R>>\n%%EOF\n"
    )

    with pytest.raises(UnreadableOriginalError, match=r"the text layer of page 1 of font\.pdf cannot be read"):
        text_layer(path, 1)


def test_a_page_without_a_size_is_refused_by_its_text_layer(tmp_path: Path) -> None:
    path = tmp_path / "sizeless.pdf"
    path.write_bytes(
        b"%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n2 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj\n"
        b"3 0 obj<</Type/Page/Parent 2 0 R>>endobj\ntrailer<</Root 1 0 R>>\n%%EOF\n"
    )

    with pytest.raises(UnreadableOriginalError, match=r"page 1 of sizeless\.pdf cannot be read"):
        text_layer(path, 1)


def test_a_crop_that_shows_nothing_shows_the_whole_page(tmp_path: Path) -> None:
    path = changed(tmp_path / "page.pdf", crop=(2000, 2000, 3000, 3000))

    assert len(text_layer(path, 1)) >= 50
