"""Registers of made archives, as the task composes them."""

from dataclasses import replace
from typing import Any

from builders import (
    BY,
    a_claim,
    a_component,
    a_date,
    a_decision,
    a_feature,
    a_source,
    an_archive,
    an_item,
    seen_on,
    shows,
)
from public_archives import DAY, an_open_source

from provenance.records.archive import Archive, Subject
from provenance.records.decisions import Made, ModernChange
from provenance.records.kinds import Publish
from provenance.records.regions import PageRange
from provenance.records.sources import Rights, Within
from provenance.reports.registers import FeatureRegister, FeatureRow, Occasion, SourceRegister, SourceRow
from provenance.reports.registers_features import compose_feature_register
from provenance.reports.registers_sources import compose_source_register
from provenance.rules.public_view import public_view


def an_occasion(*, draft: bool = False, held_privately: int = 0, left_out: int = 0) -> Occasion:
    """A register for the day of these tests."""
    return Occasion(printed=a_date(str(DAY)), draft=draft, held_privately=held_privately, left_out=left_out)


def the_sources(archive: Archive, **changed: Any) -> SourceRegister:
    """The register of sources of an archive."""
    return compose_source_register(public_view(archive, DAY), an_occasion(**changed))


def the_features(archive: Archive, **changed: Any) -> FeatureRegister:
    """The register of features of an archive."""
    return compose_feature_register(public_view(archive, DAY), an_occasion(**changed))


def source_rows(archive: Archive) -> dict[str, SourceRow]:
    """The rows of the register of sources, by record."""
    return {row.record: row for row in the_sources(archive).rows}


def feature_rows(archive: Archive) -> dict[str, FeatureRow]:
    """The rows of the register of features, by record."""
    return {row.record: row for row in the_features(archive).rows}


def an_archive_with_everything(words: str = "as it was") -> Archive:
    """A source and a feature in which every field is filled; `words` stand where people write."""
    album = an_open_source("album", title=f"Album {words}", tagged=False)
    old = an_open_source("issue-b", "drawing", title=f"Issue B {words}", issue="B")
    full = an_open_source(
        "issue-c",
        "drawing",
        title=words,
        created="1934-06~",
        creator=words,
        holder=words,
        reference=words,
        occasion=words,
        language=("de", "en"),
        issue=words,
        replaces="issue-b",
        of=("redrawn:album", "print:ledger"),
        within=Within(source="album", pages=PageRange(first=3, last=7)),
        shows=(shows("9", "1934-06", "number", "headlamp"), shows(None)),
        reliability="C",
        reliability_why=words,
        executed=False,
        altered="retouched",
        process="monochrome",
        hazards=("nitrate-film",),
        rights=Rights(statement="InC", credit=words, publish=Publish.ASK, holder="heirs of the maker"),
    )
    ledger = a_source("ledger", "notes", title="Ledger of the works")
    photo = an_open_source("photo", created="1934-06", creator=words, title=words)
    claim = a_claim("electric", an_item("photo", "shows", seen=seen_on("9", "1934-06"), page=1), an_item("issue-c"))
    part = a_component(
        "headlamp",
        a_feature(),
        a_feature("lagging", "text", "material", name=f"Lagging {words}"),
        name=f"Headlamp {words}",
        hazards=("asbestos",),
        made_as="reproduction",
        part_of="cab",
    )
    cab = a_component("cab", a_feature("form", "text", name="Form"), name=f"Cab {words}")
    changed = a_decision(
        "lag",
        "headlamp/lagging",
        build=words,
        modern_change=ModernChange(reason="safety", note=words),
        stamp="R9",
        made=(Made(date=a_date("2026-02"), by=BY, value=words, fits="badly", inspected_by=BY, note=words),),
    )
    archive = an_archive(album, old, full, ledger, photo, claim, part, cab, changed)
    return replace(archive, subject=Subject(name=f"Railcar {words}", claims_to_be="reproduction"), title=words)
