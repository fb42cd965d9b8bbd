"""Words for what is wrong with a field."""

import pytest

from provenance.store.fault_wording import nearest_name, rule_of, say_what, shown


@pytest.mark.parametrize(
    ("name", "meant"),
    [("titel", "title"), ("Kind", "kind"), ("creatd", "created"), ("zzz", None), ("", None), ("kind" * 20, None)],
)
def test_the_nearest_name_is_the_one_that_was_probably_meant(name: str, meant: str | None) -> None:
    assert nearest_name(name, ["title", "kind", "created", "creator"]) == meant


@pytest.mark.parametrize(
    ("types", "words"),
    [
        (["string", "number"], "`x` stands where text belongs"),
        (["string", "number", "array"], "`x` stands where text or a list belongs"),
        ("integer", "`x` stands where a whole number belongs"),
        ("number", "`x` stands where a number belongs"),
    ],
)
def test_what_belongs_in_a_place_is_said_in_plain_words(types: object, words: str) -> None:
    assert say_what("type", "x", {"type": types}) == words


@pytest.mark.parametrize(("value", "words"), [([], "a list"), ({}, "a group of fields"), (3, "`3`"), ("a\n", "`a\\n`")])
def test_a_value_is_shown_on_one_line(value: object, words: str) -> None:
    assert shown(value) == words


def test_a_rule_has_a_stable_name() -> None:
    assert [rule_of(keyword) for keyword in ("type", "enum", "pattern", "format", "minimum", "minItems", "oneOf")] == [
        "schema/type",
        "schema/choice",
        "schema/form",
        "schema/form",
        "schema/range",
        "schema/count",
        "schema/one-of",
    ]
