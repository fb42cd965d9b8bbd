"""The kinds of picture that can be opened, each within the same budget of memory."""

import struct
import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from io import BufferedReader
from pathlib import Path
from typing import IO

from PIL import (
    BmpImagePlugin,
    GifImagePlugin,
    Image,
    Jpeg2KImagePlugin,
    JpegImagePlugin,
    PngImagePlugin,
    TiffImagePlugin,
    WebPImagePlugin,
)

from provenance.errors import UnreadableOriginalError
from provenance.pages.grey_pictures import NEAR_ENOUGH, fit
from provenance.pages.picture_headers import BrokenHeaderError, jpeg2000_header, webp_header
from provenance.pages.plain_files import open_plain, size_of
from provenance.pages.signatures import BMP, GIF, J2C, JP2, JPEG, PNG, TIFF, WEBP
from provenance.pages.tiff_frames import MARK_OF_BIG, BrokenChainError, Frame, FrameFile, read_frames

MAX_DECODED_BYTES = 850_000_000
"""A picture that needs more memory than this while it is decoded is refused."""

DAMAGE = (
    *(OSError, SyntaxError, ValueError, TypeError, KeyError, IndexError, EOFError, AttributeError, ArithmeticError),
    *(AssertionError, NotImplementedError, RuntimeError, struct.error, BrokenHeaderError),
)
"""What the library raises at files that are not as they should be."""

_BYTES_PER_PIXEL = {"1": 1, "L": 1, "P": 1, "I;16": 2, "I;16B": 2, "I;16L": 2}
_OPENERS: dict[str, Callable[[IO[bytes]], Image.Image]] = {
    JPEG: JpegImagePlugin.JpegImageFile,
    PNG: PngImagePlugin.PngImageFile,
    TIFF: TiffImagePlugin.TiffImageFile,
    WEBP: WebPImagePlugin.WebPImageFile,
    GIF: GifImagePlugin.GifImageFile,
    BMP: BmpImagePlugin.BmpImageFile,
    JP2: Jpeg2KImagePlugin.Jpeg2KImageFile,
    J2C: Jpeg2KImagePlugin.Jpeg2KImageFile,
}
_BESIDE_WEBP = 12  # for each pixel: two canvases of 4 bytes, and one copy; measured
_BESIDE_JPEG2000 = 5  # for each pixel of a tile and component: a number of 4 bytes, and one byte; measured
_BESIDE_PROGRESSIVE = 2  # for each pixel and component: a coefficient (JPEG, ITU-T T.81, annex G)
_BESIDE_RUN_LENGTHS = 2  # for each pixel; measured
_RUN_LENGTHS = frozenset({1, 2})  # BI_RLE8 and BI_RLE4
_ORIENTATION = 0x0112
_GREAT_BIG_TIFF = b"MM" + MARK_OF_BIG
_MEND_DAMAGED = "get the file again, or ingest a copy that another program saved as PNG or TIFF beside it"


@dataclass(slots=True, kw_only=True)
class OpenPicture:
    """A picture of which only the header was read.

    Attributes:
        image: the library's; not decoded yet.
        size: width and height in full, as stored.
        decoded: width and height that it will have when it is decoded.
        orientation: 1 to 8, as its TIFF frame says; None where its EXIF has to be asked, once it is decoded.
        is_white_zero: its smallest level stands for white, as its TIFF frame says.
        beside: bytes that decoding takes beside the picture itself.
    """

    path: Path
    image: Image.Image
    size: tuple[int, int]
    decoded: tuple[int, int]
    beside: int = 0
    orientation: int | None = None
    is_white_zero: bool = False

    def load(self) -> None:
        """Decode it.

        Raises:
            UnreadableOriginalError: damaged, cut short, or too large to be decoded.
        """
        self.require_room()
        with _told_as_damage(self.path):
            self.image.load()

    def is_animation(self) -> bool:
        """Tell whether further pictures follow it, which are looked for and not decoded.

        Raises:
            UnreadableOriginalError: what follows is damaged.
        """
        with _told_as_damage(self.path):
            return bool(getattr(self.image, "is_animated", False))

    def require_room(self) -> None:
        """Refuse what would not fit into memory.

        The library's own guard warns at 89 million pixels and refuses at 179, which honest drawings reach; this one
        stands in its place, and counts bytes.

        Raises:
            UnreadableOriginalError: it takes more than `MAX_DECODED_BYTES`.
        """
        per_pixel = _BYTES_PER_PIXEL.get(self.image.mode, 4)
        if self.decoded[0] * self.decoded[1] * per_pixel + self.beside > MAX_DECODED_BYTES:
            raise too_large(self.path, self.size)


