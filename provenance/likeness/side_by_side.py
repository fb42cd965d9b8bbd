"""Two pages side by side, with what they have in common outlined on each."""

from math import hypot

from PIL import Image, ImageDraw, ImageFont

from provenance.likeness.values import Corners, PictureMatch

_TALL, _WIDE = 900, 900  # the most that a page takes, in pixels
_MARGIN = 30
_TEXT, _LETTER = 22, 26  # heights of letters, in pixels
_BLACK, _WHITE = 0, 255


def draw_pair(one: Image.Image, other: Image.Image, match: PictureMatch, names: tuple[str, str]) -> Image.Image:
    """Draw two pages side by side in grey, what they have in common outlined on each.

    The same corner bears the same letter, A to D, on both, so that one sees how the second lies. Outline and letters
    are black within white, to be seen on light and dark and on a print without colours.

    Args:
        one: the first page, upright as delivered.
        other: the second page.
        match: what they have in common; nothing is outlined where it has no corners.
        names: what is written above each.

    Returns:
        A picture in grey, at most 1,890 pixels wide and as tall as the pages and the caption need.
    """
    pages = [
        outlined(fitted(page, _WIDE, _TALL), corners) for page, corners in ((one, match.one), (other, match.other))
    ]
    width = max(3 * _MARGIN + pages[0].width + pages[1].width, 480)
    caption = _wrapped(f"{match.why[:1].upper()}{match.why[1:]}.", width - 2 * _MARGIN)
    head, line = _MARGIN + _TEXT + 10, round(_TEXT * 1.4)
    tallest = max(page.height for page in pages)
    sheet = Image.new("L", (width, head + tallest + _MARGIN // 2 + line * len(caption) + _MARGIN), _WHITE)
    pen = ImageDraw.Draw(sheet)
    left = _MARGIN
    for page, name in zip(pages, names, strict=True):
        pen.text((left, _MARGIN - 8), _shortened(name, page.width), fill=_BLACK, font=_face(_TEXT))
        sheet.paste(page, (left, head))
        left += page.width + _MARGIN
    for row, words in enumerate(caption):
        pen.text((_MARGIN, head + tallest + _MARGIN // 2 + row * line), words, fill=_BLACK, font=_face(_TEXT))
    return sheet


def fitted(page: Image.Image, wide: int, tall: int) -> Image.Image:
    """A page in grey, made as large as it can be within so many pixels."""
    scale = min(tall / page.height, wide / page.width)
    size = max(1, round(page.width * scale)), max(1, round(page.height * scale))
    return page.convert("L").resize(size, Image.Resampling.LANCZOS if scale < 1 else Image.Resampling.BICUBIC)


def outlined(page: Image.Image, corners: Corners, letters: str = "ABCD") -> Image.Image:
    """A page in grey with a thin edge, and the area outlined on it with a letter at each corner.

    Args:
        page: in grey.
        corners: of the area; empty for none.
        letters: one a corner; empty for none.
    """
    drawn = page.copy()
    pen = ImageDraw.Draw(drawn)
    pen.rectangle((0, 0, drawn.width - 1, drawn.height - 1), outline=_BLACK)
    spots = [(x / 100 * (drawn.width - 1), y / 100 * (drawn.height - 1)) for x, y in corners]
    if spots:
        for tone, thick in ((_WHITE, 9), (_BLACK, 4)):
            pen.line([*spots, spots[0], spots[1]], fill=tone, width=thick, joint="curve")
        for letter, spot in zip(letters, spots, strict=bool(letters)):
            _letter(pen, letter, _inwards(spot, spots, drawn.size))
    return drawn


def _inwards(spot: tuple[float, float], spots: list[tuple[float, float]], size: tuple[int, int]) -> tuple[float, float]:
    """The place of a corner's letter: a little towards the middle of the area, and wholly on the page."""
    middle = sum(x for x, _ in spots) / len(spots), sum(y for _, y in spots) / len(spots)
    away = max(1.0, hypot(middle[0] - spot[0], middle[1] - spot[1]))
    step = min(1.0, _LETTER / away)
    moved = [at + step * (to - at) for at, to in zip(spot, middle, strict=True)]
    x, y = (
        min(max(at, _LETTER * 0.8), max(_LETTER * 0.8, side - _LETTER * 0.8))
        for at, side in zip(moved, size, strict=True)
    )
    return x, y


def _letter(pen: ImageDraw.ImageDraw, letter: str, spot: tuple[float, float]) -> None:
    reach = _LETTER * 0.72
    x, y = spot
    pen.ellipse((x - reach, y - reach, x + reach, y + reach), fill=_WHITE, outline=_BLACK, width=3)
    pen.text(spot, letter, fill=_BLACK, font=_face(_LETTER), anchor="mm")


def _face(size: int) -> ImageFont.FreeTypeFont | ImageFont.ImageFont:
    return ImageFont.load_default(size)


def _wrapped(text: str, width: float) -> list[str]:
    """The text in lines that are no wider than so many pixels, but for a single word that is."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and _face(_TEXT).getlength(longer) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def _shortened(name: str, width: float) -> str:
    if _face(_TEXT).getlength(name) <= width:
        return name
    while name and _face(_TEXT).getlength(f"{name}…") > width:
        name = name[:-1]
    return f"{name}…"
