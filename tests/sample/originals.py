"""Every original of the sample, as bytes, from a fixed seed: the same on every run."""

import io
from collections.abc import Iterator

from PIL import Image

from sample import copied, details, drawings, letters, photographs, plain_texts, printed, reprinted
from sample.faces import Faces
from sample.handbook import handbook
from sample.pdf_writing import Page, write_pdf
from sample.sounds import tape_beginning
from sample.survey import FIELD_SHEET, survey_pages

_DOTS = 200


def _jpeg(picture: Image.Image, quality: int, dots: int = 300) -> bytes:
    kept = io.BytesIO()
    picture.save(kept, "JPEG", quality=quality, dpi=(dots, dots))
    return kept.getvalue()


def _png(picture: Image.Image) -> bytes:
    kept = io.BytesIO()
    picture.save(kept, "PNG", optimize=True, dpi=(_DOTS, _DOTS))
    return kept.getvalue()


def _tiff(pages: tuple[Image.Image, ...]) -> bytes:
    """Put pages in black and white into one file, packed as a fax is (ITU-T T.6)."""
    kept = io.BytesIO()
    pages[0].save(kept, "TIFF", compression="group4", save_all=True, append_images=list(pages[1:]), dpi=(_DOTS, _DOTS))
    return kept.getvalue()


def _scans(pages: tuple[Image.Image, ...], quality: int, title: str, made: str) -> bytes:
    sheets = [
        Page(size=(page.width * 72 / _DOTS, page.height * 72 / _DOTS), scan=_jpeg(page, quality, _DOTS))
        for page in pages
    ]
    return write_pdf(sheets, title, made)


def make_originals(faces: Faces) -> Iterator[tuple[str, bytes]]:
    """Make every file of the sample.

    Yields:
        The path below sample_archive, or below the truths for a name that begins with `truth/`; and the bytes.
    """
    yield from _printed_matter(faces)
    yield from _typed_matter(faces)
    yield from _pictures(faces)


def _printed_matter(faces: Faces) -> Iterator[tuple[str, bytes]]:
    pages, texts = handbook(faces)
    yield (
        _kept("handbook-1933", "rail-cars-handbook.pdf"),
        _scans(pages, 55, "Petrol Rail Cars, second issue", "D:20170304101500Z"),
    )
    for number, text in enumerate(texts, 1):
        yield f"truth/handbook-1933/p{number:04}.txt", text.encode()
    yield _kept("book-ellowby-1958", "ellowby-p61.jpg"), _jpeg(printed.ellowby(faces), 50, _DOTS)
    yield (
        _kept("book-marthen-1966", "marthen-142-143.pdf"),
        _scans(printed.marthen(faces), 50, "Marthen, pages 142 and 143", "D:20180112090000Z"),
    )
    yield _kept("cutting-1933", "packet-7-july-1933.jpg"), _jpeg(printed.cutting(faces), 55, _DOTS)
    yield _kept("newsletter-1987", "line-no6.jpg"), _jpeg(copied.newsletter(faces), 50, _DOTS)
    yield _kept("report-fitters-1934", "fitters-9-june.jpg"), _jpeg(copied.fitters_report(faces), 55, _DOTS)
    yield _kept("inspection-cards", "cards-no9.tif"), _tiff(copied.inspection_cards(faces))
    yield "archive/originals/SCAN/scan0042.jpg", _jpeg(printed.timetable(faces), 50, _DOTS)
    for issue in (drawings.ISSUE_B, drawings.ISSUE_C):
        name = f"30921-{issue.letter}.png"
        yield _kept(f"drawing-30921-{issue.letter.lower()}", name), _png(drawings.works_drawing(issue, faces))


