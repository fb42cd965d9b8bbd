"""Every fault in a record's shape, with line, words and mend.

Outside check: `jsonschema`, the reference library of Python, must come to the same verdict on sound records, on records
faulty in one place, and on the very set of places that are at fault.
"""

import copy
import json
import random
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import jsonschema
import pytest
from store.whole_records import WHOLE, file_of

from provenance.errors import Problem
from provenance.records.kinds import SourceKind
from provenance.store.document import Document
from provenance.store.record_kinds import RecordKind, kind_of_file
from provenance.store.schema_check import MOST_FAULTS, check_schema
from provenance.store.schema_files import read_schema
from provenance.store.schema_formats import FORMATS
from provenance.store.typing_by_schema import type_content
from provenance.store.yaml_text import read_yaml

EVIDENCE = """\
evidence:
  - source: works-photo
    stance: supports
    how: shows
"""
CLAIM = f"""\
about: headlamp/height
value: 3 ft 4 1/2 in
applies_to: {{examples: all}}
{EVIDENCE}\
by: mh
date: 2026-11-02
"""
FILES = f"files: [{{path: originals/a/b, sha256: {'0' * 64}, bytes: 1, media_type: a/b}}]\n"
SOURCE = "title: A\nby: mh\ndate: 2026-11-02\n"


def typed(text: str, file: str) -> tuple[Document, RecordKind]:
    document, kind = read_yaml(text, file), kind_of_file(file)
    assert isinstance(document, Document)
    assert kind is not None
    return replace(document, content=type_content(document.content, kind)), kind


def check(text: str, file: str = "sources/one.yaml") -> list[Problem]:
    return list(check_schema(*typed(text, file)))


def only(text: str, file: str = "sources/one.yaml") -> Problem:
    problems = check(text, file)
    assert len(problems) == 1, problems
    return problems[0]


@pytest.mark.parametrize("kind", list(RecordKind))
def test_a_record_that_uses_every_field_is_sound(kind: RecordKind) -> None:
    for text in WHOLE[kind]:
        assert check(text, file_of(kind)) == []


@pytest.mark.parametrize("kind", list(RecordKind))
def test_between_them_the_sound_records_use_every_field_of_the_schema(kind: RecordKind) -> None:
    schema = read_schema(kind)
    used: set[str] = set()
    for text in WHOLE[kind]:
        used |= set(_used(schema, schema, typed(text, file_of(kind))[0].content, ""))

    words = {field for field in _fields(schema, schema, "") if not field.startswith("doctrine.")}

    assert words - used == set()


def _part(schema: dict[str, Any], part: dict[str, Any]) -> dict[str, Any]:
    named: dict[str, Any] = schema["$defs"][part["$ref"][8:]] if "$ref" in part else part
    return named


def _fields(schema: dict[str, Any], part: dict[str, Any], place: str) -> Iterator[str]:
    part = _part(schema, part)
    for name, inner in part.get("properties", {}).items():
        yield f"{place}{name}"
        yield from _fields(schema, inner, f"{place}{name}.")
    if "items" in part:
        yield from _fields(schema, part["items"], place)


def _used(schema: dict[str, Any], part: dict[str, Any], value: Any, place: str) -> Iterator[str]:
    part = _part(schema, part)
    for item in value if isinstance(value, list) and "items" in part else ():
        yield from _used(schema, part["items"], item, place)
    if isinstance(value, dict):
        for name in part.get("properties", {}).keys() & value.keys():
            yield f"{place}{name}"
            yield from _used(schema, part["properties"][name], value[name], f"{place}{name}.")


