"""What is wrong with a field, in words of the trade, and under which rule that goes."""

from collections.abc import Callable, Iterable
from difflib import get_close_matches
from typing import Any

from provenance.records.wording import quote

_LONGEST_NAME = 64

_TYPES = {
    "array": "a list",
    "integer": "a whole number",
    "number": "a number",
    "object": "a group of fields",
    "boolean": "`true` or `false`",
    "string": "text",
}

# rule and wording by the keyword of JSON Schema; the wording is given the value and the part of the schema.
_KEYWORDS: dict[str, tuple[str, Callable[[str, dict[str, Any]], str]]] = {
    "type": ("schema/type", lambda value, part: f"{value} stands where {_named(part['type'])} belongs"),
    "enum": ("schema/choice", lambda value, _: f"{value} is none of the defined words"),
    "const": ("schema/choice", lambda value, part: f"{value} stands where only `{part['const']}` goes with the rest"),
    "pattern": ("schema/form", lambda value, part: f"{value} is no {part['title']}"),
    "maxLength": ("schema/form", lambda value, part: f"{value} is longer than {part['maxLength']} characters"),
    "format": ("schema/form", lambda value, part: f"{value} is no {part['title']}"),
    "minimum": ("schema/range", lambda value, part: f"{value} is less than {part['minimum']}"),
    "maximum": ("schema/range", lambda value, part: f"{value} is more than {part['maximum']}"),
    "minItems": ("schema/count", lambda _, part: f"there are fewer than {part['minItems']} in this list"),
    "maxItems": ("schema/count", lambda _, part: f"there are more than {part['maxItems']} in this list"),
    "uniqueItems": ("schema/count", lambda _, __: "the list names the same twice"),
    "oneOf": ("schema/one-of", lambda _, part: f"exactly one of {_alternatives(part['oneOf'])} belongs here"),
    "not": ("schema/one-of", lambda _, __: "this does not go together with the other fields"),
}


def rule_of(keyword: str) -> str:
    """The name of the rule that a keyword of JSON Schema stands for."""
    return _KEYWORDS[keyword][0]


def say_what(keyword: str, value: Any, part: dict[str, Any]) -> str:
    """Say in one sentence what is wrong with a value, given the part of the schema that has that keyword."""
    return _KEYWORDS[keyword][1](shown(value), part)


def shown(value: Any) -> str:
    """A value as it is shown in a message: text quoted, a list or fields named as such."""
    if isinstance(value, list):
        return "a list"
    return "a group of fields" if isinstance(value, dict) else quote(str(value))


def nearest_name(name: str, names: Iterable[str]) -> str | None:
    """The known name that was probably meant; None where none is near."""
    if len(name) > _LONGEST_NAME:
        return None
    return next(iter(get_close_matches(name.lower(), sorted(names), n=1, cutoff=0.6)), None)


def _named(types: str | list[str]) -> str:
    listed = (
        [types] if isinstance(types, str) else [name for name in types if name != "number" or "string" not in types]
    )
    return " or ".join(_TYPES[name] for name in listed)


def _alternatives(schemas: list[dict[str, list[str]]]) -> str:
    names = [f"`{name}`" for schema in schemas for name in schema["required"]]
    return ", ".join(names[:-1]) + " and " + names[-1]
