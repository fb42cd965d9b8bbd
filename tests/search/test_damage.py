"""A damaged or planted index is noticed before the first answer, said, and rebuilt; nothing planted ever runs."""

import json
import random
from collections.abc import Callable
from pathlib import Path

import pytest
from search.making import LAMP_PAGES, at, build, found, keys
from whoosh import fields
from whoosh.filedb.filestore import FileStorage
from whoosh.index import TOC, open_dir

from provenance.errors import DerivedDataError
from provenance.search import manifest
from provenance.search.building import bring_up_to_date
from provenance.search.entries import Entry

Damage = Callable[[Path], None]


class Planted(fields.STORED):  # type: ignore[misc]  # Whoosh has no types
    """A field that runs code of its own when its pickle is loaded: it writes the file named here."""

    def __init__(self, canary: Path) -> None:
        self._canary = canary

    def __reduce__(self) -> tuple[Callable[..., object], tuple[str]]:
        return exec, (f"open({str(self._canary)!r}, 'w').close()",)


def plant(folder: Path, canary: Path, *, generation: int) -> None:
    """Put a table of contents with a planted pickle among the files of an index."""
    (folder / f"_MAIN_{generation}.toc").unlink(missing_ok=True)
    TOC(fields.Schema(planted=Planted(canary)), [], generation).write(FileStorage(str(folder)), "MAIN")


def one_file(folder: Path, ending: str) -> Path:
    (path,) = folder.glob(f"files-*/*{ending}")
    return path


def truncate(folder: Path, ending: str) -> None:
    path = one_file(folder, ending)
    path.write_bytes(path.read_bytes()[:-1])


def zero_in_part(folder: Path, ending: str) -> None:
    path = one_file(folder, ending)
    data = path.read_bytes()
    middle = len(data) // 2
    path.write_bytes(data[:middle] + bytes(min(100, len(data) - middle)) + data[middle + 100 :])


