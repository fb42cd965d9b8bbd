"""Text made a whole number, a Decimal or a truth value, where the schema alone says that it is one.

A text that is none stays text, so that the check against the schema can name it as it was typed.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cache
from typing import Any

from provenance.store.document import Value
from provenance.store.record_kinds import RecordKind
from provenance.store.schema_files import follow, read_schema

# At most 18 digits: every tool that reads JSON takes such a number whole.
_WHOLE = re.compile(r"-?(?:0|[1-9][0-9]{0,17})")
_DECIMAL = re.compile(r"-?(?:0|[1-9][0-9]{0,17})?(?:\.[0-9]{1,18})?(?<=[0-9])")
_TRUTH = {"true": True, "false": False}


@dataclass(slots=True)
class _Places:
    """The places inside a part of a record where text is to become something else.

    Attributes:
        convert: for a part that is to become something else itself.
        fields: the places by field of a part that has fields.
        items: the places of each item of a list; None where there are none.
    """

    convert: Callable[[str], Value] | None = None
    fields: "dict[str, _Places]" = field(default_factory=dict)
    items: "_Places | None" = None

    @property
    def is_empty(self) -> bool:
        """Whether nothing becomes anything else here."""
        return self.convert is None and not self.fields and self.items is None


def type_content(content: dict[str, Value], kind: RecordKind) -> dict[str, Value]:
    """Give the scalars of a record the types that its schema says; all other text stays as typed."""
    typed = _apply(_places_of(kind), content)
    return typed if isinstance(typed, dict) else content


def read_whole_number(text: str) -> int | str:
    """Read a whole number without leading zeros; the text itself where it is none."""
    return int(text) if _WHOLE.fullmatch(text) else text


def read_decimal(text: str) -> Decimal | str:
    """Read a number with its decimals as typed; the text itself where it is none."""
    return Decimal(text) if _DECIMAL.fullmatch(text) else text


def read_truth_value(text: str) -> bool | str:
    """Read `true` or `false`; the text itself where it is neither."""
    return _TRUTH.get(text, text)


_CONVERSIONS: dict[str, Callable[[str], Value]] = {
    "integer": read_whole_number,
    "number": read_decimal,
    "boolean": read_truth_value,
}


@cache
def _places_of(kind: RecordKind) -> _Places:
    schema = read_schema(kind)
    return _find_places(schema, schema)


def _find_places(schema: dict[str, Any], part: dict[str, Any]) -> _Places:
    part = follow(schema, part)
    places = _Places(convert=_CONVERSIONS.get(str(part.get("type"))))
    for name, inner in part.get("properties", {}).items():
        found = _find_places(schema, inner)
        if not found.is_empty:
            places.fields[name] = found
    if "items" in part:
        found = _find_places(schema, part["items"])
        places.items = None if found.is_empty else found
    return places


def _apply(places: _Places, value: Value) -> Value:
    if isinstance(value, str):
        return value if places.convert is None else places.convert(value)
    if isinstance(value, dict) and places.fields:
        typed = {name: _apply(places.fields[name], value[name]) for name in places.fields if name in value}
        return {**value, **typed}
    if isinstance(value, list) and places.items is not None:
        inner = places.items
        return [_apply(inner, item) for item in value]
    return value
