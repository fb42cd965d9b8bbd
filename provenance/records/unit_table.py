"""The units in which people write figures, with their exact factors.

Length, mass and volume: Weights and Measures Act 1985 (c. 72), Schedule 1 (yard .9144 m, pound .453 592 37 kg, gallon
4.546 09 litres, exactly). Standard acceleration of free fall 9.806 65 m/s2 (third General Conference on Weights and
Measures, 1901), from which pound-force, ton-force and kilogram-force follow; horsepower 550 ft lbf/s, metric horsepower
75 kgf m/s; BTU of the International Table, 1 055.055 852 62 J (Fifth International Conference on the Properties of
Steam, 1956). The millimetre of mercury and the inch of mercury are conventional: 13 595.1 kg/m3 at standard gravity.
"""

from fractions import Fraction

_IN = Fraction("25.4")
_FT = 12 * _IN
_POUND = Fraction("0.45359237")
_GALLON = Fraction("4.54609")
_US_GALLON = 231 * _IN**3 / 1_000_000
_GRAVITY = Fraction("9.80665")
_POUND_FORCE = _POUND * _GRAVITY
_FOOT_POUND = _POUND_FORCE * _FT / 1000
_PSI = _POUND_FORCE / (_IN / 1000) ** 2
_MERCURY = Fraction("13595.1") * _GRAVITY / 1000
_CANNOT_BE_ZERO = Fraction("273.15")

Row = tuple[str, str, Fraction | int, str]

