"""Pictures asked for and described as the IIIF Image API 3.0 has it (International Image Interoperability Framework).

https://iiif.io/api/image/3.0/; the sections named here are those of that document. What is offered is its level 0 with
parts of the levels above: any region and any smaller size, no turning, no other colours. Its level 1 asks that pages of
others may read the pictures too, which these may not.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

MOST_SIDE = 2048
"""Width and height of what is given at one time, at most (5.2 `maxWidth`): a window's fill, and no more work."""

_CONTEXT = "http://iiif.io/api/image/3/context.json"
MEDIA_TYPE = f'application/ld+json;profile="{_CONTEXT}"'
"""Of the description (5.1)."""

FORMATS: Mapping[str, str] = {"jpg": "image/jpeg", "png": "image/png"}
"""The forms that a picture is given in (4.5), with their media types."""

_NUMBER = r"([0-9]{1,9})"
_SHARE = r"([0-9]{1,3}(?:\.[0-9]{1,10})?)"
_PIXELS = re.compile(",".join([_NUMBER] * 4))
_PERCENT = re.compile("pct:" + ",".join([_SHARE] * 4))
_SIZE = re.compile(rf"(!?)({_NUMBER})?,({_NUMBER})?")
_SIZE_PERCENT = re.compile(f"pct:{_SHARE}")
_TURNED = re.compile(r"!?[0-9]{1,3}(?:\.[0-9]{1,10})?")
_NAMED = re.compile(r"(default|color|gray|bitonal)\.(jpg|tif|png|gif|jp2|pdf|webp)")


class RequestError(ValueError):
    """A picture that cannot be given.

    Attributes:
        code: 400 for what means nothing, 501 for what the standard knows and is not offered here (section 7.3).
    """

    def __init__(self, what: str, code: int = 400) -> None:
        """Say what is wrong, and whether it could mean something."""
        super().__init__(what)
        self.code = code


@dataclass(frozen=True, slots=True)
class PictureRequest:
    """A picture that is asked for.

    Attributes:
        region: left and upper edge, width and height, in pixels of the whole picture; within it, and never empty.
        size: width and height in pixels that it is to be given at; never larger than the region.
        form: `jpg` or `png`.
    """

    region: tuple[int, int, int, int]
    size: tuple[int, int]
    form: str


def read_request(asked: str, whole: tuple[int, int]) -> PictureRequest:
    """Read the part of an address that stands behind the picture's own (section 4).

    Args:
        asked: region (4.1), size (4.2), rotation (4.3), quality and form (4.4, 4.5), such as
            `0,0,512,512/256,/0/default.jpg`, `square/!200,200/0/default.png` or `pct:10,10,5,5/max/0/default.jpg`.
        whole: width and height of the whole picture, in pixels.

    Raises:
        RequestError: it means nothing, or is not offered.
    """
    try:
        region, size, rotation, named = asked.split("/")
    except ValueError as error:
        raise RequestError("the address has to name region, size, rotation and form, and nothing else") from error
    form = _form(named)
    if rotation != "0":
        is_known = _TURNED.fullmatch(rotation) and float(rotation.lstrip("!")) <= 360
        raise RequestError("the picture is not turned here", 501 if is_known else 400)
    part = _region(region, whole)
    return PictureRequest(region=part, size=_size(size, part[2:]), form=form)


def describe(address: str, whole: tuple[int, int], *, tile: int, levels: int, is_lossless: bool) -> dict[str, Any]:
    """Describe a picture (section 5).

    Args:
        address: under which its parts are asked for, without `/` at its end.
        whole: width and height in pixels.
        tile: width and height of the tiles in which it is kept.
        levels: how often it is halved, and once more for its full size.
        is_lossless: PNG is the better form for it.
    """
    sizes = [tuple(-(-side >> level) for side in whole) for level in reversed(range(levels))]
    described: dict[str, Any] = {
        "@context": _CONTEXT,
        "id": address,
        "type": "ImageService3",
        "protocol": "http://iiif.io/api/image",
        "profile": "level0",
        "width": whole[0],
        "height": whole[1],
        "maxWidth": MOST_SIDE,
        "maxHeight": MOST_SIDE,
        "sizes": [{"width": wide, "height": high} for wide, high in sizes if max(wide, high) <= MOST_SIDE],
        "tiles": [{"width": tile, "height": tile, "scaleFactors": [2**level for level in range(levels)]}],
        "extraFormats": ["png"],
        "extraFeatures": [
            "baseUriRedirect",
            "jsonldMediaType",
            "regionByPct",
            "regionByPx",
            "regionSquare",
            "sizeByConfinedWh",
            "sizeByH",
            "sizeByPct",
            "sizeByW",
            "sizeByWh",
        ],
    }
    return described | ({"preferredFormats": ["png"]} if is_lossless else {})


