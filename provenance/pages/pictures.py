"""Pictures: a page of them upright, grey, and no larger than a recogniser can use."""

from dataclasses import dataclass
from io import BufferedReader
from pathlib import Path

from PIL import Image

from provenance.errors import UnreadableOriginalError
from provenance.pages.grey_pictures import fit, grey_at
from provenance.pages.picture_headers import webp_header
from provenance.pages.picture_kinds import frames_of, opened_picture, orientation_of
from provenance.pages.plain_files import open_plain, size_of
from provenance.pages.signatures import J2C, JP2, JPEG, PNG, TIFF, WEBP

PIXELS_TO_READ = 36_000_000
"""A larger page is read at a lower resolution: an A0 sheet at 150 dpi is 35 million pixels. Measured."""

_END_MARKS = {JPEG: b"\xff\xd9", PNG: b"IEND\xaeB`\x82", JP2: b"\xff\xd9", J2C: b"\xff\xd9"}
_TAIL_BYTES = 65536
BELIEVABLE_DPI = (100, 1200)
"""What is stated outside of this is an empty form filled in by a program, not a resolution."""

_SQUARE_ENOUGH, _MOST_OBLONG = 1.2, 4.0
TURNS = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
"""How a stored picture is turned upright, by its orientation: CIPA DC-008 (EXIF 2.32) and TIFF 6.0, tag 274."""


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


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureFacts:
    """What a file of pictures holds.

    Attributes:
        pages: how many.
        note: what a person should know of them; empty for nothing.
    """

    pages: int
    note: str = ""


def upright(path: Path, media_type: str, page: int = 1, *, pixels: int = PIXELS_TO_READ) -> PagePicture:
    """Open a page of a picture file as grey, turned as its EXIF orientation or its TIFF frame says.

    Args:
        path: of the file.
        media_type: one of `signatures.PICTURES`.
        page: counted from 1 within the file; a kind other than TIFF has one.
        pixels: how many are enough; a larger page is made smaller while it is opened.

    Raises:
        UnreadableOriginalError: no plain file, damaged, cut short, too large to be decoded, or without such a page.
    """
    with opened_picture(path, media_type, page, pixels=pixels) as picture:
        picture.load()
        full = picture.size
        grey = grey_at(picture.image, fit(full, pixels), is_white_zero=picture.is_white_zero)
        share = grey.width / full[0]
        across, down = stated_dpi(picture.image)
        orientation = orientation_of(picture)
    notes = [] if share == 1 else [f"{full[0]} by {full[1]} pixels, read at {share:.0%} of its size"]
    if is_oblong(across, down):
        grey, more = _squared(grey, across / down, pixels)
        across, share = max(across, down), share * more
        notes.append("its pixels are not square, and were made so for reading")
    if orientation is None:
        notes.append("its EXIF is damaged: it was read as it is stored, and may lie on its side")
    turn = TURNS.get(orientation or 1)
    image = grey if turn is None else grey.transpose(turn)
    is_believable = BELIEVABLE_DPI[0] <= across <= BELIEVABLE_DPI[1]
    return PagePicture(image=image, dpi=across * share if is_believable else None, note="; ".join(notes))


def look_at_picture(path: Path, media_type: str) -> PictureFacts:
    """Make sure that a picture can be opened and is whole, and count its pages.

    A file that ends as its kind has to end is taken as whole; any other is decoded to see. A TIFF of several pages is
    opened as long as one of them is whole; each of the others is refused when its turn comes.

    Raises:
        UnreadableOriginalError: no plain file, damaged, cut short, or too large to be decoded.
    """
    if media_type == TIFF:
        return _look_at_tiff(path)
    with opened_picture(path, media_type, pixels=PIXELS_TO_READ) as picture, open_plain(path) as file:
        picture.require_room()
        if not _ends_as_it_should(file, media_type):
            picture.load()
        is_animation = picture.is_animation()
    note = "an animation: its first picture is the page, and the others are not read" if is_animation else ""
    return PictureFacts(pages=1, note=note)


def _look_at_tiff(path: Path) -> PictureFacts:
    with open_plain(path) as file:
        frames, left_out = frames_of(file, path)
    if len(frames) == 1:
        with opened_picture(path, TIFF, pixels=PIXELS_TO_READ) as picture:
            picture.require_room()
            if not frames[0].is_whole:
                picture.load()
    notes = [f"smaller copies or masks in it, which are no pages: {left_out}"] if left_out else []
    lacking = [number for number, frame in enumerate(frames, start=1) if not frame.is_whole]
    if len(lacking) == len(frames) > 1:
        raise UnreadableOriginalError(
            f"{path.name} is a damaged or cut-short TIFF: each of its {len(frames)} pages lacks data",
            "get the file again",
        )
    if lacking and len(frames) > 1:
        notes.append(f"it may be cut short: pages that lack data: {len(lacking)}, the first is page {lacking[0]}")
    return PictureFacts(pages=len(frames), note="; ".join(notes))


def _ends_as_it_should(file: BufferedReader, media_type: str) -> bool:
    if media_type == WEBP:
        return webp_header(file).file_bytes <= size_of(file)
    if media_type not in _END_MARKS:
        return False
    file.seek(max(0, size_of(file) - _TAIL_BYTES))
    tail = file.read()
    # The small picture inside a photograph ends with the same two bytes as the photograph: they have to come last.
    return tail.rstrip(b"\0").endswith(_END_MARKS[JPEG]) if media_type == JPEG else _END_MARKS[media_type] in tail


def stated_dpi(image: Image.Image) -> tuple[float, float]:
    """Give the resolution that the file states across and down, as stored; 0 for none."""
    stated = image.info.get("dpi")
    try:
        across, down = (float(each) for each in stated or (0, 0))
    except (TypeError, ValueError, ArithmeticError):
        return 0.0, 0.0
    return across, down


def is_oblong(across: float, down: float) -> bool:
    """Whether pixels are longer than wide or the other way round, as in a facsimile of 204 by 98 (ITU-T T.4)."""
    if not (across > 0 and down > 0):
        return False
    ratio = max(across, down) / min(across, down)
    return _SQUARE_ENOUGH <= ratio <= _MOST_OBLONG


def _squared(image: Image.Image, ratio: float, pixels: int) -> tuple[Image.Image, float]:
    """Stretch a picture the way in which it is the coarser, as far as a page may be large.

    Args:
        image: with oblong pixels.
        ratio: of its resolution across to that down.
        pixels: that a page may have.

    Returns:
        The picture, and the share of the finer resolution that it now has both ways.
    """
    wanted = (round(image.width * max(1, 1 / ratio)), round(image.height * max(1, ratio)))
    size = fit(wanted, pixels)
    return image.resize(size, Image.Resampling.BICUBIC), size[0] / wanted[0]
