"""The answer of `look-next`: what would lift the weak features, and which leads are worth following first."""

from dataclasses import dataclass

from provenance.records.dates import EdtfDate
from provenance.records.decisions import Lead
from provenance.reports.cautioned import cautions_json
from provenance.reports.standing import Standing
from provenance.rules.cautions import StandingCaution
from provenance.rules.costs import Money
from provenance.rules.grades import Grade
from provenance.rules.lifting import Lift, Lifting
from provenance.rules.pricing import Unpriced
from provenance.rules.spending import Choice


@dataclass(frozen=True, slots=True, kw_only=True)
class Sought:
    """A feature of which more should be known.

    Attributes:
        about: `component/feature`.
        name: of the feature.
        needed_by: None for not said.
        weight: weakness x urgency x prominence; 0 for one that is probable.
        leads: ids of the open leads that hope for it, the one most worth following first.
        searched: the leads that were followed for it.
    """

    about: str
    name: str
    grade: Grade
    needed_by: EdtfDate | None
    weight: float
    lifting: Lifting
    leads: tuple[str, ...]
    searched: tuple[Lead, ...]

    @property
    def remark(self) -> str | None:
        """What a decision does about a contest; None for what is not contested."""
        if self.grade is not Grade.CONTESTED:
            return None
        if self.lifting.set_aside:
            return "the decision in force sets the other claims aside; the grade stays until something tells them apart"
        return (
            "without a journey: a released decision that sets the other claims aside, with the reason, makes the flag "
            "a note; the grade stays"
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Followed:
    """An open lead in its place.

    Attributes:
        covers: the weak features that it hopes for, those that matter most first.
        gain: what it adds to the leads before it.
        score: gain per effort.
        chance: as it was reckoned with.
    """

    lead: Lead
    covers: tuple[str, ...]
    gain: float
    score: float
    chance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Together:
    """The leads of one holder at one place, followed on one visit.

    Attributes:
        holder: None for not said.
        place: None for not said.
        leads: their ids, the one most worth following first.
        covers: the weak features that one of them hopes for, those that matter most first.
        gain: what the visit adds to those before it.
        score: gain per effort.
    """

    holder: str | None
    place: str | None
    leads: tuple[str, ...]
    covers: tuple[str, ...]
    gain: float
    score: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Spending:
    """What to do with a sum of money.

    Attributes:
        money: the sum, with the currency that was taken.
        unpriced: the leads that could not be reckoned with.
    """

    money: Money
    choice: Choice
    unpriced: tuple[Unpriced, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LookedNext:
    """What to look for next.

    Attributes:
        day: the day on which it was asked, as `2026-11-26`; urgency goes by it.
        features: the weak ones, those that matter most first; then, where one component was asked about, the probable.
        leads: the open ones, the most worth following first.
        judged: how many features were judged.
        component: the one component that was asked about; None for all.
        visits: None where it was not asked for them.
        spending: None where no sum was given.
        notes: what could not be read as it was written, a sentence each.
    """

    standing: Standing
    day: str
    features: tuple[Sought, ...]
    leads: tuple[Followed, ...]
    judged: int
    component: str | None = None
    visits: tuple[Together, ...] | None = None
    spending: Spending | None = None
    notes: tuple[str, ...] = ()
    cautions: tuple[StandingCaution, ...] = ()


def lift_words(lift: Lift) -> str:
    """Say what a thing would do, without a capital and a full stop."""
    at_home = "; that asks for no journey" if lift.at_home else ""
    return f"{lift.what} would make it {lift.becomes.value}{at_home}"


def looked_next_json(looked: LookedNext) -> dict[str, object]:
    """The JSON answer `look-next`."""
    return {
        **looked.standing.as_json("look-next"),
        "cautions": cautions_json(looked.cautions),
        "notes": list(looked.notes),
        "day": looked.day,
        "judged": looked.judged,
        "component": looked.component,
        "features": [_feature_json(feature) for feature in looked.features],
        "leads": [_lead_json(followed) for followed in looked.leads],
        "visits": None if looked.visits is None else [_visit_json(visit) for visit in looked.visits],
        "spending": None if looked.spending is None else _spending_json(looked.spending),
    }


def _feature_json(sought: Sought) -> dict[str, object]:
    lifts = sought.lifting.lifts
    return {
        "feature": sought.about,
        "name": sought.name,
        "grade": sought.grade.value,
        "would_lift": lift_words(lifts[0]) if lifts else None,
        "lifts": [{"what": lift.what, "becomes": lift.becomes.value, "at_home": lift.at_home} for lift in lifts],
        "remark": sought.remark,
        "needed_by": None if sought.needed_by is None else sought.needed_by.text,
        "weight": sought.weight,
        "leads": list(sought.leads),
        "searched": [
            {"lead": lead.id, "what": lead.what, "outcome": lead.outcome, "date": lead.date.text}
            for lead in sought.searched
        ],
    }


def _lead_json(followed: Followed) -> dict[str, object]:
    lead = followed.lead
    return {
        "lead": lead.id,
        "what": lead.what,
        "holder": lead.holder,
        "place": lead.place,
        "reference": lead.reference,
        "covers": list(followed.covers),
        "chance": followed.chance,
        "effort": lead.effort,
        "gain": followed.gain,
        "score": followed.score,
        "cost": lead.cost,
    }


def _visit_json(visit: Together) -> dict[str, object]:
    return {
        "holder": visit.holder,
        "place": visit.place,
        "leads": list(visit.leads),
        "covers": list(visit.covers),
        "gain": visit.gain,
        "score": visit.score,
    }


def _spending_json(spending: Spending) -> dict[str, object]:
    choice = spending.choice
    return {
        "money": str(spending.money.amount),
        "currency": spending.money.currency,
        "spent": str(choice.cost),
        "gain": choice.gain,
        "exact": choice.exact,
        "visits": [
            {"place": visit.place, "leads": list(visit.leads), "cost": str(visit.cost)} for visit in choice.visits
        ],
        "not_reckoned": [{"lead": each.lead, "why": each.why} for each in spending.unpriced],
    }
