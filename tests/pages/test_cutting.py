import hashlib
from dataclasses import replace
from pathlib import Path

import pytest
from pages.coded_pages import coded_page, job_of

from provenance.errors import UnreadableOriginalError
from provenance.pages.cut_outs import CutOut
from provenance.pages.cutting import cut


def test_a_file_that_is_not_the_one_received_is_not_shown_in_its_place(tmp_path: Path) -> None:
    path = tmp_path / "page.png"
    coded_page().save(path)
    job = replace(job_of(path, "image/png", None), sha256=hashlib.sha256(path.read_bytes()).hexdigest())
    assert isinstance(cut(job)[0], CutOut)

    path.write_bytes(path.read_bytes() + b"\0")

    with pytest.raises(UnreadableOriginalError, match=r"page\.png is not as it was received"):
        cut(job)


def test_a_link_is_not_followed(tmp_path: Path) -> None:
    coded_page().save(tmp_path / "page.png")
    (tmp_path / "link.png").symlink_to(tmp_path / "page.png")

    with pytest.raises(UnreadableOriginalError, match="link"):
        cut(job_of(tmp_path / "link.png", "image/png", None))


def test_a_kind_without_pictures_is_refused(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("notes", encoding="utf-8")

    with pytest.raises(UnreadableOriginalError, match="no picture"):
        cut(job_of(tmp_path / "notes.txt", "text/plain", None))
