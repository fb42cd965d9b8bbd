"""The command that says where to look next."""

from pathlib import Path

import pytest
from cli.command_line import SOUND, a_copy_of, ask, run
from tasks.team import a_text


@pytest.fixture
def archive(tmp_path: Path) -> Path:
    folder = a_copy_of(SOUND, tmp_path)
    common = "by: mh\ndate: 2026-01-20\nplace: Orrin\nholder: Orrin Library\n"
    albums = f"what: Albums\nhoped_for: [headlamp/kind, headlamp/hood]\nchance: .4\ncost: 40\neffort: small\n{common}"
    a_text(folder / "leads" / "albums.yaml", albums)
    a_text(folder / "leads" / "plans.yaml", f"what: Plans\nhoped_for: [headlamp/hood]\nchance: good\n{common}")
    done = "what: Diary\nhoped_for: [headlamp/hood]\nstate: searched\noutcome: not a word\nby: mh\ndate: 2026-01-21\n"
    a_text(folder / "leads" / "diary.yaml", done)
    return folder


def test_leads_are_ranked_and_features_say_what_would_lift_them(archive: Path) -> None:
    """Albums: .4 x (hood 1 + kind .5) / 1 = .6. Plans: even odds of the .6 that is left of the hood / 2 = .15."""
    answer = ask(archive, "look-next")

    assert [(each["lead"], round(each["score"], 9)) for each in answer["leads"]] == [("albums", 0.6), ("plans", 0.15)]
    assert [each["feature"] for each in answer["features"]] == ["headlamp/hood", "headlamp/kind"]
    assert answer["features"][0]["would_lift"].startswith("a letter of the time")
    assert [each["outcome"] for each in answer["features"][0]["searched"]] == ["not a word"]
    assert "`good`" in answer["notes"][0]


def test_a_sum_is_spent_and_what_has_no_price_is_said(archive: Path) -> None:
    answer = ask(archive, "look-next", "--money", "50 GBP", "--by", "holder")

    assert answer["spending"]["visits"] == [{"place": "Orrin", "leads": ["albums"], "cost": "40"}]
    assert [each["lead"] for each in answer["spending"]["not_reckoned"]] == ["plans"]
    assert [each["leads"] for each in answer["visits"]] == [["albums", "plans"]]
    assert "Within 50 GBP" in run(archive, "look-next", "--money", "50 GBP", "--by", "holder").stdout


def test_an_archive_without_leads_is_told_what_to_do(tmp_path: Path) -> None:
    assert "provenance add lead" in run(a_copy_of(SOUND, tmp_path), "look-next").stdout


def test_a_sum_that_is_none_and_an_unknown_component_are_refused(archive: Path) -> None:
    assert "no sum of money" in ask(archive, "look-next", "--money", "much", code=2)["what"]
    assert "`headlamp`" in ask(archive, "look-next", "--component", "headlmap", code=3)["mend"]
