"""Files on their way in: what came is kept under numbers, and nothing of it is left behind."""

import hashlib
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given
from hypothesis import strategies as st

from provenance.errors import UsageRefusedError
from provenance.tasks import arriving
from provenance.tasks.arriving import Arrivals, NoRoomError, TooMuchError, Tray, clean_left, require_room

BYTES = b"the bracket is of steel\n" * 1000


@pytest.fixture
def tray(tmp_path: Path) -> Iterator[Tray]:
    with Tray(tmp_path) as made:
        yield made


def put(tray: Tray, name: str, data: bytes = BYTES) -> Path:
    file = tray.begin(name)
    for begin in range(0, len(data), 1000):
        file.write(data[begin : begin + 1000])
    return tray.keep(file).path


def lying(folder: Path) -> list[Path]:
    return sorted(path for path in folder.rglob("*") if path.is_file())


def test_what_came_is_what_lies_there(tray: Tray) -> None:
    put(tray, "letter.txt")

    (arrived,) = tray.files
    assert arrived.path.read_bytes() == BYTES
    assert (arrived.name, arrived.size, arrived.sha256) == (
        "letter.txt",
        len(BYTES),
        hashlib.sha256(BYTES).hexdigest(),
    )


@pytest.mark.parametrize(
    ("name", "ending"),
    [
        ("../../etc/passwd", ""),
        ("/etc/passwd", ""),
        ("a/b/c.txt", ".txt"),
        ("nul\0.PDF", ".PDF"),
        ("ö" * 400, ""),
        ("C:\\x.md", ".md"),
        ("x.p/df", ""),
        ("x.p\0f", ""),
        ("x.txt\n", ""),
        (".pdf", ""),
        (f"x.{'y' * 13}", ""),
    ],
)
def test_no_name_is_ever_a_path_but_for_a_plain_ending(tray: Tray, tmp_path: Path, name: str, ending: str) -> None:
    path = put(tray, name)

    assert path.parent == tray.path
    assert path.name == f"000001{ending}"
    assert lying(tmp_path) == [path]
    assert tray.files[0].name == name


def test_two_of_one_name_are_both_kept_in_the_order_in_which_they_came(tray: Tray) -> None:
    first, second = put(tray, "scan.png", b"front"), put(tray, "scan.png", b"back")

    assert [each.path for each in tray.files] == [first, second]
    assert first.read_bytes() == b"front"


@pytest.mark.parametrize("name", ["", ".", "..", "/", " ", "./.", "x" * 1001])
def test_a_name_that_no_file_has_is_refused(tray: Tray, name: str) -> None:
    with pytest.raises(UsageRefusedError, match="which no file has"):
        put(tray, name)

    assert tray.files == ()


def test_a_file_that_is_larger_than_is_taken_ends_as_it_grows(tray: Tray, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(arriving, "MOST_BYTES", 2500)  # a gigabyte would be written for the same
    file = tray.begin("x")
    file.write(b"x" * 2500)

    with pytest.raises(TooMuchError):
        file.write(b"x")


def test_a_disk_that_has_no_room_is_told_of_before_anything_comes(tmp_path: Path) -> None:
    status = os.statvfs(tmp_path)
    free = status.f_bavail * status.f_frsize

    with pytest.raises(NoRoomError, match="MB left"):
        require_room(tmp_path, free)

    require_room(tmp_path, 1000)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="the device that is always full is Linux's own")
def test_a_disk_that_fills_is_told_of_in_plain_words(tray: Tray) -> None:
    Path(tray.path / "000001").symlink_to("/dev/full")
    with pytest.raises(NoRoomError, match="cannot be written"):
        tray.begin("x")


def test_with_the_tray_goes_all_that_lies_in_it(tmp_path: Path) -> None:
    with Tray(tmp_path) as tray:
        put(tray, "letter.txt")
        tray.begin("half.txt").write(b"half of it")

    assert lying(tmp_path) == []
    assert not tray.path.exists()


def test_what_arrived_for_one_receipt_is_not_seen_by_another(tmp_path: Path) -> None:
    arrivals = Arrivals(tmp_path)
    put(arrivals.tray("one"), "letter.txt")

    assert [each.name for each in arrivals.files("one")] == ["letter.txt"]
    assert arrivals.files("other") == ()
    handed = arrivals.hand_over("one")
    assert handed is not None
    assert arrivals.files("one") == ()
    arrivals.give_back("one", handed)
    assert [each.name for each in arrivals.files("one")] == ["letter.txt"]
    arrivals.close()
    assert lying(tmp_path) == []


def test_what_nobody_sends_off_makes_room_for_others(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(arriving, "_MOST_WAITING", 3)  # fifty trays would show the same
    arrivals = Arrivals(tmp_path)
    for mark in "abcde":
        put(arrivals.tray(mark), f"{mark}.txt")

    assert [len(arrivals.files(mark)) for mark in "abcde"] == [0, 0, 1, 1, 1]
    assert len(lying(tmp_path)) == 3
    monkeypatch.setattr(arriving, "_IDLE_SECONDS", -1.0)  # instead of six hours gone by
    arrivals.tray("f")
    assert lying(tmp_path) == []


def test_what_a_killed_server_left_is_taken_away_and_what_another_receives_stays(tray: Tray, tmp_path: Path) -> None:
    program = (
        "import os, sys; from pathlib import Path; from provenance.tasks.arriving import Tray; "
        "tray = Tray(Path(sys.argv[1])); tray.begin('x').write(b'left'); os._exit(9)"
    )
    subprocess.run([sys.executable, "-c", program, str(tmp_path)], check=False)
    mine = put(tray, "letter.txt")
    assert len(list(tray.path.parent.iterdir())) == 2

    clean_left(tmp_path)

    assert lying(tmp_path) == [mine]
    assert list(tray.path.parent.iterdir()) == [tray.path]


@given(st.lists(st.binary(max_size=60), max_size=12))
def test_however_it_is_cut_up_the_digest_is_that_of_the_whole(pieces: list[bytes]) -> None:
    with TemporaryDirectory() as folder, Tray(Path(folder)) as tray:
        file = tray.begin("x")
        for piece in pieces:
            file.write(piece)
        arrived = tray.keep(file)

        whole = b"".join(pieces)
        assert (arrived.size, arrived.sha256) == (len(whole), hashlib.sha256(whole).hexdigest())
        assert arrived.path.read_bytes() == whole
