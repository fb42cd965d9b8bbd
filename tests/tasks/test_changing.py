import hashlib
import multiprocessing
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import pytest
from tasks.team import a_team_archive, a_text

from provenance.errors import UsageRefusedError, WriteRefusedError
from provenance.rules.judging import judge_feature
from provenance.store.editing import Append, SetScalar
from provenance.store.record_kinds import RecordKind
from provenance.tasks.changing import Move, NewRecord, NewText, RecordEdit, Step, change, preview
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.plans import ChangedMeanwhileError
from provenance.tasks.shown_texts import ChangedUnderneathError

CLAIM = "headlamp-kind-acetylene"


def a_lead(lead_id: str, **fields: object) -> NewRecord:
    known = {"what": "works photographs", "by": "mh", "date": "2026-02-01"}
    return NewRecord(kind=RecordKind.LEAD, id=lead_id, fields=known | fields)


def test_a_plan_is_looked_at_without_writing_a_byte(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    before = {path: path.read_bytes() for path in opened.folder.rglob("*") if path.is_file()}
    electric = RecordEdit(kind=RecordKind.CLAIM, id=CLAIM, changes=(SetScalar(("value",), "electric"),))

    after = preview(opened, [electric]).after

    assert judge_feature(after, "headlamp/kind").value == "electric"
    assert {path: path.read_bytes() for path in opened.folder.rglob("*") if path.is_file()} == before


def test_a_plan_is_written_in_its_order_and_comments_stay(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    claim = opened.folder / "claims" / f"{CLAIM}.yaml"
    a_text(claim, claim.read_text(encoding="utf-8") + "# seen by all of us\n")
    noted = RecordEdit(kind=RecordKind.CLAIM, id=CLAIM, changes=(SetScalar(("value",), "gas lamp"),))

    written = change(opened.folder, lambda _: [a_lead("works"), noted])

    assert written == ("leads/works.yaml", f"claims/{CLAIM}.yaml")
    assert claim.read_text(encoding="utf-8").endswith("# seen by all of us\n")
    assert open_folder(opened.folder).archive.claims[CLAIM].value == "gas lamp"


def test_two_steps_on_one_record_are_written_once(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    topics = (Append(("topics",), "headlamp"),)

    written = change(
        opened.folder,
        lambda _: [
            RecordEdit(kind=RecordKind.SOURCE, id="photograph", changes=topics),
            RecordEdit(kind=RecordKind.SOURCE, id="photograph", changes=(SetScalar(("title",), "No. 9"),)),
        ],
    )

    source = open_folder(opened.folder).archive.sources["photograph"]
    assert written == ("sources/photograph.yaml",)
    assert (source.topics, source.title) == (("headlamp",), "No. 9")


@pytest.mark.parametrize(
    "step",
    [
        a_lead("works", hoped_for=["headlamp/colour"]),
        a_lead("works", effort="gigantic"),
        RecordEdit(kind=RecordKind.CLAIM, id=CLAIM, changes=(SetScalar(("value",), "oil"),)),
        RecordEdit(kind=RecordKind.ARCHIVE, id="", changes=(SetScalar(("target", "example"), "12"),)),
    ],
)
def test_a_plan_that_would_leave_a_record_unsound_is_refused_whole(tmp_path: Path, step: Step) -> None:
    opened = a_team_archive(tmp_path)

    with pytest.raises(UsageRefusedError) as refused:
        change(opened.folder, lambda _: [a_lead("first"), step])

    assert refused.value.mend
    assert not (opened.folder / "leads").exists()


def test_an_old_fault_elsewhere_stops_nobody(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    a_text(opened.folder / "sources" / "stray.yaml", "title: a stray\ntopics: [nothing]\nby: mh\ndate: 2026-01-10\n")

    written = change(opened.folder, lambda _: [a_lead("works")])

    assert written == ("leads/works.yaml",)


def test_a_person_is_added_to_the_archive_s_own_record(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    person = {"id": "tw", "name": "T. Wenlark"}

    change(
        opened.folder,
        lambda _: [RecordEdit(kind=RecordKind.ARCHIVE, id="", changes=(Append(("people",), person),))],
    )

    assert open_folder(opened.folder).archive.person_ids == {"mh", "tw"}


def test_a_record_that_is_there_already_is_not_written_over(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    change(opened.folder, lambda _: [a_lead("works")])

    with pytest.raises(UsageRefusedError, match="already"):
        change(opened.folder, lambda _: [a_lead("works", what="something else")])


def _note_names(folder: Path, writer: str, times: int) -> None:
    for number in range(times):
        entry = {"date": "2026-02-01", "received_as": f"{writer}-{number}.jpg"}

        def plan(_: Opened, entry: dict[str, str] = entry) -> Sequence[Step]:
            return [RecordEdit(kind=RecordKind.SOURCE, id="photograph", changes=(Append(("acquired",), entry),))]

        change(folder, plan)


def test_two_writers_at_once_lose_nothing(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    context = multiprocessing.get_context("spawn")
    writers = [context.Process(target=_note_names, args=(opened.folder, name, 20)) for name in ("a", "b")]

    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()

    acquired = open_folder(opened.folder).archive.sources["photograph"].acquired
    assert [writer.exitcode for writer in writers] == [0, 0]
    assert len(acquired) == len({entry.received_as for entry in acquired}) == 40


def test_a_text_that_is_no_record_is_written_with_the_records(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    text = NewText(file="transcripts/handbook/p0001.txt", text="by: mh\ndate: 2026-02-01\n\nWORKING\n")

    written = change(opened.folder, lambda _: [a_lead("works"), text])

    assert written == ("leads/works.yaml", "transcripts/handbook/p0001.txt")
    assert (opened.folder / written[1]).read_text(encoding="utf-8") == text.text
    with pytest.raises(UsageRefusedError, match=r"a file transcripts/handbook/p0001\.txt already"):
        change(opened.folder, lambda _: [text])


def test_a_moved_record_keeps_every_byte_but_what_is_changed_on_the_way(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    lead = opened.folder / "leads" / "works.yaml"
    lead.parent.mkdir()
    lead.write_bytes(b"\xef\xbb\xbf# albums\r\nwhat: albums\r\nby: mh\r\ndate: 2026-01-10\r\n")
    moved = Move(file="leads/works.yaml", new_file="leads/albums.yaml")
    edited = Move(
        file="leads/albums.yaml", new_file="leads/tins.yaml", changes=(SetScalar(("what",), "tins of photographs"),)
    )

    first = change(opened.folder, lambda _: [moved])
    as_moved = (opened.folder / "leads" / "albums.yaml").read_bytes()
    second = change(opened.folder, lambda _: [edited])

    assert (first, second) == (("leads/albums.yaml",), ("leads/tins.yaml",))
    assert as_moved == b"\xef\xbb\xbf# albums\r\nwhat: albums\r\nby: mh\r\ndate: 2026-01-10\r\n"
    assert sorted(path.name for path in lead.parent.iterdir()) == ["tins.yaml"]
    assert open_folder(opened.folder).archive.leads["tins"].what == "tins of photographs"


def test_a_record_that_others_name_is_not_moved_away_from_under_them(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)

    with pytest.raises(UsageRefusedError, match="no `handbook` among the sources"):
        change(opened.folder, lambda _: [Move(file="sources/handbook.yaml", new_file="sources/book.yaml")])

    assert (opened.folder / "sources" / "handbook.yaml").exists()
    assert not (opened.folder / "sources" / "book.yaml").exists()


def test_a_plan_made_before_somebody_else_wrote_is_not_taken_for_one_of_today(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    claim = opened.folder / "claims" / f"{CLAIM}.yaml"
    note = RecordEdit(kind=RecordKind.CLAIM, id=CLAIM, changes=(SetScalar(("value",), "gas lamp"),))
    a_text(claim, claim.read_text(encoding="utf-8") + "reasoning: there was no other\n")

    with pytest.raises(ChangedMeanwhileError):
        preview(opened, [note])
    change(opened.folder, lambda _: [note])

    now = open_folder(opened.folder).archive.claims[CLAIM]
    assert (now.value, now.reasoning) == ("gas lamp", "there was no other")


def test_a_record_that_somebody_wrote_while_the_plan_was_made_has_the_plan_made_anew(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    seen = []

    def plan(now: Opened) -> Sequence[Step]:
        seen.append(sorted(now.archive.leads))
        if len(seen) == 1:
            a_text(now.folder / "leads" / "works.yaml", "what: albums\nby: mh\ndate: 2026-01-10\n")
        return [a_lead("works")]

    with pytest.raises(UsageRefusedError, match="already"):
        change(opened.folder, plan)

    assert seen == [[], ["works"]]


def test_records_that_never_hold_still_are_refused_in_the_end(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    change(opened.folder, lambda _: [a_lead("works")])
    times: list[int] = []

    def restless(now: Opened) -> Sequence[Step]:
        times.append(1)
        lead = now.folder / "leads" / "works.yaml"
        a_text(lead, lead.read_text(encoding="utf-8").split("note:")[0] + f"note: round {len(times)}\n")
        return [RecordEdit(kind=RecordKind.LEAD, id="works", changes=(SetScalar(("what",), "tins"),))]

    with pytest.raises(WriteRefusedError, match="kept changing"):
        change(opened.folder, restless)


def test_an_archive_opened_long_before_is_looked_at_again_before_a_plan_is_made(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    change(opened.folder, lambda _: [a_lead("works")])
    claim = opened.folder / "claims" / f"{CLAIM}.yaml"
    a_text(claim, claim.read_text(encoding="utf-8") + "reasoning: there was no other\n")
    seen: list[Opened] = []

    def plan(now: Opened) -> Sequence[Step]:
        seen.append(now)
        return [RecordEdit(kind=RecordKind.CLAIM, id=CLAIM, changes=(SetScalar(("value",), "gas lamp"),))]

    written = change(opened, plan)

    (now,) = seen
    assert (sorted(now.archive.leads), now.archive.claims[CLAIM].reasoning) == (["works"], "there was no other")
    assert written == (f"claims/{CLAIM}.yaml",)
    assert open_folder(opened.folder).archive.claims[CLAIM].value == "gas lamp"


def test_a_plan_that_was_overtaken_is_made_anew_from_an_opened_archive_too(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    seen = []

    def plan(now: Opened) -> Sequence[Step]:
        seen.append(sorted(now.archive.leads))
        if len(seen) == 1:
            a_text(now.folder / "leads" / "works.yaml", "what: albums\nby: mh\ndate: 2026-01-10\n")
        return [a_lead("works")]

    with pytest.raises(UsageRefusedError, match="already"):
        change(opened, plan)

    assert seen == [[], ["works"]]


def _note_names_in_the_open(opened: Opened, writer: str, times: int) -> None:
    """As pages do: every writing begins with the archive as it once was opened."""
    for number in range(times):
        entry = {"date": "2026-02-01", "received_as": f"{writer}-{number}.jpg"}

        def plan(_: Opened, entry: dict[str, str] = entry) -> Sequence[Step]:
            return [RecordEdit(kind=RecordKind.SOURCE, id="photograph", changes=(Append(("acquired",), entry),))]

        change(opened, plan)


def test_two_hands_that_write_with_one_opened_archive_lose_nothing(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    with ThreadPoolExecutor(2) as hands:
        for done in [hands.submit(_note_names_in_the_open, opened, name, 10) for name in ("a", "b")]:
            done.result()

    acquired = open_folder(opened.folder).archive.sources["photograph"].acquired
    assert len(acquired) == len({entry.received_as for entry in acquired}) == 20


def test_what_somebody_else_changes_while_the_plan_is_made_is_not_written_past_them(tmp_path: Path) -> None:
    """The record was shown to who writes, and is none of those that the plan turns out to touch."""
    opened = a_team_archive(tmp_path)
    claim = opened.folder / "claims" / f"{CLAIM}.yaml"
    digest = hashlib.sha256(claim.read_bytes()).hexdigest()

    def plan(_: Opened) -> Sequence[Step]:
        a_text(claim, claim.read_text(encoding="utf-8") + "reasoning: there was no other\n")
        return [a_lead("works")]

    with pytest.raises(ChangedUnderneathError) as refused:
        change(replace(opened, shown={f"claims/{CLAIM}.yaml": digest}), plan)

    assert refused.value.files == (f"claims/{CLAIM}.yaml",)
    assert not (opened.folder / "leads" / "works.yaml").exists()


def test_where_the_disk_refuses_the_second_record_the_first_is_named_as_written(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    a_text(opened.folder / "queries", "a file where the folder of the queries should be")
    fields = {"about": "headlamp/kind", "grounds": "why?", "by": "mh", "date": "2026-02-01"}
    query = NewRecord(kind=RecordKind.QUERY, id="doubt", fields=fields)

    with pytest.raises(WriteRefusedError) as refused:
        change(opened.folder, lambda _: [a_lead("works"), query])

    assert refused.value.written == ("leads/works.yaml",)
    assert (opened.folder / "leads" / "works.yaml").exists()


def test_a_note_stops_nobody(tmp_path: Path) -> None:
    """The name suggests a hazard, which `check` asks about."""
    opened = a_team_archive(tmp_path)
    brake = {"name": "Brake lining", "by": "mh", "date": "2026-02-01"}

    written = change(opened.folder, lambda _: [NewRecord(kind=RecordKind.COMPONENT, id="brake", fields=brake)])

    assert written == ("components/brake.yaml",)
