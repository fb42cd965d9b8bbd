"""Answers about made archives, as the task composes them."""

from builders import (
    LAMPS,
    a_claim,
    a_component,
    a_decision,
    a_feature,
    a_source,
    against,
    an_archive,
    an_item,
    applies,
    seen_on,
)

from provenance.records.archive import Archive, Caution, Target
from provenance.records.claims import At, Claim
from provenance.records.components import Component
from provenance.records.dates import parse_edtf
from provenance.records.decisions import CopyPair, Decision
from provenance.records.regions import parse_region, parse_time_span
from provenance.records.sources import Source
from provenance.reports.evidence import Evidence, FeatureEvidence, compose_evidence
from provenance.reports.standing import Standing
from provenance.rules.judging import judge_feature


def the_answer(
    archive: Archive,
    standing: Standing | None = None,
    *,
    component: str = "headlamp",
    without: tuple[str, ...] = (),
    flags: tuple[str, ...] = (),
) -> Evidence:
    """What the component rests on; every feature is said to have the same flags."""
    names = [f"{component}/{feature.id}" for feature in archive.components[component].features]
    features = tuple(
        FeatureEvidence(verdict=judge_feature(archive, name, without=frozenset(without)), flags=flags) for name in names
    )
    target = archive.target or Target(example="9", as_at=parse_edtf("1934-06"))
    said = standing or Standing(archive=archive.title)
    return compose_evidence(archive, said, target, component, features, without=without)


def whole_archive(words: str = "as it was", *, reverse: bool = False) -> Archive:
    """An archive with a feature of each kind, evidence for and against, places of every sort, and hazards.

    Args:
        words: what stands wherever people may write what they like.
        reverse: whether the records come in the opposite order, which must change nothing.
    """
    places = (
        At(page=3, page_label=words, region=parse_region("percent:1,2,3,4")),
        At(time=parse_time_span("00:12:31"), who=words),
        At(file=2),
    )
    records: list[Source | Claim | Component | CopyPair | Decision] = [
        a_source("manual", "manual", title=words, creator=words),
        a_source("tape", "oral-history", title=words, creator=words, hazards=("beryllium",)),
        a_source("photo", title=words, hazards=("nitrate-film",)),
        a_component(
            "headlamp",
            a_feature("type", options=LAMPS, name=words),
            a_feature("rim", "text", name=words),
            a_feature("hood", "presence", name=words),
            a_feature("height", "quantity", aspect="dimension", name=words),
            a_feature("glass", "text", name=words),
            hazards=("asbestos",),
            name=words,
        ),
        a_claim(
            "acetylene",
            an_item("manual", at=places[0], quote=words),
            an_item("tape", at=places[1], quote=words),
            an_item("photo", "shows", at=places[2], seen=seen_on("9", "1934")),
            claim_id="acetylene",
        ),
        a_claim("electric", against("letter", quote=words), an_item("book"), claim_id="electric"),
        a_claim(words or "broad", "manual", about="headlamp/rim", claim_id="rim"),
        a_claim("present", against("photo", "shows"), about="headlamp/hood", claim_id="hood", to=applies("1..3")),
        a_claim("3 ft 4 1/2 in", "drawing", about="headlamp/height", claim_id="height"),
        a_decision("lamp", basis=("acetylene",), build=words, why=words),
    ]
    return an_archive(
        *(records[::-1] if reverse else records),
        title=words,
        target=Target(example="9", as_at=parse_edtf("1934-06"), why=words),
        cautions=(Caution(hazard="asbestos", text=words, consult=words),),
        weights={"base.manual": "10.5"},
    )
