"""Where the next trip goes: from a folder with leads, and what cannot be asked."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from tasks.team import a_team_archive, a_text

from provenance.errors import ArchiveError, UnknownRecordError, UsageRefusedError
from provenance.reports.looked_next import LookedNext
from provenance.rules.grades import Grade
from provenance.rules.judging import judge_all
from provenance.tasks.looking_next import look_next
from provenance.tasks.opening import open_folder

DAY = date(2026, 2, 1)
COMMON = "by: mh\ndate: 2026-01-20\n"
Asker = Callable[..., LookedNext]


@pytest.fixture
def ask(tmp_path: Path) -> Asker:
    """Asks of the sound archive with these leads, each by its id with the lines of its record.

    In it headlamp/kind is uncorroborated (.5) and headlamp/hood unsupported (1); nothing is said of need or prominence.
    """

    def asked(leads: dict[str, str], **options: Any) -> LookedNext:
        folder = a_team_archive(tmp_path).folder
        for lead_id, lines in leads.items():
            a_text(folder / "leads" / f"{lead_id}.yaml", f"what: {lead_id.capitalize()}\n{lines}\n{COMMON}")
        return look_next(open_folder(folder), today=DAY, **options)

    return asked


def test_weak_features_come_with_what_would_lift_them_and_leads_by_score(ask: Asker) -> None:
    """Albums, small effort 1: .4 x 1 = .4. Diary, large 4: chance .5 of .5 = .25, and .5 of the .6 left of 1: .3.

    Together .55 / 4 = .1375.
    """
    looked = ask(
        {
            "diary": "hoped_for: [headlamp/kind, headlamp/hood]\neffort: large",
            "albums": "hoped_for: [headlamp/hood]\nchance: 40 %\neffort: small",
        }
    )

    assert [(each.about, each.grade, each.weight, each.leads) for each in looked.features] == [
        ("headlamp/hood", Grade.UNSUPPORTED, 1, ("albums", "diary")),
        ("headlamp/kind", Grade.UNCORROBORATED, 0.5, ("diary",)),
    ]
    assert [(each.lead.id, each.covers) for each in looked.leads] == [
        ("albums", ("headlamp/hood",)),
        ("diary", ("headlamp/hood", "headlamp/kind")),
    ]
    assert [each.score for each in looked.leads] == pytest.approx([0.4, 0.1375])
    assert all(each.lifting.lifts for each in looked.features)
    assert (looked.judged, looked.visits, looked.spending, looked.notes, looked.day) == (
        2,
        None,
        None,
        (),
        "2026-02-01",
    )


def test_a_search_that_failed_is_listed_with_its_feature_and_leads_nowhere(ask: Asker) -> None:
    looked = ask({"diary": "hoped_for: [headlamp/hood]\nstate: searched\noutcome: not a word"})

    hood, kind = looked.features
    assert (hood.leads, [(lead.id, lead.outcome) for lead in hood.searched]) == ((), [("diary", "not a word")])
    assert (kind.leads, kind.searched) == ((), ())
    assert looked.leads == ()


def test_a_chance_that_cannot_be_read_counts_as_even_odds_and_is_said(ask: Asker) -> None:
    looked = ask({"albums": "hoped_for: [headlamp/hood]\nchance: good\neffort: small"})

    assert [(each.chance, each.score) for each in looked.leads] == [(0.5, 0.5)]
    assert looked.notes == (
        "the chance of lead albums, `good`, cannot be read, and counts as even odds: write a share such as .3, or 30 %",
    )


def test_leads_of_one_holder_are_one_visit(ask: Asker) -> None:
    """Even odds, effort 1 each. The museum .5 x 1 / 1 = .5; the library (.5 x 1 + .5 x .5) / 2 = .375: second.

    Of the hood .5 is left: at the library (.25 + .25) / 2 = .25.
    """
    at_library = "holder: Orrin Library\nplace: Orrin\neffort: small\n"
    looked = ask(
        {
            "albums": f"hoped_for: [headlamp/hood]\n{at_library}",
            "plans": f"hoped_for: [headlamp/kind]\n{at_library}",
            "tins": "hoped_for: [headlamp/hood]\nholder: Pellow Museum\neffort: small",
        },
        group=True,
    )

    assert looked.visits is not None
    assert [(each.holder, each.place, each.leads, each.covers) for each in looked.visits] == [
        ("Pellow Museum", None, ("tins",), ("headlamp/hood",)),
        ("Orrin Library", "Orrin", ("albums", "plans"), ("headlamp/hood", "headlamp/kind")),
    ]
    assert [each.score for each in looked.visits] == pytest.approx([0.5, 0.25])


def test_a_sum_is_spent_on_visits_and_leads_in_other_money_are_named(ask: Asker) -> None:
    """Orrin costs 40 for both leads there. Pellow for 30 would be over 60; the hood .5, the kind .25: .75 at Orrin."""
    looked = ask(
        {
            "albums": "hoped_for: [headlamp/hood]\nplace: Orrin\ncost: 40 GBP",
            "plans": "hoped_for: [headlamp/kind]\nplace: orrin\ncost: £25",
            "tins": "hoped_for: [headlamp/hood]\nplace: Pellow\ncost: 30",
            "film": "hoped_for: [headlamp/hood]\nplace: Velling\ncost: 12 EUR",
            "notes": "hoped_for: [headlamp/hood]\nplace: Velling\ncost: a day's pay",
            "tape": "hoped_for: [headlamp/hood]\nplace: Velling",
        },
        money="60",
    )

    spending = looked.spending
    assert spending is not None
    assert (str(spending.money), spending.choice.exact) == ("60 GBP", True)
    assert [(visit.leads, visit.cost) for visit in spending.choice.visits] == [(("albums", "plans"), Decimal(40))]
    assert spending.choice.gain == pytest.approx(0.75)
    assert [(each.lead, each.why) for each in spending.unpriced] == [
        ("film", "its cost, `12 EUR`, is in another currency than the sum"),
        ("notes", "its cost, `a day's pay`, is no sum of money; write it such as `250 GBP`"),
        ("tape", "no cost is written"),
    ]


def test_of_one_component_only_its_own_leads_are_ranked(ask: Asker) -> None:
    leads = {"albums": "hoped_for: [headlamp/hood]", "axles": "hoped_for: []"}

    assert [each.lead.id for each in ask(leads, component="headlamp").leads] == ["albums"]


def test_a_lead_that_hopes_for_no_feature_is_followed_last(ask: Asker) -> None:
    looked = ask({"albums": "hoped_for: [headlamp/hood]", "axles": "hoped_for: []"})

    assert [(each.lead.id, each.score) for each in looked.leads] == [("albums", 0.25), ("axles", 0)]


def test_what_is_no_sum_of_money_is_refused(ask: Asker) -> None:
    with pytest.raises(UsageRefusedError, match="`a lot` is no sum of money"):
        ask({}, money="a lot")


def test_an_unknown_component_is_refused_with_the_nearest(tmp_path: Path) -> None:
    with pytest.raises(UnknownRecordError, match="there is no component `headlmap`") as refusal:
        look_next(a_team_archive(tmp_path), today=DAY, component="headlmap")

    assert "`headlamp`" in refusal.value.mend


def test_an_archive_that_says_not_what_it_represents_is_refused(tmp_path: Path) -> None:
    folder = a_team_archive(tmp_path).folder
    file = folder / "archive.yaml"
    lines = file.read_text(encoding="utf-8").splitlines(keepends=True)
    a_text(file, "".join(line for line in lines if not line.startswith("target")))

    with pytest.raises(ArchiveError, match="which example is represented"):
        look_next(open_folder(folder), today=DAY)


@pytest.mark.parametrize("component", [None, "headlamp"])
def test_with_verdicts_that_are_known_the_same_is_told(tmp_path: Path, component: str | None) -> None:
    opened = a_team_archive(tmp_path)
    verdicts = judge_all(opened.archive)
    none_weak = {feature: replace(verdict, grade=Grade.ESTABLISHED) for feature, verdict in verdicts.items()}

    known = look_next(opened, today=DAY, component=component, verdicts=verdicts)

    assert known == look_next(opened, today=DAY, component=component)
    assert known.features
    assert look_next(opened, today=DAY, component=component, verdicts=none_weak).features == ()


def test_of_verdicts_that_are_known_only_those_of_the_component_count(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    lining = "name: Brake lining\nfeatures: [{id: form, name: Form, aspect: form, kind: text}]\n"
    a_text(opened.folder / "components" / "brake.yaml", lining + COMMON)
    again = open_folder(opened.folder)

    known = look_next(again, today=DAY, component="headlamp", verdicts=judge_all(again.archive))

    assert known == look_next(again, today=DAY, component="headlamp")
    assert known.judged == 2
