"""A figure in parts of falling units: feet and inches, hundredweights and pounds, degrees and minutes."""

import re
from fractions import Fraction
from itertools import pairwise

from provenance.records.figures import NUMBER, Figure, read_figure
from provenance.records.measure_errors import MeasureError
from provenance.records.units import UNITS, Unit, find_unit
from provenance.records.wording import quote

_FALLING: tuple[tuple[str, ...], ...] = (
    ("mile", "chain", "yd", "ft", "in"),
    ("km", "m", "cm", "mm"),
    ("ton", "cwt", "qr", "st", "lb", "oz"),
    ("t", "kg", "g"),
    ("gal", "qt", "pt", "fl oz"),
    ("deg", "arcmin", "arcsec"),
    ("h", "min", "s"),
)
_ROW = {unit_id: row for row in _FALLING for unit_id in row}
_ARC = {"'": "arcmin", '"': "arcsec", "m": "arcmin", "s": "arcsec", "min": "arcmin", "sec": "arcsec"}
_LEADING = re.compile(r"""(?P<whole>[0-9]+)\s?(?P<unit>['"°]|[A-Za-z]+\.?)\s?[-,]?\s?(?=[0-9]|\.[0-9])""")
_LAST = re.compile(rf"{NUMBER}\s?(?P<unit>[^0-9].*)?", re.VERBOSE)
_NEXT = {"ft": "in", "deg": "arcmin", "arcmin": "arcsec"}


def read_parts(text: str, written: str, *, is_angle: bool) -> tuple[Figure, Unit] | None:
    """The whole figure in the unit of its last part, and that unit; None where it is not in such parts.

    Inches need no mark behind feet, nor minutes behind degrees: `3'-4 1/2`.

    Args:
        text: in plain letters.
        written: the same as written, for messages.
        is_angle: whether an angle is wanted, so that `5' 30"` is minutes and seconds.

    Raises:
        MeasureError: a part that is as much as one of the unit before it, or a fraction that is none.
    """
    sign, text = (text[0], text[1:].lstrip()) if text[:1] in {"-", "+"} else ("", text)
    leading: list[tuple[int, Unit]] = []
    place = 0
    while found := _LEADING.match(text, place):
        unit = _unit(found["unit"], leading[-1][1] if leading else None, is_angle=is_angle)
        if unit is None or not _follows(leading[-1][1] if leading else None, unit):
            break
        leading.append((int(found["whole"]), unit))
        place = found.end()
    last = _LAST.fullmatch(text, place)
    if not leading or last is None:
        return None
    before = leading[-1][1]
    unit = _unit(last["unit"], before, is_angle=is_angle) if last["unit"] else UNITS.get(_NEXT.get(before.id, ""))
    if unit is None or not _follows(before, unit):
        return None
    return _together(leading, read_figure(last, written), unit, sign, written), unit


def _unit(name: str, before: Unit | None, *, is_angle: bool) -> Unit | None:
    if (is_angle or (before is not None and before.dimension == "angle")) and name.rstrip(".") in _ARC:
        return UNITS[_ARC[name.rstrip(".")]]
    unit = find_unit(name)
    return unit if unit is not None and unit.id in _ROW else None


def _follows(before: Unit | None, unit: Unit) -> bool:
    return before is None or (unit.id in _ROW[before.id] and unit.factor < before.factor)


def _together(leading: list[tuple[int, Unit]], last: Figure, unit: Unit, sign: str, written: str) -> Figure:
    parts = [*((Fraction(whole), part) for whole, part in leading), (last.value, unit)]
    for (_, larger), (value, smaller) in pairwise(parts):
        if value * smaller.factor >= larger.factor:
            raise MeasureError(
                f"in {quote(written)} what is in `{smaller.id}` is as much as one `{larger.id}` or more",
                f"carry it over, or write the whole figure in `{smaller.id}`",
            )
    value = sum((value * part.factor for value, part in parts), Fraction(0)) / unit.factor
    return Figure(value, last.step, sign, last.is_dotted)
