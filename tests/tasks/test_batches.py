"""Files that come together: one source, one lot, one provenance."""

from collections.abc import Sequence
from pathlib import Path

import pytest
from cli.command_line import ask as ask_shell
from hypothesis import given
from hypothesis import strategies as st
from tasks.team import TODAY, a_team_archive, a_text

from provenance.errors import UsageRefusedError, WriteRefusedError
from provenance.records.sources import Source
from provenance.reports.ingested import Ingested, IngestState
from provenance.tasks.batches import Batch, lots_in
from provenance.tasks.finds import look_over_finds
from provenance.tasks.ingest import ingest
from provenance.tasks.opening import Opened, open_folder

TIN = Batch(lot="Starrick's tin", giver="R. Starrick", rights="InC", access="closed")


def take_in(opened: Opened, *paths: Path, batch: Batch) -> Ingested:
    return ingest(open_folder(opened.folder), paths, by="mh", today=TODAY, batch=batch, workers=1)


def sources_of(opened: Opened, done: Ingested) -> list[Source]:
    sources = open_folder(opened.folder).archive.sources
    return [sources[each] for each in dict.fromkeys(file.source for file in done.files if file.source)]


def scans(folder: Path, names: Sequence[str]) -> Path:
    for name in names:
        a_text(folder / name, f"this is {name}\n")
    return folder


def names_of(source: Source) -> list[str]:
    return [Path(file.path).name for file in source.files]


def test_files_that_belong_together_are_one_source_in_natural_order(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    folder = scans(tmp_path / "Parts catalogue", ["scan10.txt", "scan2.txt", "scan1.txt"])

    done = take_in(opened, folder, batch=Batch(together=True))

    (source,) = sources_of(opened, done)
    assert names_of(source) == ["scan1.txt", "scan2.txt", "scan10.txt"]
    assert (source.title, source.pages) == ("Parts catalogue", 3)
    assert source.id.startswith("parts-catalogue-")
    assert [file.state for file in done.files] == [IngestState.REGISTERED] * 3


@pytest.mark.parametrize(("front", "back"), [("front", "back"), ("recto", "verso"), ("Front", "Back")])
def test_the_front_of_a_photograph_comes_before_its_back(tmp_path: Path, front: str, back: str) -> None:
    opened = a_team_archive(tmp_path)
    folder = scans(tmp_path / "in", [f"shed {back}.txt", f"shed {front}.txt"])

    done = take_in(opened, *folder.iterdir(), batch=Batch(together=True))

    (source,) = sources_of(opened, done)
    assert names_of(source) == [f"shed {front}.txt", f"shed {back}.txt"]
    assert source.title == f"shed {front}"


def test_a_call_that_was_cut_off_is_gone_on_with_and_makes_no_second_source(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    folder = scans(tmp_path / "album", ["1.txt"])
    take_in(opened, folder, batch=Batch(together=True))
    scans(folder, ["2.txt", "3.txt"])

    done = take_in(opened, folder, batch=Batch(together=True))

    (source,) = sources_of(opened, done)
    assert names_of(source) == ["1.txt", "2.txt", "3.txt"]


def test_files_that_two_sources_hold_do_not_become_one(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    folder = scans(tmp_path / "album", ["1.txt", "2.txt"])
    take_in(opened, folder, batch=Batch())
    scans(folder, ["3.txt"])

    with pytest.raises(UsageRefusedError, match="held already"):
        take_in(opened, folder, batch=Batch(together=True))

    assert len(open_folder(opened.folder).archive.sources) == len(opened.archive.sources) + 2


def test_a_lot_has_one_provenance_and_its_order_is_kept(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    folder = scans(tmp_path / "tin", ["10.txt", "9.txt"])

    take_in(opened, folder, batch=TIN)

    finds = look_over_finds(open_folder(opened.folder)).finds
    sources = open_folder(opened.folder).archive.sources
    assert [(find.title, find.lots) for find in finds] == [("9", ("Starrick's tin",)), ("10", ("Starrick's tin",))]
    for source in (sources[find.source] for find in finds):
        (entry,) = source.acquired
        assert (entry.giver, str(entry.date), source.access.value) == ("R. Starrick", TODAY, "closed")
        assert source.rights is not None
        assert source.rights.statement == "InC"


def test_a_lot_goes_on_where_it_ended(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    take_in(opened, scans(tmp_path / "tin", ["b.txt"]), batch=TIN)

    done = take_in(opened, scans(tmp_path / "more", ["a.txt"]), batch=TIN)

    (source,) = sources_of(opened, done)
    assert lots_in(entry.note for entry in source.acquired) == {"Starrick's tin": 2}


def test_the_same_bytes_from_somebody_else_are_noted_once_with_the_name_they_came_under(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    folder = scans(tmp_path / "in", ["a.txt"])
    take_in(opened, folder, batch=Batch())

    first, second = (take_in(opened, folder, batch=TIN) for _ in range(2))

    (source,) = sources_of(opened, first)
    (entry,) = source.acquired
    assert (entry.giver, entry.received_as) == ("R. Starrick", "a.txt")
    assert "where it comes from is noted" in first.files[0].why
    assert second.written == ()


@pytest.mark.parametrize("batch", [Batch(access="secret"), Batch(rights="mine\x00")])
def test_what_no_record_can_say_takes_nothing_in(tmp_path: Path, batch: Batch) -> None:
    opened = a_team_archive(tmp_path)

    with pytest.raises((UsageRefusedError, WriteRefusedError), match=r"access|record"):
        take_in(opened, scans(tmp_path / "in", ["a.txt"]), batch=batch)

    assert not any(path.name == "a.txt" for path in (opened.folder / "originals").rglob("*"))


def test_the_command_takes_what_is_said_of_a_lot(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    folder = scans(tmp_path / "tin", ["a front.txt", "a back.txt"])
    said = ["--together", "--lot", "Starrick's tin", "--from", "R. Starrick", "--rights", "InC", "--access", "open"]

    answer = ask_shell(opened.folder, "ingest", str(folder), *said, "--by", "mh", "--date", TODAY)

    assert len({file["source"] for file in answer["files"]}) == 1
    (find,) = ask_shell(opened.folder, "finds")["finds"]
    assert (find["lots"], find["pages"]) == (["Starrick's tin"], 2)


def test_a_note_of_another_sort_names_no_lot() -> None:
    assert lots_in([None, "in a lot: of boxes", "lot: tin", "lot: box\nitem 3", "lot: bag\nwet"]) == {
        "tin": 0,
        "box": 3,
        "bag": 0,
    }


@given(st.permutations([f"p{n}.png" for n in range(12)]))
def test_the_order_does_not_depend_on_how_the_files_come(names: list[str]) -> None:
    ordered = Batch(together=True).in_order(Path("in") / name for name in names)

    assert [path.name for path in ordered] == [f"p{n}.png" for n in range(12)]
