"""A component: one assembly, sub-assembly or fitting, with the features that must be decided."""

from dataclasses import dataclass

from provenance.records.dates import EdtfDate
from provenance.records.examples import ExampleSet
from provenance.records.kinds import Aspect, Changes, Expected, FeatureKind
from provenance.records.wording import fold_wording


@dataclass(frozen=True, slots=True, kw_only=True)
class OptionSign:
    """How often an option shows a sign, and the source that says so (None: not said)."""

    sign: str
    expect: Expected
    source: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One of the values that a feature can have.

    Attributes:
        also: other words that people use for it.
    """

    id: str
    name: str
    also: tuple[str, ...] = ()
    signs: tuple[OptionSign, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Mate:
    """A feature of another part that this one has to fit: `component/feature`, the rule, and within how much."""

    mate: str
    rule: str
    within: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Feature:
    """One thing about a component that must be decided before it is made.

    Attributes:
        id: within its component.
        options: of a choice, in order; empty for other kinds.
        same: of a text, groups of wordings that mean the same.
        unit: of a quantity, the unit to build in.
        needed: of a quantity, the half-width within which it must be known, as written.
        datum: from where a dimension or position is taken.
    """

    id: str
    name: str
    aspect: Aspect
    kind: FeatureKind
    options: tuple[Option, ...] = ()
    same: tuple[tuple[str, ...], ...] = ()
    changes: Changes = Changes.AT_BUILD
    unit: str | None = None
    needed: str | None = None
    datum: str | None = None
    mates: tuple[Mate, ...] = ()
    note: str | None = None

    def option_named(self, wording: str) -> Option | None:
        """The option of that id, name or other word, whatever its case and spacing; None where there is none."""
        wanted = fold_wording(wording)
        for option in self.options:
            if wanted in {fold_wording(name) for name in (option.id, option.name, *option.also)}:
                return option
        return None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sign:
    """Something that can be seen in a picture and tells options apart."""

    id: str
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CommonTo:
    """Examples over which the component is interchangeable, says that source."""

    examples: ExampleSet
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Component:
    """One assembly, sub-assembly or fitting.

    Attributes:
        references: part, stores and drawing numbers.
        needed_by: when the build programme needs it; None when not said.
        prominence: `hidden`, `visible` or `focal` to visitors; None when not said.
        made_as: what the made part is, in a defined word; None while undecided.
    """

    id: str
    name: str
    by: str
    date: EdtfDate
    part_of: str | None = None
    references: tuple[str, ...] = ()
    also_called: tuple[str, ...] = ()
    hazards: tuple[str, ...] = ()
    made_as: str | None = None
    common_to: tuple[CommonTo, ...] = ()
    needed_by: EdtfDate | None = None
    prominence: str | None = None
    features: tuple[Feature, ...] = ()
    signs: tuple[Sign, ...] = ()
    note: str | None = None

    def feature(self, feature_id: str) -> Feature | None:
        """The feature of that id; None where there is none."""
        return next((feature for feature in self.features if feature.id == feature_id), None)
