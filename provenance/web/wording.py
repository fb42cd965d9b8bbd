"""What templates may call: texts of others made fit for a page, dates and chances in words."""

from collections.abc import Callable, Mapping
from typing import Any

from provenance.records.dates import EdtfDate
from provenance.reports.cautioned import caution_sentences
from provenance.reports.date_words import date_words
from provenance.reports.evidence_text import chance
from provenance.reports.feature_words import feature_name
from provenance.reports.fit_text import shown as fit
from provenance.reports.fit_text import stretches
from provenance.web.naming import claim_name, named, resting_words


def parted(text: str | None) -> list[tuple[str, bool]]:
    """A text made fit for a page, in stretches: each with whether it runs from right to left."""
    return list(stretches(fit(text))) if text else []


def date_or_nothing(date: EdtfDate | None) -> str:
    """A date in words; empty for none."""
    return date_words(date) if date else ""


def sentences(text: str) -> list[str]:
    """The sentences of a text, so that a page can set each on a line of its own; joined by blanks they are the text.

    A sentence ends with a full stop, a question mark or an exclamation mark before a blank and a capital letter or an
    opening quotation mark; what stands in quotation marks or brackets is never parted.
    """
    found, begin, depth = [], 0, 0
    for at, letter in enumerate(text):
        depth += (letter in "“(") - (letter in "”)")
        follows = text[at + 1 : at + 3]
        if depth <= 0 and letter in ".?!" and follows[:1] == " " and (follows[1:].isupper() or follows[1:] == "“"):
            found.append(text[begin : at + 1])
            begin = at + 2
    return [each for each in (*found, text[begin:]) if each]


FILTERS: Mapping[str, Callable[..., Any]] = {
    "caution_words": caution_sentences,
    "chance": chance,
    "claim_name": claim_name,
    "feature_name": feature_name,
    "fit": fit,
    "in_words": date_or_nothing,
    "named": named,
    "resting_words": resting_words,
    "parted": parted,
    "sentences": sentences,
}
