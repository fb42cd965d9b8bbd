"""A record against the schema of its kind: every fault in one run, in order of line, with the mend of the schema."""

from collections.abc import Iterator
from functools import cache
from itertools import islice
from typing import Any

import jsonschema_rs

from provenance.errors import Place, Problem
from provenance.records.wording import quote
from provenance.store.document import Document
from provenance.store.fault_wording import nearest_name, rule_of, say_what
from provenance.store.record_kinds import RecordKind
from provenance.store.schema_files import follow, read_schema
from provenance.store.schema_formats import FORMATS, fault_of_format

MOST_FAULTS = 100


def check_schema(document: Document, kind: RecordKind) -> tuple[Problem, ...]:
    """Find every fault in the shape of a typed record, in order of line; of very many the first hundred."""
    validator = _validator(kind)
    if validator.is_valid(document.content):
        return ()
    schema = read_schema(kind)
    faults = islice(validator.iter_errors(document.content), MOST_FAULTS)
    problems = islice((problem for fault in faults for problem in _problems(fault, document, schema)), MOST_FAULTS)
    return tuple(sorted(problems, key=lambda problem: (problem.place.line or 0, problem.place.field, problem.rule)))


@cache
def _validator(kind: RecordKind) -> jsonschema_rs.Draft202012Validator:
    return jsonschema_rs.Draft202012Validator(
        read_schema(kind), formats=FORMATS, validate_formats=True, ignore_unknown_formats=False, offline=True
    )


class _Rule:
    """The rule of a schema that a record broke: its keyword, the part that it stands in, and the mend beside it."""

    def __init__(self, schema: dict[str, Any], path: list[str | int]) -> None:
        self._schema = schema
        self.keyword = str(path[-1])
        self.part = schema
        self._mends: list[Any] = []
        for step in path[:-1]:
            self._enter(step)
        self._mends.append(self.part.get("x-mend"))

    def _enter(self, step: str | int) -> None:
        if step == "$ref":
            self._mends.append(self.part.get("x-mend"))
            self.part = follow(self._schema, self.part)
        else:
            self._mends.clear()
            inner: Any = self.part
            self.part = inner[step]

    @property
    def mend(self) -> str:
        """What to write instead; what stands where a definition is used comes before what stands in it."""
        written = next(mend for mend in self._mends if mend is not None)
        return str(written.get(self.keyword, written["type"]) if isinstance(written, dict) else written)

    def mend_of_missing(self, name: str) -> str:
        """What to write for a field that is missing here."""
        field = self.part["properties"][name]
        written = field.get("x-mend") or follow(self._schema, field)["x-mend"]
        return f"add `{name}: …`: {written['type'] if isinstance(written, dict) else written}"

    def mend_of_unknown(self, name: str) -> str:
        """What to write for a field that is not known here."""
        known = self.part["properties"]
        meant = nearest_name(name, known)
        if meant is not None:
            return f"did you mean `{meant}`?"
        return f"use one of {', '.join(known)}; a field of the team's own begins with x-"


def _problems(fault: jsonschema_rs.ValidationError, document: Document, schema: dict[str, Any]) -> Iterator[Problem]:
    rule = _Rule(schema, fault.evaluation_path)
    field = _field(fault.instance_path)
    said = fault.kind.as_dict()
    if rule.keyword == "additionalProperties":
        for name in said["unexpected"]:
            what = f"{quote(name)} is not a field of this record"
            yield _problem(document, _inside(field, name), "schema/unknown-field", what, rule.mend_of_unknown(name))
    elif rule.keyword == "required":
        name = said["property"]
        yield _problem(
            document, _inside(field, name), "schema/required", f"`{name}` is missing", rule.mend_of_missing(name)
        )
    else:
        yield _problem_of_value(rule, document, field, _misnamed(fault), fault.instance)


def _misnamed(fault: jsonschema_rs.ValidationError) -> str | None:
    """The name that is at fault itself, not what stands under it; None where no name is."""
    return fault.kind.as_dict()["error"].instance if fault.kind.name == "propertyNames" else None


def _problem_of_value(rule: _Rule, document: Document, field: str, misnamed: str | None, value: Any) -> Problem:
    if misnamed is not None:
        field, value = _inside(field, misnamed), misnamed
    what, mend = say_what(rule.keyword, value, rule.part), rule.mend
    if rule.keyword == "format":
        what, mend = fault_of_format(rule.part["format"], value) or (what, mend)
    if rule.keyword == "enum" and (meant := nearest_name(str(value), rule.part["enum"])) is not None:
        mend = f"did you mean `{meant}`? Else {mend}"
    return _problem(document, field, rule_of(rule.keyword), what, mend)


def _problem(document: Document, field: str, rule: str, what: str, mend: str) -> Problem:
    place = Place(file=document.file, line=document.line_of(field), field=field)
    return Problem(place=place, rule=rule, what=what, mend=mend)


def _inside(field: str, name: str) -> str:
    return f"{field}.{name}" if field else name


def _field(path: list[str | int]) -> str:
    """The path of a field as people read it: `evidence[0].at.page`."""
    field = ""
    for step in path:
        field = f"{field}[{step}]" if isinstance(step, int) else _inside(field, step)
    return field
