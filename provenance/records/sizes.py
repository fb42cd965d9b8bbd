"""Sizes of a series: what wires, sheets and threads are named by."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from provenance.records.units import Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """One size of a series.

    Attributes:
        series: such as `SWG` or `BSF`.
        name: within its series, such as `16`, `3/0` or `1/4`.
        value: the diameter or thickness, in `unit`; of a thread its major diameter.
        unit: in which the standard gives it.
        step: the distance to its nearest neighbour in the series, in `unit`.
    """

    series: str
    name: str
    value: Fraction
    unit: Unit
    step: Fraction

    @property
    def written(self) -> str:
        """How the trade writes it, such as `16 SWG`."""
        return f"{self.name} {self.series}"

    @property
    def millimetres(self) -> Fraction:
        """Its diameter or thickness in mm."""
        return self.value * self.unit.factor


@dataclass(frozen=True, slots=True, kw_only=True)
class Thread(Size):
    """One size of a series of screw threads; its value is the major diameter, over the crests of the bolt.

    Attributes:
        pitch: from one thread to the next, in `unit`.
        core: the diameter at the root, in `unit`.
    """

    pitch: Fraction
    core: Fraction


def steps_between(values: Mapping[str, Fraction]) -> dict[str, Fraction]:
    """For each size of a series of two or more the distance to its nearest neighbour."""
    ordered = sorted(values.items(), key=lambda entry: entry[1])
    gaps = [after[1] - before[1] for before, after in pairwise(ordered)]
    near = zip((*gaps[:1], *gaps), (*gaps, *gaps[-1:]), strict=True)
    return {name: min(both) for (name, _), both in zip(ordered, near, strict=True)}
