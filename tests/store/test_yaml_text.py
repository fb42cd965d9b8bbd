"""Values as typed, and every way in which a file is refused, with its line.

Outside checks: PyYAML's own `BaseLoader`, which leaves every scalar text (the reference for sound files), and the
behaviour of ordinary YAML 1.1 (`yaml.safe_load`) for what must not happen here.
"""

import logging
import time

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st
from store.whole_records import WHOLE

from provenance.errors import Problem
from provenance.store.document import Document, Value
from provenance.store.yaml_nodes import DEEPEST_NESTING, LONGEST_NAME, MOST_FAULTS, MOST_VALUES, Parser
from provenance.store.yaml_text import LARGEST_FILE, choose_parser, fastest_parser, read_with_faults, read_yaml
from provenance.store.yaml_writing import record_text


def read(written: bytes | str) -> Document:
    document = read_yaml(written, "sources/one.yaml")
    assert isinstance(document, Document), document
    return document


def faults(written: bytes | str) -> list[tuple[str, int | None, str]]:
    problems = read_yaml(written, "sources/one.yaml")
    assert not isinstance(problems, Document), problems.content
    assert all(problem.mend and problem.place.file == "sources/one.yaml" for problem in problems)
    return [(problem.rule, problem.place.line, problem.place.field) for problem in problems]


@pytest.mark.parametrize(
    "typed",
    ["0047", "12:30", "1943-06-01", "no", "4.490", "null", "yes", "on", "010", "1e3", ".5", "0x1F", "1_000", "=", "<<"],
)
def test_a_value_stays_as_typed_where_ordinary_yaml_would_change_it(typed: str) -> None:
    text = f"reference: {typed}\n"

    document = read(text)

    assert document.content == {"reference": typed}


def test_ordinary_yaml_does_change_them() -> None:
    text = "[0047, 12:30, no, 4.490, 010]"

    guessed = yaml.safe_load(text)

    assert guessed == [39, 750, False, 4.49, 8]


@pytest.mark.parametrize("text", [text for texts in WHOLE.values() for text in texts])
def test_what_is_read_is_what_the_plain_loader_of_the_library_reads(text: str) -> None:
    expected = yaml.load(text, yaml.BaseLoader)
    if "reasoning" in expected:
        expected["reasoning"] = expected["reasoning"].rstrip("\n")

    document = read(text)

    assert document.content == expected


def test_every_field_knows_its_line() -> None:
    text = "# a remark\ntitle: A\n\nevidence:\n  - source: a\n    at: {page: 1,\n      region: x}\n  - b\n"

    document = read(text)

    assert document.lines == {
        "": 2,
        "title": 2,
        "evidence": 4,
        "evidence[0]": 5,
        "evidence[0].source": 5,
        "evidence[0].at": 6,
        "evidence[0].at.page": 6,
        "evidence[0].at.region": 7,
        "evidence[1]": 8,
    }


def test_the_line_breaks_that_end_a_block_of_text_are_not_the_writers() -> None:
    text = "why: |\n  One.\n\n  Two.\n\nnote: >\n  three\n  four\nquote: |+\n  five\n\n\n"

    document = read(text)

    assert document.content == {"why": "One.\n\nTwo.", "note": "three four", "quote": "five"}


def test_a_text_in_double_quotes_may_end_in_a_line_break_and_hold_a_tab() -> None:
    text = 'quote: "five\\n"\nnote: "a\\tb"\n'

    document = read(text)

    assert document.content == {"quote": "five\n", "note": "a\tb"}


