"""Records as text: read again as they were, by this tool and by other people's."""

from decimal import Decimal
from enum import StrEnum
from typing import Any

import pytest
import yaml
from hypothesis import example, given
from hypothesis import strategies as st

from provenance.errors import WriteRefusedError
from provenance.store.document import Document
from provenance.store.yaml_text import read_yaml
from provenance.store.yaml_writing import (
    as_read,
    block_lines,
    flow_text,
    is_nothing,
    item_lines,
    record_text,
    scalar_text,
)

LETTERS = st.characters(exclude_categories=["Cc", "Cs", "Zl", "Zp"], exclude_characters="\ufeff\ufffe\uffff")
SYNTAX = st.sampled_from(
    [*"-?:,[]{}#&*!|>'\"%@`~=<. \t\n0123456789eExXoOyYnN", "---", "...", "- ", ": ", " #", "  ", "\n\n"]
)
TEXTS = st.lists(LETTERS | SYNTAX, min_size=1, max_size=30).map("".join).filter(lambda text: bool(text.strip()))
SCALARS = TEXTS | st.integers() | st.decimals(allow_nan=False, allow_infinity=False) | st.booleans()
KEYS = st.from_regex(r"[a-z][a-z0-9_-]{0,8}", fullmatch=True) | st.sampled_from(
    ["on", "yes", "1934", "null", "y", "date"]
)
VALUES = st.recursive(
    SCALARS,
    lambda inner: st.lists(inner, min_size=1, max_size=4) | st.dictionaries(KEYS, inner, min_size=1, max_size=4),
    max_leaves=12,
)
RECORDS = st.dictionaries(KEYS, VALUES, min_size=1, max_size=5)


def others_read(text: str) -> Any:
    """What an ordinary YAML reader makes of a text when it is told to leave every scalar as text."""
    return yaml.load(text, Loader=yaml.BaseLoader)


def we_read(text: str) -> object:
    document = read_yaml(text, "sources/letter.yaml")
    assert isinstance(document, Document), document
    return document.content


@given(RECORDS)
@example({"note": "first\n  second\n\nthird"})
@example({"note": "  begins with spaces\nends"})
@example({"note": "\n\nbegins with empty lines\nends"})
@example({"note": "ends with a line break\n"})
@example({"note": ["a\nb", ["c\nd", {"e": "f\n g"}]]})
@example({"note": "a\n \nb"})
@example({"note": "\tx\ny"})
def test_every_record_is_read_again_as_it_was(fields: dict[str, object]) -> None:
    text = record_text("source", fields)

    assert we_read(text) == as_read(fields)
    assert others_read(text) == as_read(fields)


@given(VALUES)
def test_every_value_in_flow_style_is_read_again_as_it_was(value: object) -> None:
    text = f"note: {flow_text(value)}\nnext: here\n"

    assert we_read(text) == {"note": as_read(value), "next": "here"}
    assert others_read(text) == {"note": as_read(value), "next": "here"}


@given(st.dictionaries(st.sampled_from(["title", "value", "quote"]), TEXTS, min_size=1))
def test_text_stays_text_for_ordinary_readers_of_yaml(fields: dict[str, str]) -> None:
    read = yaml.safe_load(record_text("source", fields))

    assert read == fields


@pytest.mark.parametrize(
    "text",
    [
        # What YAML 1.1 takes for something else: yaml.org/type (bool, int, float, null, timestamp, merge, value).
        *(
            "yes",
            "No",
            "on",
            "OFF",
            "true",
            "y",
            "N",
            "0047",
            "0x1F",
            "0b11",
            "12:30",
            "1_000",
            "4.490",
            "-.inf",
            ".NaN",
        ),
        *("~", "null", "1943-06-01", "2001-12-14t21:59:43.10-05:00", "<<", "="),
        # What the core schema of YAML 1.2.2, 10.3.2, adds.
        *("0o17", "1e3", "12e03", "-2E+05", ".5", "5."),
        # Examples are numbers to the eye and names to the trade.
        *("9", "11"),
    ],
)
def test_what_other_readers_would_change_is_quoted(text: str) -> None:
    assert record_text("claim", {"value": text}) == f'value: "{text}"\n'


