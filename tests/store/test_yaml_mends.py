"""What people trip over in YAML: the line that is shown, and the mend."""

import pytest

from provenance.store.document import Document
from provenance.store.yaml_mends import mend_sign
from provenance.store.yaml_text import read_yaml


def mend_of(text: str) -> tuple[int | None, str]:
    problems = read_yaml(text, "sources/one.yaml")
    assert not isinstance(problems, Document)
    assert [problem.rule for problem in problems] == ["yaml/syntax"]
    return problems[0].place.line, problems[0].mend


@pytest.mark.parametrize(
    ("text", "line", "word"),
    [
        ("title: A\nshows:\n\t- example: 5\n", 3, "tab"),
        ("title: A\nnote: Album: page 3\nby: mh\n", 2, "double quotes: its colon"),
        ('title: "A\nby: mh\ndate: 2024\n', 1, "close the quotation mark"),
        ("title: 'A\nby: mh\ndate: 2024\n", 1, "close the quotation mark"),
        ("title: 'the driver's handbook'\nby: mh\n", 1, "write it twice"),
        ('title: "Front" and rear\nby: mh\n', 1, "end the value"),
        ("language: [de\nby: mh\ndate: 2024\n", 1, "close the bracket"),
        ("at: {page: 3\nby: mh\ndate: 2024\n", 1, "close the bracket"),
        ("at: {page: 1 who: x}\n", 1, "comma"),
        ("title: [Untitled] photograph\nby: mh\n", 1, "begins with [ or {"),
        ("by: mh\ncreator: @works\n", 2, "first sign"),
        ("note: - see above\n", 1, "first sign"),
        ("note: * see above\n", 1, "first sign"),
        ("note: > 3 mm\n", 1, "first sign"),
        ("title: A\nby mh\ndate: 2024\n", 2, "with a space after the colon"),
        ("title: A\nby:mh\ndate: 2024\n", 2, "with a space after the colon"),
        ("title: A\n  by: mh\n", 2, "same column"),
        ("at:\n    page: 1\n  who: x\n", 3, "same column"),
        ("evidence:\n  - source: x\n   stance: supports\n", 3, "same column"),
        ('title: "C:\\path"\n', 1, "backslash twice"),
        ("%ODD\n---\na: b\n", 1, "directive"),
        ("a: {\n", 1, "close the bracket"),
        ("a: b\r\rc d\r\re: f\r\r", 3, "with a space after the colon"),
    ],
)
def test_a_slip_of_the_pen_is_shown_where_it_was_made(text: str, line: int, word: str) -> None:
    found, mend = mend_of(text)

    assert found == line
    assert word in mend


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("reference: #12\n", "begins with #"),
        ("title:\n", "delete the line"),
        ("'title' :\n", "delete the line"),
        ("language:\n  -\n", "delete the line"),
        ("at: {page 1}\n", "`name: value`"),
        ("acquired: [{date: 2026, note: asked, no answer yet}]\n", "a text with a comma in double quotes"),
    ],
)
def test_a_field_without_a_value_is_mended_by_what_its_line_looks_like(text: str, word: str) -> None:
    problems = read_yaml(text, "sources/one.yaml")

    assert not isinstance(problems, Document)
    assert [problem.rule for problem in problems] == ["yaml/empty-value"]
    assert word in problems[0].mend


@pytest.mark.parametrize(("rule", "sign"), [("yaml/alias", "*"), ("yaml/anchor", "&"), ("yaml/tag", "!")])
def test_a_sign_of_yaml_is_mended_by_quoting_it(rule: str, sign: str) -> None:
    mend = mend_sign(rule)

    assert f"begins with {sign} goes in double quotes" in mend
