"""Records on a page by their names and titles, where the answers have their ids."""

import re

from provenance.records.archive import Archive
from provenance.reports.feature_words import feature_name
from provenance.rules.resting import Resting

_ID = re.compile(r"[a-z0-9][a-z0-9-]*(?:/[a-z0-9-]+)?")
"""What may be the id of a record, or of a feature of a component."""


def claim_name(title: str, archive: Archive) -> str:
    """The title of a claim, `component/feature: value`, with the names of both instead of their ids."""
    about, _, value = title.partition(": ")
    return f"{feature_name(about, archive)}: “{value}”" if about in archive.features else title


def named(text: str, archive: Archive, here: str = "") -> str:
    """A sentence in which records stand by their ids, with their names and titles instead.

    Args:
        text: such as `claims “broad”, and photo-9, page 1 supports it`.
        archive: where the names are.
        here: the source that the page is of, which is called so: “this source”; empty for none.

    A word is taken for an id only where it has a hyphen, a slash or a figure in it, so that a value or a plain word
    that happens to be an id too stays as it is.
    """

    def name(found: re.Match[str]) -> str:
        word = found[0]
        if not re.search(r"[-/0-9]", word):
            return word
        if word == here:
            return "this source"
        if word in archive.claims:
            return f"the claim of “{archive.claims[word].value}”"
        told = feature_name(word, archive)
        if word in archive.sources:
            told = archive.sources[word].title
        elif word in archive.panels:
            told = archive.panels[word].title
        return word if told == word else f"“{told}”"

    return _ID.sub(name, text)


def resting_words(resting: Resting, archive: Archive, here: str) -> tuple[str, str]:
    """What rests on a source, in words: what it is called, and how it rests on it.

    Args:
        resting: a record and how it rests on the source, as `used` tells it.
        archive: where the names are.
        here: the source that it rests on, which is called “this source”.
    """
    kind, _, name = resting.record.removesuffix(".yaml").partition("/")
    judged = (
        archive.claims.get(name) if kind == "claims" else archive.decisions.get(name) if kind == "decisions" else None
    )
    if judged is not None:
        how = resting.how.replace(f" for {judged.about}", "", 1)
        return feature_name(judged.about, archive), named(how, archive, here)
    called = {"copies": "A pair of sources", "queries": "A query", "leads": "A lead"}.get(kind, resting.record)
    if kind == "components" and name in archive.components:
        called = archive.components[name].name
    elif kind == "sources" and name in archive.sources:
        called = archive.sources[name].title
    elif kind == "panels" and name in archive.panels:
        called = f"The panel “{archive.panels[name].title}”"
    return called, named(resting.how, archive, here)
