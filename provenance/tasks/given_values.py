"""What people give in an option: `KEY=VALUE,…`, dates as they say them, and records by id."""

import re
from collections.abc import Collection, Mapping
from typing import TypeVar

from provenance.errors import UnknownRecordError, UsageRefusedError
from provenance.records.components import Feature
from provenance.records.kinds import FeatureKind
from provenance.records.measures import MeasureError, parse_measure
from provenance.records.spoken_dates import spoken_to_edtf
from provenance.records.units import parse_unit
from provenance.records.wording import WordingError, quote
from provenance.tasks.nearest import nearest_mend

Record = TypeVar("Record")

_PAIRS = re.compile(r",\s*(?=[a-z_]+=)")
_DATES = frozenset({"from", "until", "when", "date"})
APPLIES_TO = ("examples", "batch", "related", "from", "until")
SEEN = ("example", "when", "known_by", "signs", "why")
SHOWS = ("example", "when", "known_by", "component", "note")
RIGHTS = ("statement", "holder", "credit", "publish")
DERIVES_FROM = ("source", "how", "note")


def given_pairs(text: str, option: str, keys: Collection[str]) -> dict[str, object]:
    """Read `KEY=VALUE,…`; a text without a key is the value of the first one. Dates are turned into EDTF.

    Args:
        text: as given, such as `example=9,when=June 1934` or only `9`; a comma before no key belongs to the value.
        option: as typed, such as `--seen`, for messages.
        keys: the keys that there may be, the one that may be left out first.

    Raises:
        UsageRefusedError: a key that is not among them, one given twice, an empty value, or no date.
    """
    found: dict[str, object] = {}
    for number, piece in enumerate(_PAIRS.split(text.strip())):
        key, equals, value = piece.partition("=")
        if not number and (not equals or not re.fullmatch("[a-z_]+", key)):
            key, value = next(iter(keys)), piece
        if key not in keys:
            mend = nearest_mend(key, keys, f"its keys are {', '.join(keys)}")
            raise UsageRefusedError(f"{option} has no key {quote(key)}", mend)
        if key in found or not value.strip():
            what = f"names {key} twice" if key in found else f"has nothing behind {key}="
            raise UsageRefusedError(f"{option} {what}", f"write it such as `{option} {key}=…`, once")
        found[key] = given_date(value, f"{option} {key}") if key in _DATES else _listed(key, value.strip())
    return found


def given_date(text: str, option: str) -> str:
    """Turn a date as people say it into EDTF.

    Raises:
        UsageRefusedError: it is no date.
    """
    try:
        return spoken_to_edtf(text)
    except WordingError as error:
        raise UsageRefusedError(f"{option}: {error.what}", error.mend) from error


def require_figures(feature: Feature, value: str, uncertainty: str | None) -> None:
    """See that the value of a quantity, and its give or take, are figures that can be told in the unit to build in.

    Where the feature has no unit, or one that is not known, nothing is refused: the mend is the component's.

    Args:
        feature: whose value it is; of another kind than a quantity any text will do.
        value: as given.
        uncertainty: as given; None where none is.

    Raises:
        UsageRefusedError: one cannot be read, can be read in several ways, or a give or take is not above 0.
    """
    if feature.kind is not FeatureKind.QUANTITY or feature.unit is None:
        return
    try:
        unit = parse_unit(feature.unit)
    except MeasureError:
        return
    try:
        parse_measure(value, unit=unit)
        sure = uncertainty is None or parse_measure(uncertainty, unit=unit).value > 0
    except MeasureError as error:
        raise UsageRefusedError(error.what, error.mend) from error
    if not sure:
        what = f"a give or take of {quote(uncertainty or '')} is not more than nothing"
        raise UsageRefusedError(
            what, "write how far the figure may be off either way, such as `--uncertainty '1/4 in'`"
        )


def require_record(records: Mapping[str, Record], record_id: str, kind: str, folder: str) -> Record:
    """Give the record of an id.

    Raises:
        UnknownRecordError: there is none; the nearest are named.
    """
    if record_id not in records:
        mend = nearest_mend(record_id, records, f"the {kind}s are the files in the folder {folder}")
        raise UnknownRecordError(f"there is no {kind} {quote(record_id)}", mend)
    return records[record_id]


def _listed(key: str, value: str) -> object:
    """Several examples or signs are a list: `2, 5..8`."""
    if key not in {"examples", "signs"}:
        return value
    items = [item.strip() for item in value.split(",") if item.strip()]
    return items[0] if len(items) == 1 and key == "examples" else items
