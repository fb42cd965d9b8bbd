"""What becomes a number: only where the schema alone says so, and only what is written as one."""

from decimal import Decimal

import pytest

from provenance.store.document import Value
from provenance.store.record_kinds import RecordKind
from provenance.store.typing_by_schema import read_decimal, read_truth_value, read_whole_number, type_content


def test_a_page_is_a_whole_number_and_a_page_label_is_not() -> None:
    content: dict[str, Value] = {"evidence": [{"at": {"page": "14", "page_label": "14"}, "quote": "14"}], "value": "14"}

    typed = type_content(content, RecordKind.CLAIM)

    assert typed == {"evidence": [{"at": {"page": 14, "page_label": "14"}, "quote": "14"}], "value": "14"}


def test_a_weight_keeps_its_decimals_as_typed() -> None:
    content: dict[str, Value] = {
        "format": "1",
        "title": "1931",
        "doctrine": {"base": {"letter": "4.490"}, "late_years": "12"},
    }

    typed = type_content(content, RecordKind.ARCHIVE)

    doctrine = typed["doctrine"]
    assert isinstance(doctrine, dict)
    assert str(doctrine["base"]) == "{'letter': Decimal('4.490')}"
    assert (typed["format"], typed["title"], doctrine["late_years"]) == (1, "1931", 12)


def test_what_was_read_is_left_as_it_was() -> None:
    content: dict[str, Value] = {"files": [{"bytes": "12"}]}

    type_content(content, RecordKind.SOURCE)

    assert content == {"files": [{"bytes": "12"}]}


@pytest.mark.parametrize(
    "content", [{"files": "12"}, {"files": ["12"]}, {"files": {"bytes": "12"}}, {"files": [["12"]]}, {"x-bytes": "12"}]
)
def test_a_number_in_another_place_stays_text(content: dict[str, Value]) -> None:
    typed = type_content(content, RecordKind.SOURCE)

    assert typed == content


@pytest.mark.parametrize(
    ("text", "number"), [("0", 0), ("14", 14), ("-3", -3), ("999999999999999999", 999999999999999999)]
)
def test_a_whole_number_is_plain_digits(text: str, number: int) -> None:
    assert read_whole_number(text) == number


@pytest.mark.parametrize(
    "text", ["014", "0047", "1.0", "1e3", "xiv", "", "+3", "1_000", "1,000", " 1", "٣", "9" * 19, "-0047"]
)
def test_what_other_tools_would_read_otherwise_is_no_whole_number(text: str) -> None:
    assert read_whole_number(text) == text


@pytest.mark.parametrize("text", ["0", "4.490", ".5", "-0.25", "12", "100.000"])
def test_a_decimal_is_kept_digit_by_digit(text: str) -> None:
    number = read_decimal(text)

    assert isinstance(number, Decimal)
    assert number == Decimal(text)
    assert number.as_tuple() == Decimal(text).as_tuple()


@pytest.mark.parametrize("text", ["", "-", ".", "1.", "1,5", "1e3", "nan", "inf", "01.5", "٣", "--1", "1.2.3"])
def test_anything_else_is_no_decimal(text: str) -> None:
    assert read_decimal(text) == text


@pytest.mark.parametrize(("text", "value"), [("true", True), ("false", False), ("yes", "yes"), ("True", "True")])
def test_a_truth_value_is_true_or_false(text: str, value: object) -> None:
    assert read_truth_value(text) == value