@pytest.mark.parametrize(
    ("text", "expected", "what", "mend"),
    [
        (
            "titel: A\n" + SOURCE,
            (1, "titel", "schema/unknown-field"),
            "`titel` is not a field",
            "did you mean `title`?",
        ),
        (SOURCE + "zzz: A\n", (4, "zzz", "schema/unknown-field"), "`zzz`", "begins with x-"),
        (SOURCE + "kind: fotograph\n", (4, "kind", "schema/choice"), "`fotograph`", "did you mean `photograph`?"),
        (SOURCE + "reliability: Z\n", (4, "reliability", "schema/choice"), "`Z`", "write one of `A`, `B`"),
        (SOURCE + "publish: yes\n", (4, "publish", "schema/unknown-field"), "`publish`", "use one of title, kind"),
        ("by: mh\ndate: 2026\n", (None, "title", "schema/required"), "`title` is missing", "such as `title: Handbook"),
        ("title: A\ndate: 2026\n", (None, "by", "schema/required"), "`by` is missing", "id of `people`"),
        (SOURCE + "loan: {due: 2027}\n", (4, "loan.owner", "schema/required"), "`owner`", "write whose it is"),
        (SOURCE + "created: 1934-13\n", (4, "created", "schema/form"), "month that does not exist", "`01` to `12`"),
        (SOURCE + "created: spring 1934\n", (4, "created", "schema/form"), "spring 1934", "write"),
        ("title: A\nby: M. H.\ndate: 2026\n", (2, "by", "schema/form"), "`M. H.` is no id of a person", "`people`"),
        ("title: A\nby: con\ndate: 2026\n", (2, "by", "schema/form"), "`con` is no id", "`people`"),
        (SOURCE + f"replaces: {'a' * 65}\n", (4, "replaces", "schema/form"), "longer than 64", "at most 64"),
        (SOURCE + "note: [a]\n", (4, "note", "schema/type"), "a list stands where text belongs", "plain text"),
        (SOURCE + "note: {a: b}\n", (4, "note", "schema/type"), "a group of fields stands where text", "plain text"),
        (SOURCE + "shows: x\n", (4, "shows", "schema/type"), "`x` stands where a list belongs", "begin with `- ex"),
        (SOURCE + "loan: x\n", (4, "loan", "schema/type"), "where a group of fields belongs", "loan: {owner"),
        (SOURCE + "language: []\n", (4, "language", "schema/count"), "fewer than 1", "such as `[de]`"),
        (
            SOURCE + "language: [de, de]\n",
            (4, "language", "schema/count"),
            "names the same twice",
            "name each only once",
        ),
        (SOURCE + "language: [d]\n", (4, "language[0]", "schema/form"), "`d` is no language", "`en`"),
        (SOURCE + "within: {source: b, pages: 7..3}\n", (4, "within.pages", "schema/form"), "backwards", "`3..7`"),
        (
            SOURCE + "within: {source: b, region: 'percent:1,2,3'}\n",
            (4, "within.region", "schema/form"),
            "`percent:1,2,3` is no region",
            "left, top, width",
        ),
        (
            SOURCE + FILES + "within: {source: b}\n",
            (5, "within", "schema/one-of"),
            "does not go together",
            "keep `files`",
        ),
    ],
)
def test_a_fault_is_named_with_its_line_and_mend(
    text: str, expected: tuple[int | None, str, str], what: str, mend: str
) -> None:
    problem = only(text)

    assert (problem.place.line, problem.place.field, problem.rule) == expected
    assert what in problem.what
    assert mend in problem.mend


@pytest.mark.parametrize(
    ("written", "field", "rule", "word"),
    [
        ("path: originals/../b", "path", "schema/form", "`..`"),
        ("path: /etc/passwd", "path", "schema/form", "path of an original"),
        ("path: originals/b", "path", "schema/form", "path of an original"),
        ("path: 'originals/a\\b'", "path", "schema/form", "path of an original"),
        ("sha256: ABC", "sha256", "schema/form", "SHA-256"),
        ("bytes: many", "bytes", "schema/type", "whole number"),
        ("bytes: 0047", "bytes", "schema/type", "whole number"),
        ("bytes: -1", "bytes", "schema/range", "less than 0"),
        ("media_type: pdf", "media_type", "schema/form", "media type"),
        ("pages: 0", "pages", "schema/range", "less than 1"),
    ],
)
def test_a_file_as_received_is_described_exactly(written: str, field: str, rule: str, word: str) -> None:
    whole = {"path": "originals/a/b", "sha256": "0" * 64, "bytes": "1", "media_type": "a/b"}
    whole[field] = written.partition(": ")[2]
    lines = "".join(f"    {name}: {value}\n" for name, value in whole.items())

    problem = only(SOURCE + "files:\n  - x-own: 1\n" + lines)

    assert (problem.place.field, problem.rule) == (f"files[0].{field}", rule)
    assert problem.place.line == 6 + list(whole).index(field)
    assert word in problem.what + problem.mend


