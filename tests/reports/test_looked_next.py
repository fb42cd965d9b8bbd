"""What to look for next, as people and programs are told."""

from decimal import Decimal
from typing import Any

import pytest
from answers import faults_of
from builders import a_date, an_archive
from leads import a_lead

from provenance.records.decisions import Lead
from provenance.reports.looked_next import Followed, LookedNext, Sought, Spending, Together, looked_next_json
from provenance.reports.looked_next_text import SHOWN, looked_next_text
from provenance.reports.standing import Standing
from provenance.rules.cautions import cautions_for
from provenance.rules.costs import Money
from provenance.rules.grades import Grade
from provenance.rules.lifting import Lift, Lifting
from provenance.rules.looking_next import Offer
from provenance.rules.pricing import Unpriced
from provenance.rules.spending import Choice, Visit

WIDE = 1000
LETTER = Lift(what="a letter of the time", becomes=Grade.PROBABLE)
RULING = Lift(
    what="ruling, if it is so, that A and B are no copies of one another", becomes=Grade.POSSIBLE, at_home=True
)
ALBUMS = a_lead(
    "albums", "headlamp/rim", holder="Orrin Library", place="Orrin", reference="film 12", chance=".4", cost="45 GBP"
)
TINS = a_lead("tins", "headlamp/rim", effort=None)
DIARY = a_lead("diary", "headlamp/rim", searched=True, outcome="Not a word.")


def sought(about: str = "headlamp/rim", grade: Grade = Grade.UNCORROBORATED, **fields: Any) -> Sought:
    known: dict[str, Any] = {"needed_by": None, "weight": 1.5, "lifting": Lifting(lifts=(LETTER,)), "leads": ()}
    return Sought(about=about, name="Rim round the glass", grade=grade, **{**known, "searched": (), **fields})


def followed(lead: Lead, *, gain: float = 0.6, score: float = 0.6, chance: float = 0.5) -> Followed:
    covers = lead.hoped_for if gain else ()
    return Followed(lead=lead, covers=tuple(covers), gain=gain, score=score, chance=chance)


def looked(*features: Sought, leads: tuple[Followed, ...] = (), **fields: Any) -> LookedNext:
    known: dict[str, Any] = {"standing": Standing(archive="Railcar No. 9"), "judged": 3, "day": "2026-11-26"}
    return LookedNext(features=features, leads=leads, **{**known, **fields})


def page(*features: Sought, **fields: Any) -> list[str]:
    return looked_next_text(looked(*features, **fields), WIDE).splitlines()


def visit(place: str, cost: str, *leads: str) -> Visit:
    offers = tuple(Offer(name=lead, chances={}, effort=1) for lead in leads)
    return Visit(place=place, offers=offers, cost=Decimal(cost), offer=Offer(name=place, chances={}, effort=1))


def spending(*visits: Visit, money: int = 250, exact: bool = True) -> Spending:
    return Spending(
        money=Money(amount=Decimal(money), currency="GBP"),
        choice=Choice(visits=visits, gain=0.6, exact=exact),
        unpriced=(Unpriced(lead="tins", why="no cost is written"),),
    )


def test_the_page_says_what_is_most_worth_doing_first() -> None:
    rim = sought(
        needed_by=a_date("2027-03"),
        lifting=Lifting(lifts=(RULING, LETTER)),
        leads=("albums", "tins"),
        searched=(DIARY,),
    )
    lens = sought("headlamp/lens", Grade.UNSUPPORTED, lifting=Lifting(lifts=()))
    leads = (followed(ALBUMS, chance=0.4), followed(TINS, gain=0.45, score=0.225))

    assert page(rim, lens, leads=leads) == [
        "Leads, the one most worth following first:",
        "1. Albums (albums)",
        "   Orrin Library, Orrin, film 12.",
        "   May tell of headlamp/rim (uncorroborated).",
        "   Effort small, chance 40 %, cost 45 GBP; score 0.6.",
        "2. Tins (tins)",
        "   Holder and place are not said.",
        "   May tell of headlamp/rim (uncorroborated).",
        "   Effort not said, taken as medium, chance 50 % (not said), no cost written; score 0.23.",
        "",
        (
            "What would lift each weak grade, the features that matter most first. Of all that might be found, the "
            "least that would do is named."
        ),
        "headlamp/rim (Rim round the glass): uncorroborated, needed by 2027-03",
        (
            "  Ruling, if it is so, that A and B are no copies of one another would make it possible; that asks for no "
            "journey."
        ),
        "  A letter of the time would make it probable.",
        "  Leads: albums and tins.",
        "  Searched already: Diary (diary, entered 2026-11-25): Not a word.",
        "headlamp/lens (Rim round the glass): unsupported, nobody has a lead",
        "  No find that was tried would lift it, not even two of a kind.",
        "",
        (
            "3 features judged, 2 of them weak; nobody has a lead for 1 of these. As of 2026-11-26. The score of a "
            "lead is how much its weak features matter (how weak, how soon needed, how prominent), times the chance, "
            "per effort; what a lead before it may tell counts only with the chance that it does not."
        ),
    ]


