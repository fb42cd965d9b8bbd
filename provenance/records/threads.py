"""Screw threads of the British trade: what a size stands for.

The value of a thread is its major diameter, over the crests of the bolt. Pitch and core diameter are exact from the
form of the thread; allowances are not among them.
"""

from fractions import Fraction

from provenance.records.sizes import Thread, steps_between
from provenance.records.units import UNITS

# British Association, BS 93:1951 and 2008: pitch .9^n mm to .01 mm, major diameter 6 p^1.2 mm to two figures, depth of
# thread .6 p, flanks at 47.5 degrees. Size, pitch, major diameter, in mm.
_BA = """0 1.00 6.0  1 .90 5.3  2 .81 4.7  3 .73 4.1  4 .66 3.6  5 .59 3.2  6 .53 2.8  7 .48 2.5  8 .43 2.2  9 .39 1.9
10 .35 1.7  11 .31 1.5  12 .28 1.3  13 .25 1.2  14 .23 1.0  15 .21 .90  16 .19 .79"""
BA_DEPTH = Fraction(6, 10)

# British Standard Whitworth and Fine, BS 84: flanks at 55 degrees, rounded. Major diameter in inches, threads by inch.
# 1/4, 5/16, 3/8, 1/2, 3/4 and 1 BSW and 3/16 to 3/4 BSF are checked against printed tables; the others from memory.
_BSW = """1/8 40  3/16 24  1/4 20  5/16 18  3/8 16  7/16 14  1/2 12  9/16 12  5/8 11  11/16 11  3/4 10  7/8 9  1 8
9/8 7  5/4 7  3/2 6  7/4 5  2 9/2"""
_BSF = """3/16 32  7/32 28  1/4 26  9/32 26  5/16 22  3/8 20  7/16 18  1/2 16  9/16 16  5/8 14  11/16 14  3/4 12  7/8 11
1 10  9/8 9  5/4 9  11/8 8  3/2 8  7/4 7  2 7"""
WHITWORTH_DEPTH = Fraction("0.640327")

# British Standard Cycle, BS 811: flanks at 60 degrees. 1/4 is checked against a printed table; the others from memory.
_BSC = "1/8 40  5/32 32  3/16 32  1/4 26  5/16 26  3/8 26  7/16 26  1/2 26  9/16 26"
CYCLE_DEPTH = Fraction("0.5327")


def _fraction_name(value: Fraction) -> str:
    whole, rest = divmod(value, 1)
    return " ".join(str(part) for part in (whole, rest) if part)


def _inch_threads(series: str, table: str, depth: Fraction) -> dict[str, Thread]:
    words = table.split()
    pairs = [(Fraction(size), 1 / Fraction(by_inch)) for size, by_inch in zip(words[::2], words[1::2], strict=True)]
    steps = steps_between({_fraction_name(size): size for size, _ in pairs})
    return {
        name: Thread(
            series=series,
            name=name,
            value=size,
            unit=UNITS["in"],
            step=steps[name],
            pitch=pitch,
            core=size - 2 * depth * pitch,
        )
        for size, pitch in pairs
        for name in (_fraction_name(size),)
    }


def _association() -> dict[str, Thread]:
    words = _BA.split()
    rows = {name: (Fraction(p), Fraction(d)) for name, p, d in zip(words[::3], words[1::3], words[2::3], strict=True)}
    steps = steps_between({name: major for name, (_, major) in rows.items()})
    return {
        name: Thread(
            series="BA",
            name=name,
            value=major,
            unit=UNITS["mm"],
            step=steps[name],
            pitch=pitch,
            core=major - 2 * BA_DEPTH * pitch,
        )
        for name, (pitch, major) in rows.items()
    }


# For each series its sizes by name: `2` of BA, `1/4` or `1 1/8` of the others.
THREADS: dict[str, dict[str, Thread]] = {
    "BA": _association(),
    "BSW": _inch_threads("BSW", _BSW, WHITWORTH_DEPTH),
    "BSF": _inch_threads("BSF", _BSF, WHITWORTH_DEPTH),
    "BSC": _inch_threads("BSC", _BSC, CYCLE_DEPTH),
}
