"""A source within another: its pages are found as its own, and it passes on no descent."""

from pathlib import Path

import pytest
from cli.command_line import ask as ask_shell
from cli.command_line import run
from tasks.team import TODAY, a_scan, a_team_archive, a_text

from provenance.records.kinds import Access
from provenance.store.editing import AddKey
from provenance.store.record_kinds import RecordKind
from provenance.tasks.batches import Batch
from provenance.tasks.changing import NewRecord, RecordEdit, change
from provenance.tasks.ingest import ingest
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.page_readings import Readings, pages_of
from provenance.tasks.searching import search

BY = ("--by", "mh", "--date", TODAY)


def a_bundle(scratch: Path, **fields: object) -> Opened:
    """A bundle of four pages, the id of which is `bundle`."""
    opened = a_team_archive(scratch)
    words = ("the index", "Dear Sir, the springs", "Yours truly, Ada Brand", "a bill for oil")
    for number, text in enumerate(words, start=1):
        a_text(opened.folder / "originals" / "bundle" / f"{number}.txt", f"{text}\n")
    folder = opened.folder / "originals" / "bundle"
    ingest(opened, [folder], by="mh", today=TODAY, batch=Batch(together=True), workers=1)
    added = tuple(AddKey((), key, value) for key, value in fields.items())
    if added:
        change(opened.folder, lambda _: [RecordEdit(kind=RecordKind.SOURCE, id="bundle", changes=added)])
    return open_folder(opened.folder)


def test_pages_of_a_bundle_become_a_source_within_it(tmp_path: Path) -> None:
    opened = a_bundle(
        tmp_path, holder="County Record Office", reference="B 12", access="closed", rights={"statement": "InC"}
    )

    answer = ask_shell(opened.folder, "split", "bundle", "--pages", "2..3", "--id", "letter", *BY)

    letter = open_folder(opened.folder).archive.sources["letter"]
    assert (answer["record"], answer["written"], answer["said"]) == ("letter", ["sources/letter.yaml"], [])
    assert letter.within is not None
    assert (letter.within.source, str(letter.within.pages), letter.tagged) == ("bundle", "2..3", False)
    assert (letter.title, letter.derives_from) == ("bundle, pages 2..3", ())
    assert (letter.holder, letter.reference, letter.access) == ("County Record Office", "B 12", Access.CLOSED)
    assert letter.rights is not None
    assert (letter.rights.statement, letter.rights.publish) == ("InC", None)


def test_its_pages_keep_their_numbers_and_are_found_once_as_its_own(tmp_path: Path) -> None:
    opened = a_bundle(tmp_path)
    ask_shell(opened.folder, "split", "bundle", "--pages", "2..3", "--id", "letter", "--title", "A letter", *BY)
    now = open_folder(opened.folder)

    springs, bill = (search(now, word).hits for word in ("springs", "bill"))

    assert [(hit.source, hit.page, hit.title) for hit in springs] == [("letter", 2, "A letter")]
    assert [(hit.source, hit.page) for hit in bill] == [("bundle", 4)]
    assert springs[0].original == "originals/bundle/2.txt"


def test_a_claim_can_cite_a_page_of_it(tmp_path: Path) -> None:
    opened = a_bundle(tmp_path)
    ask_shell(opened.folder, "split", "bundle", "--pages", "2..3", "--id", "letter", *BY)
    kind = RecordEdit(kind=RecordKind.SOURCE, id="letter", changes=(AddKey((), "kind", "letter"),))
    item = {"source": "letter", "at": {"page": 3}, "stance": "supports", "how": "states"}
    claim = {
        "about": "headlamp/kind",
        "value": "electric",
        "applies_to": {"examples": "9"},
        "evidence": [item],
        "by": "mh",
        "date": TODAY,
    }

    written = change(opened.folder, lambda _: [kind, NewRecord(kind=RecordKind.CLAIM, id="lamp", fields=claim)])

    assert written[-1] == "claims/lamp.yaml"
    assert open_folder(opened.folder).left_out == ()


