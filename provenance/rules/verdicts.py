"""What judgement answers: the verdict on a feature, its candidate values, and each item with what was made of it."""

from dataclasses import dataclass

from provenance.records.claims import At, EvidenceItem, Seen
from provenance.records.components import Feature
from provenance.records.decisions import Decision
from provenance.records.kinds import Aspect, FeatureKind, How, SignSeen, Stance
from provenance.rules.change_values import ChangeOver
from provenance.rules.grades import Category, Grade
from provenance.rules.quantity_values import Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class JudgedItem:
    """One item of evidence, with what was made of it.

    Attributes:
        claim: id of the claim that it stands in.
        item: the record.
        stance: as it is counted here: an item against `present` stands under `absent` as supporting.
        how: as taken; a source is not believed beyond what it can show.
        applies: how near it comes to the machine that is represented.
        weight: in decibans, before carrying over; 0 for one that takes no part.
        counted: whether it is in the weightiest set, for or against.
        direct: whether it is measured, shown or stated, after what the source can show.
        late_memory: an account made more than ten years (or as the team set it) after what it speaks of.
        circular: the machine was told by a sign that an option of this very feature lists.
        left_out: withdrawn, or left out for the asking.
        reasons: in words: what it shows and how it was weighed.
        notes: in words: what is only possible of the dates.
        seen: the individual machine that was seen, from the item or from its source; None for a statement.
        descent: all that it goes back to: source ids, `*unstated*`, `witness:NAME`, `copy:PAIR`; `copy:SOURCE` where it
            may go back to a source as a likely copy.
        told_by: for what the signs in a picture tell, the signs reported; empty for what the record itself says.
    """

    claim: str
    item: EvidenceItem
    stance: Stance
    how: How
    applies: Category
    weight: float
    counted: bool
    direct: bool
    late_memory: bool
    circular: bool
    left_out: bool
    reasons: tuple[str, ...]
    notes: tuple[str, ...]
    seen: Seen | None
    descent: frozenset[str]
    told_by: tuple[tuple[str, SignSeen], ...] = ()

    @property
    def source(self) -> str:
        """The id of the source."""
        return self.item.source

    @property
    def at(self) -> At:
        """The place in the source."""
        return self.item.at

    @property
    def quote(self) -> str | None:
        """The words of the source; None where none are given."""
        return self.item.quote

    @property
    def how_written(self) -> How:
        """How it speaks, as the record says."""
        return self.item.how

    @property
    def why(self) -> str:
        """What was made of the item, in one line of words."""
        text = "; ".join(self.reasons + self.notes)
        return text[:1].upper() + text[1:] + "."


@dataclass(frozen=True, slots=True, kw_only=True)
class Overlap:
    """Two sources that do not count beside one another, and what they have in common."""

    sources: tuple[str, str]
    shared: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """One value that a feature may have, with the evidence for and against it.

    Attributes:
        value: an option id, `present` or `absent`, or the text as its first claim spells it.
        shown: the same for people: an option's name.
        posterior: its chance, from 0 to 1; 0 where it has no item of weight.
        lines: the number of independent witnesses.
        lines_if_ruled_out: the same with every open pair of copies ruled distinct; None where that changes nothing.
        weight_for: in decibans.
        weight_against: in decibans.
        rests_on: what all its supporting items go back to: source ids, `*unstated*`, `witness:NAME`.
        overlaps: where there is one witness and nothing that all go back to: which sources share what.
        claims: ids of the claims of this value, in order.
        items: in order of claim, source and place.
        quantity: what the figures come to; None for other kinds, and where nothing supports a figure.
    """

    value: str
    shown: str
    grade: Grade
    posterior: float
    lines: int
    lines_if_ruled_out: int | None
    weight_for: float
    weight_against: float
    rests_on: tuple[str, ...]
    overlaps: tuple[Overlap, ...]
    claims: tuple[str, ...]
    items: tuple[JudgedItem, ...]
    quantity: Quantity | None = None

    @property
    def supporting(self) -> tuple[JudgedItem, ...]:
        """The items of weight that support it."""
        return tuple(item for item in self.items if item.weight > 0 and item.stance is Stance.SUPPORTS)


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """What the evidence says of one feature of the machine that is represented.

    Attributes:
        feature: `component/feature`.
        asked: the record of the feature.
        grade: of the best value; `unsupported` where there is none.
        best: the best value; None where nothing supports any.
        explanation: some plain sentences.
        decision: the one in force: released, not withdrawn, not replaced; None where there is none.
        candidates: by falling chance, then value; those without any item of weight last.
        change_over: None where none is computed.
        change_said: what is said of a change from one machine or year to the next; empty for nothing.
    """

    feature: str
    asked: Feature
    grade: Grade
    best: Candidate | None
    explanation: str
    decision: Decision | None
    candidates: tuple[Candidate, ...]
    change_over: ChangeOver | None = None
    change_said: str = ""

    @property
    def component(self) -> str:
        """The id of the component."""
        return self.feature.partition("/")[0]

    @property
    def name(self) -> str:
        """The name of the feature."""
        return self.asked.name

    @property
    def kind(self) -> FeatureKind:
        """The sort of value that the feature has."""
        return self.asked.kind

    @property
    def aspect(self) -> Aspect:
        """What the feature is about."""
        return self.asked.aspect

    @property
    def value(self) -> str | None:
        """The best value; None where nothing supports any."""
        return self.best.value if self.best else None

    @property
    def shown(self) -> str | None:
        """The best value as people read it; None where nothing supports any."""
        return self.best.shown if self.best else None

    @property
    def quantity(self) -> Quantity | None:
        """What the figures of the best value come to; None for other kinds, and where nothing supports a figure."""
        return self.best.quantity if self.best else None

    @property
    def posterior(self) -> float:
        """The chance of the best value; 0 where there is none."""
        return self.best.posterior if self.best else 0.0

    @property
    def lines(self) -> int:
        """The independent witnesses of the best value; 0 where there is none."""
        return self.best.lines if self.best else 0

    @property
    def lines_if_ruled_out(self) -> int | None:
        """The same with every open pair of copies ruled distinct; None where that changes nothing."""
        return self.best.lines_if_ruled_out if self.best else None

    @property
    def rests_on(self) -> tuple[str, ...]:
        """What all support of the best value goes back to; empty where there is no such thing."""
        return self.best.rests_on if self.best else ()

    @property
    def overlaps(self) -> tuple[Overlap, ...]:
        """Where independence cannot be shown: which sources of the best value share what."""
        return self.best.overlaps if self.best else ()
