"""Where the schemas stand, and what they say: of the records, and of the answers in JSON."""

import json
from functools import cache
from pathlib import Path
from typing import Any

_PACKAGE = Path(__file__).resolve().parents[1]


@cache
def schemas_folder() -> Path:
    """Find the folder of the schemas: `provenance/schemas` in an installed package, `schemas` beside it in a checkout.

    Raises:
        FileNotFoundError: neither is there; the package was put together wrongly.
    """
    return find_schemas(_PACKAGE)


def find_schemas(package: Path) -> Path:
    """Find the folder of the schemas inside the package's folder or beside it.

    Raises:
        FileNotFoundError: neither is there.
    """
    for folder in (package / "schemas", package.parent / "schemas"):
        if (folder / "archive.schema.json").is_file():
            return folder
    raise FileNotFoundError(f"there are no schemas in {package} or beside it")


@cache
def schema_text(name: str) -> str:
    """The text of the schema of a kind of record, such as `claim`, or of an answer, such as `answers/evidence`."""
    return (schemas_folder() / f"{name}.schema.json").read_text(encoding="utf-8")


def read_schema(name: str) -> dict[str, Any]:
    """The schema of a kind of record, such as `claim`, or of an answer, such as `answers/evidence`."""
    schema: dict[str, Any] = json.loads(schema_text(name))
    return schema


def follow(schema: dict[str, Any], part: dict[str, Any]) -> dict[str, Any]:
    """The part of a schema that a `$ref` into its own `$defs` stands for; the part itself where it has none."""
    named = part.get("$ref")
    return part if named is None else follow(schema, schema["$defs"][named.removeprefix("#/$defs/")])