def test_what_lies_in_what_lies_in_a_bundle_has_the_bundle_s_pages(tmp_path: Path) -> None:
    opened = a_bundle(tmp_path)
    ask_shell(opened.folder, "split", "bundle", "--pages", "2..3", "--id", "letter", *BY)
    ask_shell(opened.folder, "split", "letter", "--pages", "3", "--id", "signature", *BY)

    archive = open_folder(opened.folder).archive

    assert [page.page for page in pages_of(archive.sources["signature"], archive)] == [3]
    assert [hit.source for hit in search(open_folder(opened.folder), "truly").hits] == ["letter", "signature"]


def test_a_part_of_a_page_has_the_words_in_its_region(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    lines = ("A view of the shed", "", "", "", "", "", "", "The works at Orrin")
    done = ingest(opened, [a_scan(tmp_path / "album.png", lines)], by="mh", today=TODAY, workers=1)
    upper = {"source": done.files[0].source, "pages": "1", "region": "percent:0,0,100,40"}
    fields = {"title": "upper", "within": upper, "by": "mh", "date": TODAY}
    change(opened.folder, lambda _: [NewRecord(kind=RecordKind.SOURCE, id="upper", fields=fields)])
    archive = open_folder(opened.folder).archive

    (page,) = pages_of(archive.sources["upper"], archive)
    words = Readings(opened.folder, archive).words_of(page)

    assert words is not None
    assert "shed" in words.text
    assert "Orrin" not in words.text


def test_a_transcript_of_the_bundle_counts_for_what_lies_in_it(tmp_path: Path) -> None:
    opened = a_bundle(tmp_path)
    header = "by: mh\ndate: 2026-02-01\n\n"
    a_text(opened.folder / "transcripts" / "bundle" / "p0002.txt", f"{header}Dear Sir, the sprockets\n")
    ask_shell(opened.folder, "split", "bundle", "--pages", "2", "--id", "letter", *BY)

    assert [hit.source for hit in search(open_folder(opened.folder), "sprockets").hits] == ["letter"]


def test_pages_that_are_split_off_already_are_said(tmp_path: Path) -> None:
    opened = a_bundle(tmp_path)
    ask_shell(opened.folder, "split", "bundle", "--pages", "2..3", "--id", "letter", *BY)

    one = ask_shell(opened.folder, "split", "bundle", "--pages", "3..4", "--id", "bill", *BY)
    two = ask_shell(opened.folder, "split", "bundle", "--pages", "1..4", "--id", "all", *BY)

    assert one["said"] == ["page 3 is also in letter"]
    assert two["said"] == ["pages 3..4 are also in bill", "pages 2..3 are also in letter"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("bundel --pages 2 --id letter", "did you mean `bundle`?"),
        ("bundle --pages 3..9 --id letter", "page 9 is beyond the end"),
        ("bundle --pages 3-4 --id letter", "3..7"),
        ("bundle --pages 0 --id letter", "from 1"),
        ("bundle --pages 2 --id Letter", "did you mean `letter`?"),
        ("bundle --pages 2 --id handbook", "already"),
        ("ledger --pages 2 --id letter", "no pages"),
    ],
)
def test_what_cannot_be_split_off_is_refused(tmp_path: Path, words: str, said: str) -> None:
    opened = a_bundle(tmp_path)
    a_text(opened.folder / "sources" / "ledger.yaml", "title: A burnt ledger\nby: mh\ndate: 2026-01-10\n")

    result = run(opened.folder, "split", *words.split(), *BY)

    assert result.exit_code == 2
    assert said in result.stderr


def test_a_page_says_what_was_split_off(tmp_path: Path) -> None:
    opened = a_bundle(tmp_path)

    assert (
        run(opened.folder, "split", "bundle", "--pages", "1", "--id", "index", *BY).stdout
        == "written: sources/index.yaml\n"
    )
