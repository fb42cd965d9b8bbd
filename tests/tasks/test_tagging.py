"""Tagging a find: what is written down of it, what stays, and what is refused."""

from dataclasses import replace
from pathlib import Path

import pytest
from tasks.team import TODAY, a_team_archive, a_text

from provenance.errors import UnknownRecordError, UsageRefusedError
from provenance.records.kinds import Derivation, SourceKind
from provenance.records.sources import Source
from provenance.reports.written import Written
from provenance.store.transcripts import read_transcript
from provenance.tasks.checking import check_folder
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.tagging import LARGEST_TRANSCRIPT, Author, Tags, tag_source, try_tags

FIND = "# from the tin\ntitle: scan0042\nstate: untagged\nby: mh\ndate: 2026-01-10  # a Saturday\n"
AUTHOR = Author(by="mh", date=TODAY)


def with_a_find(scratch: Path, text: str = FIND) -> Opened:
    opened = a_team_archive(scratch)
    a_text(opened.folder / "sources" / "scan0042.yaml", text)
    return open_folder(opened.folder)


def tag(opened: Opened, tags: Tags, source: str = "scan0042", author: Author | None = None) -> Written:
    return tag_source(opened.folder, source, tags, author)


def the_find(opened: Opened) -> Source:
    return open_folder(opened.folder).archive.sources["scan0042"]


def test_a_find_is_tagged_and_whoever_registered_it_and_when_stays(tmp_path: Path) -> None:
    opened = with_a_find(tmp_path)
    tags = Tags(
        words={"kind": "photograph", "created": "about June 1934", "holder": "Orrin museum", "title": None},
        lists={"topics": ["headlamp", "headlamp"], "language": [], "hazards": ["nitrate-film"]},
        shows=["9", "example=6,when=between 1931 and 1933,known_by=likeness,note=behind it, half hidden"],
        derives_from=["source=photograph,how=print"],
        rights="InC,holder=Orrin museum,credit=Orrin museum, no. 7,publish=ask",
    )

    written = tag(opened, tags)

    source = the_find(opened)
    assert written.written == ("sources/scan0042.yaml",)
    assert (source.kind, str(source.created), source.holder, source.tagged) == (
        SourceKind.PHOTOGRAPH,
        "1934-06~",
        "Orrin museum",
        True,
    )
    assert (source.topics, source.hazards, source.by, str(source.date)) == (
        ("headlamp",),
        ("nitrate-film",),
        "mh",
        "2026-01-10",
    )
    assert [(each.example, str(each.when), each.note) for each in source.shows] == [
        ("9", "None", None),
        ("6", "1931/1933", "behind it, half hidden"),
    ]
    assert [(each.source, each.how) for each in source.derives_from] == [("photograph", Derivation.PRINT)]
    assert source.rights is not None
    assert (source.rights.statement, source.rights.credit) == ("InC", "Orrin museum, no. 7")
    text = (opened.folder / "sources" / "scan0042.yaml").read_text(encoding="utf-8")
    assert text.startswith("# from the tin\ntitle: scan0042\nstate: tagged\nby: mh\ndate: 2026-01-10  # a Saturday\n")
    assert check_folder(opened.folder).problems == ()


def test_one_value_takes_the_place_of_another_and_that_is_said(tmp_path: Path) -> None:
    opened = with_a_find(tmp_path)
    tag(opened, Tags(words={"kind": "photograph"}, rights="statement=InC"))

    written = tag(opened, Tags(words={"kind": "artwork"}, rights="statement=CNE,publish=refused"))

    assert written.said == (
        "kind was `photograph`, and is `artwork` now.",
        "rights.statement was `InC`, and is `CNE` now.",
    )
    rights = the_find(opened).rights
    assert rights is not None
    assert (rights.statement, str(rights.publish)) == ("CNE", "refused")


def test_what_stands_there_already_is_not_written_again(tmp_path: Path) -> None:
    opened = with_a_find(tmp_path)
    tags = Tags(words={"kind": "photograph"}, lists={"topics": ["headlamp"]}, shows=["example=9,when=June 1934"])
    tag(opened, tags)

    again = tag(opened, tags)
    more = tag(opened, replace(tags, shows=["example=9,when=June 1934", "example=6"]))

    assert again.written == ()
    assert again.said == ("scan0042 says all of that already.",)
    assert more.written == ("sources/scan0042.yaml",)
    assert [each.example for each in the_find(opened).shows] == ["9", "6"]


