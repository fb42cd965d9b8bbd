"""The answer of `descent`: what a source was made from and what was made from it, or what a feature goes back to."""

from collections.abc import Mapping
from dataclasses import dataclass

from provenance.records.decisions import CopyPair
from provenance.records.sources import Source
from provenance.reports.cautioned import cautions_json
from provenance.reports.standing import Standing
from provenance.rules.cautions import StandingCaution
from provenance.rules.family_tree import FamilyTree, Link
from provenance.rules.verdicts import Candidate, Verdict

STANDS_ON = "stands-on"
"""What `how` says in the JSON where nothing was made, and the evidence stands on what another source says."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Descended:
    """A family of sources.

    Attributes:
        about: what was asked about: the id of a source, or `component/feature`.
        tree: how they hang together.
        sources: every source that the tree names, by id, with those that they are kept in.
        people: names by id, for those who ruled.
        verdict: on the feature that was asked about; None where it was a source.
        bottleneck: what all evidence of weight for the best value of that feature goes back to, the nearest to the
            evidence first: source ids, `*unstated*`, `witness:NAME`; empty where there is no such thing, and for a
            source.
        resting: the verdicts on the features of which every witness goes back to the source that was asked about, by
            `component/feature`; None where they could not be judged.
        holding: the sources that are kept inside the one that was asked about, in order of id; empty for a feature.
        not_judged: why not; empty where they were.
        cautions: of the sources in the tree, and of the components that the features belong to.
    """

    standing: Standing
    about: str
    tree: FamilyTree
    sources: Mapping[str, Source]
    people: Mapping[str, str]
    verdict: Verdict | None = None
    bottleneck: tuple[str, ...] = ()
    resting: tuple[Verdict, ...] | None = ()
    not_judged: str = ""
    holding: tuple[str, ...] = ()
    cautions: tuple[StandingCaution, ...] = ()

    @property
    def best(self) -> Candidate | None:
        """The best value of the feature that was asked about; None for a source, and where nothing supports any."""
        return self.verdict.best if self.verdict else None

    def person(self, person_id: str | None) -> str | None:
        """Name somebody; None where nobody is named."""
        return None if person_id is None else self.people.get(person_id, person_id)


def descended_json(descended: Descended) -> dict[str, object]:
    """The JSON answer `descent`."""
    tree = descended.tree
    resting = descended.resting
    return {
        **descended.standing.as_json("descent"),
        "cautions": cautions_json(descended.cautions),
        "about": descended.about,
        "nodes": [_node_json(descended, source_id) for source_id in tree.members],
        "edges": [_edge_json(descended, link) for link in tree.links],
        "pairs": [_pair_json(descended, pair) for pair in (*tree.pairs, *tree.ruled_out)],
        "origins": [
            {"origin": tie.origin, "sources": list(tie.sources), "others": list(tie.others)} for tie in tree.ties
        ],
        "holds": list(descended.holding),
        "circles": [list(circle) for circle in tree.circles],
        "features": None if resting is None else [_feature_json(verdict) for verdict in resting],
        "evidence": _evidence_json(descended),
        "said": descended.not_judged,
    }


def _node_json(descended: Descended, source_id: str) -> dict[str, object]:
    source = descended.sources[source_id]
    return {
        "source": source_id,
        "title": source.title,
        "kind": source.kind.value if source.kind else None,
        "created": source.created.text if source.created else None,
        "files": len(source.files),
        "withdrawn": source.withdrawn is not None,
        "kept_in": source.within.source if source.within else None,
    }


def _edge_json(descended: Descended, link: Link) -> dict[str, object]:
    return {
        "from": link.later,
        "to": link.earlier,
        "how": STANDS_ON if link.how is None else link.how.value,
        "note": link.note,
        **_ruling_json(descended, link.pair),
    }


def _pair_json(descended: Descended, pair: CopyPair) -> dict[str, object]:
    return {
        "between": list(pair.between),
        "how": pair.how.value if pair.how else None,
        **_ruling_json(descended, pair),
    }


def _ruling_json(descended: Descended, pair: CopyPair | None) -> dict[str, object]:
    return {
        "pair": pair.id if pair else None,
        "ruling": pair.ruling.value if pair else None,
        "ruled_by": descended.person(pair.ruled_by) if pair else None,
        "ruled_date": pair.ruled_date.text if pair and pair.ruled_date else None,
        "why": pair.why_ruled if pair else None,
        "alike": pair.why if pair else None,
    }


def _feature_json(verdict: Verdict) -> dict[str, object]:
    return {
        "feature": verdict.feature,
        "name": verdict.name,
        "value": verdict.value,
        "lines": verdict.lines,
        "claims": sorted({item.claim for item in verdict.best.supporting}) if verdict.best else [],
        "sources": sorted({item.source for item in verdict.best.supporting}) if verdict.best else [],
    }


def _evidence_json(descended: Descended) -> dict[str, object] | None:
    verdict = descended.verdict
    if verdict is None:
        return None
    return {
        **_feature_json(verdict),
        "bottleneck": list(descended.bottleneck),
        "overlaps": [{"sources": list(each.sources), "shared": list(each.shared)} for each in verdict.overlaps],
    }
