"""Two pages side by side, with what they have in common outlined on each."""

from PIL import Image, ImageDraw

from provenance.likeness.values import PictureMatch

_HEIGHT = 800


def draw_pair(one: Image.Image, other: Image.Image, match: PictureMatch, names: tuple[str, str]) -> Image.Image:
    """Draw two pages side by side in grey, the matched area outlined on each with its corners lettered A to D."""
    sheet = Image.new("L", (40, _HEIGHT + 60), 255)
    for page, corners, name in ((one, match.one, names[0]), (other, match.other, names[1])):
        small = page.convert("L").resize((max(1, round(page.width * _HEIGHT / page.height)), _HEIGHT))
        wider = Image.new("L", (sheet.width + small.width + 20, sheet.height), 255)
        wider.paste(sheet, (0, 0))
        wider.paste(small, (sheet.width, 40))
        draw = ImageDraw.Draw(wider)
        draw.text((sheet.width, 12), name, fill=0)
        at = [(sheet.width + x / 100 * small.width, 40 + y / 100 * small.height) for x, y in corners]
        if at:
            draw.line([*at, at[0]], fill=255, width=7)
            draw.line([*at, at[0]], fill=0, width=3)
        for letter, place in zip("ABCD", at, strict=False):
            draw.text(place, letter, fill=0)
        sheet = wider
    return sheet