def turn_one_bit(folder: Path, ending: str) -> None:
    path = one_file(folder, ending)
    data = bytearray(path.read_bytes())
    data[len(data) // 3] ^= 1
    path.write_bytes(data)


def remove(folder: Path, ending: str) -> None:
    one_file(folder, ending).unlink()


def remove_all(folder: Path) -> None:
    for path in folder.glob("files-*/*"):
        path.unlink()
    next(folder.glob("files-*")).rmdir()


def put_a_link_in_its_place(folder: Path) -> None:
    path = one_file(folder, ".seg")
    path.rename(folder / "elsewhere.seg")
    path.symlink_to(folder / "elsewhere.seg")


def link_the_folder(folder: Path) -> None:
    files = next(folder.glob("files-*"))
    files.rename(folder / "elsewhere")
    files.symlink_to(folder / "elsewhere")


def empty_the_manifest(folder: Path) -> None:
    (folder / "manifest.json").write_bytes(b"")


def nest_the_manifest(folder: Path) -> None:
    (folder / "manifest.json").write_bytes(b"[" * 100_000)


def make_the_manifest_a_folder(folder: Path) -> None:
    (folder / "manifest.json").unlink()
    (folder / "manifest.json").mkdir()


def edit_the_manifest(folder: Path) -> None:
    path = folder / "manifest.json"
    path.write_text(path.read_text("utf-8").replace('"gone": 0', '"gone": 7'), "utf-8")


def reseal(folder: Path, change: Callable[[dict[str, object]], object], key: bytes | None = None) -> None:
    """Change the manifest and seal it again, with its owner's secret or another."""
    path = folder / "manifest.json"
    body = json.loads(path.read_bytes())["body"]
    change(body)
    path.write_text(json.dumps({"seal": manifest.seal(body, key or at(folder).key), "body": body}), "utf-8")


DAMAGES: list[tuple[Damage, str]] = [
    (lambda folder: truncate(folder, ".seg"), r"\.seg has \d+ bytes instead of \d+"),
    (lambda folder: truncate(folder, ".toc"), r"\.toc has \d+ bytes instead of \d+"),
    (lambda folder: zero_in_part(folder, ".seg"), r"\.seg has another SHA-256"),
    (lambda folder: zero_in_part(folder, ".toc"), r"\.toc has another SHA-256"),
    (lambda folder: turn_one_bit(folder, ".seg"), r"\.seg has another SHA-256"),
    (lambda folder: turn_one_bit(folder, ".toc"), r"\.toc has another SHA-256"),
    (lambda folder: remove(folder, ".seg"), r"\.seg is missing"),
    (lambda folder: remove(folder, ".toc"), r"\.toc is missing"),
    (remove_all, r"files-1/ is missing"),
    (put_a_link_in_its_place, r"\.seg is no ordinary file"),
    (link_the_folder, r"files-1/ is missing"),
    (empty_the_manifest, r"manifest\.json does not carry your seal"),
    (nest_the_manifest, r"manifest\.json does not carry your seal"),
    (make_the_manifest_a_folder, r"manifest\.json cannot be read"),
    (edit_the_manifest, r"manifest\.json does not carry your seal"),
    (lambda folder: reseal(folder, lambda body: body.pop("files")), r"manifest\.json lacks what it should hold"),
    (lambda folder: reseal(folder, lambda body: body.update(files=3)), r"manifest\.json lacks what it should hold"),
    (
        lambda folder: reseal(folder, lambda body: body.update(versions={**manifest.versions(), "tokens": "0"})),
        r"made by another version \(tokens 0 instead of \d+\)",
    ),
    (
        lambda folder: reseal(folder, lambda body: body.update(versions={"whoosh": "3.0.0"})),
        r"whoosh 3\.0\.0 instead of 2\.7\.4",
    ),
]


@pytest.mark.parametrize(("damage", "said"), DAMAGES)
def test_damage_is_noticed_before_the_first_answer_and_mended(damage: Damage, said: str, tmp_path: Path) -> None:
    build(tmp_path, LAMP_PAGES)
    sound = found(tmp_path, "lamp bracket")
    damage(tmp_path)

    with pytest.raises(DerivedDataError, match=said) as refused:
        found(tmp_path, "lamp bracket")
    changes = build(tmp_path, LAMP_PAGES)

    assert refused.value.mend == "run `provenance rebuild`"
    assert changes.rebuilt == f"{refused.value.what}; rebuilt"
    assert (changes.added, changes.kept) == (5, 0)
    assert found(tmp_path, "lamp bracket") == sound
    assert build(tmp_path, LAMP_PAGES).rebuilt == ""


@pytest.mark.parametrize("generation", [1, 9], ids=["in place of its own", "beside its own"])
def test_code_planted_in_an_index_never_runs(generation: int, tmp_path: Path) -> None:
    folder, canary = tmp_path / "index", tmp_path / "canary"
    build(folder, LAMP_PAGES)
    plant(next(folder.glob("files-*")), canary, generation=generation)
    open_dir(str(next(folder.glob("files-*")))).reader().close()
    assert canary.exists(), "the planted pickle has to be live, or this test shows nothing"
    canary.unlink()

    with pytest.raises(DerivedDataError, match=r"does not belong there|\.toc has \d+ bytes instead of"):
        found(folder, "lamp")
    changes = build(folder, LAMP_PAGES)

    assert changes.rebuilt.startswith("the index was damaged (files-1/_MAIN_")
    assert keys(found(folder, "spare")) == ["handbook/p0002"]
    assert not canary.exists()


def test_an_index_that_came_with_a_folder_never_runs_however_well_it_agrees_with_its_manifest(tmp_path: Path) -> None:
    folder, canary = tmp_path / "index", tmp_path / "canary"
    build(folder, LAMP_PAGES)
    plant(next(folder.glob("files-*")), canary, generation=1)
    listed = manifest.list_files(next(folder.glob("files-*")))

    reseal(folder, lambda body: body.update(files=listed), key=b"the secret of whoever planted it")

    with pytest.raises(DerivedDataError, match="does not carry your seal"):
        found(folder, "lamp")
    assert (
        build(folder, LAMP_PAGES).rebuilt == "the index was damaged (manifest.json does not carry your seal); rebuilt"
    )
    assert keys(found(folder, "spare")) == ["handbook/p0002"]
    assert not canary.exists()


@pytest.mark.parametrize("seed", range(40))
def test_any_file_of_an_index_cut_zeroed_or_flipped_anywhere_is_noticed(seed: int, tmp_path: Path) -> None:
    build(tmp_path, LAMP_PAGES)
    sound = found(tmp_path, "lamp bracket")
    chance = random.Random(seed)
    path = chance.choice(sorted(file for file in tmp_path.rglob("*") if file.is_file() and file.name != "lock"))
    data = bytearray(path.read_bytes())
    place = chance.randrange(len(data))
    match seed % 3:
        case 0:
            del data[place:]
        case 1:
            data[place : place + 64] = bytes(len(data[place : place + 64]))
        case _:
            data[place] ^= 1 << chance.randrange(8)
    was_changed = bytes(data) != path.read_bytes()
    path.write_bytes(data)

    if was_changed:
        with pytest.raises(DerivedDataError):
            found(tmp_path, "lamp bracket")
        assert build(tmp_path, LAMP_PAGES).rebuilt.endswith("; rebuilt")

    assert found(tmp_path, "lamp bracket") == sound


def test_a_missing_manifest_is_no_index(tmp_path: Path) -> None:
    build(tmp_path, LAMP_PAGES)
    (tmp_path / "manifest.json").unlink()

    with pytest.raises(DerivedDataError, match="there is no search index"):
        found(tmp_path, "lamp")
    changes = build(tmp_path, LAMP_PAGES)

    assert changes.rebuilt == "the index was not finished (manifest.json is missing); rebuilt"


def test_a_damaged_index_is_rebuilt_even_when_nothing_in_the_archive_changed(tmp_path: Path) -> None:
    build(tmp_path, LAMP_PAGES)
    turn_one_bit(tmp_path, ".seg")
    wanted = {entry.key: entry for entry in LAMP_PAGES}
    fetched: list[str] = []

    def fetch(key: str) -> Entry:
        fetched.append(key)
        return wanted[key]

    bring_up_to_date(at(tmp_path), {key: entry.digest for key, entry in wanted.items()}, fetch)

    assert fetched == sorted(wanted)


def test_what_lies_beside_the_files_of_the_index_is_not_looked_at(tmp_path: Path) -> None:
    build(tmp_path, LAMP_PAGES)
    (tmp_path / "files-7").symlink_to(tmp_path)
    (tmp_path / "files-8").write_text("left over")
    (tmp_path / "notes.txt").write_text("left by somebody")

    answer = found(tmp_path, "spare")
    build(tmp_path, LAMP_PAGES[1:])

    assert answer.total == 1
    assert sorted(path.name for path in tmp_path.iterdir()) == ["files-9", "lock", "manifest.json", "notes.txt"]
