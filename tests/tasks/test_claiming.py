"""Evidence entered from the command line: what is filled in, what is added to what, and what is refused."""

import multiprocessing
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest
from tasks.team import SOUND, TODAY, a_scan, a_team_archive, a_text

from provenance.errors import UnknownRecordError, UsageRefusedError
from provenance.records.claims import Claim, EvidenceItem
from provenance.records.kinds import How, Stance
from provenance.records.regions import RegionUnit
from provenance.reports.written import Written
from provenance.store.record_kinds import is_record_id
from provenance.tasks import claiming
from provenance.tasks.changing import preview
from provenance.tasks.checking import check_folder
from provenance.tasks.claiming import add_evidence, try_evidence
from provenance.tasks.evidence_items import Evidence
from provenance.tasks.ingest import ingest
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.plans import ChangedMeanwhileError
from provenance.tasks.rebuilding import rebuild
from provenance.tasks.tagging import Tags, tag_source
from provenance.tasks.withdrawing import withdraw

STATED = Evidence(feature="headlamp/kind", value="acetylene", source="handbook", applies_to="all", at={"page": 1})
SEEN = Evidence(feature="headlamp/kind", value="electric", source="photograph")
QUOTED = "The headlamp is of the acetylene pattern."


def enter(opened: Opened, evidence: Evidence, *, by: str = "mh", today: str = TODAY) -> Written:
    return add_evidence(opened.folder, evidence, by=by, today=today)


def claims_of(opened: Opened) -> dict[str, Claim]:
    return dict(open_folder(opened.folder).archive.claims)


def last_item(opened: Opened, claim: str) -> EvidenceItem:
    return claims_of(opened)[claim].evidence[-1]


def refused(opened: Opened, evidence: Evidence) -> UsageRefusedError:
    """The refusal; not a byte of the archive changes, and nothing is left behind."""
    before = {path: path.read_bytes() for path in opened.folder.rglob("*.yaml")}
    with pytest.raises(UsageRefusedError) as refusal:
        enter(opened, evidence)
    assert {path: path.read_bytes() for path in opened.folder.rglob("*.yaml")} == before
    return refusal.value


def a_read_archive(scratch: Path) -> Opened:
    """The archive with the handbook's page read."""
    opened = a_team_archive(scratch)
    rebuild(opened, workers=1)
    return opened


def a_scanned_source(opened: Opened, scratch: Path, lines: tuple[str, ...]) -> str:
    """A manual of one scanned page, read by recognition."""
    done = ingest(opened, [a_scan(scratch / "scans" / "p1.png", lines)], by="mh", today=TODAY, workers=1)
    (file,) = done.files
    assert file.source is not None
    tag_source(opened.folder, file.source, Tags(words={"kind": "manual"}), None)
    return file.source


