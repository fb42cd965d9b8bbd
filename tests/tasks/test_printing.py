from pathlib import Path

import pytest
from public_folders import TODAY, a_folder_that_holds_back, canaries_in, is_seen_through, let_names_tell

from provenance.errors import ArchiveError, UnknownRecordError, UsageRefusedError, WriteRefusedError
from provenance.records.dates import Day
from provenance.rules.findings import Findings
from provenance.rules.flags import flags
from provenance.rules.judging import judge_all
from provenance.rules.public_view import public_view
from provenance.rules.verdicts import Verdict
from provenance.tasks.checking import check_folder
from provenance.tasks.opening import open_folder
from provenance.tasks.printing import print_appendix

DAY = Day(2026, 2, 1)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return a_folder_that_holds_back(tmp_path)


def _change(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def test_the_archive_that_holds_back_is_sound_and_its_secrets_count_inside_the_team(folder: Path) -> None:
    faults = [problem for problem in check_folder(folder, fixity=False).problems if problem.severity.value == "error"]
    whole = judge_all(open_folder(folder).archive)["headlamp/kind"]

    assert faults == []
    assert {item.source for each in whole.candidates for item in each.items} >= {"canaryteamid", "canaryclosedid"}


def test_the_search_for_canaries_sees_through_every_way_of_writing_them() -> None:
    assert is_seen_through("canary")


@pytest.mark.parametrize("ending", ["html", "md"])
@pytest.mark.parametrize("draft", [False, True])
def test_no_word_of_what_is_withheld_is_printed(folder: Path, tmp_path: Path, ending: str, *, draft: bool) -> None:
    output = tmp_path / f"lamp.{ending}"

    print_appendix(folder, "lamp", output, day=TODAY, draft=draft)

    assert canaries_in(output.read_bytes()) == []
    assert b"held privately supports this too" in output.read_bytes()
    assert (b"DRAFT" in output.read_bytes()) is draft


@pytest.mark.parametrize("ending", ["html", "md"])
@pytest.mark.parametrize("draft", [False, True])
def test_names_that_tell_are_struck_out_of_what_is_printed(
    folder: Path, tmp_path: Path, ending: str, *, draft: bool
) -> None:
    let_names_tell(folder, panel=draft)
    output = tmp_path / f"lamp.{ending}"

    print_appendix(folder, "lamp", output, day=TODAY, draft=draft)

    assert canaries_in(output.read_bytes()) == []
    assert output.read_bytes().count(b"withheld") >= 4


def test_a_panel_whose_title_tells_is_not_printed(folder: Path, tmp_path: Path) -> None:
    let_names_tell(folder)

    with pytest.raises(WriteRefusedError, match="the title of the panel names what is withheld"):
        print_appendix(folder, "lamp", tmp_path / "lamp.html", day=TODAY, draft=False)


def test_names_that_tell_change_no_verdict(folder: Path) -> None:
    before = judge_all(open_folder(folder).archive), public_view(open_folder(folder).archive, DAY).verdicts

    let_names_tell(folder)

    archive = open_folder(folder).archive
    after = judge_all(archive), public_view(archive, DAY).verdicts
    assert [
        problem for problem in check_folder(folder, fixity=False).problems if problem.severity.value == "error"
    ] == []
    for old, new in zip(before, after, strict=True):
        assert [_judged(old[each]) for each in old] == [_judged(new[each]) for each in new]


def _judged(verdict: Verdict) -> tuple[object, ...]:
    return verdict.feature, verdict.value, verdict.grade, verdict.posterior, verdict.lines


def test_a_printing_is_kept_in_the_panels_record_once_and_a_draft_is_not(folder: Path, tmp_path: Path) -> None:
    output = tmp_path / "lamp.html"

    draft = print_appendix(folder, "lamp", output, day=TODAY, draft=True)
    first = print_appendix(folder, "lamp", output, day=TODAY, draft=False)
    bytes_first = output.read_bytes()
    again = print_appendix(folder, "lamp", output, day=TODAY, draft=False)

    assert (draft.written, first.written, again.written) == ((), ("panels/lamp.yaml",), ())
    assert output.read_bytes() == bytes_first
    (printed,) = open_folder(folder).archive.panels["lamp"].printed
    assert printed.date.text == TODAY


def test_a_panel_is_overtaken_once_a_source_behind_its_printing_is_withheld(folder: Path, tmp_path: Path) -> None:
    print_appendix(folder, "lamp", tmp_path / "lamp.html", day=TODAY, draft=False)
    before = flags(open_folder(folder).archive, Findings(), today=DAY)

    _change(folder / "sources/handbook.yaml", "access: open", "access: team")
    after = flags(open_folder(folder).archive, Findings(), today=DAY)

    assert "panel-overtaken" not in {flag.flag for flag in before}
    assert "panel-overtaken" in {flag.flag for flag in after}


def test_who_prints_a_panel_that_was_overtaken_is_told_to_read_it_again(folder: Path, tmp_path: Path) -> None:
    first = print_appendix(folder, "lamp", tmp_path / "lamp.html", day=TODAY, draft=False)

    _change(folder / "sources/handbook.yaml", "access: open", "access: team")
    second, third = (
        print_appendix(folder, "lamp", tmp_path / "lamp.html", day="2026-03-01", draft=False) for _ in range(2)
    )

    told = "Since it was printed on 1 February 2026, a statement, or a grade or value behind one, has changed"
    assert [any(said.startswith(told) for said in printed.said) for printed in (first, second, third)] == [
        False,
        True,
        False,
    ]


def test_what_is_not_cleared_stops_the_printing_with_what_to_ask_whom(folder: Path, tmp_path: Path) -> None:
    _change(folder / "sources/handbook.yaml", "publish: allowed", "holder: heirs of M. Oskell, publish: ask")
    output = tmp_path / "lamp.html"

    with pytest.raises(WriteRefusedError, match=r"ask heirs of M\. Oskell about “Working instructions” \(handbook\)"):
        print_appendix(folder, "lamp", output, day=TODAY, draft=False)

    assert not output.exists()
    assert open_folder(folder).archive.panels["lamp"].printed == ()
    draft = print_appendix(folder, "lamp", output, day=TODAY, draft=True)
    assert draft.said[0].startswith("Before it is printed, ask heirs of M. Oskell")


def test_a_panel_that_itself_names_what_is_withheld_is_not_printed(folder: Path, tmp_path: Path) -> None:
    _change(folder / "panels/lamp.yaml", "Its hood is not known.", "See Canaryteamcreator.")
    output = tmp_path / "lamp.md"

    with pytest.raises(WriteRefusedError, match="statement 2 of the panel names what is withheld"):
        print_appendix(folder, "lamp", output, day=TODAY, draft=False)

    print_appendix(folder, "lamp", output, day=TODAY, draft=True)
    assert canaries_in(output.read_bytes()) == []


def test_the_curator_is_told_what_the_public_judges_otherwise(folder: Path, tmp_path: Path) -> None:
    _change(folder / "panels/lamp.yaml", ", features: [headlamp/hood]", "")

    printed = print_appendix(folder, "lamp", tmp_path / "lamp.html", day=TODAY, draft=False)

    bare, differing = printed.said
    assert bare == "Statement 2 names no feature, so no evidence is cited for it."
    assert differing.startswith("headlamp/kind is uncorroborated (“acetylene lamp”) in public, and ")
    assert differing.endswith(" with what is withheld: canaryclosedid, canaryteamid.")


def test_an_archive_of_which_records_cannot_be_used_is_not_printed_but_as_a_draft(folder: Path, tmp_path: Path) -> None:
    (folder / "sources" / "broken.yaml").write_text("title: [\n", encoding="utf-8")
    output = tmp_path / "lamp.html"

    with pytest.raises(WriteRefusedError, match=r"sources/broken\.yaml"):
        print_appendix(folder, "lamp", output, day=TODAY, draft=False)

    assert print_appendix(folder, "lamp", output, day=TODAY, draft=True).standing.left_out
    assert b"broken" not in output.read_bytes()


def test_an_unknown_panel_is_refused_with_the_nearest(folder: Path, tmp_path: Path) -> None:
    with pytest.raises(UnknownRecordError) as refused:
        print_appendix(folder, "lmap", tmp_path / "lamp.html", day=TODAY, draft=False)

    assert "`lamp`" in refused.value.mend


@pytest.mark.parametrize("day", ["2026", "2026-02", "tomorrow", "2026-02-30"])
def test_a_printing_carries_one_day(folder: Path, tmp_path: Path, day: str) -> None:
    with pytest.raises(UsageRefusedError) as refused:
        print_appendix(folder, "lamp", tmp_path / "lamp.html", day=day, draft=False)

    assert "one day" in refused.value.mend


def test_an_archive_that_does_not_say_what_is_represented_is_not_printed(folder: Path, tmp_path: Path) -> None:
    archive = folder / "archive.yaml"
    lines = archive.read_text(encoding="utf-8").splitlines(keepends=True)
    archive.write_text("".join(line for line in lines if not line.startswith("target")), encoding="utf-8")

    with pytest.raises(ArchiveError, match="which example is represented"):
        print_appendix(folder, "lamp", tmp_path / "lamp.html", day=TODAY, draft=True)
