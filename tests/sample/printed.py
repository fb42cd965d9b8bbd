"""Other printed matter: two books, a newspaper cutting, a leaf of a timetable."""

from collections.abc import Sequence

import numpy as np
from PIL import Image, ImageDraw

from sample.ageing import Wear, scanned
from sample.faces import Faces
from sample.setting import Block, Style, set_page

ELLOWBY = (
    Block(kind="small", text="THE LITTLE LINES OF THE CARROW COAST"),
    Block(kind="gap", size=1),
    Block(
        kind="text",
        text=(
            "With the delivery of the last three cars in 1933 the steam engines were confined to the quarry traffic. "
            "The cars ran some "
            "forty thousand miles a year between them, and it is said that no passenger was ever left behind for "
            "want of a seat, though "
            "a good many stood."
        ),
    ),
    Block(
        kind="text",
        text=(
            "They made a brave show. The cars were painted a deep holly green below the waist, lined in yellow, and "
            "carried roof boards "
            "lettered with the names of the two termini. On Saints' days there were flags. The drivers kept the "
            "brass bright at their "
            "own expense."
        ),
    ),
    Block(
        kind="text",
        text=(
            "The decline was swift. The road along the estuary was opened in 1936, and from that year the winter "
            "service was cut "
            "to three cars. By the outbreak of war the first series had been laid aside at Tollan Road, where the "
            "bodies were sold "
            "for hen houses at four pounds each."
        ),
    ),
    Block(
        kind="text",
        text=(
            "Nothing is known to survive. A frame was seen in a hedge as late as 1951, but a search in the summer of "
            "last year "
            "failed to find it."
        ),
    ),
    Block(kind="gap", size=2),
    Block(kind="small", text="61"),
)

MARTHEN = (
    (
        Block(kind="heading", text="CHAPTER NINE"),
        Block(kind="heading", text="The Carrowsea Cars"),
        Block(
            kind="text",
            text=(
                "Of all the petrol cars that ran on narrow rails in these islands none were better liked than the "
                "eleven of the Brennow "
                "and Carrowsea. They were built by one firm over six years, and at first sight each was like the next."
            ),
        ),
        Block(
            kind="text",
            text=(
                "Painted a deep holly green below the waist and lined in yellow, with roof boards lettered with the "
                "names of the "
                "two termini, they made a brave show in the summer sun. On Saints' days they carried flags."
            ),
        ),
        Block(
            kind="text",
            text=(
                "Their speed was nothing to boast of. Forty minutes were allowed for the eleven miles, with stops at "
                "Pellow Halt, "
                "Tollan Road and wherever a hand was raised."
            ),
        ),
        Block(kind="gap", size=1),
        Block(kind="small", text="142"),
    ),
    (
        Block(
            kind="text",
            text=(
                "The road took the traffic, as it took it everywhere. In the last winter two cars sufficed, and when "
                "the viaduct at "
                "Tollan was condemned nobody was surprised. The last train ran on a wet Saturday with eleven "
                "passengers, one for each car "
                "that had been built."
            ),
        ),
        Block(
            kind="text",
            text=(
                "All were broken up where they stood but for a few bodies that went to the farms. I have spoken with "
                "men who drove them, "
                "and they speak of them as a man speaks of a good dog."
            ),
        ),
        Block(kind="gap", size=12),
        Block(kind="small", text="143"),
    ),
)

CUTTING = (
    Block(kind="heading", text="NEW RAIL CARS."),
    Block(kind="small", text="ELECTRIC LIGHT FOR TRAVELLERS."),
    Block(
        kind="text",
        text=(
            "On Tuesday last the first of three new rail cars entered the service of the Light Railway, and our "
            "representative was shown over "
            "No. 9 by Mr. Morvane, the Superintendent."
        ),
    ),
    Block(
        kind="text",
        text=(
            "The car seats four and twenty and is lit by electricity, so that one may read one's newspaper on the "
            "darkest evening without "
            "reproach to one's neighbour's elbow."
        ),
    ),
    Block(
        kind="text",
        text=(
            "In place of a horn the driver has a whistle blown by the exhaust, of a deep and musical note, which was "
            "heard "
            "with great distinctness at the Vicarage."
        ),
    ),
    Block(kind="text", text="The two sister cars are to follow before the August holiday."),
    Block(kind="small", text="Carrowsea Packet, 7th July 1933"),
)

