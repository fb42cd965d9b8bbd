"""The answer of `copies`: pairs of sources that look alike, and what each ruling on them would change."""

from collections.abc import Mapping
from dataclasses import dataclass

from provenance.records.archive import Archive
from provenance.records.decisions import AlikePlace, CopyPair
from provenance.records.kinds import Derivation, Ruling
from provenance.records.sources import Source
from provenance.reports.cautioned import cautions_json
from provenance.reports.standing import Standing
from provenance.reports.tried import Change, changes_json
from provenance.rules.cautions import StandingCaution


@dataclass(frozen=True, slots=True, kw_only=True)
class Making:
    """That one of two sources was made from the other.

    Attributes:
        later: the id of the copy.
        earlier: the id of what it was made from.
        how: how; a guess by what the two are, where nobody has said it; None where it goes back to it by way of others.
        is_on_record: whether the record of the copy says so already.
    """

    later: str
    earlier: str
    how: Derivation | None
    is_on_record: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class TriedRuling:
    """What one ruling on a pair would change.

    Attributes:
        ruling: the ruling that was tried: `copy` or `distinct`.
        making: of a copy, which was taken to be made from which; None where their dates do not say. Of a distinct pair,
            what is on record and would have to go; None for nothing.
        changes: by feature, in order.
    """

    ruling: Ruling
    making: Making | None
    changes: tuple[Change, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedPair:
    """A pair, with what each ruling but the one that it has would change.

    Attributes:
        pair: the record.
        tried: None where nothing can be judged yet.
    """

    pair: CopyPair
    tried: tuple[TriedRuling, ...] | None

    @property
    def would_change(self) -> tuple[str, ...]:
        """The features whose verdict some ruling would change, in order."""
        return tuple(sorted({change.feature for each in self.tried or () for change in each.changes}))


@dataclass(frozen=True, slots=True, kw_only=True)
class Copies:
    """The pairs that were asked for.

    Attributes:
        archive: whose records they are; for titles and names.
        asked: the ruling that was asked for: `open`, `copy`, `distinct` or `all`.
        pairs: open ones first, then by how many verdicts they would change, then by id.
        counts: how many pairs there are of each ruling, within what was narrowed to.
        component: the id of the component that was asked for; None for all.
        source: the id of the source that was asked for; None for all.
        cautions: for the hazards of the sources.
    """

    standing: Standing
    archive: Archive
    asked: str
    pairs: tuple[ListedPair, ...]
    counts: Mapping[Ruling, int]
    component: str | None = None
    source: str | None = None
    cautions: tuple[StandingCaution, ...] = ()


def copies_json(copies: Copies) -> dict[str, object]:
    """The JSON answer `copies`."""
    return {
        **copies.standing.as_json("copies"),
        "cautions": cautions_json(copies.cautions),
        "open": copies.counts[Ruling.OPEN],
        "copy": copies.counts[Ruling.COPY],
        "distinct": copies.counts[Ruling.DISTINCT],
        "pairs": [_pair_json(copies.archive, listed) for listed in copies.pairs],
    }


def _pair_json(archive: Archive, listed: ListedPair) -> dict[str, object]:
    pair, found = listed.pair, listed.pair.found_by
    return {
        "between": list(pair.between),
        "ruling": pair.ruling.value,
        "method": found.method if found else None,
        "score": found.score if found else None,
        "why": pair.why,
        "would_change": None if listed.tried is None else list(listed.would_change),
        "if_ruled": None if listed.tried is None else [_tried_json(each) for each in listed.tried],
        "sources": [_source_json(archive.sources[each]) for each in pair.between],
        "places": [_place_json(each) for each in found.places] if found else [],
        "by": pair.by,
        "date": str(pair.date),
        "how": pair.how.value if pair.how else None,
        "why_ruled": pair.why_ruled,
        "ruled_by": pair.ruled_by,
        "ruled_date": str(pair.ruled_date) if pair.ruled_date else None,
        "note": pair.note,
    }


def _tried_json(tried: TriedRuling) -> dict[str, object]:
    making = tried.making
    return {
        "ruling": tried.ruling.value,
        "later": making.later if making else None,
        "earlier": making.earlier if making else None,
        "how": making.how.value if making and making.how else None,
        "on_record": making is not None and making.is_on_record,
        "changes": changes_json(tried.changes),
    }


def _source_json(source: Source) -> dict[str, object]:
    return {
        "source": source.id,
        "title": source.title,
        "kind": source.kind.value if source.kind else None,
        "created": str(source.created) if source.created else None,
    }


def _place_json(place: AlikePlace) -> dict[str, object]:
    return {
        "page": place.page,
        "region": str(place.region) if place.region else None,
        "time": str(place.time) if place.time else None,
    }
