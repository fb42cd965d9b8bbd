import re
from pathlib import Path

import pytest
from public_folders import TODAY, a_folder_that_holds_back, canaries_in, is_seen_through, let_names_tell
from unpacked import words_in

from provenance.errors import ArchiveError, UnknownRecordError, UsageRefusedError, WriteRefusedError
from provenance.records.dates import Day
from provenance.rules.findings import Findings
from provenance.rules.flags import flags
from provenance.rules.judging import judge_all
from provenance.rules.public_view import public_view
from provenance.rules.verdicts import Verdict
from provenance.tasks.checking import check_folder
from provenance.tasks.opening import open_folder
from provenance.tasks.printing import FORMATS, print_appendix

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


def _leave_more_traces(folder: Path) -> None:
    """What is withheld behind copies, prints, containers, decisions, queries and leads, each in its own words."""
    derived = "title: Print after it\nkind: photograph\nderives_from: [{source: canary%sid, how: print}]\n"
    kept = "within: {source: canary%sid}\naccess: open\nrights: {publish: allowed}\nby: mh\ndate: 2026-01-10\n"
    pair = "between: [canary%sid, handbook]\nruling: open\nwhy: Canary%swhy\nby: mh\ndate: 2026-01-10\n"
    claim = folder / "claims/headlamp-kind-acetylene.yaml"
    for kind in ("team", "closed"):
        (folder / f"sources/print-{kind}.yaml").write_text(derived % kind + kept % kind, encoding="utf-8")
        (folder / "copies").mkdir(exist_ok=True)
        (folder / f"copies/canary{kind}id--handbook.yaml").write_text(pair % (kind, kind), encoding="utf-8")
        item = (
            f'  - {{source: print-{kind}, at: {{page: 1}}, stance: supports, how: shows, seen: {{example: "9"}}, '
            f"via: canary{kind}id}}\n"
        )
        _change(claim, "by: mh", f"{item}by: mh")
    (folder / "queries").mkdir(exist_ok=True)
    (folder / "queries/canaryquery.yaml").write_text(
        "about: headlamp/kind\nraised_by: Canaryraiser\ngrounds: Canaryteamcreator says so\nby: mh\ndate: 2026-01-10\n",
        encoding="utf-8",
    )


def _seen_in(file: Path) -> list[str]:
    """The lines in which a canary can be seen in any piece of a file, also across lines, tags and breaks of words."""
    words = words_in(file.read_bytes())
    run_together = re.sub(r"<[^>]*>|[\s\u200b\u00ad]+", "", words)
    return canaries_in(words.encode()) + canaries_in(run_together.encode())


@pytest.mark.parametrize(("ending", "style"), [*((each, None) for each in FORMATS), ("html", "iso-690-author-date")])
@pytest.mark.parametrize("draft", [False, True])
def test_no_word_of_what_is_withheld_is_printed(
    folder: Path, tmp_path: Path, ending: str, style: str | None, *, draft: bool
) -> None:
    _leave_more_traces(folder)
    output = tmp_path / f"lamp.{ending}"

    print_appendix(folder, "lamp", output, day=TODAY, draft=draft, style=style)

    words = " ".join(words_in(output.read_bytes()).split())
    assert _seen_in(output) == []
    assert "held privately supports this too" in words
    assert "modern re-creation" in words
    assert "Print after it" in words
    assert ("DRAFT" in words) is draft


def test_the_traces_are_found_where_they_may_stand(folder: Path, tmp_path: Path) -> None:
    """The search would find a canary in every format: here what is the team's was opened."""
    _leave_more_traces(folder)
    _change(folder / "sources/canaryteamid.yaml", "access: team", "access: open")

    for ending in FORMATS:
        output = tmp_path / f"lamp.{ending}"
        print_appendix(folder, "lamp", output, day=TODAY, draft=True)
        assert _seen_in(output), ending


@pytest.mark.parametrize("ending", FORMATS)
@pytest.mark.parametrize("draft", [False, True])
def test_names_that_tell_are_struck_out_of_what_is_printed(
    folder: Path, tmp_path: Path, ending: str, *, draft: bool
) -> None:
    let_names_tell(folder, panel=draft)
    output = tmp_path / f"lamp.{ending}"

    print_appendix(folder, "lamp", output, day=TODAY, draft=draft)

    assert _seen_in(output) == []
    assert words_in(output.read_bytes()).count("withheld") >= 4


@pytest.mark.parametrize("ending", FORMATS)
def test_the_same_archive_gives_the_same_file(folder: Path, tmp_path: Path, ending: str) -> None:
    one, other = tmp_path / f"one.{ending}", tmp_path / f"other.{ending}"

    for output in (one, other):
        print_appendix(folder, "lamp", output, day=TODAY, draft=True)

    assert one.read_bytes() == other.read_bytes()


@pytest.mark.parametrize("gone", ["creator", "created", "holder"])
def test_a_source_of_which_little_is_known_is_cited_all_the_same(folder: Path, tmp_path: Path, gone: str) -> None:
    source = folder / "sources/handbook.yaml"
    lines = source.read_text(encoding="utf-8").splitlines(keepends=True)
    source.write_text("".join(line for line in lines if not line.startswith(f"{gone}:")), encoding="utf-8")
    output = tmp_path / "lamp.md"

    print_appendix(folder, "lamp", output, day=TODAY, draft=False)

    assert "*Working instructions*. Manual" in output.read_text(encoding="utf-8")


def test_a_style_that_cannot_be_used_stops_the_printing_before_anything_is_written(
    folder: Path, tmp_path: Path
) -> None:
    hostile = tmp_path / "hostile.csl"
    hostile.write_text('<!DOCTYPE s [<!ENTITY x SYSTEM "file:///etc/passwd">]><style>&x;</style>', encoding="utf-8")

    with pytest.raises(UsageRefusedError, match=r"hostile\.csl, line 1: it has a document type"):
        print_appendix(folder, "lamp", tmp_path / "lamp.html", day=TODAY, draft=False, style=str(hostile))

    assert not (tmp_path / "lamp.html").exists()
    assert open_folder(folder).archive.panels["lamp"].printed == ()


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
