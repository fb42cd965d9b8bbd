"""Words as they are set, in the face that comes with Pillow: it has no vulgar fractions."""

import pytest
from PIL import Image, ImageChops, ImageDraw, ImageFont

from sample import composing


@pytest.fixture
def face() -> ImageFont.FreeTypeFont:
    """The face of 40 pixels that comes with Pillow."""
    found = ImageFont.load_default(40)
    assert isinstance(found, ImageFont.FreeTypeFont)
    return found


def _set(text: str, face: ImageFont.FreeTypeFont) -> Image.Image:
    sheet = Image.new("L", (300, 80), 255)
    composing.put(ImageDraw.Draw(sheet), (10, 60), text, face)
    return sheet


def test_words_that_the_face_has_are_set_and_measured_as_it_would(face: ImageFont.FreeTypeFont) -> None:
    plain = Image.new("L", (300, 80), 255)

    ImageDraw.Draw(plain).text((10, 60), "Axle, 4", 0, font=face, anchor="ls")

    assert composing.length("Axle, 4", face) == face.getlength("Axle, 4")
    assert ImageChops.difference(_set("Axle, 4", face), plain).getbbox() is None


def test_a_fraction_that_the_face_lacks_is_made_up_from_its_figures_and_not_left_as_a_box(
    face: ImageFont.FreeTypeFont,
) -> None:
    boxed = Image.new("L", (300, 80), 255)
    ImageDraw.Draw(boxed).text((10, 60), "\N{VULGAR FRACTION FIVE EIGHTHS}", 0, font=face, anchor="ls")

    made = _set("\N{VULGAR FRACTION FIVE EIGHTHS}", face)

    assert ImageChops.difference(made, boxed).getbbox() is not None
    assert ImageChops.difference(made, _set("\N{VULGAR FRACTION THREE EIGHTHS}", face)).getbbox() is not None


def test_a_fraction_stands_no_higher_than_a_figure_and_no_lower_than_the_line(face: ImageFont.FreeTypeFont) -> None:
    _, top, _, bottom = ImageChops.invert(_set("1", face)).getbbox() or (0, 0, 0, 0)

    _, made_top, _, made_bottom = ImageChops.invert(_set("\N{VULGAR FRACTION ONE EIGHTH}", face)).getbbox() or (0,) * 4

    assert abs(made_top - top) <= 1
    assert abs(made_bottom - bottom) <= 1


def test_what_follows_a_fraction_is_moved_on_by_its_width(face: ImageFont.FreeTypeFont) -> None:
    alone = composing.length("\N{VULGAR FRACTION ONE EIGHTH}", face)

    both = composing.length("4\N{VULGAR FRACTION ONE EIGHTH} in.", face)

    assert alone > face.size * 0.3
    assert both == pytest.approx(face.getlength("4") + alone + face.getlength(" in."))


def test_a_letter_that_the_face_lacks_is_refused(face: ImageFont.FreeTypeFont) -> None:
    with pytest.raises(ValueError, match="CYRILLIC CAPITAL LETTER ZHE"):
        composing.length("\N{CYRILLIC CAPITAL LETTER ZHE}", face)