@pytest.mark.parametrize(
    "written",
    [b"\xef\xbb\xbftitle: A\r\nby: mh\r\n", "---\ntitle: A\nby: mh\n...\n", "{title: A, by: mh}", "title: A\nby: mh"],
)
def test_what_editors_and_other_programs_add_does_no_harm(written: bytes | str) -> None:
    expected = {"title": "A", "by": "mh"}

    document = read(written)

    assert document.content == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("title: A\ntitle: B\n", ("yaml/duplicate-key", 2, "title")),
        ("at: {page: 1,\n  page: 2}\n", ("yaml/duplicate-key", 2, "at.page")),
        ("title: &a A\n", ("yaml/anchor", 1, "title")),
        ("shows: &a\n  - x\n", ("yaml/anchor", 1, "shows")),
        ("&a title: A\n", ("yaml/anchor", 1, "title")),
        ("by: mh\nreliability: !!str A\n", ("yaml/tag", 2, "reliability")),
        ("shows: !!set {a: b}\n", ("yaml/tag", 1, "shows")),
        ("note: !important\n", ("yaml/tag", 1, "note")),
        ("title:\nby: mh\n", ("yaml/empty-value", 1, "title")),
        ("title: ~\n", ("yaml/empty-value", 1, "title")),
        ('title: ""\n', ("yaml/empty-value", 1, "title")),
        ("title: '  '\n", ("yaml/empty-value", 1, "title")),
        ("language:\n  - de\n  -\n", ("yaml/empty-value", 3, "language[1]")),
        ("reference: #12\n", ("yaml/empty-value", 1, "reference")),
        ("at: {page 1}\n", ("yaml/empty-value", 1, "at.page 1")),
        ("? [a, b]\n: 3\nby: mh\n", ("yaml/key", 1, "")),
        ("{? : 3, by: mh}\n", ("yaml/key", 1, "")),
        (f"by: mh\n{'n' * (LONGEST_NAME + 1)}: 3\n", ("yaml/key", 2, "")),
        ('by: mh\n"a\\ab": 3\n', ("yaml/key", 2, "")),
        ('title: "a\\0b"\n', ("yaml/control-character", 1, "title")),
        ('title: "a\\Lb"\n', ("yaml/control-character", 1, "title")),
        ("by: mh\ntitle: a\x00b\n", ("yaml/control-character", 2, "")),
        ("by: mh\n\ntitle: a\u2028b\n", ("yaml/control-character", 3, "")),
        ("by: mh\ntitle: a\x1bb\n", ("yaml/control-character", 2, "")),
        ("by: mh\n<<<<<<< HEAD\ntitle: A\n=======\ntitle: B\n>>>>>>> other\n", ("yaml/conflict-marker", 2, "")),
        ("by: mh\ntitle: A\n=======\ntitle: B\n", ("yaml/conflict-marker", 3, "")),
        ("by: mh\n---\ntitle: A\n", ("yaml/several-documents", 2, "")),
        ("", ("yaml/not-a-record", None, "")),
        ("# nothing yet\n", ("yaml/not-a-record", None, "")),
        ("- a\n- b\n", ("yaml/not-a-record", 1, "")),
        ("\nonly words\n", ("yaml/not-a-record", 2, "")),
    ],
)
def test_what_would_mean_something_else_than_it_seems_is_refused_at_its_line(
    text: str, expected: tuple[str, int | None, str]
) -> None:
    found = faults(text)

    assert found == [expected]


def test_an_alias_is_refused_beside_its_anchor() -> None:
    text = "title: &a A\nnote: *a\n"

    found = faults(text)

    assert found == [("yaml/anchor", 1, "title"), ("yaml/alias", 2, "note")]


def test_a_file_that_is_not_utf_8_is_refused_at_the_line_of_the_first_odd_byte() -> None:
    written = "title: A\nplace: Königsgrund\n".encode("latin-1")

    found = faults(written)

    assert found == [("yaml/encoding", 2, "")]