# For each dimension its name with the article, and its units: id, how it is printed, factor, and other spellings with
# `|` between them. What is imperial stands behind the metric ones, from the row that FIRST_IMPERIAL names.
TABLE: dict[str, tuple[str, tuple[Row, ...]]] = {
    "length": (
        "a length",
        (
            ("mm", "mm", 1, "millimetre|millimetres|millimeter|millimeters|mms"),
            ("um", "µm", Fraction(1, 1000), "μm|micron|microns|micrometre|micrometres"),
            ("cm", "cm", 10, "centimetre|centimetres|centimeter|centimeters|cms"),
            ("dm", "dm", 100, "decimetre|decimetres"),
            ("m", "m", 1000, "metre|metres|meter|meters"),
            ("km", "km", 1_000_000, "kilometre|kilometres|kilometer|kilometers"),
            ("thou", "thou", _IN / 1000, "thous|thousandths|thousandth"),
            ("in", "in", _IN, 'inch|inches|ins|"'),
            ("ft", "ft", _FT, "foot|feet|'"),
            ("yd", "yd", 36 * _IN, "yard|yards|yds"),
            ("fathom", "fathom", 72 * _IN, "fathoms"),
            ("chain", "chain", 792 * _IN, "chains"),
            ("mile", "mile", 63360 * _IN, "miles"),
        ),
    ),
    "area": (
        "an area",
        (
            ("mm2", "mm2", 1, "sq mm|square millimetre|square millimetres"),
            ("cm2", "cm2", 100, "sq cm|square centimetre|square centimetres"),
            ("m2", "m2", 1_000_000, "sq m|square metre|square metres"),
            ("in2", "in2", _IN**2, "sq in|sq ins|square inch|square inches"),
            ("ft2", "ft2", _FT**2, "sq ft|square foot|square feet"),
            ("yd2", "yd2", (3 * _FT) ** 2, "sq yd|sq yds|square yard|square yards"),
        ),
    ),
    "volume": (
        "a volume",
        (
            ("l", "l", 1, "L|litre|litres|liter|liters|ltr|dm3"),
            ("ml", "ml", Fraction(1, 1000), "mL|millilitre|millilitres"),
            ("cm3", "cm3", Fraction(1, 1000), "cc|ccm|cubic centimetre|cubic centimetres|cu cm"),
            ("m3", "m3", 1000, "cubic metre|cubic metres|cu m"),
            ("fl oz", "fl oz", _GALLON / 160, "fluid ounce|fluid ounces|fl ozs"),
            ("pt", "pt", _GALLON / 8, "pint|pints|pts"),
            ("qt", "qt", _GALLON / 4, "quart|quarts|qts"),
            ("gal", "gal", _GALLON, "gallon|gallons|gals|gall|galls"),
            ("US pt", "US pt", _US_GALLON / 8, "US pint|US pints"),
            ("US qt", "US qt", _US_GALLON / 4, "US quart|US quarts"),
            ("US gal", "US gal", _US_GALLON, "US gallon|US gallons|US gals"),
            ("in3", "in3", _IN**3 / 1_000_000, "cu in|cu ins|cubic inch|cubic inches"),
            ("ft3", "ft3", _FT**3 / 1_000_000, "cu ft|cubic foot|cubic feet"),
        ),
    ),
    "mass": (
        "a mass",
        (
            ("kg", "kg", 1, "kilogram|kilograms|kilogramme|kilogrammes|kilo|kilos|kgs"),
            ("g", "g", Fraction(1, 1000), "gram|grams|gramme|grammes|gm|gms"),
            ("mg", "mg", Fraction(1, 1_000_000), "milligram|milligrams"),
            ("t", "t", 1000, "tonne|tonnes|metric ton|metric tons"),
            ("grain", "grain", _POUND / 7000, "grains"),
            ("oz", "oz", _POUND / 16, "ounce|ounces|ozs"),
            ("lb", "lb", _POUND, "lbs|pound|pounds"),
            ("st", "st", 14 * _POUND, "stone|stones"),
            ("qr", "qr", 28 * _POUND, "qrs|quarter|quarters"),
            ("cwt", "cwt", 112 * _POUND, "cwts|hundredweight|hundredweights"),
            ("ton", "ton", 2240 * _POUND, "tons|long ton|long tons"),
            ("slug", "slug", _POUND_FORCE / (_FT / 1000), "slugs"),
            ("US cwt", "US cwt", 100 * _POUND, "US hundredweight|short cwt"),
            ("US ton", "US ton", 2000 * _POUND, "US tons|short ton|short tons"),
        ),
    ),
    "force": (
        "a force",
        (
            ("N", "N", 1, "newton|newtons"),
            ("kN", "kN", 1000, "kilonewton|kilonewtons"),
            ("kgf", "kgf", _GRAVITY, "kp|kilogram-force"),
            ("ozf", "ozf", _POUND_FORCE / 16, "ounce-force"),
            ("lbf", "lbf", _POUND_FORCE, "pound-force|pounds-force|lbsf"),
            ("tonf", "tonf", 2240 * _POUND_FORCE, "tonsf|ton-force|tons-force"),
        ),
    ),
    "torque": (
        "a torque",
        (
            ("N m", "N m", 1, "Nm|newton metre|newton metres"),
            ("kgf m", "kgf m", _GRAVITY, "kg m|kgm|mkg|m kg|kgfm"),
            ("lbf in", "lbf in", _FOOT_POUND / 12, "in lbf|lb in|in lb|lbs in|in lbs|inch pound|inch pounds"),
            ("lbf ft", "lbf ft", _FOOT_POUND, "ft lbf|lb ft|ft lb|lbs ft|ft lbs|foot pound|foot pounds|pound feet"),
        ),
    ),
    "energy": (
        "an energy",
        (
            ("J", "J", 1, "joule|joules"),
            ("kJ", "kJ", 1000, "kilojoule|kilojoules"),
            ("kWh", "kWh", 3_600_000, "kW h|kilowatt hour|kilowatt hours"),
            ("Btu", "Btu", Fraction("1055.05585262"), "BTU|B.T.U.|BThU|British thermal unit|British thermal units"),
        ),
    ),
    "pressure": (
        "a pressure",
        (
            ("Pa", "Pa", 1, "pascal|pascals|N/m2"),
            ("kPa", "kPa", 1000, "kilopascal|kilopascals"),
            ("MPa", "MPa", 1_000_000, "megapascal|megapascals|N/mm2"),
            ("mbar", "mbar", 100, "millibar|millibars|hPa"),
            ("bar", "bar", 100_000, "bars"),
            ("kgf/cm2", "kgf/cm2", 10_000 * _GRAVITY, "kg/cm2|kg/sq cm|kgf/sq cm"),
            ("atm", "atm", 101_325, "atmosphere|atmospheres"),
            ("mmHg", "mmHg", _MERCURY, "mm Hg"),
            (
                "lbf/in2",
                "lbf/in2",
                _PSI,
                "psi|lb/in2|lb/sq in|lbf/sq in|lbs/sq in|lbs/in2|lb per sq in|lbs per sq in|lb per square inch",
            ),
            ("tonf/in2", "tonf/in2", 2240 * _PSI, "ton/in2|tons/in2|ton/sq in|tons/sq in|tonf/sq in|tons per sq in"),
            ("lbf/ft2", "lbf/ft2", _PSI / 144, "lb/ft2|lb/sq ft|lbf/sq ft|lbs/sq ft|lb per sq ft"),
            ("inHg", "inHg", _MERCURY * _IN, "in Hg|inch of mercury|inches of mercury|in of mercury"),
        ),
    ),
    "power": (
        "a power",
        (
            ("W", "W", 1, "watt|watts"),
            ("kW", "kW", 1000, "kilowatt|kilowatts"),
            ("PS", "PS", 75 * _GRAVITY, "metric hp|metric horsepower"),
            ("hp", "hp", 550 * _FOOT_POUND, "horsepower|horse power|h.p.|bhp|b.h.p.|ihp|i.h.p."),
        ),
    ),
    "speed": (
        "a speed",
        (
            ("m/s", "m/s", 1, "metre per second|metres per second"),
            ("m/min", "m/min", Fraction(1, 60), "metres per minute"),
            ("km/h", "km/h", Fraction(5, 18), "kph|km per hour|kilometres per hour|km/hr"),
            ("kn", "kn", Fraction(1852, 3600), "knot|knots"),
            ("ft/s", "ft/s", _FT / 1000, "ft/sec|ft per sec|feet per second|ft per second"),
            ("ft/min", "ft/min", _FT / 60_000, "ft per min|feet per minute|ft per minute"),
            ("mph", "mph", _FT * 22 / 15_000, "m.p.h.|mile/h|miles/h|miles per hour|mile per hour"),
        ),
    ),
    "speed of turning": (
        "a speed of turning",
        (
            ("rpm", "rpm", 1, "r.p.m.|rev/min|revs/min|revs per minute|revolutions per minute|revs per min|r/min"),
            ("rev/s", "rev/s", 60, "rps|r.p.s.|revs/s|rev per second|revs per second|r/s"),
        ),
    ),
    "temperature": (
        "a temperature",
        (
            ("K", "K", 1, "kelvin|kelvins"),
            ("degC", "°C", 1, "℃|deg C|C|degrees C|degrees Celsius|degrees centigrade|Celsius|centigrade"),
            ("degF", "°F", Fraction(5, 9), "℉|deg F|F|degrees F|degrees Fahrenheit|Fahrenheit"),
        ),
    ),
    "angle": (
        "an angle",
        (
            ("deg", "°", 1, "º|degree|degrees|degs"),
            ("arcmin", "'", Fraction(1, 60), "minute of arc|minutes of arc|min of arc"),
            ("arcsec", '"', Fraction(1, 3600), "second of arc|seconds of arc|sec of arc"),
        ),
    ),
    "time": (
        "a time",
        (
            ("s", "s", 1, "sec|secs|second|seconds"),
            ("min", "min", 60, "mins|minute|minutes"),
            ("h", "h", 3600, "hr|hrs|hour|hours"),
        ),
    ),
    "voltage": (
        "a voltage",
        (
            ("V", "V", 1, "volt|volts"),
            ("mV", "mV", Fraction(1, 1000), "millivolt|millivolts"),
            ("kV", "kV", 1000, "kilovolt|kilovolts"),
        ),
    ),
    "current": (
        "a current",
        (
            ("A", "A", 1, "amp|amps|ampere|amperes"),
            ("mA", "mA", Fraction(1, 1000), "milliamp|milliamps|milliampere|milliamperes"),
        ),
    ),
    "resistance": (
        "a resistance",
        (
            ("ohm", "ohm", 1, "ohms|Ω|Ω"),
            ("kohm", "kohm", 1000, "kohms|kΩ|kΩ|kilohm|kilohms"),
            ("Mohm", "Mohm", 1_000_000, "Mohms|MΩ|MΩ|megohm|megohms"),
        ),
    ),
    "capacitance": (
        "a capacitance",
        (
            ("farad", "farad", 1, "farads"),
            ("uF", "µF", Fraction(1, 1_000_000), "μF|mfd|microfarad|microfarads"),
            ("nF", "nF", Fraction(1, 10**9), "nanofarad|nanofarads"),
            ("pF", "pF", Fraction(1, 10**12), "picofarad|picofarads"),
        ),
    ),
    "charge": ("a charge", (("Ah", "A h", 1, "A h|A.h.|amp hour|amp hours|ampere hour|ampere hours|amp-hours"),)),
    "frequency": (
        "a frequency",
        (
            ("Hz", "Hz", 1, "hertz|c/s|cycles per second"),
            ("kHz", "kHz", 1000, "kilohertz|kc/s"),
            ("MHz", "MHz", 1_000_000, "megahertz|Mc/s"),
        ),
    ),
    "spring rate": (
        "a spring rate",
        (
            ("N/mm", "N/mm", 1, "kN/m"),
            ("kgf/mm", "kgf/mm", _GRAVITY, "kg/mm"),
            ("lbf/in", "lbf/in", _POUND_FORCE / _IN, "lb/in|lbs/in|lb per in|lb per inch|lbs per inch"),
        ),
    ),
    "mass by length": (
        "a mass by length",
        (
            ("kg/m", "kg/m", 1, "kg per metre|kg per m"),
            ("lb/ft", "lb/ft", _POUND / (_FT / 1000), "lbs/ft|lb per ft|lb per foot|lbs per foot"),
            ("lb/yd", "lb/yd", _POUND / (_FT * 3 / 1000), "lbs/yd|lb per yd|lb per yard|lbs per yard"),
        ),
    ),
    "threads by length": (
        "a number of threads by length",
        (
            ("threads/cm", "threads/cm", Fraction(1, 10), "threads per cm"),
            ("tpi", "tpi", 1 / _IN, "t.p.i.|threads per inch|threads/in|threads per in"),
        ),
    ),
    "proportion": ("a proportion", (("%", "%", 1, "per cent|percent|pct"),)),
    "number": ("a number of pieces", (("off", "off", 1, "piece|pieces|pcs|pc|no. off|nos|number|count|each"),)),
}

