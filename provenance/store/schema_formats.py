"""The formats that the schemas name, each read by the part of the records that knows it."""

from collections.abc import Callable
from typing import Any

from provenance.records.dates import parse_edtf
from provenance.records.examples import ExamplesError, parse_examples
from provenance.records.regions import parse_page_range, parse_region, parse_time_span
from provenance.records.wording import WordingError


def _one_term(text: str) -> object:
    return parse_examples([text])


_READERS: dict[str, Callable[[str], object]] = {
    "edtf": parse_edtf,
    "examples": parse_examples,
    "examples-term": _one_term,
    "page-range": parse_page_range,
    "region": parse_region,
    "time-span": parse_time_span,
}


def fault_of_format(name: str, text: str) -> tuple[str, str] | None:
    """Say what is wrong with a text that is to have a format, and the mend; None where nothing is."""
    try:
        _READERS[name](text)
    except (WordingError, ExamplesError) as error:
        return str(error), error.mend
    return None


def has_format(name: str) -> Callable[[Any], bool]:
    """The test of one format, as validators of JSON Schema want it; what is no text has every format."""

    def test(value: Any) -> bool:
        return not isinstance(value, str) or fault_of_format(name, value) is None

    return test


FORMATS: dict[str, Callable[[Any], bool]] = {name: has_format(name) for name in _READERS}
"""Every format that the schemas name, with its test."""
