"""Figures without their units: whole numbers, decimals and fractions, exactly as written.

How commas and spaces are read: groups of exactly three figures behind one to three others are thousands (`1,029` and
`1 029` are 1029); a comma with anything else behind it, or with only a nought before it, is a decimal comma (`1,5` is
1.5, `0,125` is .125). A point is always a decimal point, but for the draughtsman's `6.3/8`, which is 6 3/8.
"""

import re
from dataclasses import dataclass
from fractions import Fraction

from provenance.records.measure_errors import AmbiguousMeasureError, MeasureError
from provenance.records.wording import quote

INCHES_IN_A_FOOT = 12
NUMBER = r"""
    (?P<sign>[-+])?\s?
    (?:
        (?P<mixed>[0-9]+) (?P<point>\.[0-9]+)? (?P<join>[\s.-]) (?P<top>[0-9]+)/(?P<bottom>[0-9]+)
      | (?P<over>[0-9]+)/(?P<under>[0-9]+)
      | (?P<grouped>[1-9][0-9]{0,2}(?:,[0-9]{3})+ | [1-9][0-9]{0,2}(?:\s[0-9]{3})+ | [0-9]+) (?P<places>\.[0-9]+)?
      | (?P<comma>[0-9]+,[0-9]+)
      | (?P<bare>\.[0-9]+)
    )(?![0-9]|[.,/][0-9])
"""


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure as written.

    Attributes:
        value: without its sign.
        step: one step of its last written place.
        sign: `-`, `+` or empty.
        is_dotted: a whole number and a fraction with a point between them, which only a draughtsman's inches have.
    """

    value: Fraction
    step: Fraction
    sign: str
    is_dotted: bool = False


def read_figure(found: re.Match[str], written: str) -> Figure:
    """Read what the pattern `NUMBER` has found in `written`.

    Raises:
        MeasureError: a fraction that is none.
        AmbiguousMeasureError: such as `3.4 1/2`, which is feet and inches to one and a decimal to the other.
    """
    sign = found["sign"] or ""
    if found["grouped"]:
        return _decimal(found["grouped"].replace(",", "").replace(" ", "") + (found["places"] or ""), sign)
    if found["over"]:
        return Figure(*_fraction(found["over"], found["under"], written), sign)
    if found["mixed"]:
        return _mixed(found, sign, written)
    return _decimal((found["comma"] or found["bare"]).replace(",", "."), sign)


def _decimal(text: str, sign: str) -> Figure:
    places = len(text.partition(".")[2])
    return Figure(Fraction(int(text.replace(".", "")), 10**places), Fraction(1, 10**places), sign)


def _mixed(found: re.Match[str], sign: str, written: str) -> Figure:
    whole, top, bottom = found["mixed"], found["top"], found["bottom"]
    part, step = _fraction(top, bottom, written)
    if part >= 1:
        mend = "write the fraction as less than one, and carry the rest over"
        raise MeasureError(f"in {quote(written)} the fraction {top}/{bottom} is not less than one", mend)
    if found["point"]:
        raise _refuse_point(whole, found["point"], f"{top}/{bottom}", written)
    return Figure(int(whole) + part, step, sign, found["join"] == ".")


def _refuse_point(whole: str, point: str, fraction: str, written: str) -> MeasureError:
    """The refusal of `3.4 1/2`: of inches with decimals and a fraction, or of feet, a point and inches."""
    decimal = f"{whole}{point}{f'{float(Fraction(fraction)):.6f}'[2:].rstrip('0')} in"
    if int(point[1:]) >= INCHES_IN_A_FOOT:
        return MeasureError(
            f"{quote(written)} has decimals and a fraction", f"write it in one way, such as `{decimal}`"
        )
    choices = (f"{int(whole)} ft {int(point[1:])} {fraction} in", decimal)
    return AmbiguousMeasureError(f"{quote(written)} can be read in two ways", choices=choices)


def _fraction(top: str, bottom: str, written: str) -> tuple[Fraction, Fraction]:
    if not int(bottom):
        raise MeasureError(f"{quote(written)} divides by nought", "write the fraction as it stands in the source")
    return Fraction(int(top), int(bottom)), Fraction(1, int(bottom))