def _typed_matter(faces: Faces) -> Iterator[tuple[str, bytes]]:
    for source, name, letter in (
        ("letter-1933-02-14", "rc114.jpg", letters.OFFER),
        ("letter-1933-06-20", "superintendent-20-6-33.jpg", letters.COUPLING),
        ("letter-1962-10-08", "corvick-1962.jpg", letters.LEDGER),
        ("letter-1998-03-02", "dallimoor-1998.jpg", copied.CONFIDENCE),
    ):
        yield _kept(source, name), _jpeg(letters.typed(letter, faces), 52, 150)
    yield "finds/letter-1934-05-22.jpg", _jpeg(letters.typed(letters.PAINT, faces), 52, 150)
    yield _kept("oral-sallowby-1974", "sallowby-transcript.txt"), plain_texts.TRANSCRIPT.encode()
    yield "archive/transcripts/oral-fennick-1991/t01.vtt", plain_texts.RECOLLECTION.encode()
    yield _kept("oral-marrowby-1969", "marrowby-beginning.wav"), tape_beginning(1969)
    yield _kept("note-tank-2021", "petrol-tank.md"), plain_texts.NOTE.encode()
    yield _kept("day-book-copy", "day-book.txt"), plain_texts.DAY_BOOK.encode()
    for source, note in plain_texts.AXLE_NOTES.items():
        yield _kept(source, f"{source.rpartition('-')[0]}.txt"), note.encode()
    sheet = letters.Letter(
        lines=FIELD_SHEET, carbon=(40, 44, 70), paper=(244, 242, 236), blur=0.8, faint=0.3, skew=-0.4, seed=2019
    )
    report = survey_pages(faces, _jpeg(letters.typed(sheet, faces), 50, 150))
    yield (
        _kept("survey-2019", "report-4.pdf"),
        write_pdf(report, "Survey of the body of rail car No. 11", "D:20190915180000Z"),
    )


def _pictures(faces: Faces) -> Iterator[tuple[str, bytes]]:
    front, rear = photographs.number_nine_front(faces), photographs.number_nine_rear(faces)
    yield _kept("photo-no9-carrowsea-1934", "carrowsea-1.jpg"), _jpeg(front, 72)
    yield _kept("photo-no9-rear-1934", "carrowsea-2.jpg"), _jpeg(rear, 72)
    yield _kept("postcard-carrowsea", "postcard-214.jpg"), _jpeg(photographs.postcard(front, faces), 60)
    yield _kept("print-carrowsea-second", "second-print.jpg"), _jpeg(copied.second_print(front), 66)
    yield _kept("detail-lamps-carrowsea", "lamps.jpg"), _jpeg(copied.lamp_detail(front), 70)
    yield _kept("photo-no10-1935", "no10.jpg"), _jpeg(photographs.number_ten(faces), 66)
    six = photographs.number_six(faces)
    yield _kept("photo-no6-1931", "tollan-road-1931.jpg"), _jpeg(six, 72)
    quay = photographs.quay(faces)
    yield (
        _kept("album-starrick", "leaf-7.jpg"),
        _jpeg(printed.album_leaf(faces, photographs.number_nine_side(faces), quay), 68),
    )
    yield _kept("photo-shed-unnumbered", "shed.jpg"), _jpeg(photographs.in_the_shed(faces), 62)
    yield _kept("photo-inside-no4-1929", "saloon-no4.jpg"), _jpeg(details.inside_number_four(faces), 70)
    yield _kept("plate-no9", "plate.jpg"), _jpeg(details.makers_plate(faces), 72)
    yield _kept("ventilator-no11", "ventilator.jpg"), _jpeg(details.ventilator(faces), 75)
    yield _kept("photo-turntable", "turntable.jpg"), _jpeg(six.crop((300, 60, 1500, 900)), 72)[:9000]
    yield "finds/no11-pellow-halt.jpg", _jpeg(photographs.number_eleven(faces), 70)
    yield "finds/quarterly-1971.jpg", _jpeg(reprinted.quarterly(faces, rear), 62, _DOTS)


def _kept(source: str, name: str) -> str:
    return f"archive/originals/{source}/{name}"