# Wherever none of a dimension's units is named here, none of them is imperial.
FIRST_IMPERIAL = {
    "length": "thou",
    "area": "in2",
    "volume": "fl oz",
    "mass": "grain",
    "force": "ozf",
    "torque": "lbf in",
    "energy": "Btu",
    "pressure": "lbf/in2",
    "power": "hp",
    "speed": "ft/s",
    "temperature": "degF",
    "spring rate": "lbf/in",
    "mass by length": "lb/ft",
    "threads by length": "tpi",
}

OFFSETS = {"degC": _CANNOT_BE_ZERO, "degF": Fraction("459.67") * 5 / 9}

# In which unit of the other system a builder wants the figure too.
_PAIRS = """mm=in um=thou cm>in dm>in m=ft km=mile thou>mm ft>mm yd>m fathom>m chain>m
mm2=in2 cm2>in2 m2=ft2 yd2>m2 l=gal ml=fl_oz cm3=in3 m3=ft3 pt>l qt>l US_pt>l US_qt>l US_gal>l
kg=lb g=oz mg=grain t=ton st>kg qr>kg cwt>kg slug>kg US_cwt>kg US_ton>t N=lbf kN>lbf kgf>lbf ozf>N tonf>kN
N_m=lbf_ft kgf_m>lbf_ft lbf_in>N_m J>Btu kJ=Btu kPa=lbf/in2 MPa=tonf/in2 Pa>lbf/ft2 lbf/ft2>Pa bar>lbf/in2 mbar=inHg
kgf/cm2>lbf/in2 atm>lbf/in2 mmHg>inHg kW=hp PS>hp W>hp m/s=ft/s m/min=ft/min km/h=mph degC=degF K>degF N/mm=lbf/in
kgf/mm>lbf/in kg/m=lb/yd lb/ft>kg/m threads/cm=tpi"""


def pairs() -> dict[str, str]:
    """For each id of a unit the id of the unit of the other system; a unit without one is not among them."""
    found = {}
    for pair in _PAIRS.split():
        both = "=" in pair
        one, other = pair.replace("_", " ").split("=" if both else ">")
        found[one] = other
        if both:
            found[other] = one
    return found
