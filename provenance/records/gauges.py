"""Gauges of wire and sheet: the numbers that stand for a thickness.

`16 gauge` alone names no thickness: it is .064 in by the Imperial Standard Wire Gauge, .065 in by the Birmingham gauge
and .0508 in by the American one.
"""

from decimal import ROUND_HALF_EVEN, Decimal
from fractions import Fraction

from provenance.records.sizes import Size, steps_between
from provenance.records.units import UNITS

# Imperial Standard Wire Gauge: legal in the United Kingdom from 1 March 1884; BS 3737:1964 (withdrawn). In inches.
_SWG = """7/0 .500 6/0 .464 5/0 .432 4/0 .400 3/0 .372 2/0 .348 0 .324 1 .300 2 .276 3 .252 4 .232 5 .212 6 .192 7 .176
8 .160 9 .144 10 .128 11 .116 12 .104 13 .092 14 .080 15 .072 16 .064 17 .056 18 .048 19 .040 20 .036 21 .032 22 .028
23 .024 24 .022 25 .020 26 .018 27 .0164 28 .0148 29 .0136 30 .0124 31 .0116 32 .0108 33 .0100 34 .0092 35 .0084
36 .0076 37 .0068 38 .0060 39 .0052 40 .0048 41 .0044 42 .0040 43 .0036 44 .0032 45 .0028 46 .0024 47 .0020 48 .0016
49 .0012 50 .0010"""

# Birmingham Wire Gauge (Stubs' iron wire gauge), in inches; from memory, tested against a library of the registry.
_BWG = """4/0 .454 3/0 .425 2/0 .380 0 .340 1 .300 2 .284 3 .259 4 .238 5 .220 6 .203 7 .180 8 .165 9 .148 10 .134
11 .120 12 .109 13 .095 14 .083 15 .072 16 .065 17 .058 18 .049 19 .042 20 .035 21 .032 22 .028 23 .025 24 .022 25 .020
26 .018 27 .016 28 .014 29 .013 30 .012 31 .010 32 .009 33 .008 34 .007 35 .005 36 .004"""


def _american() -> dict[str, Fraction]:
    """American Wire Gauge: No. 36 is .005 in, No. 4/0 .46 in, with 39 equal ratios between (ASTM B258), to .0001 in."""
    found = {}
    for number in range(-3, 41):
        exact = Decimal(".005") * Decimal(92) ** (Decimal(36 - number) / 39)
        name = f"{1 - number}/0" if number < 0 else str(number)
        found[name] = Fraction(exact.quantize(Decimal(".0001"), rounding=ROUND_HALF_EVEN))
    return found


def _listed(table: str) -> dict[str, Fraction]:
    words = table.split()
    return {name: Fraction(value) for name, value in zip(words[::2], words[1::2], strict=True)}


def _gauge(series: str, inches: dict[str, Fraction]) -> dict[str, Size]:
    steps = steps_between(inches)
    return {
        name: Size(series=series, name=name, value=value, unit=UNITS["in"], step=steps[name])
        for name, value in inches.items()
    }


# For each gauge its sizes by number, the thickest first.
GAUGES: dict[str, dict[str, Size]] = {
    "SWG": _gauge("SWG", _listed(_SWG)),
    "BWG": _gauge("BWG", _listed(_BWG)),
    "AWG": _gauge("AWG", _american()),
}
