"""A change-over: one value before, another after, and the machine represented somewhere between what was seen."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from provenance.records.dates import EdtfDate


class Over(StrEnum):
    """What a change runs over: the machines in order of production, or the life of one machine."""

    SEQUENCE = "sequence"
    TIME = "time"


@dataclass(frozen=True, slots=True, kw_only=True)
class Sighted:
    """One machine on which a value was seen.

    Attributes:
        example: its number.
        value: as the answer gives it.
        shown: as people read it.
        when: None when that is not known.
        sources: ids of the sources that show it, in order.
    """

    example: str
    value: str
    shown: str
    when: EdtfDate | None
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeOver:
    """One change from one value to another, and how likely the machine represented has which.

    Attributes:
        over: the order of production, or time.
        before: the nearest sighting before the machine (or the day) represented.
        after: the nearest one after it.
        value: the likelier of the two values.
        probability: how likely the machine represented has it, from .5 to 1.
        chances: over the sequence, for each machine from `before` to `after` in order of production, how likely it has
            the value of `after`; empty over time.
    """

    over: Over
    before: Sighted
    after: Sighted
    value: str
    probability: float
    chances: tuple[tuple[str, float], ...] = ()

    def renamed(self, names: Mapping[str, tuple[str, str]]) -> "ChangeOver":
        """Give the same change with its values as they are called once figures have been summed up.

        Args:
            names: for each value what the answer calls it, and what people read.
        """
        (before, before_shown), (after, after_shown) = names[self.before.value], names[self.after.value]
        return replace(
            self,
            before=replace(self.before, value=before, shown=before_shown),
            after=replace(self.after, value=after, shown=after_shown),
            value=names[self.value][0],
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeAnswer:
    """Whether a change-over was computed, and what is said of it.

    Attributes:
        change_over: None where none is computed.
        said: one plain sentence, such as why none is computed; empty where there is nothing to say.
    """

    change_over: ChangeOver | None = None
    said: str = ""