def test_a_file_may_have_a_million_bytes_and_not_one_more() -> None:
    largest = b"note: " + b"a" * (LARGEST_FILE - 6)

    document = read(largest)

    assert len(str(document.content["note"])) == LARGEST_FILE - 6
    assert faults(largest + b"a") == [("yaml/too-large", None, "")]
    assert faults("note: " + "ä" * (LARGEST_FILE // 2)) == [("yaml/too-large", None, "")]


def test_a_record_may_be_nested_forty_deep_and_not_deeper() -> None:
    deepest = "{a: " * DEEPEST_NESTING + "b" + "}" * DEEPEST_NESTING

    document = read(deepest)

    assert str(document.content).count("{") == DEEPEST_NESTING
    assert [rule for rule, _, _ in faults("{a: " + deepest + ", b: [[c], {d: e}]}")] == ["yaml/too-deep"]


def test_all_faults_of_a_file_come_in_order_of_line() -> None:
    text = "title: A\nby:\nnote: *a\ntitle: B\ncreator: !x y\nholder: ~\n"

    found = faults(text)

    assert [rule for rule, _, _ in found] == [
        "yaml/empty-value",
        "yaml/alias",
        "yaml/duplicate-key",
        "yaml/tag",
        "yaml/empty-value",
    ]


def test_of_very_many_faults_the_first_hundred_are_named() -> None:
    text = "a:\n" + "- ~\n" * (MOST_FAULTS + 50)

    found = faults(text)

    assert [line for _, line, _ in found] == list(range(2, MOST_FAULTS + 2))


def test_a_field_that_was_faulty_is_left_empty_and_the_rest_is_still_told() -> None:
    text = "title:\nby: mh\nnote: &a b\n"

    document, problems = read_with_faults(text, "sources/one.yaml")

    assert document is not None
    assert document.content == {"title": "", "by": "mh", "note": ""}
    assert len(problems) == 2


@pytest.mark.parametrize(
    "text",
    [
        "a: &a [x, x]\n" + "".join(f"a{n}: &a{n} [{', '.join(['*a'] * 9)}]\n" for n in range(30)),
        "a: " + "[" * 900_000,
        "[" * 300_000 + "]" * 300_000,
        "- " * 400_000,
        "{a: " * 200_000,
        "a: '" + "'" * 900_000,
        '? "' + "k" * 900_000 + '"\n: 3\n',
        "a:\n" + "- \n" * 300_000,
        "".join("  " * depth + "k" * 60 + ":\n" for depth in range(38)) + "  " * 38 + "a: ~\n",
    ],
    ids=["bomb", "open", "nested", "dashes", "braces", "quotes", "long name", "empty items", "long path"],
)
def test_a_hostile_file_is_refused_before_it_costs_anything(text: str) -> None:
    begun = time.process_time()

    found = faults(text)

    # A generous bound against what would never end; the benchmark tells how quick it is.
    assert time.process_time() - begun < 10
    assert len(found) <= MOST_FAULTS + 1


@pytest.mark.parametrize("begins", ["a: [", "a: {", "{"])
def test_a_record_of_too_many_values_is_refused_once(begins: str) -> None:
    pair = "k{}: 1" if begins.endswith("{") else "k{}"
    text = begins + ",".join(pair.format(n) for n in range(MOST_VALUES + 10))
    text += {"a: [": "]", "a: {": "}", "{": "}"}[begins]

    document, problems = read_with_faults(text, "sources/one.yaml")

    assert document is None
    assert [problem.rule for problem in problems] == ["yaml/too-large"]


def test_the_slow_parser_serves_where_the_fast_one_is_missing_and_says_so(caplog: pytest.LogCaptureFixture) -> None:
    with caplog.at_level(logging.WARNING):
        slow = choose_parser(None)

    assert slow is yaml.SafeLoader
    assert "slower" in caplog.text
    assert choose_parser(yaml.CSafeLoader) is yaml.CSafeLoader
    assert fastest_parser() is yaml.CSafeLoader


_SAMPLES = [
    *(text for texts in WHOLE.values() for text in texts),
    "title: A\ntitle: B\n",
    "title: &a A\nnote: *a\n",
    "title: !!str A\nby:\n",
    "? [a]\n: b\n",
    "a: [b, {c: d}]\n---\n",
    'a: "open\n',
    "a: b: c\n",
    'a: "\\ud800"\n',
    'a: "\\Uffffffff"\n',
]


@pytest.mark.parametrize("text", _SAMPLES)
def test_both_parsers_say_the_same_of_a_file(text: str) -> None:
    slow_parser: type[Parser] = yaml.SafeLoader

    fast = read_with_faults(text, "sources/one.yaml")
    slow = read_with_faults(text, "sources/one.yaml", slow_parser)

    assert (slow[0] and slow[0].content) == (fast[0] and fast[0].content) or "ud800" in text
    assert bool(slow[1]) == bool(fast[1])
    assert [_place(problem) for problem in slow[1]] == [_place(problem) for problem in fast[1]] or "\\" in text


def _place(problem: Problem) -> tuple[str, int | None, str]:
    return problem.rule, problem.place.line, problem.place.field


_TEXTS = st.text(
    st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Zl", "Zp"), exclude_characters="\ufeff"), min_size=1
).filter(lambda text: not text.isspace() and "\ufffe" not in text and "\uffff" not in text)
_NAMES = st.from_regex(r"x-[a-z][a-z0-9_]{0,10}", fullmatch=True)
_VALUES: st.SearchStrategy[Value] = st.recursive(
    _TEXTS,
    lambda inner: st.lists(inner, min_size=1, max_size=4) | st.dictionaries(_NAMES, inner, min_size=1, max_size=4),
    max_leaves=12,
)


@given(st.dictionaries(_NAMES, _VALUES, min_size=1, max_size=5))
def test_what_is_written_is_read_again_as_it_was(fields: dict[str, Value]) -> None:
    text = record_text("source", fields)

    document = read(text)

    assert document.content == fields