def too_large(path: Path, size: tuple[int, int]) -> UnreadableOriginalError:
    """Make the refusal of a picture that does not fit into memory."""
    return UnreadableOriginalError(
        f"{path.name} unfolds to {size[0] * size[1] // 1_000_000} million pixels, more than is safe to open",
        "if it is an honest picture, ingest a copy at a lower resolution beside it",
    )


@contextmanager
def opened_picture(
    path: Path, media_type: str, page: int = 1, *, pixels: int, in_colour: bool = False
) -> Iterator[OpenPicture]:
    """Open a page of a picture file, to be decoded while it is open.

    Args:
        path: of the file.
        media_type: one of `signatures.PICTURES`.
        page: counted from 1 within the file; a kind other than TIFF has one.
        pixels: how many are enough; what can be decoded smaller, but not well below, is.
        in_colour: its colours are wanted; else a kind that can be decoded in grey, at a part of the memory, is.

    Raises:
        UnreadableOriginalError: no plain file, damaged, cut short, or without such a page.
    """
    with open_plain(path) as file, _without_guard():
        with _told_as_damage(path):
            picture = _open(file, path, media_type, page)
            _plan_smaller(picture, file, pixels, in_colour=in_colour)
        yield picture


def frames_of(file: BufferedReader, path: Path) -> tuple[tuple[Frame, ...], int]:
    """Give the frames of a TIFF that are pages, and the number of the others.

    A frame that is a smaller copy of another, or a mask for one, is no page, unless there is nothing else.

    Raises:
        UnreadableOriginalError: they cannot be followed, or what it holds are previews of a picture that is kept
            where it is not looked for.
    """
    try:
        frames = read_frames(file)
    except BrokenChainError as error:
        raise UnreadableOriginalError(
            f"{path.name} is a damaged or cut-short TIFF: the list of its pictures {error}", _MEND_DAMAGED
        ) from error
    pages = tuple(frame for frame in frames if not frame.is_reduced)
    if not pages and any(frame.has_inner for frame in frames):
        raise UnreadableOriginalError(
            f"{path.name} holds the picture itself as cameras keep it raw, and beside it only previews",
            "ingest a copy saved as JPEG, PNG or plain TIFF beside it",
        )
    return (pages, len(frames) - len(pages)) if pages else (frames, 0)


def orientation_of(picture: OpenPicture) -> int | None:
    """Give how a decoded picture has to be turned: 1 to 8 as in EXIF; what is written otherwise counts as 1.

    None where its EXIF is damaged and cannot be asked.
    """
    if picture.orientation is not None:
        return picture.orientation
    try:
        Image.Exif().load(picture.image.info.get("exif", b""))  # of a JPEG the library forgets that it has failed once
        found = picture.image.getexif().get(_ORIENTATION, 1)
    except DAMAGE:
        return None
    return found if isinstance(found, int) and 1 <= found <= 8 else 1


def no_such_page(path: Path, pages: int, page: int) -> UnreadableOriginalError:
    """Make the refusal of a page that a file does not have."""
    many = f"{pages} page" if pages == 1 else f"{pages} pages"
    return UnreadableOriginalError(f"{path.name} has {many}, and no page {page}", "correct the page")


def _open(file: BufferedReader, path: Path, media_type: str, page: int) -> OpenPicture:
    if media_type == TIFF:
        return _open_frame(file, path, page)
    if page != 1:
        raise no_such_page(path, 1, page)
    if media_type == WEBP:
        size = webp_header(file).size
        beside = size[0] * size[1] * _BESIDE_WEBP + size_of(file)
        if beside > MAX_DECODED_BYTES:  # its canvases are set aside on opening
            raise too_large(path, size)
        return OpenPicture(path=path, image=_image(file, media_type), size=size, decoded=size, beside=beside)
    image = _image(file, media_type)
    pixels, beside = image.width * image.height, 0
    if media_type == JPEG and image.info.get("progressive"):
        beside = pixels * len(image.getbands()) * _BESIDE_PROGRESSIVE
    elif media_type == BMP and image.info.get("compression") in _RUN_LENGTHS:
        beside = pixels * _BESIDE_RUN_LENGTHS
    elif media_type in {JP2, J2C}:
        beside = _beside_jpeg2000(file, 0)
        if not jpeg2000_header(file).is_whole:
            raise BrokenHeaderError
    return OpenPicture(path=path, image=image, size=image.size, decoded=image.size, beside=beside)


