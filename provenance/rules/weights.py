"""The weights and thresholds of judgement: one table of the standard ones, and what a team changed of them.

They are common practice, no published source. Decibans are those of I. J. Good, *Probability and the Weighing of
Evidence* (1950): ten times the common logarithm of the likelihood ratio.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from provenance.records.archive import Archive
from provenance.records.kinds import How, SourceKind
from provenance.rules.grades import Category

STANDARD: Mapping[str, float] = {
    "base.artefact": 16,
    "base.photograph": 14,
    "base.survey": 14,
    "base.analysis": 14,
    "base.film": 12,
    "base.drawing": 12,
    "base.specification": 11,
    "base.manual": 11,
    "base.catalogue": 11,
    "base.logbook": 11,
    "base.report": 9,
    "base.letter": 8,
    "base.newspaper": 5,
    "base.oral-history": 5,
    "base.book": 4,
    "base.opinion": 4,
    "base.artwork": 4,
    "base.notes": 3,
    "base.scale-model": 2,
    "base.3d-model": 2,
    "base.website": 2,
    "reliability.A": 1,
    "reliability.B": 0.8,
    "reliability.C": 0.6,
    "reliability.D": 0.4,
    "reliability.E": 0.1,
    "reliability.F": 0.5,
    "how.measured": 1,
    "how.shows": 1,
    "how.states": 1,
    "how.implies": 0.5,
    "how.analogy": 0.25,
    "doubtful": 0.5,
    "late_memory": 0.5,
    "late_years": 10,
    "agreement.itself": 1,
    "agreement.covered": 0.98,
    "agreement.same-batch": 0.9,
    "agreement.same-type": 0.75,
    "agreement.related-type": 0.6,
    "same_time": 5,
    "batch_step": 5,
    "contested": 0.15,
    "established": 0.95,
    "probable": 0.8,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Weights:
    """The weights that a judgement uses.

    Attributes:
        base: decibans of a source of that kind that speaks clearly and directly.
        reliability: factor by the letter of AJP-2.1; a source without a letter counts in full.
        how: factor by how an item speaks.
        agreement: how often another machine of that category agrees with this one, from .5 to 1.
        doubtful: factor for a place that can hardly be read.
        late_memory: factor for an account made long after what it speaks of.
        late_years: how long that is, in calendar years.
        same_time: within how many calendar years a machine is taken to have stayed the same.
        batch_step: how many times as likely a change is with the first machine of a batch.
        contested: the chance from which a rival value is one to reckon with.
        established: the chance that an established value needs.
        probable: the chance that a probable value needs.
    """

    base: Mapping[SourceKind, float]
    reliability: Mapping[str, float]
    how: Mapping[How, float]
    agreement: Mapping[Category, float]
    doubtful: float
    late_memory: float
    late_years: int
    same_time: int
    batch_step: float
    contested: float
    established: float
    probable: float


CARRIED = (Category.ITSELF, Category.COVERED, Category.SAME_BATCH, Category.SAME_TYPE, Category.RELATED_TYPE)
"""The categories that carry weight, the nearest first."""


def weights_of(archive: Archive) -> Weights:
    """Give the standard weights with the team's own in their place."""
    return _weights(tuple(archive.weights.items()))


@lru_cache(maxsize=64)
def _weights(own: tuple[tuple[str, Decimal], ...]) -> Weights:
    """Make the table; it is asked for again and again where one feature is judged over and over."""
    changed = dict(own)
    table = {path: float(changed.get(path, standard)) for path, standard in STANDARD.items()}
    return Weights(
        base={kind: table[f"base.{kind}"] for kind in SourceKind},
        reliability={letter: table[f"reliability.{letter}"] for letter in "ABCDEF"},
        how={how: table[f"how.{how}"] for how in How},
        agreement={category: table[f"agreement.{category}"] for category in CARRIED},
        doubtful=table["doubtful"],
        late_memory=table["late_memory"],
        late_years=int(table["late_years"]),
        same_time=int(table["same_time"]),
        batch_step=table["batch_step"],
        contested=table["contested"],
        established=table["established"],
        probable=table["probable"],
    )


def changed_weights(archive: Archive) -> tuple[tuple[str, float, float], ...]:
    """List what the team changed, as path, its own weight and the standard one, in order of the table."""
    return tuple(
        (path, float(archive.weights[path]), standard)
        for path, standard in STANDARD.items()
        if path in archive.weights and float(archive.weights[path]) != standard
    )
