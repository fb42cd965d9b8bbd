"""Taken out of judgement, not out of sight."""

from pathlib import Path

import pytest
from tasks.team import TODAY, a_team_archive, a_text

from provenance.errors import ArchiveError, UnknownRecordError, UsageRefusedError
from provenance.reports.tried import change_sentences
from provenance.reports.written import Written
from provenance.rules.judging import judge_feature
from provenance.tasks.checking import check_folder
from provenance.tasks.claiming import add_evidence
from provenance.tasks.evidence_items import Evidence
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.withdrawing import try_withdraw, withdraw

CLAIM = "headlamp-kind-acetylene"
DECISION = "about: headlamp/kind\nstatus: released\nbuild: acetylene\nby: mh\ndate: 2026-01-10\n"


def take_out(opened: Opened, name: str, why: str = "it is a later hoax", source: str | None = None) -> Written:
    return withdraw(opened.folder, name, why=why, by="mh", today=TODAY, source=source)


def with_two_items(scratch: Path) -> Opened:
    opened = a_team_archive(scratch)
    item = Evidence(feature="headlamp/kind", value="acetylene", source="photograph", applies_to="all")
    add_evidence(opened.folder, item, by="mh", today=TODAY)
    return open_folder(opened.folder)


def test_a_withdrawn_source_takes_its_evidence_with_it_and_what_changes_is_said(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    written = take_out(opened, "handbook")

    archive = open_folder(opened.folder).archive
    assert written.written == ("sources/handbook.yaml",)
    assert archive.sources["handbook"].withdrawn is not None
    assert archive.sources["handbook"].withdrawn.why == "it is a later hoax"
    assert judge_feature(archive, "headlamp/kind").value is None
    assert written.said[0] == "handbook is out of judgement; it stays in the archive, with the reason."
    assert "headlamp/kind: before: acetylene lamp: uncorroborated" in written.said[1]
    assert "after: nothing supports any value" in written.said[1]


def test_one_item_of_a_claim_is_withdrawn_by_its_number_or_by_its_source(tmp_path: Path) -> None:
    opened = with_two_items(tmp_path)

    by_number = take_out(opened, f"{CLAIM}#2")
    by_source = take_out(opened, f"claims/{CLAIM}", source="handbook")

    first, second = open_folder(opened.folder).archive.claims[CLAIM].evidence
    assert (first.withdrawn is not None, second.withdrawn is not None) == (True, True)
    assert by_number.said[0].startswith(f"item 2 of {CLAIM} is out of judgement")
    assert by_source.said[0].startswith(f"item 1 of {CLAIM} is out of judgement")
    assert check_folder(opened.folder).problems == ()


def test_a_claim_and_a_decision_are_withdrawn_whole(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    a_text(opened.folder / "decisions" / "lamp.yaml", DECISION)

    claim = take_out(opened, CLAIM)
    decision = take_out(opened, "lamp")

    archive = open_folder(opened.folder).archive
    assert archive.claims[CLAIM].withdrawn is not None
    assert archive.decisions["lamp"].withdrawn is not None
    assert any("decided on it: lamp" in sentence for sentence in claim.said)
    assert decision.said == (
        "lamp is out of judgement; it stays in the archive, with the reason.",
        "It was in force: nothing is released for building for headlamp/kind now.",
    )


def test_what_changes_no_verdict_says_so(tmp_path: Path) -> None:
    assert take_out(a_team_archive(tmp_path), "photograph").said[-1] == "No verdict changes."


def test_where_nothing_can_be_judged_yet_that_is_said(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    head = opened.folder / "archive.yaml"
    lines = head.read_text(encoding="utf-8").splitlines(keepends=True)
    a_text(head, "".join(line for line in lines if not line.startswith("target:")))

    written = take_out(opened, "handbook")

    assert written.said[1:] == ("It is not said yet which example is represented, so no verdict was looked at.",)


def test_what_is_withdrawn_already_stays_as_it_was(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    take_out(opened, "handbook", "it is a later hoax")

    again = take_out(opened, "handbook", "for another reason")

    assert again.written == ()
    assert again.said == ("handbook is withdrawn already: it is a later hoax",)


@pytest.mark.parametrize(
    ("name", "source", "what", "mend"),
    [
        (f"{CLAIM}#3", None, f"no item of {CLAIM} has the number 3", f"{CLAIM}#2 (photograph)"),
        (f"{CLAIM}#0", None, "the number 0", f"{CLAIM}#1 (handbook)"),
        (CLAIM, "letter", "no item of headlamp-kind-acetylene has the source `letter`", "#1"),
        (f"{CLAIM}#1", "photograph", "the number 1 and the source `photograph`", "#1"),
    ],
)
def test_an_item_that_is_not_there_is_refused_with_those_that_are(
    tmp_path: Path, name: str, source: str | None, what: str, mend: str
) -> None:
    with pytest.raises(UsageRefusedError) as refused:
        take_out(with_two_items(tmp_path), name, source=source)

    assert what in refused.value.what
    assert mend in refused.value.mend


def test_two_items_from_one_source_are_told_apart_by_their_number(tmp_path: Path) -> None:
    opened = with_two_items(tmp_path)
    item = Evidence(
        feature="headlamp/kind", value="acetylene", source="photograph", applies_to="all", item={"note": "again"}
    )
    add_evidence(opened.folder, item, by="mh", today=TODAY)

    with pytest.raises(UsageRefusedError, match="more than one item"):
        take_out(opened, CLAIM, source="photograph")


def test_a_reason_is_asked_for_and_a_record_that_is_not_there_brings_the_nearest(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    a_text(opened.folder / "decisions" / "handbook.yaml", DECISION)

    with pytest.raises(UsageRefusedError, match="not said why"):
        take_out(opened, "photograph", " ")
    with pytest.raises(UnknownRecordError) as unknown:
        take_out(opened, "photo-graph")
    with pytest.raises(UsageRefusedError) as ambiguous:
        take_out(opened, "handbook")

    assert unknown.value.mend == "did you mean `photograph`?"
    assert ambiguous.value.mend == "write `sources/handbook` or `decisions/handbook`"


def test_a_withdrawn_decision_brings_back_the_one_that_it_had_replaced(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    a_text(opened.folder / "decisions" / "lamp.yaml", DECISION)
    a_text(opened.folder / "decisions" / "later.yaml", f"{DECISION}replaces: lamp\n")

    later = take_out(opened, "later")
    a_text(opened.folder / "decisions" / "other.yaml", f"{DECISION}replaces: lamp\n")
    no_longer = take_out(opened, "lamp")

    assert later.said[1:] == ("It was in force: lamp, which it had replaced, is in force again (build “acetylene”).",)
    assert no_longer.said[1:] == ()


@pytest.mark.parametrize("name", ["handbook", CLAIM, f"{CLAIM}#1", "photograph"])
def test_what_a_withdrawal_would_change_is_told_before_and_nothing_is_written(tmp_path: Path, name: str) -> None:
    opened = with_two_items(tmp_path)
    before = {path: path.read_bytes() for path in opened.folder.rglob("*.yaml")}

    tried = try_withdraw(opened, name, by="mh", today=TODAY)

    assert {path: path.read_bytes() for path in opened.folder.rglob("*.yaml")} == before
    written = take_out(opened, name)
    assert tried.files == written.written
    told = tuple(f"{each.feature}: {'; '.join(change_sentences(each))}." for each in tried.changes)
    assert (told or ("No verdict changes.",)) == written.said[1:]


def test_of_a_decision_it_is_told_before_what_is_then_in_force_and_of_what_is_gone_already_that(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    a_text(opened.folder / "decisions" / "lamp.yaml", DECISION)
    take_out(opened, "photograph", "a hoax")
    opened = open_folder(opened.folder)

    decision = try_withdraw(opened, "lamp", by="mh", today=TODAY)
    gone = try_withdraw(opened, "photograph", by="mh", today=TODAY)

    assert decision.said == ("It was in force: nothing is released for building for headlamp/kind now.",)
    assert (gone.files, gone.said) == ((), ("photograph is withdrawn already: a hoax",))


def test_nothing_is_tried_where_nothing_can_be_judged_yet(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    head = opened.folder / "archive.yaml"
    lines = head.read_text(encoding="utf-8").splitlines(keepends=True)
    a_text(head, "".join(line for line in lines if not line.startswith("target:")))

    with pytest.raises(ArchiveError):
        try_withdraw(open_folder(opened.folder), "handbook", by="mh", today=TODAY)
