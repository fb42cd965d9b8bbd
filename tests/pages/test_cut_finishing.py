import io

import numpy as np
import pytest
from pages.coded_pages import coded_page, pixels_of
from PIL import Image

from provenance.pages.cut_finishing import finished

CANARY = b"CANARY"


def noise(mode: str = "RGB") -> Image.Image:
    levels = np.random.default_rng(7).integers(0, 256, (120, 160, 3)).astype(np.uint8)
    return Image.fromarray(levels).convert(mode)


@pytest.mark.parametrize("image", [noise(), noise("L"), coded_page(), coded_page().convert("L")])
def test_nothing_that_hangs_on_a_picture_is_written(image: Image.Image) -> None:
    image.info |= {"comment": CANARY, "icc_profile": CANARY, "exif": CANARY, "xmp": CANARY, "Author": CANARY.decode()}

    piece = finished(image, None, None, "")

    assert CANARY not in piece.data
    assert pixels_of(piece).size == image.size


def test_colour_that_is_none_is_written_as_grey() -> None:
    piece = finished(noise("L").convert("RGB"), None, None, "")

    assert pixels_of(piece).mode == "L"


def test_lines_and_letters_keep_every_pixel() -> None:
    piece = finished(coded_page(), None, None, "")

    assert piece.media_type == "image/png"
    assert pixels_of(piece).convert("RGB").tobytes() == coded_page().tobytes()


def test_white_set_beside_a_piece_widens_it_in_print_too() -> None:
    page = Image.new("L", (400, 200), 128)

    whole, marked = finished(page, None, 20.0, ""), finished(page, (0, 0, 400, 200), 20.0, "")

    # Six pixels on each side; twice its true size of 20 mm, and the share of the white.
    assert (whole.width, marked.width, marked.height) == (400, 412, 212)
    assert whole.width_mm == 40.0
    assert marked.width_mm == pytest.approx(41.2)


def test_the_smallest_region_is_marked_without_being_covered() -> None:
    page = Image.new("L", (40, 40), 200)
    page.putpixel((20, 20), 90)

    piece = finished(page, (20, 20, 21, 21), None, "note")

    picture = Image.open(io.BytesIO(piece.data))
    assert picture.getpixel((20, 20)) == 90
    assert [picture.getpixel(place) for place in ((16, 16), (24, 24), (16, 24), (24, 16))] == [0, 0, 0, 0]
    assert piece.note == "note"
