import os
import socket
import tempfile
from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest

from provenance.errors import UnreadableOriginalError
from provenance.pages.identifying import identify
from provenance.pages.pictures import upright
from provenance.pages.plain_files import open_plain, require_plain, size_of
from provenance.pages.signatures import PICTURES
from provenance.reading.page_reading import PageJob, read_page


def test_a_plain_file_is_opened_at_its_beginning(tmp_path: Path) -> None:
    (tmp_path / "a.txt").write_bytes(b"H-204")

    with open_plain(tmp_path / "a.txt") as file:
        assert size_of(file) == 5
        assert file.read() == b"H-204"
    require_plain(tmp_path / "a.txt")


def what_is_no_plain_file(folder: Path, kind: str) -> Path:
    path = folder / "odd.tif"
    match kind:
        case "pipe":
            os.mkfifo(path)
        case "folder":
            path.mkdir()
        case "socket":
            with socket.socket(socket.AF_UNIX) as listening:
                listening.bind(str(path))
        case "device":
            return Path("/dev/zero")
        case "link to a device":
            path.symlink_to("/dev/zero")
        case "link to a file":
            (folder / "secret.txt").write_text("not handed in", encoding="utf-8")
            path.symlink_to(folder / "secret.txt")
        case "link in a circle":
            path.symlink_to(path)
    return path


ODD = ["pipe", "folder", "socket", "device", "link to a device", "link to a file", "link in a circle"]


@pytest.mark.parametrize("kind", ODD)
def test_what_is_no_plain_file_is_refused_by_whatever_opens_originals_and_nothing_waits_for_it(kind: str) -> None:
    """A reader that waits for a pipe or reads a device to its end would hang this test."""
    with tempfile.TemporaryDirectory() as folder:  # a socket has room for a short path only
        path = what_is_no_plain_file(Path(folder), kind)
        kinds = sorted(PICTURES | {"application/pdf", "text/plain", "text/markdown", "text/vtt"})
        openers: list[Callable[[], object]] = [partial(require_plain, path), partial(identify, path)]
        openers += [partial(upright, path, kind) for kind in sorted(PICTURES)]
        openers += [partial(read_page, PageJob(path=path, media_type=kind, page=1)) for kind in kinds]

        for opener in openers:
            with pytest.raises(
                UnreadableOriginalError, match="is a link" if "link" in kind else "is not a plain"
            ) as caught:
                opener()
            assert path.name in caught.value.what


def test_a_file_that_is_not_here_says_so(tmp_path: Path) -> None:
    with pytest.raises(UnreadableOriginalError, match=r"gone\.tif is not here"):
        require_plain(tmp_path / "gone.tif")


def test_a_file_in_a_folder_that_is_none_says_why_it_cannot_be_opened(tmp_path: Path) -> None:
    (tmp_path / "a.txt").touch()

    with pytest.raises(UnreadableOriginalError, match=r"b\.txt cannot be opened: Not a directory"):
        require_plain(tmp_path / "a.txt" / "b.txt")


def test_a_terabyte_of_nothing_is_looked_at_and_not_read(tmp_path: Path) -> None:
    empty, begun = tmp_path / "empty.tif", tmp_path / "begun.tif"
    with empty.open("wb") as file:
        file.truncate(10**12)
    with begun.open("wb") as file:
        file.write(b"II*\0\x08\0\0\0" + bytes(6))
        file.truncate(10**12)

    with pytest.raises(UnreadableOriginalError, match="mislabelled or damaged"):
        identify(empty)
    with pytest.raises(UnreadableOriginalError, match="holds a picture without a size"):
        identify(begun)