@pytest.mark.parametrize(
    ("tags", "what"),
    [
        (Tags(words={"kind": "snapshot"}), "snapshot"),
        (Tags(words={"created": "spring 1934"}), "--created: `spring 1934` is a season"),
        (Tags(shows=["12"]), "there is no example `12`"),
        (Tags(shows=["example=9,when=1902"]), "before example 9 was built"),
        (Tags(words={"replaces": "nothing"}), "no `nothing` among the sources"),
        (Tags(words={"replaces": "scan0042"}), "cannot replace itself"),
        (Tags(derives_from=["source=scan0042,how=print"]), "cannot descend from itself"),
        (Tags(page=1), "--page is only for a transcript"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_written(tmp_path: Path, tags: Tags, what: str) -> None:
    opened = with_a_find(tmp_path)

    with pytest.raises(UsageRefusedError) as refused:
        tag(opened, tags)

    assert what in refused.value.what
    assert refused.value.mend
    assert (opened.folder / "sources" / "scan0042.yaml").read_text(encoding="utf-8") == FIND


def test_a_source_or_component_that_is_not_there_brings_the_nearest(tmp_path: Path) -> None:
    opened = with_a_find(tmp_path)

    with pytest.raises(UnknownRecordError) as no_source:
        tag(opened, Tags(), source="scan0024")
    with pytest.raises(UnknownRecordError) as no_component:
        tag(opened, Tags(lists={"topics": ["hedlamp"]}))

    assert no_source.value.mend == "did you mean `scan0042`?"
    assert no_component.value.mend == "did you mean `headlamp`?"


def test_a_persons_reading_of_a_page_is_stored_with_who_made_it_and_when(tmp_path: Path) -> None:
    opened = with_a_find(tmp_path)
    file = a_text(tmp_path / "mine.txt", "WORKING INSTRUCTIONS\n\nThe headlamp is of the acetylene pattern.")

    written = tag(opened, Tags(transcript=file), source="handbook", author=AUTHOR)
    again = tag(opened, Tags(transcript=file, page=1), source="handbook", author=AUTHOR)

    assert written.written == ("sources/handbook.yaml", "transcripts/handbook/p0001.txt")
    assert again.written == ()
    stored = (opened.folder / "transcripts" / "handbook" / "p0001.txt").read_text(encoding="utf-8")
    assert stored.startswith(f"by: mh\ndate: {TODAY}\n\nWORKING INSTRUCTIONS\n\nThe headlamp")
    assert read_transcript(stored).text == file.read_text(encoding="utf-8") + "\n"
    assert check_folder(opened.folder).problems == ()


def test_a_reading_that_is_stored_already_is_never_written_over(tmp_path: Path) -> None:
    opened = with_a_find(tmp_path)
    tag(opened, Tags(transcript=a_text(tmp_path / "one.txt", "one")), source="handbook", author=AUTHOR)

    with pytest.raises(UsageRefusedError, match="there is a transcript"):
        tag(opened, Tags(transcript=a_text(tmp_path / "two.txt", "two")), source="handbook", author=AUTHOR)

    stored = (opened.folder / "transcripts" / "handbook" / "p0001.txt").read_text(encoding="utf-8")
    assert stored.endswith("\n\none\n")


@pytest.mark.parametrize(
    ("data", "page", "source", "what"),
    [
        (b"a text", None, "scan0042", "which page"),
        (b"a text", 2, "handbook", "beyond the end of handbook"),
        (b"\xff\xfe", 1, "handbook", "UTF-8"),
        (b"a\0b", 1, "handbook", "no text of one page"),
        (b" \n", 1, "handbook", "no text of one page"),
        (b"x" * (LARGEST_TRANSCRIPT + 1), 1, "handbook", "no text of one page"),
        (None, 1, "handbook", "cannot be read"),
    ],
)
def test_what_is_no_reading_of_a_page_is_refused(
    tmp_path: Path, data: bytes | None, page: int | None, source: str, what: str
) -> None:
    opened = with_a_find(tmp_path)
    file = tmp_path / "mine.txt"
    if data is not None:
        file.write_bytes(data)

    with pytest.raises(UsageRefusedError) as refused:
        tag(opened, Tags(transcript=file, page=page), source=source, author=AUTHOR)

    assert what in refused.value.what
    assert not (opened.folder / "transcripts").exists()


def test_trying_tells_which_verdicts_change_and_writes_nothing(tmp_path: Path) -> None:
    opened = with_a_find(tmp_path)
    before = {path: path.read_bytes() for path in opened.folder.rglob("*") if path.is_file()}

    tried = try_tags(opened, "handbook", Tags(words={"kind": "notes"}), None)
    nothing = try_tags(opened, "handbook", Tags(words={"title": "Working instructions"}), None)

    assert {path: path.read_bytes() for path in opened.folder.rglob("*") if path.is_file()} == before
    assert [each.feature for each in tried.changes] == ["headlamp/kind"]
    (change,) = tried.changes
    assert change.after.posterior < change.before.posterior
    assert nothing.changes == ()


def test_a_record_that_cannot_be_read_is_not_tagged(tmp_path: Path) -> None:
    opened = with_a_find(tmp_path, FIND + "kind: snapshot\n")

    with pytest.raises(UnknownRecordError, match="no source `scan0042`"):
        tag(opened, Tags(words={"kind": "photograph"}))
