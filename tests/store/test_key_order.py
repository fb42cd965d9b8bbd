"""The order of keys and the schemas name the same keys."""

from collections.abc import Iterator
from typing import Any

import pytest

from provenance.store.key_order import known_keys, order_keys
from provenance.store.record_kinds import RecordKind
from provenance.store.schema_files import read_schema


def parts(schema: Any, place: str, root: Any) -> Iterator[tuple[str, frozenset[str]]]:
    """Every part of a record that has fixed keys, by its place, as the schema has it."""
    schema = root["$defs"][schema["$ref"].rpartition("/")[2]] if "$ref" in schema else schema
    for option in (*schema.get("anyOf", ()), *schema.get("oneOf", ())):
        yield from parts(option, place, root)
    if "items" in schema:
        yield from parts(schema["items"], place, root)
    if "properties" in schema:
        yield place, frozenset(schema["properties"])
        for key, inner in schema["properties"].items():
            yield from parts(inner, f"{place}.{key}", root)


@pytest.mark.parametrize("kind", list(RecordKind))
def test_every_key_of_a_record_has_its_place_in_the_order(kind: RecordKind) -> None:
    schema = read_schema(kind)

    for place, keys in parts(schema, kind.value, schema):
        if not place.startswith("archive.doctrine"):
            assert set(known_keys(place)) | {"note"} == keys | {"note"}, place


def test_keys_that_the_order_does_not_know_come_last_as_given() -> None:
    assert order_keys("source", ["x-shelf", "date", "colour", "title"]) == ("title", "date", "x-shelf", "colour")
    assert order_keys("claim.evidence.signs", ["conduit", "bracket"]) == ("conduit", "bracket")


def test_a_withdrawal_says_why_first_wherever_it_stands() -> None:
    assert order_keys("claim.evidence.withdrawn", ["date", "by", "why"]) == ("why", "by", "date")
    assert order_keys("source.withdrawn", ["by", "why"]) == ("why", "by")
