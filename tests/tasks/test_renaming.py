"""Another id: the file is moved, every reference follows, and nothing else changes by a byte."""

import re
import shutil
from pathlib import Path

import pytest
from tasks.team import a_team_archive, a_text

from provenance.errors import UnknownRecordError, UsageRefusedError
from provenance.records.archive import Archive
from provenance.rules.judging import judge_all
from provenance.rules.references import references_of
from provenance.tasks import changing, renaming
from provenance.tasks.checking import check_folder
from provenance.tasks.naming_records import find_record
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.renaming import rename

SAMPLE = Path(__file__).parents[2] / "sample_archive" / "archive"
WRITTEN = "by: mh\ndate: 2026-01-10\n"
PAIR = f"between: [handbook, photograph]  # in order\nruling: open\n{WRITTEN}"
DECISION = (
    "about: headlamp/kind\nstatus: proposed\nbuild: acetylene\n# rests on one book\nbasis: [headlamp-kind-acetylene]\n"
    f"made: [{{date: 2026-01-20, photo: photograph}}]\n{WRITTEN}"
)
QUERY = f"about: lamp\ngrounds: it does not fit\n{WRITTEN}"
PANEL = (
    f"title: Light\ncomponents: [headlamp]\nstatements: [{{text: Lit by gas., features: [headlamp/kind]}}]\n{WRITTEN}"
)
LEAD = f"what: albums\nhoped_for: [headlamp/kind, headlamp/hood]\n{WRITTEN}"


def a_full_archive(scratch: Path) -> Opened:
    opened = a_team_archive(scratch)
    for file, text in {
        "copies/handbook--photograph": PAIR,
        "decisions/lamp": DECISION,
        "queries/misfit": QUERY,
        "panels/light": PANEL,
        "leads/albums": LEAD,
        "components/hood": f"name: Hood\npart_of: headlamp\n{WRITTEN}",
    }.items():
        a_text(opened.folder / f"{file}.yaml", text)
    a_text(opened.folder / "transcripts" / "handbook" / "p0001.txt", "by: mh\ndate: 2026-01-10\n\nThe headlamp\n")
    assert check_folder(opened.folder).problems == ()
    return open_folder(opened.folder)


def texts(folder: Path) -> dict[str, str]:
    paths = (path for path in folder.rglob("*") if path.is_file() and ".derived" not in path.parts)
    return {path.relative_to(folder).as_posix(): path.read_text(encoding="utf-8") for path in paths}


def named_in(archive: Archive) -> set[str]:
    return {f"{reference.to}: {reference.name}" for reference in references_of(archive)}


def test_a_source_gets_another_id_with_its_transcripts_and_every_reference(tmp_path: Path) -> None:
    opened = a_full_archive(tmp_path)
    before = texts(opened.folder)

    written = rename(opened.folder, "handbook", "working-instructions")

    expected = {
        re.sub("^(sources|transcripts)/handbook", r"\1/working-instructions", file): text.replace(
            "source: handbook", "source: working-instructions"
        )
        for file, text in before.items()
    }
    # A pair of copies is called after its two sources, in order.
    del expected["copies/handbook--photograph.yaml"]
    expected["copies/photograph--working-instructions.yaml"] = PAIR.replace(
        "[handbook, photograph]", "[photograph, working-instructions]"
    )
    assert texts(opened.folder) == expected
    assert written.written[0] == "sources/working-instructions.yaml"
    assert "sources/handbook.yaml" not in written.written
    assert "Its originals stay where they are: they are never moved." in written.said
    assert (opened.folder / "originals" / "handbook" / "handbook.txt").exists()
    assert check_folder(opened.folder, fixity=True).problems == ()


@pytest.mark.parametrize(
    ("name", "new_id"),
    [
        ("sources/photograph", "no-9-at-orrin"),
        ("headlamp", "lamp-in-front"),
        ("headlamp-kind-acetylene", "lamp-gas"),
        ("lamp", "lamp-decided"),
        ("queries/misfit", "it-does-not-fit"),
        ("panels/light", "how-it-was-lit"),
        ("leads/albums.yaml", "works-albums"),
    ],
)
def test_a_record_of_any_kind_is_renamed_and_the_archive_stays_sound(tmp_path: Path, name: str, new_id: str) -> None:
    opened = a_full_archive(tmp_path)
    old_id = name.rpartition("/")[2].removesuffix(".yaml")
    before = named_in(opened.archive)

    rename(opened.folder, name, new_id)

    after = open_folder(opened.folder).archive
    assert check_folder(opened.folder).problems == ()
    renamed = {re.sub(rf": {old_id}(?=/|$)", f": {new_id}", each) for each in before}
    assert named_in(after) == renamed
    assert len(texts(opened.folder)) == len(texts(a_full_archive(tmp_path / "again").folder))