def test_a_new_value_begins_a_claim_called_after_its_feature_and_value(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    written = enter(opened, replace(STATED, value="Electric lamp", applies_to="5..8"))

    assert written.record == "headlamp-kind-electric-lamp"
    assert written.written == ("claims/headlamp-kind-electric-lamp.yaml",)
    claim = claims_of(opened)[written.record]
    assert (claim.value, str(claim.applies_to.examples), claim.by, str(claim.date)) == (
        "Electric lamp",
        "5..8",
        "mh",
        TODAY,
    )
    assert (claim.evidence[0].stance, claim.evidence[0].how) == (Stance.SUPPORTS, How.STATES)


def test_evidence_for_a_value_that_is_claimed_already_is_added_to_that_claim(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    file = opened.folder / "claims" / "headlamp-kind-acetylene.yaml"
    before = a_text(file, file.read_text(encoding="utf-8") + "# read by all of us\n").read_text(encoding="utf-8")

    written = enter(opened, replace(STATED, value="gas lamp", item={"note": "on the title page"}))

    assert written.record == "headlamp-kind-acetylene"
    assert "Added to the claim headlamp-kind-acetylene (`acetylene`, covering all examples)." in written.said
    assert last_item(opened, written.record).note == "on the title page"
    assert all(line in file.read_text(encoding="utf-8").splitlines() for line in before.splitlines())


def test_an_item_says_who_entered_it_only_where_that_is_not_who_made_the_claim(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    enter(opened, replace(STATED, item={"note": "one"}), today="2026-01-10")
    first = last_item(opened, "headlamp-kind-acetylene")
    enter(opened, replace(STATED, item={"note": "two"}), today="2026-03-01")
    second = last_item(opened, "headlamp-kind-acetylene")

    assert (first.by, first.date) == (None, None)
    assert (second.by, str(second.date)) == (None, "2026-03-01")


def test_the_same_evidence_is_not_added_twice(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    enter(opened, STATED)
    before = claims_of(opened)

    again = enter(opened, STATED, today="2027-01-01")

    assert again.written == ()
    assert "headlamp-kind-acetylene has this item of evidence already; it was not added twice." in again.said
    assert claims_of(opened) == before


def test_another_coverage_is_another_claim_and_gets_digits_in_its_id(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    written = enter(opened, replace(STATED, applies_to="batch=third,from=June 1934"))

    stem, _, digits = written.record.rpartition("-")
    assert stem == "headlamp-kind-acetylene"
    assert len(digits) == 4
    assert set(digits) <= set("0123456789abcdef")
    assert "covering the batch third from 1934-06" in " ".join(written.said)
    assert len(claims_of(opened)) == 2


def test_the_id_of_a_long_value_is_still_an_id(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    component = opened.folder / "components" / "headlamp.yaml"
    feature = "  - {id: wording, name: Wording, aspect: marking, kind: text}\n"
    a_text(component, component.read_text(encoding="utf-8") + feature)
    long = replace(STATED, feature="headlamp/wording", value="to be lit by the guard " * 10)

    first = enter(opened, long)
    second = enter(opened, replace(long, applies_to="9"))

    assert is_record_id(first.record)
    assert is_record_id(second.record)
    assert len(second.record) <= 64
    assert first.record != second.record


def test_a_sighting_covers_the_machine_that_was_seen_unless_it_is_said_otherwise(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    by_the_source = enter(opened, SEEN)
    by_the_item = enter(opened, replace(SEEN, seen="example=6,when=about 1932,known_by=likeness"))

    assert str(claims_of(opened)[by_the_source.record].applies_to.examples) == "9"
    other = claims_of(opened)[by_the_item.record]
    assert str(other.applies_to.examples) == "6"
    assert other.evidence[0].seen is not None
    assert str(other.evidence[0].seen.when) == "1932~"


def test_a_statement_has_to_say_what_it_covers(tmp_path: Path) -> None:
    refusal = refused(a_team_archive(tmp_path), replace(STATED, applies_to=None))

    assert "headlamp-kind-acetylene has that value, covering all examples" in refusal.what
    assert "`--applies-to batch=third`" in refusal.mend


@pytest.mark.parametrize(
    ("kind", "feature", "value", "how"),
    [
        ("photograph", "headlamp/kind", "electric", How.SHOWS),
        ("artefact", "headlamp/kind", "electric", How.SHOWS),
        ("artefact", "headlamp/height", "3 ft", How.MEASURED),
        ("survey", "headlamp/depth", "3 ft", How.MEASURED),
        ("letter", "headlamp/height", "3 ft", How.STATES),
    ],
)
def test_how_a_source_speaks_is_what_is_usual_for_its_kind(
    tmp_path: Path, kind: str, feature: str, value: str, how: How
) -> None:
    opened = a_team_archive(tmp_path)
    component = opened.folder / "components" / "headlamp.yaml"
    features = (
        "  - {id: height, name: Height, aspect: dimension, kind: text}\n"
        "  - {id: depth, name: Depth, aspect: form, kind: quantity, unit: mm}\n"
    )
    a_text(component, component.read_text(encoding="utf-8") + features)
    tag_source(opened.folder, "photograph", Tags(words={"kind": kind}), None)

    written = enter(opened, Evidence(feature=feature, value=value, source="photograph", applies_to="9"))

    assert last_item(opened, written.record).how is how
    assert any(f"Taken as `{how}`" in sentence for sentence in written.said)


def test_everything_that_is_said_of_an_item_is_written_down(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    evidence = Evidence(
        feature="headlamp/kind",
        value="electric",
        source="photograph",
        at={"region": "percent:10,20,30,40", "page_label": "xii", "file": None, "who": "M. Hollin", "page": None},
        item={
            "stance": "contradicts",
            "how": "implies",
            "legibility": "doubtful",
            "condition": "worn",
            "via": "handbook",
        },
        applies_to="2, 5..8",
        seen="example=6,known_by=likeness,signs=conduit,why=by the conduit, as on all of its batch",
        signs=["conduit=not-seen"],
        whole={"reasoning": "the conduit is on the other side", "uncertainty": None},
    )

    written = enter(opened, evidence)

    claim = claims_of(opened)[written.record]
    (item,) = claim.evidence
    assert (item.stance, item.how, item.via, item.at.page_label) == (Stance.CONTRADICTS, How.IMPLIES, "handbook", "xii")
    assert [(sign, str(seen)) for sign, seen in item.signs] == [("conduit", "not-seen")]
    assert item.seen is not None
    assert (item.seen.signs, item.seen.why) == (("conduit",), "by the conduit, as on all of its batch")
    assert str(claim.applies_to.examples) == "2, 5..8"
    assert claim.reasoning == "the conduit is on the other side"


def test_reasoning_is_added_to_a_claim_that_has_none_and_never_put_in_the_place_of_another(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    argued = replace(STATED, whole={"reasoning": "the maker made no other"})

    enter(opened, argued)
    again = enter(opened, argued)
    refusal = refused(opened, replace(STATED, whole={"reasoning": "a guess"}))

    assert claims_of(opened)["headlamp-kind-acetylene"].reasoning == "the maker made no other"
    assert again.written == ()
    assert "has another reasoning already: `the maker made no other`" in refusal.what


def test_evidence_for_a_withdrawn_claim_begins_another(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    file = opened.folder / "claims" / "headlamp-kind-acetylene.yaml"
    a_text(file, file.read_text(encoding="utf-8") + "withdrawn: {why: misread, by: mh, date: 2026-01-11}\n")

    written = enter(opened, STATED)

    assert written.record != "headlamp-kind-acetylene"
    assert [problem.rule for problem in check_folder(opened.folder).problems] == []


def test_evidence_from_a_withdrawn_source_is_entered_and_said_to_count_for_nothing(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    withdraw(opened.folder, "handbook", why="a later reprint", by="mh", today=TODAY)

    written = enter(opened, STATED)

    assert written.written
    assert written.said[0] == "handbook was withdrawn (a later reprint), so this counts for nothing as yet."


@pytest.mark.parametrize(
    ("evidence", "what", "mend"),
    [
        (replace(STATED, value="oil"), "`oil` is no value of headlamp/kind", "`acetylene`, `electric`"),
        (replace(STATED, at={"page": 2}), "page 2 is beyond the end of handbook, which has 1", "--page-label"),
        (replace(STATED, applies_to="12"), "there is no example `12`", "9, 10, 11"),
        (replace(STATED, applies_to="8..5"), "runs backwards", "5..8"),
        (replace(STATED, applies_to="exmples=9"), "--applies-to has no key `exmples`", "`examples`"),
        (replace(STATED, applies_to="9,from=spring 1934"), "a season", "1934-03/1934-05"),
        (replace(STATED, applies_to="9,batch="), "has nothing behind batch=", "once"),
        (replace(STATED, applies_to="batch=first,batch=third"), "names batch twice", "once"),
        (replace(STATED, item={"how": "guessed"}), "guessed", "`measured`"),
        (replace(STATED, signs=["conduit"]), "does not say what was seen", "=not-seen"),
        (replace(STATED, signs=["hood=seen"]), "`hood` is no sign of headlamp", "its signs are: conduit;"),
        (replace(STATED, item={"via": "nothing"}), "no `nothing` among the sources", "sources"),
    ],
)
def test_what_cannot_be_is_refused_with_what_can(tmp_path: Path, evidence: Evidence, what: str, mend: str) -> None:
    refusal = refused(a_team_archive(tmp_path), evidence)

    assert what in refusal.what
    assert mend in refusal.mend


def test_nothing_is_claimed_from_a_source_of_which_nobody_has_said_the_kind(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    a_text(opened.folder / "sources" / "scan-1.yaml", "title: a scan\nby: mh\ndate: 2026-01-10\n")

    refusal = refused(opened, replace(STATED, source="scan-1", at={}))

    assert "what kind of source scan-1 is" in refusal.what
    assert "`provenance tag scan-1 --kind photograph`" in refusal.mend


@pytest.mark.parametrize(
    ("feature", "source", "mend"),
    [
        ("headlamp/knid", "handbook", "`headlamp/kind`"),
        ("headlamp", "handbook", "headlamp/kind, headlamp/hood"),
        ("headlamp/x", "handbook", "`headlamp/kind` or `headlamp/hood`"),
        ("hedlamp/kind", "handbook", "`headlamp/kind`"),
        ("xyz", "handbook", "provenance add feature"),
        ("headlamp/kind", "handbok", "`handbook`"),
    ],
)
def test_a_name_that_is_not_there_brings_the_nearest(tmp_path: Path, feature: str, source: str, mend: str) -> None:
    opened = a_team_archive(tmp_path)

    with pytest.raises(UnknownRecordError) as unknown:
        enter(opened, replace(STATED, feature=feature, source=source))

    assert mend in unknown.value.mend


def test_a_quotation_finds_its_own_page(tmp_path: Path) -> None:
    opened = a_read_archive(tmp_path)

    written = enter(opened, replace(STATED, at={}, quote="the acetylene PATTERN", item={"note": "a second"}))

    item = last_item(opened, written.record)
    assert item.at.page == 1
    assert item.quote == "the acetylene PATTERN"
    assert "The quotation stands on page 1." in written.said


def test_a_quotation_from_a_scan_finds_its_own_region_and_is_kept_as_typed(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    source = a_scanned_source(
        opened, tmp_path, ("WORKING INSTRUCTIONS", "The headlamp bracket is fixed", "to the cab.")
    )
    quoted = "The headlarnp bracket is fixed to the cab."

    written = enter(opened, replace(STATED, source=source, at={"page": 1}, quote=quoted))

    item = last_item(opened, written.record)
    assert item.quote == quoted
    region = item.at.region
    assert region is not None
    assert region.unit is RegionUnit.PERCENT
    # Drawn from 100 of 1240 across; lines 2 and 3 of 36 pixels' type begin at 140 and 200 of 600 down.
    assert 7 <= region.x <= 9
    assert 22 <= region.y <= 26
    assert 32 <= region.y + region.h <= 42
    assert any("read a little differently" in sentence for sentence in written.said)


def test_a_quotation_that_is_not_there_brings_the_nearest_passage(tmp_path: Path) -> None:
    opened = a_read_archive(tmp_path)

    near = refused(opened, replace(STATED, quote="The headlamp is of the electric pattern."))
    far = refused(opened, replace(STATED, quote="Each window had two leather straps, and a brass catch."))

    assert "the nearest is: “The headlamp is of the acetylene pattern.”" in near.what
    assert "nor anything like it" in far.what
    assert "provenance tag handbook --transcript FILE --page 1" in near.mend


def test_a_quotation_that_stands_on_two_pages_needs_its_page(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    pages = {1: "The lamp is lit at dusk.\n", 2: "The hood is of brass.\n", 3: "The lamp is lit at dusk.\n"}
    source = (
        "title: Rule book\nkind: manual\nby: mh\ndate: 2026-01-10\nfiles:\n"
        f"  - {{path: originals/rules/rules.pdf, sha256: {'0' * 64}, bytes: 9, media_type: application/pdf,"
        " pages: 4}\n"
    )
    a_text(opened.folder / "sources" / "rules.yaml", source)
    for page, text in pages.items():
        a_text(opened.folder / "transcripts" / "rules" / f"p{page:04}.txt", f"by: mh\ndate: 2026-01-10\n\n{text}")
    lit = replace(STATED, source="rules", at={}, quote="lit at dusk")

    twice = refused(opened, lit)
    nowhere = refused(opened, replace(lit, quote="The hood is of copper sheet."))
    found = last_item(opened, enter(opened, replace(lit, quote="The hood is of brass.")).record)
    unread = enter(opened, replace(lit, at={"page": 4}))

    assert "stands on pages 1 and 3 of rules" in twice.what
    assert "on page 2: “The hood is of brass.” (one page not read)" in nowhere.what
    assert found.at.page == 2
    assert "The quotation could not be compared: page 4 of rules has not been read." in unread.said


def test_a_persons_transcript_says_what_stands_there_and_the_reading_where(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    source = a_scanned_source(
        opened, tmp_path, ("WORKING INSTRUCTIONS", "The headlamp bracket is fixed", "to the cab.")
    )
    a_text(
        opened.folder / "transcripts" / source / "p0001.txt",
        "by: mh\ndate: 2026-01-10\n\nWORKING INSTRUCTIONS\nThe headlamp bracket is fixed\nto the cab.\n",
    )

    written = enter(opened, replace(STATED, source=source, at={}, quote="headlamp bracket is fixed"))

    assert last_item(opened, written.record).at.region is not None


def test_a_quotation_from_a_recording_is_not_looked_for_on_pages(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    written = enter(opened, replace(STATED, at={"time": "00:12:31"}, quote="never electric, never"))

    assert last_item(opened, written.record).quote == "never electric, never"


def test_trying_tells_what_would_change_and_writes_nothing(tmp_path: Path) -> None:
    opened = a_read_archive(tmp_path)
    before = {path: path.read_bytes() for path in opened.folder.rglob("*") if path.is_file()}

    tried = try_evidence(opened, SEEN, by="mh", today=TODAY)

    assert {path: path.read_bytes() for path in opened.folder.rglob("*") if path.is_file()} == before
    assert tried.files == ("claims/headlamp-kind-electric.yaml",)
    assert [(each.before.value, each.after.value) for each in tried.changes] == [("acetylene", "electric")]
    enter(opened, SEEN)
    assert try_evidence(open_folder(opened.folder), SEEN, by="mh", today=TODAY).files == ()


def test_a_claim_that_somebody_began_meanwhile_is_added_to_and_not_begun_twice(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    enter(opened, SEEN)

    planned = claiming.plan_evidence(opened, replace(SEEN, item={"note": "later"}), by="mh", today=TODAY)

    assert planned.claim == "headlamp-kind-electric"
    with pytest.raises(ChangedMeanwhileError):
        preview(opened, planned.steps)


def _enter_many(folder: Path, writer: str, times: int) -> None:
    for number in range(times):
        item = replace(STATED, value="electric", item={"note": f"{writer} {number}"})
        add_evidence(folder, item, by="mh", today=TODAY)


def _all_at_once(folder: Path, writers: Sequence[str], times: int) -> list[int | None]:
    context = multiprocessing.get_context("spawn")
    children = [context.Process(target=_enter_many, args=(folder, writer, times)) for writer in writers]
    for child in children:
        child.start()
    for child in children:
        child.join()
    return [child.exitcode for child in children]


@pytest.mark.parametrize("times", [10, pytest.param(100, marks=pytest.mark.long)])
def test_two_people_who_claim_at_once_lose_nothing(tmp_path: Path, times: int) -> None:
    opened = a_team_archive(tmp_path)

    exits = _all_at_once(opened.folder, ("a", "b"), times)

    notes = [item.note for item in claims_of(opened)["headlamp-kind-electric"].evidence]
    assert exits == [0, 0]
    assert len(notes) == len(set(notes)) == 2 * times


def test_two_people_who_enter_the_same_at_once_enter_it_once(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    exits = _all_at_once(opened.folder, ("same", "same"), 5)

    notes = [item.note for item in claims_of(opened)["headlamp-kind-electric"].evidence]
    assert exits == [0, 0]
    assert sorted(filter(None, notes)) == [f"same {number}" for number in range(5)]


def test_the_archive_that_the_tests_copy_is_sound() -> None:
    assert check_folder(SOUND).problems == ()
