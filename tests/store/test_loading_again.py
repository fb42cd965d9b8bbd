"""An archive read a second time, of which only what changed is read: the same as if all of it were."""

import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from store.small_archive import lay_down, lay_down_plain, plain_claim, put

from provenance.errors import ArchiveError
from provenance.store import loading
from provenance.store.loading import Loaded, load

FILES = ("claims/kind-1.yaml", "claims/kind-2.yaml", "claims/new.yaml", "sources/odd.yaml", "copies/a--b.yaml")
TEXTS = (
    plain_claim("oil"),
    plain_claim("gas"),
    plain_claim("gas") + "# a comment\n",
    "title: A print\nby: mh\ndate: 2026\n",
    "between: [a, b]\nby: mh\ndate: 2026\n",
    "between: [b, a]\nby: mh\ndate: 2026\n",
    "title: A\ntitle: B\n",
    "",
)
HEADS = ("format: 1\ntitle: Railcar 9\n", "format: 1\ntitle: Another\npeople: [{id: mh, name: M. H.}]\n")


def written_in_place(folder: Path, file: str, text: str) -> None:
    put(folder, file, text)


def replaced(folder: Path, file: str, text: str) -> None:
    put(folder, "beside", text).replace(put(folder, file, ""))


def taken_away(folder: Path, file: str, _text: str) -> None:
    (folder / file).unlink(missing_ok=True)


def made_a_link(folder: Path, file: str, _text: str) -> None:
    taken_away(folder, file, "")
    (folder / file).parent.mkdir(exist_ok=True)
    (folder / file).symlink_to("elsewhere.yaml")


def made_a_folder(folder: Path, file: str, _text: str) -> None:
    taken_away(folder, file, "")
    (folder / file).mkdir(parents=True)


EDITS = (written_in_place, written_in_place, replaced, taken_away, made_a_link, made_a_folder)


@pytest.fixture(scope="module")
def scratch(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("again")


def whole(loaded: Loaded) -> tuple[object, ...]:
    """All that a loading tells, with the order of the records."""
    archive = loaded.archive
    order = tuple(tuple(records) for records in (archive.sources, archive.claims, archive.copies))
    return loaded, order, dict(loaded.head), {file: read.record for file, read in loaded.files.items()}


@given(is_trusted=st.booleans(), data=st.data())
@settings(max_examples=80)
def test_what_is_read_again_is_what_is_read_the_first_time(
    scratch: Path, data: st.DataObject, *, is_trusted: bool
) -> None:
    """With files too young to be told by what the system says of them, and with files that are told by nothing else."""
    folder = scratch / "archive"
    shutil.rmtree(folder, ignore_errors=True)
    with pytest.MonkeyPatch.context() as patched:
        if is_trusted:
            patched.setattr(loading, "TOO_YOUNG", -(10**12))
        loaded = load(lay_down(folder))
        for _ in range(data.draw(st.integers(1, 4))):
            _wait_for_the_clock(scratch)
            _edited(folder, data)
            loaded = load(folder, earlier=loaded)

            assert whole(loaded) == whole(load(folder))


def _edited(folder: Path, data: st.DataObject) -> None:
    for _ in range(data.draw(st.integers(0, 3))):
        edit, file = data.draw(st.sampled_from(EDITS)), data.draw(st.sampled_from(FILES))
        if not (folder / file).is_symlink() and not (folder / file).is_dir():
            edit(folder, file, data.draw(st.sampled_from(TEXTS)))
    if data.draw(st.booleans()):
        put(folder, "archive.yaml", data.draw(st.sampled_from(HEADS)))


def _wait_for_the_clock(scratch: Path) -> None:
    """Until the system's clock for files has gone on by one step, some thousandths of a second."""
    began = put(scratch, "clock", "").stat().st_ctime_ns
    while put(scratch, "clock", "").stat().st_ctime_ns == began:
        pass


def test_where_nothing_changed_the_archive_is_the_very_same(tmp_path: Path) -> None:
    before = load(lay_down(tmp_path))

    assert load(tmp_path, earlier=before).archive is before.archive


@pytest.mark.parametrize("change", [lambda text: f"{text}# a comment\n", lambda text: text], ids=["comment", "touched"])
def test_a_file_that_says_the_same_in_other_letters_leaves_the_archive_the_very_same(
    tmp_path: Path, change: Callable[[str], str]
) -> None:
    before = load(lay_down(tmp_path))
    claim = tmp_path / "claims/kind-1.yaml"
    claim.write_text(change(claim.read_text(encoding="utf-8")), encoding="utf-8")

    assert load(tmp_path, earlier=before).archive is before.archive


def test_records_that_did_not_change_are_the_very_same(tmp_path: Path) -> None:
    before = load(lay_down_plain(tmp_path, 3))
    put(tmp_path, "claims/claim-1.yaml", plain_claim("other"))

    now = load(tmp_path, earlier=before).archive.claims

    assert [now[each] is before.archive.claims[each] for each in now] == [True, False, True]
    assert now["claim-1"].value == "other"


def test_a_record_more_at_the_end_and_one_less_are_noticed(tmp_path: Path) -> None:
    before = load(lay_down_plain(tmp_path, 1))
    last = put(tmp_path, "claims/z.yaml", plain_claim("z"))
    more = load(tmp_path, earlier=before)
    last.unlink()

    fewer = load(tmp_path, earlier=more)

    assert [list(each.archive.claims) for each in (more, fewer)] == [["claim-0", "z"], ["claim-0"]]


def _again_in_place(path: Path, text: str) -> None:
    """Write a file once more, as long as it was and with its old date; a moment later by the system's own clock."""
    told = path.stat()
    while True:
        path.write_text(text, encoding="utf-8")
        os.utime(path, ns=(told.st_atime_ns, told.st_mtime_ns))
        if path.stat().st_ctime_ns != told.st_ctime_ns:
            return


def test_a_file_written_again_in_its_length_and_with_its_old_date_is_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(loading, "TOO_YOUNG", -(10**12))  # so that nothing counts as too young to be told by its facts
    before = load(lay_down_plain(tmp_path, 1))
    _again_in_place(tmp_path / "claims/claim-0.yaml", plain_claim("1"))

    assert load(tmp_path, earlier=before).archive.claims["claim-0"].value == "1"


def test_a_file_that_the_system_says_is_unchanged_is_not_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(loading, "TOO_YOUNG", -(10**12))  # else what was written just now is read whatever is said
    before = load(lay_down_plain(tmp_path, 1))
    (tmp_path / "claims/claim-0.yaml").chmod(0o644)  # which changes the facts
    once_more = load(tmp_path, earlier=before)

    same = load(tmp_path, earlier=once_more)

    assert same.files["claims/claim-0.yaml"] is once_more.files["claims/claim-0.yaml"]
    assert once_more.files["claims/claim-0.yaml"] is not before.files["claims/claim-0.yaml"]


def test_a_file_written_just_before_it_was_read_is_read_again_whatever_the_system_says(tmp_path: Path) -> None:
    """Two writings in one step of the clock bear the same time."""
    before = load(lay_down_plain(tmp_path, 1))

    assert before.files["claims/claim-0.yaml"].facts is None


def test_an_archive_whose_own_record_broke_is_refused_again(tmp_path: Path) -> None:
    before = load(lay_down(tmp_path))
    put(tmp_path, "archive.yaml", "titel: A\n")

    with pytest.raises(ArchiveError):
        load(tmp_path, earlier=before)
    assert load(tmp_path, unsound=True, earlier=before).archive == load(tmp_path, unsound=True).archive
