"""The JSON answer of `evidence`."""

from provenance.records.claims import At
from provenance.records.decisions import Decision
from provenance.reports.cautioned import cautions_json
from provenance.reports.evidence import Evidence, FeatureEvidence
from provenance.reports.sequence import sequence_json
from provenance.rules.change_values import ChangeOver, Sighted
from provenance.rules.quantity_values import MeasuredValue, Quantity
from provenance.rules.sensitivity import OtherWeight, Sensitivity
from provenance.rules.verdicts import Candidate, JudgedItem, Verdict


def evidence_json(evidence: Evidence) -> dict[str, object]:
    """The JSON answer `evidence`."""
    return {
        **evidence.standing.as_json("evidence"),
        "for": evidence.audience,
        "notices": list(evidence.notices),
        "target": {
            "example": evidence.target.example,
            "as_at": evidence.target.as_at.text,
            "why": evidence.target.why,
        },
        "without": list(evidence.without),
        "cautions": cautions_json(evidence.cautions),
        "our_weights": {name: ours for name, ours, _ in evidence.our_weights},
        "features": [_feature_json(feature) for feature in evidence.features],
    }


def _feature_json(feature: FeatureEvidence) -> dict[str, object]:
    verdict = feature.verdict
    decision = verdict.decision
    return {
        "feature": verdict.feature,
        "name": verdict.name,
        "kind": verdict.kind.value,
        "grade": verdict.grade.value,
        "value": verdict.value,
        "quantity": None if verdict.quantity is None else _quantity_json(verdict.quantity),
        "posterior": verdict.posterior,
        "lines": verdict.lines,
        "rests_on": list(verdict.rests_on),
        "lines_if_ruled_out": verdict.lines_if_ruled_out,
        "change_over": None if verdict.change_over is None else _change_json(verdict.change_over),
        "sequence": None if feature.sequence is None else sequence_json(feature.sequence),
        "explanation": feature.explanation,
        "hangs_on": _hangs_json(feature.sensitivity),
        "weights_that_matter": [_weight_json(each) for each in _weights(feature.sensitivity)],
        "decision": None if decision is None else _decision_json(decision),
        "flags": list(feature.flags),
        "candidates": [_candidate_json(candidate) for candidate in verdict.candidates],
    }


def _quantity_json(quantity: Quantity) -> dict[str, object]:
    return {
        "unit": quantity.unit,
        "nominal": quantity.nominal,
        "nominal_written": quantity.nominal_written,
        "mean": quantity.mean,
        "expanded": quantity.expanded,
        "chi_square": quantity.chi_square,
        "degrees": quantity.degrees,
        "birge": quantity.birge,
        "consistent": quantity.consistent,
        "between": quantity.between,
        "needed": quantity.needed,
        "values": [_measured_json(value) for value in quantity.values],
        "near": [{"name": near.name, "value": near.value} for near in quantity.near],
    }


def _measured_json(value: MeasuredValue) -> dict[str, object]:
    return {
        "claim": value.claim,
        "source": value.source,
        "written": value.written,
        "value": value.value,
        "half_width": value.half_width,
        "standard": value.standard,
        "is_nominal": value.is_nominal,
        "condition": value.condition.value,
        "applies": value.applies.value,
        "weight": value.weight,
        "counted": value.counted,
    }


def _change_json(change: ChangeOver) -> dict[str, object]:
    return {
        "over": change.over.value,
        "before": _sighted_json(change.before),
        "after": _sighted_json(change.after),
        "value": change.value,
        "probability": change.probability,
        "chances": [{"example": example, "of_after": chance} for example, chance in change.chances],
    }


def _sighted_json(sighted: Sighted) -> dict[str, object]:
    return {
        "example": sighted.example,
        "value": sighted.value,
        "when": None if sighted.when is None else sighted.when.text,
        "sources": list(sighted.sources),
    }


def _hangs_json(sensitivity: Sensitivity | None) -> dict[str, object] | None:
    if sensitivity is None or sensitivity.loss is None:
        return None
    return {"source": sensitivity.loss.source, **_outcome_json(sensitivity.loss.then)}


def _weights(sensitivity: Sensitivity | None) -> tuple[OtherWeight, ...]:
    return sensitivity.weights if sensitivity else ()


def _weight_json(changed: OtherWeight) -> dict[str, object]:
    return {"weight": changed.weight, "factor": float(changed.factor), **_outcome_json(changed.then)}


def _outcome_json(then: Verdict) -> dict[str, object]:
    return {"grade": then.grade.value, "value": then.value, "posterior": then.posterior, "lines": then.lines}


def _decision_json(decision: Decision) -> dict[str, object]:
    released = decision.released
    return {
        "id": decision.id,
        "status": decision.status,
        "build": decision.build,
        "why": decision.why,
        "released": None if released is None else {"by": released.by, "date": released.date.text},
    }


def _candidate_json(candidate: Candidate) -> dict[str, object]:
    return {
        "value": candidate.value,
        "grade": candidate.grade.value,
        "posterior": candidate.posterior,
        "lines": candidate.lines,
        "weight_for": candidate.weight_for,
        "weight_against": candidate.weight_against,
        "items": [_item_json(item) for item in candidate.items],
    }


def _item_json(item: JudgedItem) -> dict[str, object]:
    return {
        "claim": item.claim,
        "source": item.source,
        "at": place_json(item.at),
        "stance": item.stance.value,
        "how": item.how.value,
        "applies": item.applies.value,
        "weight": item.weight,
        "counted": item.counted,
        "quote": item.quote,
        "told_by": {sign: seen.value for sign, seen in item.told_by},
    }


def place_json(at: At) -> dict[str, object]:
    """A place in a source; what is not said is left out."""
    said = {
        "page": at.page,
        "page_label": at.page_label,
        "region": None if at.region is None else str(at.region),
        "time": None if at.time is None else str(at.time),
        "file": at.file,
        "who": at.who,
    }
    return {name: value for name, value in said.items() if value is not None}
