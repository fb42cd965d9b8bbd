"""Ruled on once: the one was made from the other, or neither was; and never asked about again."""

import re
from pathlib import Path

import pytest
from tasks.team import TODAY, a_team_archive, a_text

from provenance.errors import UnknownRecordError, UsageRefusedError
from provenance.records.kinds import Derivation, Ruling
from provenance.records.sources import DerivesFrom
from provenance.reports.ruled import Ruled
from provenance.rules.judging import judge_feature
from provenance.tasks.checking import check_folder
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.ruling import Confirmation, Signed, confirm, rule_out, try_confirm, try_rule_out

PAIR = "handbook--photograph"
BOTH = ("photograph", "handbook")
FILE = f"copies/{PAIR}.yaml"
BY = "by: mh\ndate: 2026-01-20\n"
OPEN = (
    f"between: [handbook, photograph]  # in order\nfound_by: {{method: picture, score: 0.91}}\nwhy: the same crack\n"
    f"ruling: open\n{BY}"
)
SIGNED = Signed(by="mh", date=TODAY)


def with_pair(scratch: Path, text: str = OPEN) -> Opened:
    opened = a_team_archive(scratch)
    a_text(opened.folder / FILE, text)
    return open_folder(opened.folder)


def with_source(opened: Opened, name: str, text: str) -> Opened:
    a_text(opened.folder / "sources" / f"{name}.yaml", f"title: {name}\n{text}{BY}")
    return open_folder(opened.folder)


def ruled_a_copy(
    opened: Opened, *, how: str | None = "print", original: str | None = None, why: str = "it is"
) -> Ruled:
    return confirm(opened.folder, BOTH, Confirmation(why=why, how=how, original=original), SIGNED)


def ruled_out(opened: Opened, why: str = "the driver has moved") -> Ruled:
    return rule_out(opened.folder, BOTH, why, SIGNED)


def text_of(opened: Opened, file: str = FILE) -> str:
    return (opened.folder / file).read_text(encoding="utf-8")


def test_the_later_one_says_what_it_was_made_from_and_the_pair_keeps_who_ruled_when_and_why(tmp_path: Path) -> None:
    opened = with_pair(tmp_path)

    ruled = ruled_a_copy(opened, why="the same crack, and the caption")

    archive = open_folder(opened.folder).archive
    pair = archive.copies[PAIR]
    assert ruled.written == ("sources/photograph.yaml", FILE)
    assert archive.sources["photograph"].derives_from == (DerivesFrom(source="handbook", how=Derivation.PRINT),)
    assert (pair.ruling, pair.how, pair.why_ruled) == (
        Ruling.COPY,
        Derivation.PRINT,
        "the same crack, and the caption",
    )
    assert (pair.ruled_by, str(pair.ruled_date), pair.why, pair.by) == ("mh", TODAY, "the same crack", "mh")
    assert "# in order\n" in text_of(opened)
    assert ruled.said[0] == "Ruled: photograph is a print of handbook. The two count as one witness."
    assert "handbook is the earlier of the two (1931, against May 1934)" in ruled.said[1]
    assert check_folder(opened.folder).problems == ()


def test_a_source_that_was_made_from_another_one_already_keeps_that(tmp_path: Path) -> None:
    opened = with_source(with_pair(tmp_path), "negative", "kind: photograph\n")
    file = opened.folder / "sources" / "photograph.yaml"
    a_text(file, file.read_text(encoding="utf-8") + "derives_from: [{source: negative, how: print}]  # by its number\n")

    ruled_a_copy(opened, how="extract")

    (first, second) = open_folder(opened.folder).archive.sources["photograph"].derives_from
    assert (first.source, second.source, second.how) == ("negative", "handbook", Derivation.EXTRACT)
    assert "# by its number" in text_of(opened, "sources/photograph.yaml")