@pytest.mark.parametrize(
    ("old", "new", "field", "rule", "word"),
    [
        ("headlamp/height", "headlamp", "about", "schema/form", "component's id"),
        ("{examples: all}", "{}", "applies_to", "schema/one-of", "`examples`, `batch` and `related`"),
        ("{examples: all}", "{examples: all, batch: x}", "applies_to", "schema/one-of", "exactly one"),
        ("{examples: all}", "{examples: 5..}", "applies_to.examples", "schema/form", "5..8"),
        ("{examples: all}", "{examples: [all]}", "applies_to.examples[0]", "schema/form", "without a list"),
        (EVIDENCE, "evidence: []\n", "evidence", "schema/count", "at least one item"),
        ("{examples: all}", "{examples: []}", "applies_to.examples", "schema/count", "all"),
        ("how: shows", "how: shows\n    at: {page: xiv}", "evidence[0].at.page", "schema/type", "page_label"),
        ("how: shows", "how: shows\n    at: {time: 12:30}", "evidence[0].at.time", "schema/form", "00:12:31"),
        ("how: shows", "how: shows\n    signs: {Vent: seen}", "evidence[0].signs.Vent", "schema/form", "id of a sign"),
        ("how: shows", "how: shows\n    signs: {vent: sen}", "evidence[0].signs.vent", "schema/choice", "`seen`"),
        ("how: shows", "how: shows\n    seen: {}", "evidence[0].seen.example", "schema/required", '"9"'),
        ("how: shows", "how: shows\n    seen: {example: 5..6}", "evidence[0].seen.example", "schema/form", "number of"),
    ],
)
def test_a_fault_of_a_claim_names_the_place_inside_it(old: str, new: str, field: str, rule: str, word: str) -> None:
    problem = only(CLAIM.replace(old, new), "claims/one.yaml")

    assert (problem.place.field, problem.rule) == (field, rule)
    assert word in problem.what + problem.mend


@pytest.mark.parametrize(
    ("written", "kind", "line"),
    [("options: [{id: a, name: A}]", "text", 8), ("same: [[a, b]]", "quantity", 8), ("unit: mm", "presence", 8)],
)
def test_what_belongs_to_one_kind_of_feature_is_refused_in_another(written: str, kind: str, line: int) -> None:
    feature = f"features:\n  - id: f\n    name: F\n    aspect: form\n    kind: {kind}\n    {written}\n"

    problem = only("name: Headlamp\nby: mh\ndate: 2026\n" + feature, "components/one.yaml")

    assert (problem.place.line, problem.place.field, problem.rule) == (line, "features[0].kind", "schema/choice")
    assert f"delete `{written.partition(':')[0]}`" in problem.mend


@pytest.mark.parametrize(
    ("written", "field", "rule"),
    [
        ("base: {letter: 41}", "doctrine.base.letter", "schema/range"),
        ("base: {leter: 4}", "doctrine.base.leter", "schema/unknown-field"),
        ("agreement: {same-batch: 0.4}", "doctrine.agreement.same-batch", "schema/range"),
        ("late_years: 10.5", "doctrine.late_years", "schema/type"),
        ("contested: 1.01", "doctrine.contested", "schema/range"),
        ("contested: much", "doctrine.contested", "schema/type"),
    ],
)
def test_a_weight_of_the_teams_own_keeps_to_its_range(written: str, field: str, rule: str) -> None:
    problem = only(f"format: 1\ntitle: A\ndoctrine: {{{written}}}\n", "archive.yaml")

    assert (problem.place.line, problem.place.field, problem.rule) == (3, field, rule)


@pytest.mark.parametrize("kind", list(SourceKind))
def test_every_kind_of_source_may_weigh_up_to_forty_points(kind: SourceKind) -> None:
    head = "format: 1\ntitle: A\ndoctrine: {base: "

    assert check(f"{head}{{{kind}: 40}}}}\n", "archive.yaml") == []
    assert only(f"{head}{{{kind}: 40.01}}}}\n", "archive.yaml").rule == "schema/range"
    assert only(f"{head}{{{kind}: -0.01}}}}\n", "archive.yaml").rule == "schema/range"


