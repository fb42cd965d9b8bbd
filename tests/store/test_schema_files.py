"""The schemas themselves: sound by the standard, closed, described, and with a mend beside every rule.

Outside check: the metaschema of JSON Schema draft 2020-12, by the reference library `jsonschema`.
"""

from collections.abc import Iterator
from enum import StrEnum
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from provenance.records.kinds import (
    Access,
    Aspect,
    Changes,
    Condition,
    Derivation,
    FeatureKind,
    How,
    KnownBy,
    Legibility,
    Publish,
    Ruling,
    SignSeen,
    SourceKind,
    Stance,
)
from provenance.rules.grades import Grade
from provenance.rules.weights import STANDARD
from provenance.store.fault_wording import rule_of
from provenance.store.record_kinds import RecordKind
from provenance.store.schema_files import find_schemas, follow, read_schema, schemas_folder
from provenance.store.schema_formats import FORMATS

KINDS = list(RecordKind)
_RULES = {
    "type",
    "enum",
    "const",
    "pattern",
    "maxLength",
    "format",
    "minimum",
    "maximum",
    "minItems",
    "maxItems",
    "uniqueItems",
    "oneOf",
    "not",
}
_KNOWN = _RULES | {
    "$schema",
    "$id",
    "$ref",
    "$defs",
    "title",
    "description",
    "x-mend",
    "properties",
    "required",
    "patternProperties",
    "additionalProperties",
    "propertyNames",
    "items",
    "dependentSchemas",
}


def parts(schema: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """Every part of a schema that is a schema itself."""
    yield schema
    for key in ("properties", "$defs", "dependentSchemas"):
        for inner in schema.get(key, {}).values():
            yield from parts(inner)
    for key in ("items", "propertyNames", "additionalProperties"):
        if isinstance(schema.get(key), dict):
            yield from parts(schema[key])


def test_a_schema_stands_for_every_kind_of_record_and_for_no_other() -> None:
    names = {path.name for path in schemas_folder().glob("*.schema.json")}

    assert names == {f"{kind}.schema.json" for kind in KINDS}


@pytest.mark.parametrize("kind", KINDS)
def test_a_schema_is_sound_by_its_own_standard(kind: RecordKind) -> None:
    schema = read_schema(kind)

    Draft202012Validator.check_schema(schema)

    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert schema["$id"] == f"urn:provenance:schema:{kind}:1"


@pytest.mark.parametrize("kind", KINDS)
def test_every_group_of_fields_is_closed_but_for_the_teams_own(kind: RecordKind) -> None:
    groups = [part for part in parts(read_schema(kind)) if "properties" in part and "type" in part]

    assert groups
    for group in groups:
        assert group["additionalProperties"] is False
        assert group["patternProperties"] == {"^x-": True}


@pytest.mark.parametrize("kind", KINDS)
def test_every_rule_that_can_fail_has_its_mend_beside_it(kind: RecordKind) -> None:
    schema = read_schema(kind)

    for part in parts(schema):
        broken = _RULES & part.keys()
        written = part.get("x-mend")
        assert not broken or written, part
        assert not isinstance(written, dict) or "type" in written
        assert all(rule_of(keyword).startswith("schema/") for keyword in broken)
        assert not {"pattern", "format"} & part.keys() or "title" in part, part


@pytest.mark.parametrize("kind", KINDS)
def test_every_field_is_described_in_words(kind: RecordKind) -> None:
    schema = read_schema(kind)

    for part in parts(schema):
        for name, field in part.get("properties", {}).items():
            described = field.get("description") or follow(schema, field).get("description")
            assert described or set(part) == {"properties"}, name


@pytest.mark.parametrize("kind", KINDS)
def test_a_schema_uses_nothing_that_the_check_cannot_put_into_words(kind: RecordKind) -> None:
    for part in parts(read_schema(kind)):
        assert part.keys() <= _KNOWN
        assert part.get("format") is None or part["format"] in FORMATS


@pytest.mark.parametrize("kind", KINDS)
def test_a_definition_says_the_same_in_every_schema(kind: RecordKind) -> None:
    definitions = read_schema(kind)["$defs"]

    for other in KINDS:
        shared = read_schema(other)["$defs"]
        assert all(shared[name] == part for name, part in definitions.items() if name in shared)


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind is not RecordKind.ARCHIVE])
def test_every_record_says_who_made_it_and_when_and_may_have_a_note(kind: RecordKind) -> None:
    schema = read_schema(kind)

    assert {"by", "date"} <= set(schema["required"])
    assert {"by", "date", "note"} <= schema["properties"].keys()


def test_text_that_may_look_like_a_number_is_a_number_to_peoples_editors() -> None:
    schema = read_schema("source")

    assert schema["$defs"]["text"]["type"] == ["string", "number"]
    assert schema["$defs"]["edtf"]["type"] == ["string", "number"]


@pytest.mark.parametrize("place", ["provenance/schemas", "schemas"])
def test_the_schemas_are_found_inside_an_installed_package_and_beside_a_checkout(tmp_path: Path, place: str) -> None:
    folder = tmp_path / place
    folder.mkdir(parents=True)
    (folder / "archive.schema.json").write_text("{}", encoding="utf-8")

    assert find_schemas(tmp_path / "provenance") == folder


def test_a_package_without_schemas_was_put_together_wrongly(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError, match="no schemas"):
        find_schemas(tmp_path / "provenance")


@pytest.mark.parametrize(
    ("schema", "place", "words"),
    [
        ("source", "properties.kind", SourceKind),
        ("source", "$defs.derivation", Derivation),
        ("source", "$defs.known-by", KnownBy),
        ("source", "properties.access", Access),
        ("source", "properties.rights.properties.publish", Publish),
        ("component", "properties.features.items.properties.aspect", Aspect),
        ("component", "properties.features.items.properties.kind", FeatureKind),
        ("component", "properties.features.items.properties.changes", Changes),
        ("claim", "properties.evidence.items.properties.stance", Stance),
        ("claim", "properties.evidence.items.properties.how", How),
        ("claim", "properties.evidence.items.properties.legibility", Legibility),
        ("claim", "properties.evidence.items.properties.condition", Condition),
        ("claim", "properties.evidence.items.properties.signs.additionalProperties", SignSeen),
        ("copy", "properties.ruling", Ruling),
        ("decision", "properties.grade_then", Grade),
    ],
)
def test_the_defined_words_are_those_of_the_records(schema: str, place: str, words: type[StrEnum]) -> None:
    part = read_schema(schema)
    for step in place.split("."):
        part = part[step]

    assert set(part["enum"]) == set(words)


@pytest.mark.parametrize(("table", "words"), [("base", SourceKind), ("how", How)])
def test_the_team_may_weigh_each_of_the_defined_words(table: str, words: type[StrEnum]) -> None:
    doctrine = read_schema("archive")["properties"]["doctrine"]

    assert set(doctrine["properties"][table]["properties"]) == set(words)


def test_every_standard_weight_may_be_changed_and_its_standard_lies_in_the_range() -> None:
    doctrine = read_schema("archive")["properties"]["doctrine"]["properties"]

    for path, weight in STANDARD.items():
        name, _, inner = path.partition(".")
        part = doctrine[name]["properties"][inner] if inner else doctrine[name]
        assert part["minimum"] <= weight <= part["maximum"], path
