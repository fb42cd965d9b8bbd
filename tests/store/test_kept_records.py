"""What is kept of records between two runs: believed only where it can be."""

import json
from pathlib import Path

import pytest
from store.small_archive import lay_down_plain, plain_claim, put

from provenance.store.kept_records import WORTH_KEEPING, KeptRecords, digest_of_files, files_that_decide
from provenance.store.loading import load
from provenance.store.record_kinds import RecordKind

KEPT = ".derived/records.json"


def kept(folder: Path) -> bytes:
    return (folder / KEPT).read_bytes()


def test_what_was_added_is_found_again_by_kind_and_digest(tmp_path: Path) -> None:
    records = KeptRecords(tmp_path)
    for number in range(WORTH_KEEPING):
        records.add(RecordKind.CLAIM, f"{number:064}", {"value": str(number), "evidence": [{"at": {"page": number}}]})
    records.save()

    again = KeptRecords(tmp_path)

    assert again.find(RecordKind.CLAIM, f"{7:064}") == {"value": "7", "evidence": [{"at": {"page": 7}}]}
    assert again.find(RecordKind.SOURCE, f"{7:064}") is None
    assert again.find(RecordKind.CLAIM, "0" * 63 + "x") is None


def test_a_few_records_are_not_worth_a_file(tmp_path: Path) -> None:
    folder = lay_down_plain(tmp_path, WORTH_KEEPING - 1)

    load(folder)

    assert not (folder / ".derived").exists()


def test_a_few_changes_do_not_make_the_file_be_written_again(tmp_path: Path) -> None:
    folder = lay_down_plain(tmp_path, WORTH_KEEPING)
    load(folder)
    before = kept(folder)

    put(folder, "claims/claim-1.yaml", plain_claim("other"))

    assert load(folder).archive.claims["claim-1"].value == "other"
    assert kept(folder) == before


def test_what_no_longer_stands_in_the_archive_goes_when_the_file_is_written_again(tmp_path: Path) -> None:
    folder = lay_down_plain(tmp_path, WORTH_KEEPING)
    load(folder)

    for number in range(WORTH_KEEPING):
        put(folder, f"claims/claim-{number}.yaml", plain_claim(f"new-{number}"))
    load(folder)

    assert len(json.loads(kept(folder).partition(b"\n")[2])["claim"]) == WORTH_KEEPING


@pytest.mark.parametrize(
    "damage",
    [
        lambda data: data[:-5],
        lambda data: data.replace(b'"value":"7"', b'"value":"8"'),
        lambda data: data.replace(b'"made_by": "', b'"made_by": "0'),
        lambda data: data[:0],
        lambda data: b"\x00" * len(data),
        lambda data: b"{}\n" + data.partition(b"\n")[2],
    ],
    ids=["cut short", "one value changed", "made by other code", "empty", "zeros", "no head"],
)
def test_a_damaged_or_foreign_file_is_not_believed_and_is_made_anew(tmp_path: Path, damage: object) -> None:
    folder = lay_down_plain(tmp_path, WORTH_KEEPING)
    load(folder)
    sound = kept(folder)
    assert callable(damage)
    (folder / KEPT).write_bytes(damage(sound))

    loaded = load(folder)

    assert loaded.archive.claims["claim-7"].value == "7"
    assert kept(folder) == sound


def test_where_nothing_can_be_written_all_goes_on(tmp_path: Path) -> None:
    folder = lay_down_plain(tmp_path, WORTH_KEEPING)
    put(folder, ".derived", "a file in the place of the folder")

    loaded = load(folder)

    assert len(loaded.archive.claims) == WORTH_KEEPING


def test_a_folder_in_the_place_of_the_file_does_no_harm(tmp_path: Path) -> None:
    folder = lay_down_plain(tmp_path, WORTH_KEEPING)
    (folder / KEPT).mkdir(parents=True)

    loaded = load(folder)

    assert len(loaded.archive.claims) == WORTH_KEEPING


def test_the_file_is_plain_json_and_never_anything_that_runs(tmp_path: Path) -> None:
    folder = lay_down_plain(tmp_path, WORTH_KEEPING)

    load(folder)
    head, _, body = kept(folder).partition(b"\n")

    assert set(json.loads(head)) == {"made_by", "sha256"}
    assert json.loads(body).keys() == set(RecordKind)


def test_what_was_kept_before_stays_when_the_file_is_written_again(tmp_path: Path) -> None:
    folder = lay_down_plain(tmp_path, WORTH_KEEPING)
    load(folder)

    for number in range(WORTH_KEEPING):
        put(folder, f"claims/more-{number}.yaml", plain_claim(f"more-{number}"))
    load(folder)

    assert len(json.loads(kept(folder).partition(b"\n")[2])["claim"]) == 2 * WORTH_KEEPING


def test_the_file_bears_the_digest_of_the_code_and_the_schemas_that_decide_what_is_sound(tmp_path: Path) -> None:
    folder = lay_down_plain(tmp_path, WORTH_KEEPING)

    load(folder)

    assert json.loads(kept(folder).partition(b"\n")[0])["made_by"] == digest_of_files(files_that_decide())
    names = {path.name for path in files_that_decide()}
    assert {"claim.schema.json", "edtf_grammar.py", "regions.py", "yaml_nodes.py", "building_claims.py"} <= names


def test_a_change_in_any_file_that_decides_changes_their_digest(tmp_path: Path) -> None:
    files = [put(tmp_path, "a.py", "a"), put(tmp_path, "b.py", "b")]
    before = digest_of_files(files)

    put(tmp_path, "b.py", "c")

    # SHA-256 of "ab" and of "ac", as `printf ab | sha256sum` prints them.
    assert before == "fb8e20fc2e4c3f248c60c39bd652f3c1347298bb977b8b4d5903b85055620603"
    assert digest_of_files(files) == "f45de51cdef30991551e41e882dd7b5404799648a0a00753f44fc966e6153fc1"
