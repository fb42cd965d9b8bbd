"""The parts that several kinds of record share, built from typed content that its schema has passed."""

from typing import Any

from provenance.records.claims import AppliesTo
from provenance.records.dates import EdtfDate, parse_edtf
from provenance.records.examples import parse_examples
from provenance.records.sources import Withdrawal


def build_date(written: str | None) -> EdtfDate | None:
    """The date of a field; None where the field is absent."""
    return None if written is None else parse_edtf(written)


def build_withdrawal(content: dict[str, Any] | None) -> Withdrawal | None:
    """Why a record was withdrawn; None while it takes part."""
    if content is None:
        return None
    return Withdrawal(why=content["why"], by=content["by"], date=parse_edtf(content["date"]))


def build_applies_to(content: dict[str, Any]) -> AppliesTo:
    """What a statement says it covers."""
    examples = content.get("examples")
    return AppliesTo(
        examples=None if examples is None else parse_examples(examples),
        batch=content.get("batch"),
        related=content.get("related"),
        since=build_date(content.get("from")),
        until=build_date(content.get("until")),
    )
