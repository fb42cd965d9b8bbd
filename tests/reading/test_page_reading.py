import pickle
from pathlib import Path

import numpy as np
import pytest
import tifffile
from pages.made_originals import A4, LINES, born_digital, canvas, draw_scan, image_only, picture_of, write_lines
from PIL import Image, ImageDraw, ImageFont
from reportlab.pdfgen.canvas import Canvas

from provenance.errors import ToolMissingError, UnreadableOriginalError
from provenance.pages.pictures import PIXELS_TO_READ
from provenance.reading.engine import recogniser
from provenance.reading.page_reading import PageJob, read_page
from provenance.records.readings import Box, Origin, PageReading, Word
from provenance.workers.running import run_in_workers

PDF, JPEG, PNG, TIFF = "application/pdf", "image/jpeg", "image/png", "image/tiff"


def read(path: Path, media_type: str = PDF, page: int = 1, languages: tuple[str, ...] = ("en",)) -> PageReading:
    return read_page(PageJob(path=path, media_type=media_type, page=page, languages=languages))


def lines_of(reading: PageReading) -> list[str]:
    return reading.text.split("\n")


def box_of(reading: PageReading, text: str) -> Box:
    box = next(word.box for word in reading.words if word.text == text)
    assert box is not None
    return box


def test_a_born_digital_page_is_read_by_its_text_layer(tmp_path: Path) -> None:
    path = born_digital(tmp_path / "manual.pdf")

    reading = read(path, page=2)

    assert reading.origin is Origin.TEXT_LAYER
    assert reading.page == 2
    assert reading.engine.startswith("pdfplumber ")
    assert reading.languages == ()
    assert reading.confidence is None
    assert lines_of(reading) == ["Page 2", *LINES]


def test_a_scanned_page_is_recognised_with_places_and_confidences(tmp_path: Path) -> None:
    path = image_only(tmp_path / "scan.pdf")

    reading = read(path)

    assert reading.origin is Origin.RECOGNISED
    assert reading.engine == recogniser().name
    assert reading.languages == ("en",)
    assert lines_of(reading) == list(LINES)
    assert reading.confidence is not None
    assert reading.confidence > 85
    assert all(word.confidence is not None and word.box is not None for word in reading.words)


def test_a_mixed_pdf_is_read_page_by_page_each_in_its_own_way(tmp_path: Path) -> None:
    path = tmp_path / "mixed.pdf"
    sheet = canvas(path)
    write_lines(sheet)
    sheet.showPage()
    draw_scan(sheet, picture_of())
    sheet.showPage()
    draw_scan(sheet, picture_of())
    sheet.drawString(280, 20, "Page 3")  # a number stamped on a scan is not what the page says
    sheet.showPage()
    sheet.showPage()
    sheet.save()

    readings = [read(path, page=page) for page in (1, 2, 3, 4)]

    assert [reading.origin for reading in readings] == [
        Origin.TEXT_LAYER,
        Origin.RECOGNISED,
        Origin.RECOGNISED,
        Origin.TEXT_LAYER,
    ]
    assert lines_of(readings[1]) == list(LINES)
    assert lines_of(readings[2]) == [*LINES, "Page 3"]
    assert readings[3].words == ()
    assert readings[3].note == "a blank page"


def test_a_searchable_scan_is_read_by_the_layer_under_its_picture(tmp_path: Path) -> None:
    path = tmp_path / "searchable.pdf"
    sheet = canvas(path)
    write_lines(sheet)
    draw_scan(sheet, picture_of(["another text altogether"]))
    sheet.save()

    reading = read(path)

    assert reading.origin is Origin.TEXT_LAYER
    assert lines_of(reading) == list(LINES)


def test_a_layer_of_rubbish_is_not_used_and_the_reading_says_so(tmp_path: Path) -> None:
    path = tmp_path / "rubbish.pdf"
    sheet = canvas(path)
    draw_scan(sheet, picture_of())
    write_lines(
        sheet, ["".join(chr(ord(letter) + 3) if letter.isalpha() else letter for letter in line) for line in LINES]
    )
    sheet.save()

    reading = read(path)

    assert reading.origin is Origin.RECOGNISED
    assert reading.note == "its text layer is not sound and was not used"


