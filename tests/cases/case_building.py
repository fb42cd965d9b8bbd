"""What the cases need beside the builders: sightings in a word, verdicts and flags on the headlamp of No. 9.

Chances and points are worked with pencil and paper from three formulas:
    L = 10^(points/10);  carried over with agreement q: L' = (q L + 1-q) / ((1-q) L + q);  chance = L' / (1 + all L').
They are held to half a unit of the fourth place.
"""

from typing import Any

import pytest
from builders import FEATURE, TODAY, Record, an_archive, an_item, seen_on

from provenance.records.claims import EvidenceItem
from provenance.rules.findings import Findings
from provenance.rules.flag_values import Flag
from provenance.rules.flags import flags, flags_of
from provenance.rules.judging import judge_feature
from provenance.rules.verdicts import Candidate, Verdict


def near(*worked: float, within: float = 5e-5) -> Any:
    """Figures worked by hand, held to half a unit of the fourth place; one alone is no list."""
    return pytest.approx(worked[0] if len(worked) == 1 else list(worked), abs=within)


def view(source: str, example: str = "9", when: str | None = "1934", **fields: Any) -> EvidenceItem:
    """A sighting: the source shows the machine, known by its number unless `known_by` says otherwise."""
    seen = seen_on(example, when, fields.pop("known_by", "number"), fields.pop("told_by", ()))
    return an_item(source, fields.pop("how", "shows"), seen=seen, **fields)


def judge(*records: Record, about: str = FEATURE, without: str | None = None, **fields: Any) -> Verdict:
    """The verdict; `without` names one source or witness to leave out, other fields are those of the archive."""
    archive = an_archive(*records, **fields)
    return judge_feature(archive, about, without=frozenset({without} if without else ()))


def flags_on(*records: Record, about: str = FEATURE, **fields: Any) -> tuple[str, ...]:
    """The ids of the flags about the feature, the most pressing first."""
    return flags_of(about, _raised(*records, **fields))


def flag_on(flag_id: str, *records: Record, about: str = FEATURE, **fields: Any) -> Flag:
    """The one flag of that id about the feature."""
    (flag,) = (each for each in _raised(*records, **fields) if (each.flag, each.about) == (flag_id, about))
    return flag


def values(verdict: Verdict) -> dict[str, Candidate]:
    """The candidates by value, in the order of the verdict."""
    return {each.value: each for each in verdict.candidates}


def chances(verdict: Verdict) -> list[float]:
    """The chances of the candidates, in the order of the verdict."""
    return [each.posterior for each in verdict.candidates]


def counted(candidate: Candidate) -> list[str]:
    """The sources of the items in the weightiest set, in order."""
    return [item.source for item in candidate.items if item.counted]


def weights(candidate: Candidate) -> dict[str, float]:
    """The points of each item before carrying over, by source."""
    return {item.source: item.weight for item in candidate.items}


def _raised(*records: Record, **fields: Any) -> tuple[Flag, ...]:
    return flags(an_archive(*records, **fields), Findings(), today=TODAY.latest)