@pytest.mark.parametrize(
    ("key", "text", "expected"),
    [
        ("date", "1934", "date: 1934"),
        ("date", "1943-06-01", "date: 1943-06-01"),
        ("built", "1927/1928", "built: 1927/1928"),
        ("as_at", "1934-06", "as_at: 1934-06"),
        ("created", "1934~", "created: 1934~"),
        ("created", "[1931,1933]", 'created: "[1931,1933]"'),
        ("created", "{1931,1933}", 'created: "{1931,1933}"'),
        ("region", "percent:12.5,40,30,8", 'region: "percent:12.5,40,30,8"'),
        ("region", "pixel:0,0,10,10", 'region: "pixel:0,0,10,10"'),
        ("time", "00:12:31.000/00:12:44.000", "time: 00:12:31.000/00:12:44.000"),
        ("value", "3 ft 4 1/2 in", "value: 3 ft 4 1/2 in"),
        ("value", "2' 6 3/8\"", "value: 2' 6 3/8\""),
        ("value", "[...]ylene", 'value: "[...]ylene"'),
        ("title", "Notes: 1931", 'title: "Notes: 1931"'),
        ("title", "No. 4 #2", 'title: "No. 4 #2"'),
        ("title", 'say "no"\tthen', 'title: "say \\"no\\"\\tthen"'),
        ("title", "back\\slash", "title: back\\slash"),
    ],
)
def test_values_look_as_people_write_them(key: str, text: str, expected: str) -> None:
    assert record_text("source", {key: text}) == f"{expected}\n"


def test_a_record_is_laid_out_in_the_order_of_the_trade() -> None:
    fields = {
        "date": "2024-05-01",
        "by": "mh",
        "x-shelf": "C4",
        "evidence": [
            {
                "quote": "two lines\nof a letter",
                "how": "states",
                "stance": "supports",
                "source": "letter-1",
                "at": {"region": "percent:1,2,3,4", "page": 2},
            }
        ],
        "note": None,
        "applies_to": {"examples": ["2", "5..8"]},
        "value": "acetylene",
        "about": "headlamp/kind",
        "reasoning": "",
        "uncertainty": Decimal("1E+1"),
    }

    assert record_text("claim", fields) == (
        "about: headlamp/kind\n"
        "value: acetylene\n"
        "uncertainty: 10\n"
        "applies_to:\n"
        "  examples:\n"
        '    - "2"\n'
        "    - 5..8\n"
        "evidence:\n"
        "  - source: letter-1\n"
        "    at:\n"
        "      page: 2\n"
        '      region: "percent:1,2,3,4"\n'
        "    stance: supports\n"
        "    how: states\n"
        "    quote: |-\n"
        "      two lines\n"
        "      of a letter\n"
        "by: mh\n"
        "date: 2024-05-01\n"
        "x-shelf: C4\n"
    )


def test_numbers_truth_values_and_defined_words_are_plain() -> None:
    class Kind(StrEnum):
        DRAWING = "drawing"

    fields = {"kind": Kind.DRAWING, "files": [{"bytes": 1234, "pages": 0}], "x-seen": True, "x-share": Decimal("0.50")}

    assert record_text("source", fields) == (
        "kind: drawing\nfiles:\n  - bytes: 1234\n    pages: 0\nx-seen: true\nx-share: 0.50\n"
    )


@pytest.mark.parametrize("nothing", [None, "", [], {}, [None], {"a": ""}, {"a": [{}]}])
def test_what_holds_nothing_is_left_out(nothing: object) -> None:
    assert is_nothing(nothing)
    assert record_text("source", {"title": "Letter", "shows": nothing}) == "title: Letter\n"
    assert flow_text({"a": nothing, "b": [nothing, 1]}) == "{b: [1]}"


@pytest.mark.parametrize("character", ["\x00", "\x07", "\r", "\x7f", "\x85", "\u2028", "\u2029", "\ufeff", "\ud800"])
def test_a_character_that_no_record_can_hold_is_refused(character: str) -> None:
    for text in (f"a{character}b", f"a\n{character}b"):
        with pytest.raises(WriteRefusedError, match=r"holds the character \\"):
            record_text("source", {"title": text})


def test_white_space_alone_is_refused() -> None:
    with pytest.raises(WriteRefusedError, match="nothing but white space"):
        record_text("source", {"title": " \n "})


@pytest.mark.parametrize("value", [b"bytes", 1.5, object(), {"a": b"bytes"}, [1.5]])
def test_what_a_record_does_not_hold_is_the_callers_mistake(value: object) -> None:
    with pytest.raises(TypeError):
        record_text("source", {"title": value})
    with pytest.raises(TypeError):
        flow_text(value)


def test_lists_and_scalars_are_not_taken_for_one_another() -> None:
    assert item_lines("a\nb") == ["- |-", "  a", "  b"]
    with pytest.raises(TypeError, match="a scalar has no lines of its own"):
        block_lines("text")
    with pytest.raises(TypeError, match="neither a mapping nor a list"):
        block_lines(5)
    with pytest.raises(TypeError, match="list is no scalar"):
        scalar_text(["a"])
