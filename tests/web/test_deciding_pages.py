"""Deciding in the pages: what stands, what is chosen, what is said of it; and the record that the command writes."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from cli.command_line import ask
from tasks.team import a_text
from web.deciding_archives import ACETYLENE, BY, ELECTRIC, HEIGHT, KIND, an_archive_to_decide_in, told
from web.writing_client import Desk, state_of_records

DECIDE = f"/fittings/{KIND}/decide"
MEASURE = f"/fittings/{HEIGHT}/decide"
WHY = "as No. 9 was seen to have it"


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return Desk(an_archive_to_decide_in(tmp_path))


@pytest.fixture
def twin(tmp_path: Path) -> Path:
    return an_archive_to_decide_in(tmp_path / "twin")


def proposed(folder: Path, build: str = "electric", *more: str) -> str:
    return str(ask(folder, "decide", KIND, "--build", build, "--why", WHY, *more, *BY)["record"])


def test_what_stands_is_shown_before_anything_is_asked_with_the_figures_of_the_answer(desk: Desk) -> None:
    proposal = proposed(desk.folder)
    (feature,) = ask(desk.folder, "evidence", KIND)["features"]

    page = desk.client.get(DECIDE).text

    assert f'data-grade="{feature["grade"]}" data-posterior="{feature["posterior"]}"' in page
    stands = told(page)[: told(page).index("The decision")]
    for candidate in feature["candidates"]:
        assert candidate["grade"] in stands
    assert "nothing is released for building" in stands
    assert f'href="/decisions/{proposal}"' in page


def test_a_caution_stands_before_all_else_and_nothing_tells_how_it_is_done(desk: Desk) -> None:
    page = told(desk.client.get("/fittings/bracket/height/decide").text)

    assert page.index("Caution, asbestos") < page.index("not evidence that it is safe") < page.index("What stands")


def test_the_values_that_it_may_have_are_offered_with_the_claims_of_the_likeliest_ticked(desk: Desk) -> None:
    form = desk.open(DECIDE)

    assert form.choices["build"] == ["electric", "acetylene", ""]
    assert form.fields["build"] == ["electric"]
    assert sorted(form.choices["basis"]) == [ACETYLENE, ELECTRIC]
    assert form.fields["basis"] == [ELECTRIC]


def test_a_claim_without_weight_is_offered_and_not_ticked(desk: Desk) -> None:
    ask(desk.folder, "withdraw", f"claims/{ELECTRIC}", "--why", "a later hoax", *BY)

    form = Desk(desk.folder).open(f"{DECIDE}?build=electric")

    assert form.fields["build"] == ["electric"]
    assert ELECTRIC in form.choices["basis"]
    assert "basis" not in form.fields


def test_another_value_comes_with_its_own_claims_ticked(desk: Desk) -> None:
    form = desk.open(f"{DECIDE}?build=acetylene")

    assert (form.fields["build"], form.fields["basis"]) == (["acetylene"], [ACETYLENE])
    assert desk.open(f"{DECIDE}?build=candle").fields["build"] == ["electric"]


def test_a_value_that_no_claim_speaks_of_is_offered_too(desk: Desk) -> None:
    form = desk.open("/fittings/headlamp/hood/decide")

    assert form.choices["build"] == ["present", "absent", ""]
    assert "basis" not in form.choices


def test_a_decision_is_the_record_that_the_command_writes(desk: Desk, twin: Path) -> None:
    answer = desk.send(
        desk.open(DECIDE),
        {f"set-aside:{ACETYLENE}": "it speaks of the first batch", "drawing-1": "R9-104", "issue-1": "B"},
        why=WHY,
        tolerance="as the pattern",
        drawing_2="R9-105",
        stamp="R9 on the rim",
        modern_change="safety",
        modern_change_note="a fuse is put in",
        release="yes",
    )

    assert (answer.status_code, answer.location) == (303, f"/fittings/{KIND}")
    options = [
        "--set-aside",
        f"{ACETYLENE}=it speaks of the first batch",
        "--drawing",
        "R9-104:B",
        "--drawing",
        "R9-105",
    ]
    options += ["--tolerance", "as the pattern", "--stamp", "R9 on the rim", "--basis", ELECTRIC]
    options += ["--modern-change", "safety:a fuse is put in", "--release"]
    done = ask(twin, "decide", KIND, "--build", "electric", "--why", WHY, *options, *BY)
    assert state_of_records(desk.folder) == state_of_records(twin)
    page = told(desk.client.get(answer.location).text)
    assert all(file in page for file in done["written"])


def test_what_the_command_says_of_a_decision_is_said_on_the_page(desk: Desk, twin: Path) -> None:
    done = ask(twin, "decide", "headlamp/hood", "--build", "present", "--why", "It looks right.", "--release", *BY)
    assert any("conjecture-undeclared" in sentence for sentence in done["said"])

    answer = desk.send(
        desk.open("/fittings/headlamp/hood/decide"), build="present", why="It looks right.", release="yes"
    )

    page = told(desk.client.get(answer.location).text)
    for sentence in done["said"]:
        what, _, mend = sentence.partition(" (conjecture-undeclared; mend: ")
        assert what in page
        assert mend.removesuffix(")") in page
    assert "conjecture-undeclared" not in page  # which is the name of a flag, and tells a reader nothing


# 40.5 x 25.4 = 1028.70; 1029 / 25.4 = 40.5118, and .5118 x 64 = 32.8: next to 33/64.
@pytest.mark.parametrize(
    ("written", "read"), [("40.5 in", "40.5 in (1028.70 mm)"), ("1029 mm", "1029 mm (3 ft 4 33/64 in)")]
)
def test_a_figure_is_read_back_in_both_units_before_it_is_written(desk: Desk, written: str, read: str) -> None:
    before = state_of_records(desk.folder)

    answer = desk.send(desk.open(MEASURE), build="", build_other=written, look="yes")

    assert answer.status_code == 200
    assert f"“{written}” is read as: {read}" in told(answer.text)
    assert state_of_records(desk.folder) == before
    assert desk.form_of(answer).fields["build-other"] == [written]


def test_a_claims_own_figure_is_offered_beside_what_the_figures_come_to(desk: Desk, twin: Path) -> None:
    form = desk.open(MEASURE)
    assert "3 ft 4 1/2 in" in form.choices["build"]

    desk.send(form, build="3 ft 4 1/2 in", why=WHY)

    ask(twin, "decide", HEIGHT, "--build", "3 ft 4 1/2 in", "--basis", "headlamp-height", "--why", WHY, *BY)
    assert state_of_records(desk.folder) == state_of_records(twin)


@pytest.mark.parametrize(("written", "choice"), [("16 gauge", "16 SWG"), ("3.4½", "3 ft 4 1/2 in")])
@pytest.mark.parametrize("more", [{}, {"look": "yes"}])
def test_a_doubtful_figure_is_refused_with_the_choices(
    desk: Desk, written: str, choice: str, more: Mapping[str, Any]
) -> None:
    before = state_of_records(desk.folder)

    answer = desk.send(desk.open(MEASURE), build="", build_other=written, why=WHY, **more)

    assert answer.status_code == 400
    assert choice in told(answer.text)
    assert desk.form_of(answer).fields["build-other"] == [written]
    assert state_of_records(desk.folder) == before


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"build": "electric", "build-other": "candle", "why": WHY}, "oth “electric” and “candle”"),
        ({"build": "", "why": WHY}, "not said what to build"),
        ({"why": ""}, "not said why"),
        ({"why": WHY, "modern-change-note": "a fuse"}, "not for which reason"),
        ({"why": WHY, "issue-2": "B"}, "without the number of its drawing"),
    ],
)
def test_what_is_not_clear_is_asked_for_and_what_was_typed_stays(
    desk: Desk, fields: Mapping[str, str], said: str
) -> None:
    before = state_of_records(desk.folder)

    answer = desk.send(desk.open(DECIDE), fields)

    assert answer.status_code == 400
    assert said in told(answer.text)
    again = desk.form_of(answer).fields
    assert all(again[name] == [text] for name, text in fields.items())
    assert state_of_records(desk.folder) == before


def test_what_is_to_be_said_is_told_before_and_nothing_is_written(desk: Desk) -> None:
    before = state_of_records(desk.folder)

    answer = desk.send(desk.open("/fittings/headlamp/hood/decide"), build="present", look="yes", by="")

    assert answer.status_code == 200
    page = told(answer.text)
    assert (
        "released as it is, it would be built on thin evidence" in page
        or "does not say that this is conjecture" in page
    )
    assert "It would write decisions/headlamp-hood-present.yaml" in page
    assert state_of_records(desk.folder) == before
    assert desk.send(desk.form_of(answer), why="Conjecture.").status_code == 303


def test_that_a_release_takes_the_place_of_what_is_in_force_is_said_before_and_after(desk: Desk, twin: Path) -> None:
    for folder in (desk.folder, twin):
        proposed(folder, "acetylene", "--release")

    page = desk.client.get(DECIDE)
    answer = desk.send(desk.form_of(page), why=WHY, release="yes")

    assert "it takes the place of “acetylene lamp”, which is in force" in told(page.text)
    assert "to build “acetylene”, which was in force" in told(desk.client.get(answer.location).text)
    proposed(twin, "electric", "--basis", ELECTRIC, "--release")
    assert state_of_records(desk.folder) == state_of_records(twin)


def test_a_decision_that_was_released_meanwhile_is_not_replaced_unawares(desk: Desk) -> None:
    form = desk.open(DECIDE)
    proposed(desk.folder, "acetylene", "--release")
    before = state_of_records(desk.folder)

    refused = desk.send(form, why=WHY, release="yes")

    assert refused.status_code == 409
    assert "is in force by now" in told(refused.text)
    assert state_of_records(desk.folder) == before
    assert desk.send(desk.form_of(refused)).status_code == 303


def test_a_claim_that_changed_meanwhile_is_shown_as_it_was_and_as_it_is(desk: Desk) -> None:
    form = desk.open(DECIDE)
    claim = desk.folder / "claims" / f"{ELECTRIC}.yaml"
    a_text(claim, claim.read_text(encoding="utf-8") + "note: the lamp may be a hand lamp\n")

    refused = desk.send(form, why=WHY)

    assert refused.status_code == 409
    assert "<mark>note: the lamp may be a hand lamp</mark>" in refused.text
    assert desk.form_of(refused).fields["why"] == [WHY]
    assert not (desk.folder / "decisions").exists()


def test_a_proposal_is_released_as_the_command_releases_it(desk: Desk, twin: Path) -> None:
    one = proposed(desk.folder, "electric", "--basis", ELECTRIC)
    proposed(twin, "electric", "--basis", ELECTRIC)
    page = desk.client.get(f"/decisions/{one}")
    assert "Only proposed: electric lamp" in told(page.text)

    answer = desk.send(desk.form_of(page))

    assert answer.status_code == 303
    ask(twin, "decide", one, "--release", *BY)
    assert state_of_records(desk.folder) == state_of_records(twin)
    after = desk.client.get(answer.location).text
    assert "In force: electric lamp" in told(after)
    assert "Released by M. Hollin" in told(after)
    assert "Release it" not in told(after)


def test_a_proposal_is_not_released_over_one_that_came_into_force_meanwhile(desk: Desk) -> None:
    one = proposed(desk.folder)
    form = desk.open(f"/decisions/{one}")
    proposed(desk.folder, "acetylene", "--release")

    refused = desk.send(form)

    assert refused.status_code == 409
    assert desk.send(desk.form_of(refused)).status_code == 303


def test_a_decision_that_is_not_there_is_said_to_be_missing(desk: Desk) -> None:
    assert desk.client.get("/decisions/nothing").status_code == 404
    assert desk.client.get("/fittings/headlamp/nothing/decide").status_code == 404


def test_a_doubt_is_raised_from_the_fitting_the_decision_and_the_panel(desk: Desk) -> None:
    one = proposed(desk.folder)
    a_text(desk.folder / "panels" / "lamps.yaml", "title: Lamps\ncomponents: [headlamp]\nby: mh\ndate: 2026-01-10\n")

    desk = Desk(desk.folder)

    for address, about, called in (
        (f"/fittings/{KIND}", KIND, "Headlamp: Kind of lamp"),
        (f"/decisions/{one}", one, "the decision to build electric (Headlamp: Kind of lamp)"),
        ("/panels/lamps", "lamps", "the panel “Lamps”"),
    ):
        link = f'href="/queries?about={about.replace("/", "%2F")}"'
        page = desk.client.get(address).text
        assert link in page or link.replace("%2F", "/") in page
        form = desk.open(f"/queries?about={about}")
        assert form.fields["about"] == [called]
        assert desk.send(form, grounds="It is doubted.").status_code == 303
    written = "\n".join(file.read_text(encoding="utf-8") for file in (desk.folder / "queries").iterdir())
    assert all(f"about: {about}\n" in written for about in (KIND, one, "lamps"))


def test_from_the_fitting_one_gets_to_deciding_making_and_to_each_decision(desk: Desk) -> None:
    first, second = proposed(desk.folder, "acetylene", "--release"), proposed(desk.folder)

    page = Desk(desk.folder).client.get(f"/fittings/{KIND}").text

    for address in (DECIDE, f"/fittings/{KIND}/made", f"/decisions/{first}", f"/decisions/{second}"):
        assert f'href="{address}"' in page
    assert f'href="{DECIDE}?build=acetylene"' in page


def test_on_the_page_of_a_decision_too_the_caution_stands_first(desk: Desk) -> None:
    done = ask(desk.folder, "decide", "bracket/height", "--build", "40 in", "--why", "Conjecture.", *BY)

    page = told(Desk(desk.folder).client.get(f"/decisions/{done['record']}").text)

    assert page.index("Caution, asbestos") < page.index("not evidence that it is safe") < page.index("Only proposed")


def test_a_query_about_a_decision_leads_to_it(desk: Desk) -> None:
    one = proposed(desk.folder)
    query = ask(desk.folder, "query", one, "--why", "an old driver says otherwise", *BY)["record"]

    assert f'href="/decisions/{one}"' in Desk(desk.folder).client.get(f"/queries/{query}").text