def _image(file: BufferedReader | FrameFile, media_type: str) -> Image.Image:
    file.seek(0)
    return _OPENERS[media_type](file)


def _open_frame(file: BufferedReader, path: Path, page: int) -> OpenPicture:
    pages, _ = frames_of(file, path)
    if not 1 <= page <= len(pages):
        raise no_such_page(path, len(pages), page)
    frame = pages[page - 1]
    if frame.lacks_pieces:
        raise BrokenHeaderError
    image = _image(FrameFile(file, frame), TIFF)
    image.info["exif"] = b""  # nothing is left to ask, and the library would ask a BigTIFF of the great order wrongly
    if frame.is_orientation_stated:
        image.info.pop("xmp", None)  # the second place of an orientation, where the first is not used
    return OpenPicture(
        path=path,
        image=image,
        size=frame.size,
        decoded=frame.size,
        beside=frame.piece_bytes,
        orientation=frame.orientation,
        is_white_zero=frame.is_white_zero,
    )


def _plan_smaller(picture: OpenPicture, file: BufferedReader, pixels: int, *, in_colour: bool) -> None:
    """Have a JPEG decoded at 1/2, 1/4 or 1/8, and a JPEG 2000 at what its halvings offer, where that is enough."""
    image = picture.image
    target = fit(image.size, pixels)
    least = max(1, int(target[0] * NEAR_ENOUGH)), max(1, int(target[1] * NEAR_ENOUGH))
    image.draft("L" if image.mode == "RGB" and not in_colour else None, least)
    picture.decoded = image.size
    if isinstance(image, Jpeg2KImagePlugin.Jpeg2KImageFile):
        halvings = _halvings(image.size, least, jpeg2000_header(file).levels)
        image.reduce = halvings
        picture.decoded = image.width >> halvings, image.height >> halvings
        picture.beside = _beside_jpeg2000(file, halvings)


def _halvings(size: tuple[int, int], least: tuple[int, int], levels: int) -> int:
    """How often a picture can be halved: where the library rounds its size as the standard does, which is up."""
    possible = [0]
    for often in range(1, levels + 1):
        part = 1 << often
        halved = [-(-side // part) for side in size]
        is_enough = all(side >= wanted for side, wanted in zip(halved, least, strict=True))
        if is_enough and halved == [(side + part // 2) // part for side in size]:
            possible.append(often)
    return possible[-1]


def _beside_jpeg2000(file: BufferedReader, halvings: int) -> int:
    header = jpeg2000_header(file)
    tile = (header.tile[0] >> halvings) * (header.tile[1] >> halvings)
    return tile * header.components * _BESIDE_JPEG2000 + size_of(file)


@contextmanager
def _without_guard() -> Iterator[None]:
    """Set the library's own guard aside, which some of its readers ask again while they decode.

    And have it take a BigTIFF of the great byte order, whose mark it looks for in the wrong of two bytes.
    """
    before, Image.MAX_IMAGE_PIXELS = Image.MAX_IMAGE_PIXELS, None
    TiffImagePlugin.PREFIXES.append(_GREAT_BIG_TIFF)
    try:
        with warnings.catch_warnings(action="ignore"):  # of odd metadata, which is not our matter
            yield
    finally:
        Image.MAX_IMAGE_PIXELS = before
        TiffImagePlugin.PREFIXES.remove(_GREAT_BIG_TIFF)


@contextmanager
def _told_as_damage(path: Path) -> Iterator[None]:
    """Turn whatever the library raises into one refusal."""
    try:
        yield
    except DAMAGE as error:
        raise UnreadableOriginalError(
            f"{path.name} is a damaged or cut-short picture, or of a rare make that is not opened here", _MEND_DAMAGED
        ) from error
