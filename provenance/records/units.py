"""Units: what people write for them, and their exact factors."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from difflib import get_close_matches
from fractions import Fraction
from functools import lru_cache

from provenance.records.measure_errors import MeasureError
from provenance.records.unit_table import FIRST_IMPERIAL, OFFSETS, TABLE, pairs
from provenance.records.wording import quote


@dataclass(frozen=True, slots=True, kw_only=True)
class Unit:
    """A unit in which a figure is written.

    Attributes:
        id: how it is written in a record, such as `mm`, `in`, `lbf/in2`.
        printed: how it is printed behind a figure.
        dimension: what it measures, such as `length`; only figures of one dimension can be compared.
        factor: how many base units it is; the base is mm, mm2, l, kg, N, N m, J, Pa, W, m/s, rpm, K, degree, s, V,
            A, ohm, farad, A h, Hz, N/mm, kg/m, threads by mm, % or a piece.
        offset: of a temperature, what is added to figure times factor to make kelvins; 0 for every other unit.
        is_imperial: one of the British or American units; False for metric ones and for those that both use.
    """

    id: str
    printed: str
    dimension: str
    factor: Fraction
    offset: Fraction
    is_imperial: bool

    def __hash__(self) -> int:
        """By the id alone, which is unique: it is looked up for every figure."""
        return hash(self.id)


def _units() -> Iterator[Unit]:
    for dimension, (_, rows) in TABLE.items():
        is_imperial = False
        for unit_id, printed, factor, _names in rows:
            is_imperial = is_imperial or unit_id == FIRST_IMPERIAL.get(dimension)
            offset = OFFSETS.get(unit_id, Fraction(0))
            yield Unit(
                id=unit_id,
                printed=printed,
                dimension=dimension,
                factor=Fraction(factor),
                offset=offset,
                is_imperial=is_imperial,
            )


UNITS: dict[str, Unit] = {unit.id: unit for unit in _units()}
_OTHERS = pairs()


_SIGNS = {ord("²"): "2", ord("³"): "3", ord("^"): "", ord("·"): " ", ord("⋅"): " ", ord("*"): " ", ord("-"): " "}
_INITIAL = re.compile(r"\b([A-Za-z])\.(?=[A-Za-z]\b|$|\s)")
_SLASH = re.compile(r"\s*/\s*")
_IMPERIAL = re.compile(r"(?:imperial|imp|uk)\s", re.IGNORECASE)
_CASES_THAT_DO_NOT_TELL = frozenset("avwl")


def tidy_unit(written: str) -> str:
    """Bring the spellings of a unit to one form: `sq. in.` to `sq in`, `h.p.` to `hp`, `in²` to `in2`."""
    text = _INITIAL.sub(r"\1", written.translate(_SIGNS)).replace(".", " ")
    return _SLASH.sub("/", " ".join(text.split()))


# A thousandth or a million of the unit: the case of the first letter alone tells them apart.
_CASE_TELLS = frozenset({"ma", "mv", "mpa", "mohm", "mohms", "mω", "mg", "mhz", "mc/s", "n/mm2"})


def _spellings() -> tuple[dict[str, Unit], dict[str, Unit]]:
    """Each spelling as it stands, and each whatever its case where that leaves one reading."""
    exact: dict[str, Unit] = {}
    folded: dict[str, Unit | None] = {}
    for _, rows in TABLE.values():
        for unit_id, printed, _factor, names in rows:
            for name in dict.fromkeys((unit_id, printed, *names.split("|"))):
                unit = UNITS[unit_id]
                if name in {"'", '"'} and unit.dimension == "angle":
                    continue
                for spelling in {name, tidy_unit(name), tidy_unit(name).replace(" ", "")}:
                    exact.setdefault(spelling, unit)
                    lower = spelling.casefold()
                    if lower in _CASE_TELLS or (len(lower) == 1 and lower not in _CASES_THAT_DO_NOT_TELL):
                        continue
                    folded[lower] = unit if folded.get(lower, unit) is unit else None
    return exact, {name: unit for name, unit in folded.items() if unit is not None}


_EXACT, _FOLDED = _spellings()


@lru_cache(maxsize=4096)
def find_unit(written: str) -> Unit | None:
    """The unit of that spelling; None where it is no unit that is known, or could be two."""
    tidy = _IMPERIAL.sub("", tidy_unit(written))
    return _EXACT.get(written) or _EXACT.get(tidy) or _FOLDED.get(tidy.casefold())


def parse_unit(written: str) -> Unit:
    """Read a unit as people write it: `mm`, `inches`, `lb/sq in`, `gal` (imperial unless `US` stands before it).

    Raises:
        MeasureError: it is no unit that is known; the mend names the nearest.
    """
    found = find_unit(written)
    if found is None:
        raise unknown_unit(written)
    return found


def unknown_unit(written: str) -> MeasureError:
    """The refusal of what is no unit; the mend names the nearest where one is near."""
    near = get_close_matches(tidy_unit(written).casefold(), _FOLDED, n=1, cutoff=0.7)
    meant = f"did you mean `{_FOLDED[near[0]].id}`?" if near else "write a unit such as `mm`, `in`, `kg`, `lb`, `V`"
    return MeasureError(f"{quote(written)} is no unit that is known", meant)


def other_unit(unit: Unit) -> Unit | None:
    """The unit of the other system in which a builder wants a figure too; None where both use the same."""
    other = _OTHERS.get(unit.id)
    return UNITS[other] if other else None


def kind_of(unit: Unit) -> str:
    """What a unit measures, with its article: `a length`."""
    return TABLE[unit.dimension][0]