def test_a_page_of_lettering_drawn_as_lines_is_recognised(tmp_path: Path) -> None:
    path = tmp_path / "outlined.pdf"
    sheet = canvas(path)
    strokes = [((60, 700), (60, 780)), ((60, 740), (100, 740)), ((100, 700), (100, 780)), ((140, 700), (140, 780))]
    sheet.setLineWidth(10)
    for start, end in [*strokes, ((135, 700), (190, 705)), ((135, 775), (190, 775)), ((135, 740), (180, 740))]:
        sheet.line(*start, *end)
    sheet.save()

    reading = read(path)

    assert reading.origin is Origin.RECOGNISED
    assert reading.text == "HE"


@pytest.mark.parametrize(("name", "media_type"), [("a.jpg", JPEG), ("a.png", PNG)])
@pytest.mark.parametrize("mode", ["L", "RGB"])
def test_a_picture_of_a_page_is_recognised(tmp_path: Path, name: str, media_type: str, mode: str) -> None:
    picture_of().convert(mode).save(tmp_path / name)

    reading = read(tmp_path / name, media_type)

    assert reading.origin is Origin.RECOGNISED
    assert lines_of(reading) == list(LINES)


def test_a_word_is_placed_on_the_page_upright_as_delivered_and_not_on_what_the_recogniser_was_given(
    tmp_path: Path,
) -> None:
    image = picture_of(size=(1200, 800), letters=24)
    image.save(tmp_path / "upright.png")
    exif = Image.Exif()
    exif[0x0112] = 6  # the camera was held so that the stored picture has to be turned a quarter to the right
    image.transpose(Image.Transpose.ROTATE_90).save(tmp_path / "turned.png", exif=exif)

    plain, turned = read(tmp_path / "upright.png", PNG), read(tmp_path / "turned.png", PNG)

    assert [(word.text, word.box) for word in turned.words] == [(word.text, word.box) for word in plain.words]
    box = box_of(plain, "H-204")  # narrow: it was doubled before it was recognised
    cut = np.asarray(image)[
        round(box.y * 8) : round((box.y + box.h) * 8) + 1, round(box.x * 12) : round((box.x + box.w) * 12) + 1
    ]
    assert (cut < 128).any(axis=0).mean() > 0.6  # letters stand all along it
    around = np.asarray(image)[:, round((box.x + box.w) * 12) + 2 : round((box.x + box.w) * 12) + 5]
    assert not (around[round(box.y * 8) : round((box.y + box.h) * 8)] < 128).any()  # and nothing beyond its end


def test_a_frame_of_a_tiff_is_read_as_its_page_and_its_words_lie_where_they_stand_on_it_upright(tmp_path: Path) -> None:
    image = Image.new("L", (2400, 1600), 255)
    font = ImageFont.load_default(60)
    ImageDraw.Draw(image).text((2000, 40), "H-204", fill=0, font=font)  # in the upper right corner, and nowhere else
    left, top, right, bottom = font.getbbox("H-204")
    with tifffile.TiffWriter(tmp_path / "a.tif") as file:
        file.write(np.asarray(picture_of(["Sheet 1"])))
        turned = np.asarray(image.transpose(Image.Transpose.ROTATE_90))
        file.write(turned, extratags=[(274, 3, 1, 6, True)])  # to be turned a quarter to the right

    first, second = read(tmp_path / "a.tif", TIFF, page=1), read(tmp_path / "a.tif", TIFF, page=2)

    assert lines_of(first) == ["Sheet 1"]
    assert lines_of(second) == ["H-204"]
    box = box_of(second, "H-204")
    assert box.x == pytest.approx((2000 + left) / 24, abs=0.5)
    assert box.y == pytest.approx((40 + top) / 16, abs=0.5)
    assert box.w == pytest.approx((right - left) / 24, abs=0.5)
    assert box.h == pytest.approx((bottom - top) / 16, abs=0.5)
    with pytest.raises(UnreadableOriginalError, match="has 2 pages, and no page 3"):
        read(tmp_path / "a.tif", TIFF, page=3)