def test_names_that_no_check_follows_are_changed_too(tmp_path: Path) -> None:
    opened = a_full_archive(tmp_path)
    rights = "rights: {permission: {file: photograph}}\n"
    a_text(opened.folder / "sources" / "letter.yaml", f"title: a letter\n{rights}{WRITTEN}")

    rename(opened.folder, "photograph", "no-9-at-orrin")

    archive = open_folder(opened.folder).archive
    permission = archive.sources["letter"].rights
    assert permission is not None
    assert permission.permission is not None
    assert permission.permission.file == "no-9-at-orrin"
    assert archive.decisions["lamp"].made[0].photo == "no-9-at-orrin"


@pytest.mark.parametrize(
    ("name", "new_id", "what"),
    [
        ("handbook", "photograph", "there is a record sources/photograph.yaml already"),
        ("handbook", "Hand Book", "is no id"),
        ("handbook", "handbook", "has that name already"),
    ],
)
def test_an_id_that_is_taken_or_is_none_is_refused(tmp_path: Path, name: str, new_id: str, what: str) -> None:
    opened = a_full_archive(tmp_path)
    before = texts(opened.folder)

    with pytest.raises(UsageRefusedError) as refused:
        rename(opened.folder, name, new_id)

    assert what in refused.value.what
    assert texts(opened.folder) == before


def test_a_record_that_is_not_there_brings_the_nearest(tmp_path: Path) -> None:
    with pytest.raises(UnknownRecordError) as unknown:
        rename(a_full_archive(tmp_path).folder, "leads/handbook", "book")

    assert "copies" not in unknown.value.mend


def test_nothing_is_renamed_while_a_record_that_may_name_it_cannot_be_read(tmp_path: Path) -> None:
    opened = a_full_archive(tmp_path)
    a_text(opened.folder / "claims" / "spoilt.yaml", "about: headlamp/kind\nevidence: [{source: handbook}]\n")

    with pytest.raises(UsageRefusedError) as refused:
        rename(opened.folder, "handbook", "working-instructions")
    rename(opened.folder, "lamp", "lamp-decided")

    assert "claims/spoilt.yaml may name handbook, and cannot be read" in refused.value.what


def steps_of(folder: Path, name: str, new_id: str, scratch: Path) -> int:
    """How many files a renaming writes and takes away."""
    copy = Path(shutil.copytree(folder, scratch))
    before = texts(copy)
    written = rename(copy, name, new_id).written
    return len(written) + len(set(before) - set(texts(copy)))


@pytest.mark.parametrize(
    ("name", "new_id", "for_a_while"),
    [
        ("handbook", "instructions", set()),
        ("headlamp", "lamp-in-front", set()),
        ("lamp", "lamp-decided", set()),
        # Between its two steps the claim stands there twice; it weighs no more for that.
        ("headlamp-kind-acetylene", "lamp-gas", {"double-claim"}),
    ],
)
def test_stopped_after_any_step_the_archive_is_sound_and_the_same_command_does_the_rest(
    tmp_path: Path, name: str, new_id: str, for_a_while: set[str]
) -> None:
    opened = a_full_archive(tmp_path)
    before = best_known(opened)
    steps = steps_of(opened.folder, name, new_id, tmp_path / "counted")
    whole = texts(tmp_path / "counted")

    for stopped_after in range(steps + 1):
        copy = Path(shutil.copytree(opened.folder, tmp_path / f"stopped-{stopped_after}"))
        write_only(copy, name, new_id, stopped_after)

        assert {problem.rule for problem in check_folder(copy).problems} - for_a_while == set()
        assert open_folder(copy).left_out == ()
        assert best_known(open_folder(copy)) == before
        if stopped_after < steps:
            rename(copy, name, new_id)
        assert texts(copy) == whole


def best_known(opened: Opened) -> set[tuple[object, ...]]:
    """Grade, value, lines and chance of every feature of which anything is known, whatever it is called."""
    return {
        (verdict.grade, verdict.value, verdict.lines, verdict.posterior)
        for verdict in judge_all(opened.archive).values()
        if verdict.value is not None
    }


def write_only(folder: Path, name: str, new_id: str, steps: int) -> None:
    """Do the first steps of a renaming, as if the writer had been killed then."""
    opened = open_folder(folder)
    plan = renaming._plan(opened, find_record(opened.archive, name, renaming._KINDS), new_id)
    for write in changing.preview(opened, plan).writes[:steps]:
        changing._write(opened.folder, write)


def test_every_source_of_the_sample_can_be_renamed(tmp_path: Path) -> None:
    folder = Path(shutil.copytree(SAMPLE, tmp_path / "sample"))
    before = judge_all(open_folder(folder).archive)
    told = {(problem.rule, problem.severity) for problem in check_folder(folder).problems}

    for source in sorted(open_folder(folder).archive.sources)[:8]:
        rename(folder, f"sources/{source}", f"z-{source}"[:64])

    after = judge_all(open_folder(folder).archive)
    assert {(problem.rule, problem.severity) for problem in check_folder(folder).problems} == told
    assert {name: (each.grade, each.value, each.lines) for name, each in after.items()} == {
        name: (each.grade, each.value, each.lines) for name, each in before.items()
    }