_TIMETABLE = (
    Block(kind="heading", text="RAIL CARS"),
    Block(kind="small", text="WEEK DAYS, 4th JUNE TO 29th SEPTEMBER 1934"),
    *(
        Block(kind="row", text=text)
        for text in (
            "Brennow|7.20|9.05|11.40|2.15|4.50|7.10",
            "Tollan Road|7.34|9.19|11.54|2.29|5.04|7.24",
            "Pellow Halt|7.46|9.31|12.6|2.41|5.16|7.36",
            "Carrowsea|8.0|9.45|12.20|2.55|5.30|7.50",
        )
    ),
    Block(kind="gap", size=1),
    Block(
        kind="text",
        text="Cars stop at Pellow Halt when required. Intending passengers should give a clear signal to the driver.",
    ),
    Block(kind="text", text="Bicycles 4d. each. Perambulators and dogs are conveyed at owner's risk."),
)


def _scan(page: Image.Image, seed: int, wear: Wear) -> Image.Image:
    return scanned(page, None, wear, np.random.default_rng(seed))


def _printed(blocks: Sequence[Block], style: Style, seed: int, wear: Wear) -> Image.Image:
    return _scan(set_page(blocks, style)[0], seed, wear)


def ellowby(faces: Faces) -> Image.Image:
    """Page 61 of Ellowby's book of 1958."""
    style = Style(
        faces=faces,
        roman="garamond",
        bold="garamond",
        points=13,
        size=(1060, 1620),
        margins=(130, 150, 120),
        leading=1.35,
    )
    return _printed(
        ELLOWBY, style, 1958, Wear(skew=-0.5, softness=0.8, spread=0.25, noise=5, stains=0, shade=0.25, paper=0.92)
    )


def marthen(faces: Faces) -> tuple[Image.Image, ...]:
    """Pages 142 and 143 of Marthen's book of 1966."""
    style = Style(
        faces=faces,
        roman="baskerville",
        bold="baskerville",
        points=10.5,
        size=(1080, 1560),
        margins=(140, 170, 130),
        leading=1.5,
    )
    wear = Wear(skew=0.4, softness=0.7, spread=0.15, noise=4, stains=0, shade=0.2, paper=0.94)
    return tuple(_printed(blocks, style, 1966 + number, wear) for number, blocks in enumerate(MARTHEN))


def cutting(faces: Faces) -> Image.Image:
    """A newspaper cutting of July 1933, torn from its column and pasted on a card."""
    style = Style(
        faces=faces, roman="book", bold="book-bold", points=11.5, size=(700, 1240), margins=(50, 80, 45), leading=1.2
    )
    scan = _printed(
        CUTTING,
        style,
        1933,
        Wear(skew=1.1, softness=1.1, spread=0.55, noise=9, stains=1, shade=0.05, paper=0.74, ink=0.2),
    )
    card = Image.new("L", (860, 1400), 205)
    random = np.random.default_rng(77)
    outline = [(80 + random.normal(0, 4), y + 70) for y in range(0, 1250, 40)]
    outline += [(760 + random.normal(0, 4), y + 70) for y in range(1240, -1, -40)]
    mask = Image.new("L", card.size, 0)
    ImageDraw.Draw(mask).polygon(outline, fill=255)
    layer = Image.new("L", card.size, 190)
    layer.paste(scan, (80, 80))
    card.paste(layer, (0, 0), mask)
    return card


def timetable(faces: Faces) -> Image.Image:
    """A leaf of the timetable for the summer of 1934, found loose."""
    style = Style(
        faces=faces,
        roman="book",
        bold="book-bold",
        points=11,
        size=(1240, 860),
        margins=(90, 110, 80),
        columns=(0.0, 0.28, 0.4, 0.52, 0.64, 0.76, 0.88),
    )
    return _printed(
        _TIMETABLE, style, 1934, Wear(skew=-1.3, softness=1.1, spread=0.4, noise=8, stains=2, shade=0.1, paper=0.8)
    )


def album_leaf(faces: Faces, print_: Image.Image, other: Image.Image) -> Image.Image:
    """A leaf of an album with two prints in corners and a caption in white ink."""
    random = np.random.default_rng(1935)
    leaf = Image.fromarray(np.clip(52 + random.normal(0, 5, (1640, 1640)), 0, 255).astype(np.uint8))
    leaf.paste(print_, (140, 120))
    leaf.paste(other, (470, 1040))
    pen = ImageDraw.Draw(leaf)
    for left, top, size in ((140, 120, print_.size), (470, 1040, other.size)):
        for x, y, dx, dy in (
            (left, top, 1, 1),
            (left + size[0], top, -1, 1),
            (left, top + size[1], 1, -1),
            (left + size[0], top + size[1], -1, -1),
        ):
            pen.polygon([(x - 8 * dx, y - 8 * dy), (x + 50 * dx, y - 8 * dy), (x - 8 * dx, y + 50 * dy)], fill=30)
    face = faces.find("hand", 54)
    pen.text((820, 950), "No. 9 at Brennow, Whit Monday 1935", 225, font=face, anchor="mm")
    pen.text((820, 1590), "The quay from the station", 225, font=face, anchor="mm")
    return leaf