def _form(named: str) -> str:
    found = _NAMED.fullmatch(named)
    if not found:
        raise RequestError("the address has to end with `default.jpg` or `default.png`")
    if found[1] != "default" or found[2] not in FORMATS:
        raise RequestError("the picture is given as `default.jpg` or `default.png` alone", 501)
    return found[2]


def _region(written: str, whole: tuple[int, int]) -> tuple[int, int, int, int]:
    """Read a region, and cut off what lies beyond the picture (4.1)."""
    if written == "full":
        return 0, 0, *whole
    if written == "square":
        side = min(whole)
        return (whole[0] - side) // 2, (whole[1] - side) // 2, side, side
    if found := _PIXELS.fullmatch(written):
        left, top, wide, high = map(int, found.groups())
    elif found := _PERCENT.fullmatch(written):
        edges = [Fraction(share) * whole[place % 2] / 100 for place, share in enumerate(found.groups())]
        left, top, wide, high = map(round, edges)
    else:
        raise RequestError("the region has to be `full`, `square`, `x,y,w,h` or `pct:x,y,w,h`")
    wide, high = min(wide, whole[0] - left), min(high, whole[1] - top)
    if wide < 1 or high < 1:
        raise RequestError("the region is empty, or lies beyond the picture")
    return left, top, wide, high


def _size(written: str, part: tuple[int, ...]) -> tuple[int, int]:
    """Read a size, which may not be larger than the part that it is of (4.2)."""
    if written.startswith("^") and not written.startswith("^^"):
        _size(written[1:], (MOST_SIDE, MOST_SIDE))
        raise RequestError("nothing is shown larger than it is", 501)
    wide, high = part
    if written == "max":
        share = min(Fraction(1), Fraction(MOST_SIDE, max(part)))
        return _at_least_one(wide * share), _at_least_one(high * share)
    if found := _SIZE_PERCENT.fullmatch(written):
        size = round(wide * Fraction(found[1]) / 100), round(high * Fraction(found[1]) / 100)
    elif (found := _SIZE.fullmatch(written)) and (found[2] or found[4]):
        size = _named_size(found[1] == "!", found[2], found[4], (wide, high))
    else:
        raise RequestError("the size has to be `max`, `w,`, `,h`, `w,h`, `!w,h` or `pct:n`")
    if min(size) < 1 or size[0] > wide or size[1] > high or max(size) > MOST_SIDE:
        raise RequestError(f"the size has to lie between 1 pixel and that of the region, and {MOST_SIDE} at most")
    return size


def _named_size(fits: bool, across: str | None, down: str | None, part: tuple[int, int]) -> tuple[int, int]:  # noqa: FBT001  a part of the address
    wide, high = part
    if fits:
        if across is None or down is None:
            raise RequestError("a size to fit into needs its width and its height: `!w,h`")
        share = min(Fraction(int(across), wide), Fraction(int(down), high), Fraction(1))
        return _at_least_one(wide * share) if int(across) else 0, _at_least_one(high * share) if int(down) else 0
    if across is not None and down is not None:
        return int(across), int(down)
    if across is not None:
        return int(across), _at_least_one(Fraction(high * int(across), wide)) if int(across) else 0
    return _at_least_one(Fraction(wide * int(down or 0), high)) if int(down or 0) else 0, int(down or 0)


def _at_least_one(side: Fraction) -> int:
    return max(1, round(side))
