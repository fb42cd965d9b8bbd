"""Pictures: opened whole, turned upright, grey, and no larger than a recogniser can use."""

import warnings
from dataclasses import dataclass
from math import sqrt
from pathlib import Path

from PIL import Image, ImageOps, JpegImagePlugin, PngImagePlugin

from provenance.errors import UnreadableOriginalError
from provenance.pages.signatures import JPEG, PNG

PIXELS_TO_READ = 36_000_000
"""A larger page is read at a lower resolution: an A0 sheet at 150 dpi is 35 million pixels. Measured."""

MAX_DECODED_BYTES = 850_000_000
"""A picture that needs more memory than this while it is decoded is refused."""

_BYTES_PER_PIXEL = {"1": 1, "L": 1, "P": 1, "I;16": 2, "I;16B": 2, "LA": 4, "PA": 4, "RGB": 4, "RGBA": 4, "CMYK": 4}
_BYTES_OF_TRANSPARENCY = 7
_OPENERS = {JPEG: JpegImagePlugin.JpegImageFile, PNG: PngImagePlugin.PngImageFile}
_END_MARKS = {JPEG: b"\xff\xd9", PNG: b"IEND\xaeB`\x82"}
_TAIL_BYTES = 65536
_BELIEVABLE_DPI = (100, 1200)


@dataclass(frozen=True, slots=True, kw_only=True)
class PagePicture:
    """A page as a picture, upright as delivered.

    Attributes:
        image: grey, 8 bits.
        dpi: its resolution as it now is; None where nothing believable is known.
        note: what a person should know, such as that it was made smaller; empty for nothing.
    """

    image: Image.Image
    dpi: float | None
    note: str = ""


def upright(path: Path, media_type: str) -> PagePicture:
    """Open a picture as a grey page, turned as its EXIF orientation says.

    Args:
        path: a JPEG or PNG file.
        media_type: which of the two it is.

    Raises:
        UnreadableOriginalError: damaged, cut short, or too large to be decoded.
    """
    image = _open(path, media_type)
    full, dpi = image.size, _stated_dpi(image)
    target = fit(full, PIXELS_TO_READ)
    least = (max(1, target[0] * 9 // 10), max(1, target[1] * 9 // 10))
    image.draft("L" if image.mode == "RGB" else None, least)  # a JPEG is decoded at 1/2, 1/4, 1/8 where that is enough
    _load(path, image)
    grey = _to_grey(image)
    if grey.width > target[0]:
        grey = grey.resize(target, Image.Resampling.LANCZOS, reducing_gap=2.0)
    share = grey.width / full[0]
    note = "" if share == 1 else f"{full[0]} by {full[1]} pixels, read at {share:.0%} of its size"
    return PagePicture(image=ImageOps.exif_transpose(grey), dpi=None if dpi is None else dpi * share, note=note)


def fit(size: tuple[int, int], pixels: int) -> tuple[int, int]:
    """Give the largest size of the same shape that has at most so many pixels; the size itself if it has no more."""
    share = min(1.0, sqrt(pixels / (size[0] * size[1])))
    return max(1, int(size[0] * share)), max(1, int(size[1] * share))


def check_picture(path: Path, media_type: str) -> None:
    """Make sure that a picture can be opened and is whole.

    A file that ends as its kind has to end is taken as whole; any other is decoded to see.

    Raises:
        UnreadableOriginalError: damaged, cut short, or too large to be decoded.
    """
    image = _open(path, media_type)
    with path.open("rb") as file:
        file.seek(max(0, path.stat().st_size - _TAIL_BYTES))
        has_end = _END_MARKS[media_type] in file.read()
    if has_end:
        image.close()
    else:
        _load(path, image)


def _open(path: Path, media_type: str) -> Image.Image:
    """Read the header; refuse what would not fit into memory.

    The library's own guard warns at 89 million pixels and refuses at 179, which honest drawings reach; this one
    stands in its place, and counts bytes.
    """
    try:
        with warnings.catch_warnings(action="ignore"):  # of odd metadata, which is not our matter
            image: Image.Image = _OPENERS[media_type](path)
    except (OSError, SyntaxError, ValueError, TypeError, KeyError, IndexError) as error:
        raise _damaged(path) from error
    per_pixel = _BYTES_PER_PIXEL.get(image.mode, 4) + (_BYTES_OF_TRANSPARENCY if image.has_transparency_data else 1)
    needed = image.width * image.height * per_pixel
    if needed > MAX_DECODED_BYTES:
        millions = image.width * image.height // 1_000_000
        image.close()
        raise UnreadableOriginalError(
            f"{path.name} unfolds to {millions} million pixels, more than is safe to open",
            "if it is an honest picture, ingest a copy at a lower resolution beside it",
        )
    return image


def _load(path: Path, image: Image.Image) -> None:
    """Decode all of it and close the file."""
    try:
        with image, warnings.catch_warnings(action="ignore"):
            image.load()
    except (OSError, SyntaxError, ValueError, TypeError, KeyError, IndexError, EOFError) as error:
        raise _damaged(path) from error


def _damaged(path: Path) -> UnreadableOriginalError:
    return UnreadableOriginalError(f"{path.name} is a damaged or cut-short picture", "get the file again")


def _to_grey(image: Image.Image) -> Image.Image:
    """Make 8-bit grey of any kind of picture; what is transparent is paper."""
    if image.mode.startswith("I"):
        return image.point(lambda level: level / 256).convert("L")  # converting alone would cut off what is above 255
    if not image.has_transparency_data:
        return image if image.mode == "L" else image.convert("L")
    with_alpha = image if image.mode in {"LA", "RGBA"} else image.convert("RGBA")
    paper = Image.new("L", image.size, 255)
    paper.paste(with_alpha.convert("L"), mask=with_alpha.getchannel("A"))
    return paper


def _stated_dpi(image: Image.Image) -> float | None:
    """Give the resolution that the file states, if a scanner may have written it: cameras write 72 or nothing."""
    stated = image.info.get("dpi")
    across = float(stated[0]) if stated else 0.0
    return across if _BELIEVABLE_DPI[0] <= across <= _BELIEVABLE_DPI[1] else None
