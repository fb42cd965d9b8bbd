"""An archive's folder made one value: what is sound is there, what is not is named."""

import gc
import hashlib
import os
from pathlib import Path

import pytest
from store.small_archive import IDS, lay_down, lay_down_plain, plain_claim, put

from provenance.errors import ArchiveError, ArchiveNotFoundError, NewerFormatError, Problem, Severity, sort_problems
from provenance.records.archive import Archive
from provenance.store.loading import _Reading, find_archive, load
from provenance.store.record_files import RecordFile
from provenance.store.record_kinds import RecordKind


def told(problems: tuple[Problem, ...]) -> list[tuple[str, int | None, str]]:
    return [(problem.place.file, problem.place.line, problem.rule) for problem in problems]


def contents_of(folder: Path) -> dict[str, str]:
    return {
        str(path.relative_to(folder)): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def test_a_sound_archive_is_there_whole(tmp_path: Path) -> None:
    folder = lay_down(tmp_path)

    loaded = load(folder)

    archive = loaded.archive
    assert (archive.title, loaded.problems, loaded.left_out) == ("Railcar 9", (), ())
    assert (loaded.records, loaded.files_checked, loaded.archive_is_sound) == (12, 12, True)
    by_kind = {
        RecordKind.COMPONENT: archive.components,
        RecordKind.SOURCE: archive.sources,
        RecordKind.CLAIM: archive.claims,
        RecordKind.COPY: archive.copies,
        RecordKind.DECISION: archive.decisions,
        RecordKind.QUERY: archive.queries,
        RecordKind.PANEL: archive.panels,
        RecordKind.LEAD: archive.leads,
    }
    assert {kind: set(records) for kind, records in by_kind.items()} == {kind: set(ids) for kind, ids in IDS.items()}
    assert archive.claims["height-1"].id == "height-1"


def test_an_archive_may_be_empty_but_for_its_own_record(tmp_path: Path) -> None:
    put(tmp_path, "archive.yaml", "format: 1\ntitle: New\n")

    loaded = load(tmp_path)

    assert loaded.archive == Archive(title="New")
    assert (loaded.records, loaded.files_checked) == (1, 1)


def test_a_record_that_cannot_be_used_is_left_out_by_name_and_the_rest_is_there(tmp_path: Path) -> None:
    folder = lay_down(tmp_path)
    put(folder, "claims/kind-1.yaml", plain_claim("x").replace("how: states", "how: stated"))
    put(folder, "sources/odd.yaml", "title: A\ntitle: B\n")

    loaded = load(folder)

    assert loaded.left_out == ("claims/kind-1.yaml", "sources/odd.yaml")
    assert told(loaded.problems) == [
        ("claims/kind-1.yaml", 4, "schema/choice"),
        ("sources/odd.yaml", None, "schema/required"),
        ("sources/odd.yaml", None, "schema/required"),
        ("sources/odd.yaml", 2, "yaml/duplicate-key"),
    ]
    assert set(loaded.archive.claims) == {"height-1", "kind-2"}
    assert (loaded.records, loaded.files_checked) == (11, 13)


@pytest.mark.parametrize(
    ("stem", "between", "sound"),
    [
        ("a--b", "[a, b]", True),
        ("a--b", "[b, a]", False),
        ("b--a", "[b, a]", False),
        ("a--b", "[a, c]", False),
        ("a--b", "[a, b-c]", False),
    ],
)
def test_a_pair_of_copies_bears_the_names_of_its_sources_in_order(
    tmp_path: Path, stem: str, between: str, *, sound: bool
) -> None:
    put(tmp_path, "archive.yaml", "format: 1\ntitle: A\n")
    put(tmp_path, f"copies/{stem}.yaml", f"between: {between}\nby: mh\ndate: 2026\n")

    loaded = load(tmp_path)

    assert [problem.rule for problem in loaded.problems] == ([] if sound else ["record/id"])
    assert loaded.left_out == (() if sound else (f"copies/{stem}.yaml",))


def test_the_nearest_archive_above_is_found(tmp_path: Path) -> None:
    put(tmp_path, "archive.yaml", "format: 1\ntitle: Outer\n")
    put(tmp_path, "inner/archive.yaml", "format: 1\ntitle: Inner\n")
    put(tmp_path, "inner/claims/a.yaml", plain_claim("x"))

    assert find_archive(tmp_path / "inner" / "claims") == (tmp_path / "inner").resolve()
    assert find_archive(tmp_path / "inner") == (tmp_path / "inner").resolve()
    assert find_archive(tmp_path / "elsewhere") == tmp_path.resolve()


def test_a_folder_that_is_no_archive_is_told_with_what_to_do(tmp_path: Path) -> None:
    with pytest.raises(ArchiveNotFoundError, match="provenance new") as found:
        find_archive(tmp_path)
    with pytest.raises(ArchiveNotFoundError, match=r"no archive\.yaml"):
        load(tmp_path)
    with pytest.raises(ArchiveNotFoundError):
        load(tmp_path, unsound=True)

    assert found.value.exit_code == 3


def test_an_archive_in_a_newer_format_is_refused(tmp_path: Path) -> None:
    put(tmp_path, "archive.yaml", "title: A\nformat: 2\nnovelty: {a: b}\n")

    with pytest.raises(NewerFormatError, match="format 2") as refused:
        load(tmp_path)

    assert refused.value.exit_code == 3
    assert told(refused.value.problems) == [("archive.yaml", 2, "record/format")]


@pytest.mark.parametrize(("text", "line"), [("title: A\n", None), ("title: A\nformat: 0\n", 2)])
def test_an_archive_of_an_older_format_is_read_and_told_how_to_be_upgraded(
    tmp_path: Path, text: str, line: int | None
) -> None:
    put(tmp_path, "archive.yaml", text)

    loaded = load(tmp_path)

    assert (loaded.archive.title, loaded.archive_is_sound, loaded.left_out) == ("A", True, ())
    assert told(loaded.problems) == [("archive.yaml", line, "record/format")]
    assert loaded.problems[0].severity is Severity.WARN
    assert "provenance upgrade" in loaded.problems[0].mend


@pytest.mark.parametrize("written", ["-1", "one", "01", "1.0", "[1]"])
def test_a_format_that_is_no_number_is_refused(tmp_path: Path, written: str) -> None:
    put(tmp_path, "archive.yaml", f"format: {written}\ntitle: A\n")

    with pytest.raises(ArchiveError, match="format"):
        load(tmp_path)


def test_an_archive_of_an_older_format_may_be_faulty_besides(tmp_path: Path) -> None:
    put(tmp_path, "archive.yaml", "titel: A\n")

    with pytest.raises(ArchiveError, match="did you mean `title`") as refused:
        load(tmp_path)

    assert [problem.rule for problem in refused.value.problems] == [
        "record/format",
        "schema/required",
        "schema/unknown-field",
    ]


def test_an_archive_whose_own_record_is_faulty_is_refused_with_all_its_faults(tmp_path: Path) -> None:
    put(tmp_path, "archive.yaml", "format: 1\ntitel: A\ntarget: {example: '9'}\n")

    with pytest.raises(ArchiveError, match="did you mean `title`") as refused:
        load(tmp_path)

    assert told(refused.value.problems) == [
        ("archive.yaml", None, "schema/required"),
        ("archive.yaml", 2, "schema/unknown-field"),
        ("archive.yaml", 3, "schema/required"),
    ]


@pytest.mark.parametrize(
    ("text", "rule"),
    [
        ("format: 2\ntitle: A\n", "record/format"),
        ("format: 1\n", "schema/required"),
        ("format: 1\ntitle\n", "yaml/syntax"),
    ],
)
def test_a_check_goes_on_where_the_archives_own_record_cannot_be_used(tmp_path: Path, text: str, rule: str) -> None:
    folder = lay_down(tmp_path / "vale")
    put(folder, "archive.yaml", text)
    put(folder, "leads/odd.yaml", "what: tins\n")

    loaded = load(folder, unsound=True)

    assert [problem.rule for problem in loaded.problems] == [rule, "schema/required", "schema/required"]
    assert loaded.left_out == ("archive.yaml", "leads/odd.yaml")
    assert not loaded.archive_is_sound
    assert (loaded.records, loaded.files_checked) == (11, 13)
    assert (loaded.archive.title, len(loaded.archive.claims)) == ("vale", 3)


def test_an_archives_own_record_behind_a_link_is_not_followed(tmp_path: Path) -> None:
    outside = put(tmp_path, "outside.yaml", "format: 1\ntitle: A\n")
    (tmp_path / "archive").mkdir()
    (tmp_path / "archive" / "archive.yaml").symlink_to(outside)

    with pytest.raises(ArchiveError, match="symbolic link"):
        load(find_archive(tmp_path / "archive"))


def test_a_folder_in_the_place_of_the_archives_own_record_is_refused(tmp_path: Path) -> None:
    (tmp_path / "archive.yaml").mkdir()

    with pytest.raises(ArchiveError, match="cannot be read"):
        load(tmp_path)


@pytest.mark.parametrize("enabled", [True, False])
def test_the_search_for_circles_is_left_as_it_was(tmp_path: Path, *, enabled: bool) -> None:
    folder = lay_down(tmp_path)
    before = gc.isenabled()

    try:
        (gc.enable if enabled else gc.disable)()
        load(folder)
        assert gc.isenabled() is enabled
    finally:
        (gc.enable if before else gc.disable)()


def test_what_was_kept_gives_the_same_archive(tmp_path: Path) -> None:
    folder = lay_down_plain(lay_down(tmp_path), 150)
    put(folder, "claims/odd.yaml", "about: a\n")

    anew = load(folder, keep=False)
    first = load(folder)
    second = load(folder)

    assert (folder / ".derived" / "records.json").is_file()
    assert anew == first == second
    assert list(anew.archive.claims) == list(second.archive.claims)


def test_nothing_is_kept_where_that_is_not_wanted_and_no_record_is_touched(tmp_path: Path) -> None:
    folder = lay_down_plain(tmp_path, 150)
    before = contents_of(folder)

    load(folder, keep=False)

    assert contents_of(folder) == before
    load(folder)
    assert contents_of(folder).keys() - before.keys() == {".derived/records.json"}


def test_a_change_within_the_same_second_and_of_the_same_length_is_seen(tmp_path: Path) -> None:
    folder = lay_down_plain(tmp_path, 150)
    load(folder)
    path = folder / "claims" / "claim-7.yaml"
    times = path.stat()

    path.write_text(plain_claim("8"), encoding="utf-8")
    os.utime(path, ns=(times.st_atime_ns, times.st_mtime_ns))

    assert load(folder).archive.claims["claim-7"].value == "8"


def test_a_record_that_moves_keeps_what_it_says_and_takes_its_new_name(tmp_path: Path) -> None:
    folder = lay_down_plain(tmp_path, 150)
    load(folder)

    (folder / "claims" / "claim-7.yaml").rename(folder / "claims" / "other.yaml")
    claims = load(folder).archive.claims

    assert "claim-7" not in claims
    assert (claims["other"].id, claims["other"].value) == ("other", "7")


def test_the_same_bytes_are_judged_by_the_kind_of_record_that_they_stand_for(tmp_path: Path) -> None:
    folder = lay_down_plain(tmp_path, 150)
    load(folder)
    put(folder, "leads/claim-7.yaml", plain_claim("7"))

    loaded = load(folder)

    assert loaded.left_out == ("leads/claim-7.yaml",)


def test_a_renamed_pair_is_caught_although_it_was_kept(tmp_path: Path) -> None:
    folder = lay_down_plain(tmp_path, 150)
    put(folder, "copies/a--b.yaml", "between: [a, b]\nby: mh\ndate: 2026\n")
    load(folder)

    (folder / "copies" / "a--b.yaml").rename(folder / "copies" / "a--c.yaml")

    assert load(folder).left_out == ("copies/a--c.yaml",)


def test_a_record_that_vanishes_while_the_archive_is_read_is_left_out_by_name(tmp_path: Path) -> None:
    reading = _Reading(tmp_path, None)

    reading.take(RecordFile(RecordKind.CLAIM, "gone", "claims/gone.yaml"))

    assert [problem.rule for problem in reading.problems] == ["record/unreadable"]
    assert reading.left_out == ["claims/gone.yaml"]


def test_problems_come_in_order_of_file_and_line(tmp_path: Path) -> None:
    folder = lay_down(tmp_path)
    put(folder, "sources/b.yaml", "titel: A\nkind: x\n")
    put(folder, "claims/a.yaml", "abuot: A\n")
    put(folder, "leads/README", "hello")

    problems = load(folder).problems

    assert problems == sort_problems(problems)
    assert {problem.place.file for problem in problems} == {"claims/a.yaml", "leads/README", "sources/b.yaml"}