def test_a_page_kept_within_a_book_may_be_a_copy_too(tmp_path: Path) -> None:
    opened = with_source(
        a_team_archive(tmp_path), "plate", "kind: photograph\ncreated: 1936\nwithin: {source: handbook}\n"
    )

    ruled = confirm(opened.folder, ("plate", "photograph"), Confirmation(why="seen", how="print"), SIGNED)

    assert ruled.written == ("sources/plate.yaml", "copies/photograph--plate.yaml")
    assert check_folder(opened.folder).problems == ()


def test_two_that_nobody_had_noted_as_alike_get_a_record_by_eye(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    ruled_out(opened, "only the same station")

    assert text_of(opened) == (
        "between:\n  - handbook\n  - photograph\nfound_by:\n  method: by eye\nwhy: only the same station\n"
        "ruling: distinct\n"
        f"why_ruled: only the same station\nruled_by: mh\nruled_date: {TODAY}\nby: mh\ndate: {TODAY}\n"
    )
    assert check_folder(opened.folder).problems == ()


def test_a_ruling_given_twice_writes_nothing_and_says_who_ruled(tmp_path: Path) -> None:
    opened = with_pair(tmp_path)
    ruled_a_copy(opened)
    before = text_of(opened)

    again = confirm(opened.folder, BOTH, Confirmation(why="it is", how="print"), Signed(by="mh", date="2027-01-01"))

    assert (again.written, again.changes) == ((), ())
    assert again.said == ("Already ruled a copy (print) by M. Hollin on 1 February 2026: “it is”.",)
    assert text_of(opened) == before


def test_another_reason_takes_the_place_of_the_first_which_is_told(tmp_path: Path) -> None:
    opened = with_pair(tmp_path)
    ruled_out(opened, "the driver has moved")

    ruled = ruled_out(opened, "the clock has moved")

    assert ruled.written == (FILE,)
    assert ruled.said[1] == "Until now it was ruled distinct by M. Hollin on 1 February 2026: “the driver has moved”."
    assert open_folder(opened.folder).archive.copies[PAIR].why_ruled == "the clock has moved"


def test_a_pair_that_was_ruled_out_is_a_copy_after_all(tmp_path: Path) -> None:
    opened = with_pair(tmp_path)
    ruled_out(opened)

    ruled = ruled_a_copy(opened)

    archive = open_folder(opened.folder).archive
    assert archive.copies[PAIR].ruling is Ruling.COPY
    assert archive.sources["photograph"].derives_from
    assert any("ruled distinct by M. Hollin" in sentence for sentence in ruled.said)


def test_a_copy_is_not_ruled_out_while_its_own_record_says_what_it_was_made_from(tmp_path: Path) -> None:
    opened = with_pair(tmp_path)
    ruled_a_copy(opened)
    lines = text_of(opened, "sources/photograph.yaml").splitlines()
    number = next(number for number, line in enumerate(lines, 1) if "source: handbook" in line)

    with pytest.raises(UsageRefusedError) as refused:
        ruled_out(opened)

    assert refused.value.what == (
        f"sources/photograph.yaml:{number}: derives_from[0]: photograph is a print of handbook"
    )
    assert "by hand" in refused.value.mend
    a_text(opened.folder / "sources" / "photograph.yaml", "\n".join(lines[:-3]) + "\n")
    assert "`how: print` stays in its record, and counts for nothing." in ruled_out(opened).said


def test_where_both_go_back_to_a_third_only_the_ruling_is_written(tmp_path: Path) -> None:
    opened = with_pair(tmp_path)

    ruled = ruled_a_copy(opened, how=None, original="neither")
    named = with_pair(tmp_path / "other")
    ruled_named = ruled_a_copy(named, how="print", original="neither")

    archive = open_folder(opened.folder).archive
    assert (ruled.written, ruled_named.written) == ((FILE,), (FILE,))
    assert (archive.copies[PAIR].ruling, archive.copies[PAIR].how) == (Ruling.COPY, None)
    assert not any(source.derives_from for source in archive.sources.values())
    assert "both go back to a third that is not held" in ruled.said[0]
    assert open_folder(named.folder).archive.copies[PAIR].how is Derivation.PRINT


def test_what_the_dates_do_not_say_is_said_by_the_one_who_rules(tmp_path: Path) -> None:
    opened = with_source(a_team_archive(tmp_path), "undated", "kind: photograph\n")
    names = ("undated", "photograph")

    with pytest.raises(UsageRefusedError) as refused:
        confirm(opened.folder, names, Confirmation(why="seen", how="crop"), SIGNED)
    ruled = confirm(opened.folder, names, Confirmation(why="seen", how="crop", original="undated"), SIGNED)

    assert "photograph: May 1934; undated: without a date" in refused.value.what
    assert "`--original photograph`" in refused.value.mend
    assert "`--original neither`" in refused.value.mend
    assert ruled.written[0] == "sources/photograph.yaml"
    assert open_folder(opened.folder).archive.sources["photograph"].derives_from[0].source == "undated"


def test_what_is_on_record_already_is_not_written_twice(tmp_path: Path) -> None:
    opened = with_pair(tmp_path)
    file = opened.folder / "sources" / "photograph.yaml"
    a_text(file, file.read_text(encoding="utf-8") + "derives_from: [{source: handbook, how: print}]\n")

    ruled = ruled_a_copy(opened)

    assert ruled.written == (FILE,)
    assert "sources/photograph.yaml:8: derives_from[0]" in ruled.said[1]


def test_a_copy_of_a_copy_goes_back_to_the_first(tmp_path: Path) -> None:
    opened = with_source(with_pair(tmp_path), "plate", "derives_from: [{source: handbook, how: scan}]\n")
    file = opened.folder / "sources" / "photograph.yaml"
    a_text(file, file.read_text(encoding="utf-8") + "derives_from: [{source: plate, how: print}]\n")

    ruled = ruled_a_copy(opened, how="scan")

    assert ruled.written == (FILE,)
    assert ruled.said[0] == ("Ruled: photograph goes back to handbook by way of plate. The two count as one witness.")


@pytest.mark.parametrize(
    ("how", "original", "what", "mend"),
    [
        ("scan", None, "photograph is a print of handbook, as is said there", "--how print"),
        ("print", "photograph", "cannot be that handbook was made from photograph", "--original handbook"),
        ("print", "neither", "cannot be that both go back to a third", "--original handbook"),
    ],
)
def test_a_ruling_against_what_is_on_record_is_refused_with_the_line(
    tmp_path: Path, how: str, original: str | None, what: str, mend: str
) -> None:
    opened = with_pair(tmp_path)
    ruled_a_copy(opened)

    with pytest.raises(UsageRefusedError) as refused:
        ruled_a_copy(opened, how=how, original=original)

    assert refused.value.what.startswith("sources/photograph.yaml:")
    assert what in refused.value.what
    assert mend in refused.value.mend


@pytest.mark.parametrize(
    ("found", "what", "mend"),
    [
        (Confirmation(why="x", how="prnt"), "`prnt` is no way", "did you mean `print`?"),
        (Confirmation(why="x", how="photostat"), "`photostat` is no way", "facsimile, print, crop, scan"),
        (Confirmation(why="x"), "not said how", "--how WORD"),
        (Confirmation(why="x", how="print", original="plate"), "none of the two", "handbook or photograph, or neither"),
        (Confirmation(why=" ", how="print"), "not said why", "--why"),
        (Confirmation(why="x", how="print", original="photograph"), "which was made later", "turn the two round"),
    ],
)
def test_what_cannot_be_is_refused_with_its_mend(tmp_path: Path, found: Confirmation, what: str, mend: str) -> None:
    opened = with_pair(tmp_path)

    with pytest.raises(UsageRefusedError) as refused:
        confirm(opened.folder, BOTH, found, SIGNED)

    assert what in refused.value.what
    assert mend in refused.value.mend
    assert text_of(opened) == OPEN


def test_a_withdrawn_source_is_made_into_nobodys_original(tmp_path: Path) -> None:
    opened = with_pair(tmp_path)
    file = opened.folder / "sources" / "handbook.yaml"
    withdrawn = "withdrawn: {why: a hoax, by: mh, date: 2026-01-21}\n"
    a_text(file, file.read_text(encoding="utf-8") + withdrawn)

    with pytest.raises(UsageRefusedError, match=r"sources/handbook\.yaml: withdrawn: a hoax"):
        ruled_a_copy(opened)
    assert ruled_out(opened).written == (FILE,)


def test_sources_are_named_by_ids_that_are_there_and_are_two(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    with pytest.raises(UnknownRecordError) as unknown:
        rule_out(opened.folder, ("handbok", "photograph"), "x", SIGNED)
    with pytest.raises(UsageRefusedError, match="named twice"):
        rule_out(opened.folder, ("handbook", "handbook"), "x", SIGNED)

    assert "`handbook`" in unknown.value.mend


def test_a_record_that_cannot_be_used_is_to_be_mended_first(tmp_path: Path) -> None:
    faulty = with_pair(tmp_path, OPEN.replace("ruling: open", "ruling: maybe"))
    broken = with_source(a_team_archive(tmp_path / "other"), "plate", "kind: plate\n")

    with pytest.raises(UsageRefusedError, match=re.escape(f"{FILE} cannot be used")):
        ruled_out(faulty)
    with pytest.raises(UsageRefusedError, match=r"sources/plate\.yaml cannot be used"):
        rule_out(broken.folder, ("plate", "photograph"), "x", SIGNED)


def with_two_witnesses(scratch: Path) -> Opened:
    opened = with_pair(scratch)
    file = opened.folder / "claims" / "headlamp-kind-acetylene.yaml"
    item = "  - {source: photograph, at: {page: 1}, stance: supports, how: shows}\nby: mh"
    a_text(file, file.read_text(encoding="utf-8").replace("by: mh", item, 1))
    return open_folder(opened.folder)


def test_what_a_ruling_changes_is_told_as_the_records_then_say(tmp_path: Path) -> None:
    opened = with_two_witnesses(tmp_path)
    tried = try_rule_out(opened, BOTH, "the driver has moved", SIGNED)
    before = text_of(opened)

    ruled = ruled_out(opened)

    assert before == OPEN
    assert ruled.changes is not None
    (change,) = ruled.changes
    assert (change.feature, change.before.lines, change.after.lines) == ("headlamp/kind", 1, 2)
    assert change.after.posterior == judge_feature(open_folder(opened.folder).archive, "headlamp/kind").posterior
    assert tried.changes == ruled.changes
    assert tried.files == ruled.written


def test_trying_a_copy_writes_nothing(tmp_path: Path) -> None:
    opened = with_two_witnesses(tmp_path)
    ruled_out(opened)
    before = text_of(opened)

    tried = try_confirm(open_folder(opened.folder), BOTH, Confirmation(why="it is", how="print"), SIGNED)

    assert tried.files == ("sources/photograph.yaml", FILE)
    assert [(each.before.lines, each.after.lines) for each in tried.changes] == [(2, 1)]
    assert text_of(opened) == before


def test_where_nothing_can_be_judged_yet_it_is_ruled_all_the_same(tmp_path: Path) -> None:
    opened = with_pair(tmp_path)
    head = opened.folder / "archive.yaml"
    lines = [line for line in head.read_text(encoding="utf-8").splitlines() if not line.startswith("target")]
    a_text(head, "\n".join(lines) + "\n")

    ruled = ruled_out(opened)

    assert (ruled.written, ruled.changes) == ((FILE,), None)
