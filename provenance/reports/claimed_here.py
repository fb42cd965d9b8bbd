"""What was claimed from a source already, item by item, with the place that each names."""

from collections.abc import Iterator
from dataclasses import dataclass

from provenance.records.archive import Archive
from provenance.records.claims import Claim, EvidenceItem
from provenance.records.kinds import Stance
from provenance.records.regions import Region, RegionUnit
from provenance.reports.feature_words import feature_name


@dataclass(frozen=True, slots=True, kw_only=True)
class ClaimedHere:
    """One item of evidence from the source.

    Attributes:
        number: that marks its place on the picture, from 1; None for an item without a part of the page in percent.
        called: the feature, by the name of its component and its own.
        value: by the name of the option where it is one, else as it was worded.
        is_against: whether it speaks against the value.
    """

    claim: Claim
    item: EvidenceItem
    number: int | None
    called: str
    value: str

    @property
    def is_against(self) -> bool:
        """Whether it speaks against the value."""
        return self.item.stance is Stance.CONTRADICTS

    @property
    def region(self) -> Region | None:
        """The part of the page, where it is told in percent."""
        return _placed(self.item)


def claimed_here(archive: Archive, source: str, page: int | None) -> tuple[ClaimedHere, ...]:
    """Tell what was claimed from a page of a source, or from the source where it names no page; in order of the claims.

    What was withdrawn is left out.

    Args:
        archive: the archive.
        source: its id.
        page: counted from 1; None for what names no page.
    """
    return tuple(_numbered(archive, _items(archive, source, page)))


def _items(archive: Archive, source: str, page: int | None) -> Iterator[tuple[Claim, EvidenceItem]]:
    for claim in archive.claims.values():
        for item in claim.evidence if claim.withdrawn is None else ():
            if item.source == source and item.at.page == page and item.withdrawn is None:
                yield claim, item


def _numbered(archive: Archive, items: Iterator[tuple[Claim, EvidenceItem]]) -> Iterator[ClaimedHere]:
    number = 0
    for claim, item in items:
        number += _placed(item) is not None
        option = archive.features[claim.about].option_named(claim.value)
        yield ClaimedHere(
            claim=claim,
            item=item,
            number=number if _placed(item) is not None else None,
            called=feature_name(claim.about, archive),
            value=option.name if option else claim.value,
        )


def _placed(item: EvidenceItem) -> Region | None:
    region = item.at.region
    return region if region is not None and region.unit is RegionUnit.PERCENT else None