def test_a_sum_of_money_is_reckoned_first_and_what_is_left_of_it_is_said() -> None:
    chosen = spending(visit("Brennow", "0", "returns"), visit("Orrin", "45.50", "albums", "plans"))

    assert page(sought(leads=("albums",)), leads=(followed(ALBUMS),), spending=chosen)[:5] == [
        "Within 250 GBP, with one visit a place (no other choice is worth more):",
        "  Brennow, free: returns",
        "  Orrin, 45.50 GBP: albums and plans",
        "  Together 45.50 GBP; 204.50 GBP is left.",
        "  Not reckoned with: tins: no cost is written.",
    ]


def test_many_leads_are_said_to_be_chosen_by_worth_for_money() -> None:
    assert page(spending=spending(visit("Orrin", "45", "albums"), exact=False))[0] == (
        "Within 250 GBP, with one visit a place (chosen by worth for money, since they are many):"
    )


def test_a_sum_that_is_too_small_for_anything_says_so() -> None:
    lines = page(sought(), leads=(followed(ALBUMS),), spending=spending(money=5))

    assert lines[:2] == [
        "Within 5 GBP no lead can be followed that may tell of anything weak.",
        "  Not reckoned with: tins: no cost is written.",
    ]


def test_visits_put_together_what_lies_at_one_holder() -> None:
    visits = (
        Together(
            holder="Orrin Library", place="Orrin", leads=("albums", "tins"), covers=("headlamp/rim",), gain=1, score=0.5
        ),
        Together(holder=None, place=None, leads=("plans",), covers=("headlamp/rim",), gain=0.1, score=0.05),
        Together(holder="Nobody", place=None, leads=("idle",), covers=(), gain=0, score=0),
    )
    leads = (followed(ALBUMS), followed(TINS), followed(a_lead("plans")), followed(a_lead("idle"), gain=0, score=0))

    assert page(sought(), leads=leads, visits=visits)[:9] == [
        "Visits, the one most worth making first:",
        "1. Orrin Library, Orrin: score 0.5",
        "   Albums (albums); effort small, chance 50 %, cost 45 GBP",
        "   Tins (tins); effort not said, taken as medium, chance 50 % (not said), no cost written",
        "   Could be seen there together: headlamp/rim.",
        "2. Holder and place not said: score 0.05",
        "   Plans (plans); effort small, chance 50 % (not said), no cost written",
        "   May tell of: headlamp/rim.",
        "Not worth following now: idle. They hope for nothing weak, or those above are sure to tell it.",
    ]


def test_a_lead_of_a_visit_that_adds_nothing_to_the_others_is_left_out_of_it() -> None:
    both = Together(
        holder="Orrin Library", place=None, leads=("albums", "idle"), covers=("headlamp/rim",), gain=1, score=1
    )

    lines = page(sought(), leads=(followed(ALBUMS), followed(a_lead("idle"), gain=0)), visits=(both,))

    assert "   Albums (albums); effort small, chance 50 %, cost 45 GBP" in lines
    assert not any(line.startswith("   Idle") for line in lines)


@pytest.mark.parametrize(
    ("component", "none"), [(None, "No open lead is entered."), ("axle", "No open lead hopes for axle.")]
)
def test_without_leads_it_is_said_how_to_enter_one(component: str | None, none: str) -> None:
    first = page(component=component)[0]

    assert first.startswith(f"{none} Where something may still be found is entered with `provenance add lead ID")


def test_leads_that_hope_for_nothing_weak_are_not_ranked() -> None:
    lines = page(sought(), leads=(followed(ALBUMS, gain=0, score=0),))

    assert lines[0] == "No open lead hopes for anything weak."
    assert lines[-1] == "3 features judged, 1 of them weak; nobody has a lead for 1 of these. As of 2026-11-26."


@pytest.mark.parametrize(
    ("set_aside", "remark"),
    [
        (
            True,
            "  The decision in force sets the other claims aside; the grade stays until something tells them apart.",
        ),
        (
            False,
            (
                "  Without a journey: a released decision that sets the other claims aside, with the reason, makes "
                "the flag a note; the grade stays."
            ),
        ),
    ],
)
def test_of_a_contest_it_is_said_what_a_decision_does(*, set_aside: bool, remark: str) -> None:
    contested = sought(grade=Grade.CONTESTED, lifting=Lifting(lifts=(LETTER,), set_aside=set_aside))

    assert remark in page(contested)
    assert sought().remark is None