def test_a_mend_that_stands_where_a_definition_is_used_comes_before_its_own() -> None:
    own = only(SOURCE + "replaces: B 4\n")
    of_use = only("title: A\nby: M. H.\ndate: 2026\n")

    assert own.mend.startswith("write small letters, digits and single hyphens")
    assert of_use.mend.startswith("name who made the record")


def test_all_faults_of_a_record_come_at_once_in_order_of_line() -> None:
    text = "titel: A\nkind: fotograph\ncreated: 1934-13\nby: M H\nshows:\n  - exmaple: '5'\n"

    problems = check(text)

    assert [(problem.place.line, problem.place.field) for problem in problems] == [
        (None, "date"),
        (None, "title"),
        (1, "titel"),
        (2, "kind"),
        (3, "created"),
        (4, "by"),
        (6, "shows[0].exmaple"),
    ]


def test_of_very_many_faults_the_first_hundred_are_named() -> None:
    text = SOURCE + "topics: [" + ", ".join(f"A{n}" for n in range(MOST_FAULTS + 50)) + "]\n"

    assert len(check(text)) == MOST_FAULTS


def test_a_name_as_long_as_a_book_is_not_compared_with_anything() -> None:
    problem = only(SOURCE + f"kind: {'a' * 500_000}\n")

    assert len(problem.what) < 200
    assert "did you mean" not in problem.mend


def test_fields_of_the_teams_own_may_hold_anything() -> None:
    text = SOURCE + "x-shelf: {row: 3, boxes: [1, {a: b}]}\nrights: {x-asked: 2026}\n"

    assert check(text) == []


def _reference(kind: RecordKind) -> jsonschema.Draft202012Validator:
    checker = jsonschema.FormatChecker(())
    for name, test in FORMATS.items():
        checker.checks(name)(test)
    return jsonschema.Draft202012Validator(read_schema(kind), format_checker=checker)


def _spots(value: Any) -> Iterator[tuple[Any, Any]]:
    """Every place in a value where something else could stand, as what holds it and the step to it."""
    steps = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for step, inner in list(steps):
        yield value, step
        yield from _spots(inner)


_ODD = [
    "",
    "A B",
    "x",
    "1934-13",
    "5..",
    "all",
    [],
    ["x", "x"],
    {},
    {"zzz": "x"},
    0,
    -1,
    10**12,
    "con",
    "a/b",
    "a" * 70,
]


def _spoilt(content: dict[str, Any], seed: int) -> dict[str, Any]:
    chance = random.Random(seed)
    spoilt = copy.deepcopy(content)
    holder, step = chance.choice(list(_spots(spoilt)))
    deed = chance.randrange(3)
    if deed == 0:
        del holder[step]
    elif deed == 1 and isinstance(holder, dict):
        holder[chance.choice(["zzz", "note", "source", "x-own", "kind"])] = chance.choice(_ODD)
    else:
        holder[step] = chance.choice(_ODD)
    return spoilt


@pytest.mark.parametrize("kind", list(RecordKind))
def test_the_verdict_is_that_of_the_reference_library(kind: RecordKind) -> None:
    reference = _reference(kind)
    verdicts = set()

    for text in WHOLE[kind]:
        document, _ = typed(text, file_of(kind))
        for seed in range(150):
            content = _spoilt(json.loads(json.dumps(document.content, default=float)), seed)
            ours = check_schema(Document(file="x", content=content, lines={}), kind)
            theirs = list(reference.iter_errors(content))
            verdicts.add(bool(theirs))
            assert bool(ours) == bool(theirs), content
            assert _places_of_ours(ours) == {_place(error) for error in theirs}, content

    assert verdicts == {True, False}


def _places_of_ours(problems: tuple[Problem, ...]) -> set[str]:
    outside = {"schema/required", "schema/unknown-field"}
    return {
        problem.place.field.rpartition(".")[0] if problem.rule in outside else _without_name(problem)
        for problem in problems
    }


def _without_name(problem: Problem) -> str:
    misnamed = problem.rule == "schema/form" and "id of a sign" in problem.what
    return problem.place.field.rpartition(".")[0] if misnamed else problem.place.field


def _place(error: jsonschema.ValidationError) -> str:
    return error.json_path.removeprefix("$").removeprefix(".").replace("['", ".").replace("']", "")