@pytest.mark.parametrize(
    "kind", [("WEBP", "image/webp"), ("GIF", "image/gif"), ("BMP", "image/bmp"), ("JPEG2000", "image/jp2")]
)
def test_a_page_in_any_other_kind_of_picture_is_recognised(tmp_path: Path, kind: tuple[str, str]) -> None:
    picture_of().convert("RGB").save(tmp_path / "a", kind[0], lossless=True)

    assert lines_of(read(tmp_path / "a", kind[1])) == list(LINES)


def test_a_large_scan_is_read_smaller_and_its_places_are_the_same(tmp_path: Path) -> None:
    image = picture_of(size=(1500, 1000), letters=28)
    image.save(tmp_path / "small.png")
    image.resize((9000, 6000)).save(tmp_path / "large.png", compress_level=1)

    small, large = read(tmp_path / "small.png", PNG), read(tmp_path / "large.png", PNG)

    assert PIXELS_TO_READ < 9000 * 6000
    assert lines_of(large) == lines_of(small) == list(LINES)
    assert "9000 by 6000 pixels, read at" in large.note
    for text in ("H-204", "headstock", "lower"):
        one, other = box_of(small, text), box_of(large, text)
        assert (one.x, one.y, one.w, one.h) == pytest.approx((other.x, other.y, other.w, other.h), abs=0.5)


def test_a_turned_and_cropped_scan_is_read_as_it_is_shown(tmp_path: Path) -> None:
    path = tmp_path / "turned.pdf"
    sheet = canvas(path)
    draw_scan(sheet, picture_of().transpose(Image.Transpose.ROTATE_90), (0, 0, A4[1], A4[0]))
    sheet.setPageSize((A4[1], A4[0]))
    sheet.setPageRotation(90)
    sheet.setCropBox((60, 0, 300, A4[0]))  # what is stored at the left is shown at the top
    sheet.save()

    reading = read(path)

    assert reading.origin is Origin.RECOGNISED
    assert lines_of(reading) == list(LINES)


def test_a_text_is_read_as_it_stands_with_the_numbers_of_its_lines(tmp_path: Path) -> None:
    path = tmp_path / "notes.md"
    path.write_text("# Visit\n\nThe bracket is  H-204\fnext sheet\n", encoding="utf-8")

    reading = read(path, "text/markdown")

    assert reading.origin is Origin.PLAIN_TEXT
    assert reading.engine == "utf-8"
    assert reading.words == (
        Word("#", 1),
        Word("Visit", 1),
        Word("The", 3),
        Word("bracket", 3),
        Word("is", 3),
        Word("H-204", 3),
        Word("next", 4),
        Word("sheet", 4),
    )


def test_a_text_of_an_older_machine_says_how_it_was_read(tmp_path: Path) -> None:
    path = tmp_path / "notes.txt"
    path.write_bytes(b"3\xbd in")

    reading = read(path, "text/plain")

    assert (reading.text, reading.engine) == ("3\u00bd in", "cp1252")
    assert reading.note == "not UTF-8; read as Windows-1252"


def test_a_page_without_a_word_is_an_empty_reading(tmp_path: Path) -> None:
    Image.new("L", (1500, 1000), 255).save(tmp_path / "white.png")

    reading = read(tmp_path / "white.png", PNG)

    assert reading.words == ()
    assert reading.text == ""
    assert reading.confidence is None


def test_a_kind_that_is_not_read_is_kept_and_said_to_be_so(tmp_path: Path) -> None:
    path = tmp_path / "tape.wav"
    path.write_bytes(b"RIFF")

    with pytest.raises(UnreadableOriginalError, match="a kind that is kept and not read"):
        read(path, "audio/vnd.wave")


@pytest.mark.parametrize(("name", "media_type"), [("a.png", PNG), ("a.txt", "text/plain")])
def test_a_picture_and_a_text_have_one_page(tmp_path: Path, name: str, media_type: str) -> None:
    picture_of(["H-204"]).save(tmp_path / "a.png")
    (tmp_path / "a.txt").write_text("H-204", encoding="utf-8")

    with pytest.raises(UnreadableOriginalError, match="has 1 page, and no page 2"):
        read(tmp_path / name, media_type, page=2)


