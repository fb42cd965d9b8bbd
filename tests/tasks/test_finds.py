from pathlib import Path

from cli.command_line import ask as ask_shell
from cli.command_line import run
from tasks.team import TODAY, a_scan, a_team_archive, a_text

from provenance.reports.looked_over import SuspectedCopy
from provenance.store.editing import AddKey, SetScalar
from provenance.store.record_kinds import RecordKind
from provenance.tasks.changing import NewRecord, RecordEdit, change
from provenance.tasks.finds import look_over_finds
from provenance.tasks.ingest import ingest
from provenance.tasks.opening import Opened, open_folder


def take_in(opened: Opened, *paths: Path) -> Opened:
    ingest(opened, paths, by="mh", today=TODAY, workers=1)
    return open_folder(opened.folder)


def test_a_scan_that_was_read_names_what_it_speaks_of(tmp_path: Path) -> None:
    lines = ("The headlamp of car No. 9", "was made in June 1934.")
    opened = take_in(a_team_archive(tmp_path), a_scan(tmp_path / "letter.png", lines))

    (find,) = look_over_finds(opened).finds

    assert (find.title, find.pages, find.dates, find.examples) == ("letter", 1, ("1934-06",), ("9",))
    assert [each.component for each in find.suggested_components] == ["headlamp"]
    assert find.reading_confidence is not None
    assert find.reading_confidence > 60
    assert [Path(file).name for file in find.files] == ["letter.png"]


def test_what_was_tagged_or_withdrawn_is_no_find(tmp_path: Path) -> None:
    opened = take_in(
        a_team_archive(tmp_path), a_text(tmp_path / "in" / "a.txt", "lamp\n"), a_text(tmp_path / "in" / "b.txt", "x\n")
    )
    first, second = sorted(key for key, source in opened.archive.sources.items() if not source.tagged)
    withdrawn = {"why": "not ours", "by": "mh", "date": TODAY}
    tagged = RecordEdit(kind=RecordKind.SOURCE, id=first, changes=(SetScalar(("state",), "tagged"),))
    gone = RecordEdit(kind=RecordKind.SOURCE, id=second, changes=(AddKey((), "withdrawn", withdrawn),))
    change(opened.folder, lambda _: [tagged, gone])

    assert look_over_finds(open_folder(opened.folder)).finds == ()


def test_a_text_has_no_confidence_and_an_open_pair_is_told(tmp_path: Path) -> None:
    opened = take_in(a_team_archive(tmp_path), a_text(tmp_path / "note.txt", "the headlamp\n"))
    find = look_over_finds(opened).finds[0].source
    pair = tuple(sorted((find, "handbook")))
    fields = {
        "between": list(pair),
        "found_by": {"method": "text", "score": "0.75"},
        "why": "the same words",
        "ruling": "open",
        "by": "mh",
        "date": TODAY,
    }
    change(opened.folder, lambda _: [NewRecord(kind=RecordKind.COPY, id="--".join(pair), fields=fields)])

    (looked_over,) = look_over_finds(open_folder(opened.folder)).finds

    assert looked_over.reading_confidence is None
    assert looked_over.suspected_copies == (
        SuspectedCopy(source="handbook", kind="text", score=0.75, why="the same words"),
    )


def test_the_command_answers_in_both_ways(tmp_path: Path) -> None:
    opened = take_in(a_team_archive(tmp_path), a_text(tmp_path / "note.txt", "the headlamp\n"))

    answer = ask_shell(opened.folder, "finds")
    page = run(opened.folder, "finds").stdout

    assert [each["title"] for each in answer["finds"]] == ["note"]
    assert page.startswith("One find to be looked at:")
