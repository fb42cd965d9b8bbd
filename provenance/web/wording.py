"""What templates may call: texts of others made fit for a page, dates and chances in words."""

from collections.abc import Callable, Mapping
from typing import Any

from provenance.records.dates import EdtfDate
from provenance.reports.cautioned import caution_sentences
from provenance.reports.date_words import date_words
from provenance.reports.evidence_text import chance
from provenance.reports.fit_text import shown as fit
from provenance.reports.fit_text import stretches


def parted(text: str | None) -> list[tuple[str, bool]]:
    """A text made fit for a page, in stretches: each with whether it runs from right to left."""
    return list(stretches(fit(text))) if text else []


def date_or_nothing(date: EdtfDate | None) -> str:
    """A date in words; empty for none."""
    return date_words(date) if date else ""


FILTERS: Mapping[str, Callable[..., Any]] = {
    "caution_words": caution_sentences,
    "chance": chance,
    "fit": fit,
    "in_words": date_or_nothing,
    "parted": parted,
}
