"""What every page for people keeps to, and texts that people and scans might bring in."""

import unicodedata

from hypothesis import strategies as st

from provenance.reports.standing import LeftOut, Standing

WIDTH = 100
WIDEST_MARK = 14

# What a terminal obeys: colours, the title of its window, a cursor that goes back, a bell, a line turned round.
HOSTILE = "\x1b[31mred\x1b]0;owned\x07\x08\x08 \x9b2J\u202egnorw\u2069\r\nlast\tline\x7f\udc80"

STANDING = Standing(archive="Railcar No. 9")
NOT_WHOLE = Standing(
    archive="Railcar No. 9",
    left_out=(
        LeftOut(file="claims/one.yaml", why="line 5: there is no `handbok` among the sources"),
        LeftOut(file="sources/" + "a-very-long-name-" * 6 + ".yaml", why=f"line 2: {HOSTILE} " + "word " * 30),
    ),
)

any_text = st.text(st.characters(codec=None), max_size=60) | st.just(HOSTILE)
widths = st.integers(60, 120)


def obeyed(page: str) -> list[str]:
    """The characters of a page that a terminal would obey, or cannot be given at all; its line feeds are its own."""
    return [
        letter for letter in page if letter != "\n" and unicodedata.category(letter) in {"Cc", "Cs", "Zl", "Zp"}
    ] + [
        letter
        for letter in page
        if unicodedata.bidirectional(letter) in {"RLO", "LRO", "RLE", "LRE", "RLI", "LRI", "PDI"}
    ]


def overlong(page: str, width: int) -> list[str]:
    """The lines that are longer than the page is wide, but for one word that fits on no line."""
    longer = [line for line in page.split("\n") if len(line) > width]
    # Words end at a plain space alone: a line is not broken at one that is there to keep two words together.
    return [line for line in longer if len(line.rpartition(" ")[2]) <= width - WIDEST_MARK]
