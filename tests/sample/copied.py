"""Pictures and papers made from others, and what came late: loose papers of the shed, a letter in confidence."""

import numpy as np
from PIL import Image, ImageDraw

from sample.ageing import Wear, scanned
from sample.faces import Faces
from sample.film import blurred
from sample.letters import Letter
from sample.setting import Block, Style, set_page

_LAMP = (0.7, 0.56, 0.92, 0.92)

NEWSLETTER = (
    Block(kind="heading", text="THE CARROW COAST LINE"),
    Block(kind="small", text="Newsletter of the Carrow Coast Railway Circle. No. 6, April 1987"),
    Block(kind="rule"),
    Block(kind="heading", text="Your questions answered"),
    Block(
        kind="text",
        text=(
            "A member at Stoverton asks how the last of the rail cars were lit. We have been lent a copy of the "
            "maker's book of October 1933 and can do no better than to type out what it says on its fifth page:"
        ),
    ),
    Block(
        kind="text",
        text=(
            "These cars have electric head lamps, H-204, of 12 volts. The wires are drawn through a steel conduit "
            "which runs along the cantrail and down the corner pillar to the lamp."
        ),
    ),
    Block(kind="text", text="The book went back to its owner, and we do not know where it is now."),
)

FITTERS = (
    Block(kind="heading", text="BRENNOW SHED. FITTERS' REPORT."),
    Block(kind="small", text="Week ending Saturday, 9th June 1934"),
    Block(kind="side", text="No. 4.|In for tyres. Packing pieces, ½ in., fitted below the springs."),
    Block(kind="side", text="No. 7.|Trailing axlebox hot on Tuesday. Pad drawn, washed and put back."),
    Block(
        kind="side",
        text=(
            "No. 9.|End window cracked by a stone at Tollan Road. A new glass was cut to 1 ft. 8¼ in. wide and put in "
            "on Thursday night."
        ),
    ),
    Block(kind="side", text="No. 10.|Nothing reported."),
    Block(kind="small", text="Fitter in charge, J. Pellander"),
)

_CARDS = (
    ("12th March 1935", "Tyres turned. Brake rods renewed. Lamps in order."),
    ("9th March 1936", "Roof painted. Two side windows renewed. Tyres at their limit."),
    ("18th March 1937", "General repair in October last. Nothing to be done."),
)

CONFIDENCE = Letter(
    lines=(
        "                              Brennow.",
        "                              2nd March, 1998.",
        "",
        "Dear Miss Corrowdale,",
        "",
        "You asked about the cars. My uncle was fitter at the",
        "shed until the end and spoke of little else.",
        "",
        "Every one of the cars had a whistle that was blown",
        "by the exhaust, he said, and he had the mending of",
        "them all.",
        "",
        "What he told me of the fire I have set down on the",
        "other sheet. It concerns people who are living, and",
        "I ask you to show neither to anybody.",
        "",
        "                         Yours sincerely,",
        "",
        "                         Agnes Dallimoor.",
    ),
    carbon=(30, 34, 60),
    paper=(238, 238, 234),
    blur=0.8,
    faint=0.3,
    skew=0.5,
    seed=1998,
)


def second_print(first: Image.Image) -> Image.Image:
    """Photograph a print again: smaller, softer and flatter, with the crease of the first on it."""
    random = np.random.default_rng(9343)
    small = first.resize((first.width * 3 // 5, first.height * 3 // 5), Image.Resampling.LANCZOS)
    tones = 0.24 + 0.6 * blurred(np.asarray(small, dtype=np.float64) / 255, 0.9)
    tones += 0.012 * random.standard_normal(tones.shape)
    sheet = Image.new("L", (small.width + 44, small.height + 44), 236)
    sheet.paste(Image.fromarray((np.clip(tones, 0, 1) * 255).astype(np.uint8)), (22, 22))
    return sheet


def lamp_detail(first: Image.Image) -> Image.Image:
    """Cut the head lamps out of a picture and enlarge them twice, as somebody did for an article."""
    left, top, right, bottom = _LAMP
    cut = first.crop(
        (round(left * first.width), round(top * first.height), round(right * first.width), round(bottom * first.height))
    )
    return cut.resize((cut.width * 2, cut.height * 2), Image.Resampling.BICUBIC)


def newsletter(faces: Faces) -> Image.Image:
    """A page of a newsletter of 1987, in which a paragraph of the handbook was typed out again."""
    style = Style(
        faces=faces, roman="news", bold="news-bold", points=12, size=(1080, 1200), margins=(120, 140, 120), leading=1.4
    )
    wear = Wear(skew=0.4, softness=0.8, spread=0.3, noise=5, stains=0, shade=0.1, paper=0.93)
    return scanned(set_page(NEWSLETTER, style)[0], None, wear, np.random.default_rng(1987))


def fitters_report(faces: Faces) -> Image.Image:
    """The fitters' report of one week, laid on the scanner sideways: its head is at the left."""
    style = Style(
        faces=faces, roman="book", bold="book-bold", points=13, size=(1240, 900), margins=(110, 130, 100), leading=1.35
    )
    wear = Wear(skew=-0.5, softness=0.9, spread=0.3, noise=6, stains=1, shade=0.1, paper=0.86)
    page = scanned(set_page(FITTERS, style)[0], None, wear, np.random.default_rng(19340609))
    return page.transpose(Image.Transpose.ROTATE_90)


def inspection_cards(faces: Faces) -> tuple[Image.Image, ...]:
    """Three inspection cards of No. 9, in black and white without greys."""
    return tuple(_card(faces, date, text).convert("1", dither=Image.Dither.NONE) for date, text in _CARDS)


def _card(faces: Faces, date: str, text: str) -> Image.Image:
    style = Style(faces=faces, roman="book", bold="book-bold", points=12, size=(1180, 740), margins=(100, 130, 100))
    blocks = (
        Block(kind="heading", text="INSPECTION CARD"),
        Block(kind="small", text=f"RAIL CAR No. 9. {date}"),
        Block(kind="gap", size=1),
        Block(kind="text", text=text),
    )
    sheet = set_page(blocks, style)[0]
    ImageDraw.Draw(sheet).rectangle((40, 40, sheet.width - 40, sheet.height - 40), outline=0, width=3)
    return sheet
