"""The signs of typesetters and keyboards in a figure, brought to plain letters."""

_FRACTIONS = {
    "¼": "1/4",
    "½": "1/2",
    "¾": "3/4",
    "⅐": "1/7",
    "⅑": "1/9",
    "⅒": "1/10",
    "⅓": "1/3",
    "⅔": "2/3",
    "⅕": "1/5",
    "⅖": "2/5",
    "⅗": "3/5",
    "⅘": "4/5",
    "⅙": "1/6",
    "⅚": "5/6",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
}
_PLAIN = {
    "'": "\N{PRIME}\N{MODIFIER LETTER PRIME}\N{RIGHT SINGLE QUOTATION MARK}\N{LEFT SINGLE QUOTATION MARK}"
    "\N{ACUTE ACCENT}\N{MODIFIER LETTER APOSTROPHE}`",
    '"': "\N{DOUBLE PRIME}\N{MODIFIER LETTER DOUBLE PRIME}\N{LEFT DOUBLE QUOTATION MARK}\N{RIGHT DOUBLE QUOTATION MARK}"
    "\N{DOUBLE LOW-9 QUOTATION MARK}\N{DOUBLE ACUTE ACCENT}\N{DITTO MARK}",
    "/": "\N{FRACTION SLASH}\N{DIVISION SLASH}\N{FULLWIDTH SOLIDUS}",
    "-": "\N{HYPHEN}\N{NON-BREAKING HYPHEN}\N{FIGURE DASH}\N{EN DASH}\N{EM DASH}\N{MINUS SIGN}",
    "x": "\N{MULTIPLICATION SIGN}",
    "°": "\N{MASCULINE ORDINAL INDICATOR}\N{RING ABOVE}",
    "µ": "\N{GREEK SMALL LETTER MU}",
    "Ω": "\N{OHM SIGN}",
    "": "\N{ZERO WIDTH SPACE}\N{WORD JOINER}\N{ZERO WIDTH NO-BREAK SPACE}",
    " dia ": "Øø\N{DIAMETER SIGN}",
    "°C": "\N{DEGREE CELSIUS}",
    "°F": "\N{DEGREE FAHRENHEIT}",
}
_LETTERS = {
    **{ord(sign): f" {fraction} " for sign, fraction in _FRACTIONS.items()},
    **{ord(sign): plain for plain, signs in _PLAIN.items() for sign in signs},
}


def plain_figure(written: str) -> str:
    """Bring a figure to plain letters: fractions as `1/2`, feet and inches as `'` and `"`, one space between words."""
    text = written if written.isascii() and "`" not in written else written.translate(_LETTERS)
    text = " ".join(text.replace("''", '"').split())
    return text.replace(" /", "/").replace("/ ", "/") if " /" in text or "/ " in text else text
