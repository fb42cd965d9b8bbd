from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from reading.printed_pages import damaged, typescript
from tasks.team import TODAY, a_scan, a_team_archive, a_text

from provenance.errors import UnknownRecordError, UsageRefusedError
from provenance.rules.flags import Level
from provenance.rules.judging import judge_all
from provenance.tasks.flagging import raise_flags
from provenance.tasks.ingest import ingest
from provenance.tasks.opening import Opened, open_folder

DAY = date(2026, 2, 1)


def ids(opened: Opened, rule: str | None = None, component: str | None = None) -> list[tuple[str, str]]:
    flagged = raise_flags(opened, today=DAY, rule=rule, component=component)
    return [(flag.about, flag.flag) for flag in flagged.flags]


def test_what_rests_on_one_source_and_what_on_none_is_flagged(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    raised = ids(opened)

    assert ("headlamp/kind", "single-source") in raised
    assert ("headlamp/hood", "no-evidence") in raised


def test_a_page_is_flagged_until_it_is_read(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    before = ids(opened, rule="unread-page")

    ingest(opened, [opened.folder / "originals" / "handbook"], by="mh", today=TODAY, workers=1)

    assert before == [("handbook", "unread-page")]
    assert ids(open_folder(opened.folder), rule="unread-page") == []


def test_a_page_that_was_read_only_in_part_is_flagged_until_a_person_has_typed_what_it_says(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    sheet = damaged(typescript(75, lines=6), 75, noise=25, blur=1.5)  # too worn for the recogniser
    (tmp_path / "scans").mkdir()
    sheet.image.save(tmp_path / "scans" / "worn.png", dpi=(200, 200))
    (file,) = ingest(opened, [tmp_path / "scans"], by="mh", today=TODAY, workers=1).files

    flags = raise_flags(open_folder(opened.folder), today=DAY, rule="unread-page").flags
    transcript = opened.folder / "transcripts" / (file.source or "") / "p0001.txt"
    transcript.parent.mkdir(parents=True)
    transcript.write_text("by: mh\ndate: 2026-02-01\n\nit is typed\n", encoding="utf-8")

    (flag,) = [flag for flag in flags if flag.about == file.source]
    assert "was read only in part" in flag.sentence
    assert "looks like text and was not read" in file.why
    assert (file.source, "unread-page") not in ids(open_folder(opened.folder), rule="unread-page")


def test_a_file_that_cannot_be_opened_is_flagged(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    whole = a_scan(tmp_path / "scans" / "cut.png").read_bytes()
    (tmp_path / "scans" / "cut.png").write_bytes(whole[:300])
    done = ingest(opened, [tmp_path / "scans"], by="mh", today=TODAY)

    raised = ids(open_folder(opened.folder), rule="unread-page")

    assert (done.files[0].source, "unread-page") in raised


def test_changed_originals_are_looked_for_only_when_asked_and_that_is_said(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    original = opened.folder / "originals" / "handbook" / "handbook.txt"
    original.write_bytes(original.read_bytes().replace(b"acetylene", b"electric."))

    quick = raise_flags(opened, today=DAY)
    asked = raise_flags(opened, today=DAY, rule="fixity-broken")

    assert "fixity-broken" not in {flag.flag for flag in quick.flags}
    assert any("received" in sentence for sentence in quick.not_looked_for)
    assert [flag.about for flag in asked.flags] == ["handbook"]
    assert asked.not_looked_for == ()
    assert raise_flags(opened, today=DAY, rule="loan-due").not_looked_for == ()


def test_a_loan_is_named_before_it_is_due_and_to_be_mended_once_it_is_overdue(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    photograph = opened.folder / "sources" / "photograph.yaml"
    loan = "loan: {owner: the Orrin society, due: 2026-02-10}\n"
    a_text(photograph, photograph.read_text(encoding="utf-8") + loan)
    opened = open_folder(opened.folder)

    before = raise_flags(opened, today=date(2026, 2, 10), rule="loan-due")
    after = raise_flags(opened, today=date(2026, 2, 11), rule="loan-due")

    assert [(flag.about, flag.severity) for flag in before.flags] == [("photograph", Level.NOTE)]
    assert [(flag.about, flag.severity) for flag in after.flags] == [("photograph", Level.WARN)]


def test_the_caution_of_a_hazardous_part_stands_with_its_flags(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    headlamp = opened.folder / "components" / "headlamp.yaml"
    a_text(headlamp, headlamp.read_text(encoding="utf-8") + "hazards: [pressure]\n")

    flagged = raise_flags(open_folder(opened.folder), today=DAY, component="headlamp")

    assert [caution.hazard for caution in flagged.cautions] == ["pressure"]
    assert {flag.about.partition("/")[0] for flag in flagged.flags} == {"headlamp"}


def test_an_unknown_flag_or_component_is_refused(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    with pytest.raises(UsageRefusedError, match="single-sauce"):
        ids(opened, rule="single-sauce")
    with pytest.raises(UnknownRecordError, match="headlmap"):
        ids(opened, component="headlmap")


def test_with_verdicts_that_are_known_the_same_is_flagged_and_nothing_is_judged(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    verdicts = judge_all(opened.archive)
    other = {**verdicts, "headlamp/hood": replace(verdicts["headlamp/kind"], feature="headlamp/hood")}

    known = raise_flags(opened, today=DAY, verdicts=verdicts)
    told = raise_flags(opened, today=DAY, verdicts=other)

    assert known == raise_flags(opened, today=DAY)
    assert ("headlamp/hood", "no-evidence") not in [(flag.about, flag.flag) for flag in told.flags]
