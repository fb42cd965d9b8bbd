"""Figures of the order of production for made archives, and what their JSON must be."""

from dataclasses import replace

from builders import FEATURE
from rules.sighting_groups import groups_of

from provenance.records.archive import Archive
from provenance.reports.sequence import SequenceFigure, sequence_of
from provenance.rules.change_over import change_over
from provenance.rules.judging import judge_feature
from provenance.rules.verdicts import Verdict
from provenance.rules.weights import weights_of


def judged(archive: Archive) -> Verdict:
    """The verdict on the feature of the headlamp, with what is said of a change along the sequence."""
    answer = change_over(archive.features[FEATURE], groups_of(archive), archive, weights_of(archive))
    return replace(judge_feature(archive, FEATURE), change_over=answer.change_over, change_said=answer.said)


def a_figure(archive: Archive) -> SequenceFigure | None:
    """The figure of the feature of the headlamp; None where no machine was seen."""
    return sequence_of(archive, judged(archive))


_TEXT_OR_NULL = {"type": ["string", "null"]}
_TEXTS = {"type": "array", "items": {"type": "string"}}


def _an_object(**properties: object) -> dict[str, object]:
    return {
        "type": "object",
        "additionalProperties": False,
        "required": list(properties),
        "properties": properties,
    }


_SEEN = _an_object(
    values={**_TEXTS, "minItems": 1},
    against={"type": "boolean"},
    when=_TEXT_OR_NULL,
    known_by={"enum": ["number", "caption", "likeness"]},
    sources={**_TEXTS, "minItems": 1},
    direct={"type": "boolean"},
    counts={"type": "boolean"},
    why_not=_TEXT_OR_NULL,
)
_EXAMPLE = _an_object(
    example={"type": "string"},
    chance={"type": ["number", "null"], "minimum": 0, "maximum": 1},
    seen={"type": "array", "items": _SEEN},
)
_BATCH = _an_object(batch={"type": "string"}, built={"type": "string"}, examples={"type": "array", "items": _EXAMPLE})
_FIGURE = _an_object(
    target=_TEXT_OR_NULL, earlier=_TEXT_OR_NULL, later=_TEXT_OR_NULL, batches={"type": "array", "items": _BATCH}
)
SCHEMA: dict[str, object] = {**_FIGURE, "type": ["object", "null"]}
"""The JSON of the figure."""