def test_a_search_without_an_outcome_says_that_none_is_written() -> None:
    lines = page(sought(searched=(a_lead("scraps", searched=True),)))

    assert "  Searched already: Scraps (scraps, entered 2026-11-25): no outcome is written." in lines


def test_what_is_probable_is_neither_weak_nor_said_to_want_a_lead() -> None:
    lines = page(sought(grade=Grade.PROBABLE, weight=0))

    assert "headlamp/rim (Rim round the glass): probable" in lines
    assert lines[-1] == "3 features judged, none of them weak. As of 2026-11-26."


def test_of_many_features_twenty_are_shown_and_all_are_told_to_programs() -> None:
    features = tuple(sought(f"headlamp/{number}") for number in range(SHOWN + 2))

    lines = page(*features)

    assert "2 more features are not shown; `--component ID` or `--json` shows them." in lines
    assert sum("(Rim round the glass)" in line for line in lines) == SHOWN
    told = looked_next_json(looked(*features))["features"]
    assert isinstance(told, list)
    assert len(told) == SHOWN + 2


def test_an_archive_without_features_says_how_to_enter_one() -> None:
    assert page(judged=0)[-1] == "There is no feature to judge yet: `provenance add feature` enters one."


def test_notes_and_cautions_stand_first() -> None:
    fields: dict[str, Any] = {
        "notes": ("the chance of lead a cannot be read",),
        "cautions": cautions_for(an_archive(), ["asbestos"]),
    }
    lines = page(sought(), **fields)

    assert lines[0].startswith("CAUTION, asbestos: ")
    assert lines.index("note: the chance of lead a cannot be read") < lines.index(
        "headlamp/rim (Rim round the glass): uncorroborated, nobody has a lead"
    )
    assert faults_of(looked_next_json(looked(sought(), **fields))) == []


def test_programs_are_told_all_of_it() -> None:
    rim = sought(
        needed_by=a_date("2027-03"), lifting=Lifting(lifts=(RULING, LETTER)), leads=("albums",), searched=(DIARY,)
    )
    together = Together(
        holder="Orrin Library", place=None, leads=("albums",), covers=("headlamp/rim",), gain=0.6, score=0.6
    )
    answer = looked_next_json(
        looked(
            rim,
            leads=(followed(ALBUMS, chance=0.4),),
            visits=(together,),
            spending=spending(visit("Orrin", "45.50", "albums")),
        )
    )

    assert faults_of(answer) == []
    assert answer["features"] == [
        {
            "feature": "headlamp/rim",
            "name": "Rim round the glass",
            "grade": "uncorroborated",
            "would_lift": (
                "ruling, if it is so, that A and B are no copies of one another would make it possible; that asks for "
                "no journey"
            ),
            "lifts": [
                {"what": RULING.what, "becomes": "possible", "at_home": True},
                {"what": "a letter of the time", "becomes": "probable", "at_home": False},
            ],
            "remark": None,
            "needed_by": "2027-03",
            "weight": 1.5,
            "leads": ["albums"],
            "searched": [{"lead": "diary", "what": "Diary", "outcome": "Not a word.", "date": "2026-11-25"}],
        }
    ]
    assert answer["leads"] == [
        {
            "lead": "albums",
            "what": "Albums",
            "holder": "Orrin Library",
            "place": "Orrin",
            "reference": "film 12",
            "covers": ["headlamp/rim"],
            "chance": 0.4,
            "effort": "small",
            "gain": 0.6,
            "score": 0.6,
            "cost": "45 GBP",
        }
    ]
    assert answer["visits"] == [
        {
            "holder": "Orrin Library",
            "place": None,
            "leads": ["albums"],
            "covers": ["headlamp/rim"],
            "gain": 0.6,
            "score": 0.6,
        }
    ]
    assert answer["spending"] == {
        "money": "250",
        "currency": "GBP",
        "spent": "45.50",
        "gain": 0.6,
        "exact": True,
        "visits": [{"place": "Orrin", "leads": ["albums"], "cost": "45.50"}],
        "not_reckoned": [{"lead": "tins", "why": "no cost is written"}],
    }


def test_what_nothing_lifts_and_what_was_not_asked_for_is_null() -> None:
    answer: dict[str, Any] = looked_next_json(looked(sought(lifting=Lifting(lifts=()))))

    assert faults_of(answer) == []
    assert (answer["features"][0]["would_lift"], answer["features"][0]["needed_by"]) == (None, None)
    assert (answer["visits"], answer["spending"], answer["component"]) == (None, None, None)