def test_a_language_that_is_not_installed_stops_a_scan_and_no_text_layer(tmp_path: Path) -> None:
    scan, text = image_only(tmp_path / "scan.pdf"), born_digital(tmp_path / "text.pdf")

    with pytest.raises(ToolMissingError, match="`ka` are not installed"):
        read(scan, languages=("ka",))

    assert read(text, languages=("ka",)).origin is Origin.TEXT_LAYER


def test_readings_are_small_numbers_of_three_decimals(tmp_path: Path) -> None:
    reading = read(image_only(tmp_path / "scan.pdf"))

    for word in reading.words:
        assert word.box is not None
        for number in (word.box.x, word.box.y, word.box.w, word.box.h, word.confidence):
            assert number is not None
            assert number == round(number, 3)


def test_pages_are_read_in_workers_and_one_that_cannot_be_read_costs_itself_alone(tmp_path: Path) -> None:
    sound, scan = born_digital(tmp_path / "sound.pdf"), image_only(tmp_path / "scan.pdf")
    cut = tmp_path / "cut.pdf"
    cut.write_bytes(scan.read_bytes()[:5000])
    jobs = [PageJob(path=path, media_type=PDF, page=1) for path in (cut, scan, sound)]

    outcomes = {outcome.job.path: outcome for outcome in run_in_workers(read_page, jobs, seconds_each=60)}

    assert outcomes[sound].value == read(sound)
    assert outcomes[scan].value == read(scan)
    fault = outcomes[cut].fault
    assert fault is not None
    assert isinstance(fault.error, UnreadableOriginalError)
    assert pickle.loads(pickle.dumps(outcomes[scan].value)) == outcomes[scan].value


def test_the_layer_of_a_page_that_the_second_engine_cannot_read_is_recognised_and_that_is_said(tmp_path: Path) -> None:
    path = tmp_path / "odd.pdf"
    sheet = Canvas(str(path), pageCompression=0)
    sheet.setFont("Helvetica", 30)
    write_lines(sheet, ["Bracket"])
    sheet.showPage()
    sheet.save()
    written = path.read_bytes()
    kids = written[written.index(b"/Kids") : written.index(b"]", written.index(b"/Kids")) + 1]
    path.write_bytes(written.replace(kids, kids[:-1] + b" 99 0 R ]").replace(b"/Count 1", b"/Count 2"))

    reading = read(path)

    assert reading.origin is Origin.RECOGNISED
    assert reading.text == "Bracket"
    assert "2 pages for one engine and 1 for another" in reading.note


@pytest.mark.parametrize(
    ("media_type", "text"),
    [
        (
            "text/vtt",
            "WEBVTT\n\nNOTE nobody says this\n\n7\n00:01.000 --> 00:02.000\n<v Guard>Two &amp; three\npulls\n",
        ),
        ("application/x-subrip", "\n\n\n\n7\n00:00:01,000 --> 00:00:02,000\n<i>Two & three</i>\npulls\n"),
    ],
)
def test_of_a_text_with_times_the_words_that_are_said_are_read(tmp_path: Path, media_type: str, text: str) -> None:
    (tmp_path / "tape").write_text(text, encoding="utf-8")

    reading = read(tmp_path / "tape", media_type)

    assert reading.words == (Word("Two", 7), Word("&", 7), Word("three", 7), Word("pulls", 8))
    assert (reading.origin, reading.engine, reading.note) == (Origin.TIMED_TEXT, "utf-8", "")


def test_a_text_with_times_has_one_page_and_says_what_is_wrong_with_it(tmp_path: Path) -> None:
    (tmp_path / "tape.vtt").write_text("WEBVTT\n\nstray\n", encoding="utf-8")

    reading = read(tmp_path / "tape.vtt", "text/vtt")

    assert reading.note == "line 3: a line that belongs to no cue: `stray`"
    with pytest.raises(UnreadableOriginalError, match="has 1 page, and no page 2"):
        read(tmp_path / "tape.vtt", "text/vtt", page=2)
