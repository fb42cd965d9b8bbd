"""A picture of a page to words, through Tesseract: text, places and confidences from one recognition."""

import os
import tempfile
from pathlib import Path

import pytesseract
from PIL import Image

from provenance.errors import ToolMissingError, UnreadableOriginalError
from provenance.pages.pictures import PagePicture
from provenance.reading.settings import ReadingSettings
from provenance.reading.word_table import words_of_table
from provenance.records.readings import Word

MOST_DPI_TOLD = 300
"""What the recogniser is told where nothing believable is known, and at most.

It passes over letters that it thinks too small to be any: told 600 dpi of a doubled page it lost half of the letters of
10 to 12 pixels, told 300 or 150 none. Measured.
"""


def recognise(picture: PagePicture, data: tuple[str, ...], settings: ReadingSettings) -> tuple[Word, ...]:
    """Recognise the words of a page as it lies.

    The picture is handed over as an uncompressed TIFF: given a picture in memory, pytesseract packs it into a PNG,
    which takes longer; and Tesseract reads a PNM 100 ms slower, for a page of 9 million pixels.

    Args:
        picture: with its lines level.
        data: names of the recogniser's data, such as `eng`.
        settings: of this run.

    Returns:
        In reading order, with places in percent of this picture.

    Raises:
        UnreadableOriginalError: the recogniser gives up on the page.
        ToolMissingError: it is not there any more.
    """
    image, dpi = picture.image, picture.dpi or MOST_DPI_TOLD
    if image.width < settings.double_below:
        image, dpi = image.resize((image.width * 2, image.height * 2), Image.Resampling.BICUBIC), dpi * 2
    dpi = min(dpi, MOST_DPI_TOLD)
    # One thread a process: left to itself it takes several for a page and, among workers, several times the work.
    os.environ["OMP_THREAD_LIMIT"] = "1"
    with tempfile.TemporaryDirectory(prefix="provenance-page-") as folder:
        file = Path(folder, "page.tif")
        image.save(file)
        return words_of_table(_run(file, "+".join(data), f"--psm {settings.layout_mode} --dpi {dpi:.0f}"))


def _run(file: Path, languages: str, options: str) -> str:
    try:
        table = pytesseract.image_to_data(
            str(file), lang=languages, config=options, output_type=pytesseract.Output.STRING
        )
    except pytesseract.TesseractNotFoundError as error:
        raise ToolMissingError("Tesseract, which recognises the words of pictures, has gone", "install it") from error
    except pytesseract.TesseractError as error:
        raise UnreadableOriginalError(
            f"the recogniser gave up on this page: {error.message.strip()[:200]}",
            "look at the page; transcribe it by hand",
        ) from error
    return str(table)
