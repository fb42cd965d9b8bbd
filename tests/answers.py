"""JSON answers held against their schemas, by two libraries that do not know one another."""

import json
from collections.abc import Mapping
from typing import Any

import jsonschema
import jsonschema_rs

from provenance.store.schema_files import read_schema, schemas_folder

ANSWERS = tuple(
    sorted(path.name.removesuffix(".schema.json") for path in schemas_folder().glob("answers/*.schema.json"))
)


def faults_of(answer: Mapping[str, object]) -> list[str]:
    """What is wrong with an answer by the schema of its name; empty where both libraries find nothing.

    It is written and read back first, as whoever is given the answer reads it.
    """
    written: dict[str, Any] = json.loads(json.dumps(answer, allow_nan=False))
    schema = read_schema(f"answers/{written['answer']}")
    by_one = [error.message for error in jsonschema.Draft202012Validator(schema).iter_errors(written)]
    by_other = [error.message for error in jsonschema_rs.validator_for(schema).iter_errors(written)]
    return [*by_one, *by_other]
