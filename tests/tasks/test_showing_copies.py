"""Two sources looked at side by side: real pictures, real texts, the real recogniser."""

from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pytest
from builders import a_withdrawal
from PIL import Image
from tasks.likenesses import a_photograph, a_rescan, laid_down, open_again
from tasks.team import TODAY, a_team_archive, a_text
from tasks.test_comparing import PARAGRAPH, ROUND

from provenance.errors import UsageRefusedError
from provenance.tasks.ingest import ingest
from provenance.tasks.opening import Opened
from provenance.tasks.showing_copies import show_pair


def taken_in(scratch: Path, *paths: Path) -> tuple[Opened, tuple[str, str]]:
    opened = a_team_archive(scratch)
    done = ingest(open_again(opened), paths, by="mh", today=TODAY, workers=2)
    one, other = (file.source or "" for file in done.files)
    return open_again(opened), (one, other)


def test_two_prints_are_drawn_side_by_side_and_no_record_is_written(tmp_path: Path) -> None:
    held = laid_down(tmp_path / "in" / "a.png", a_photograph())
    opened, names = taken_in(tmp_path, held, laid_down(tmp_path / "in" / "b.jpg", a_rescan(a_photograph())))
    before = {path: path.read_bytes() for path in opened.folder.glob("*/*.yaml")}
    output = tmp_path / "side.png"

    shown = show_pair(opened, (names[1], names[0]), output=output)

    assert shown.picture is not None
    assert (shown.between, shown.picture.likeness, shown.text, shown.unread) == (tuple(sorted(names)), "copy", None, 0)
    assert shown.pair is not None
    assert shown.output == str(output)
    with Image.open(BytesIO(output.read_bytes())) as sheet:
        assert sheet.format == "PNG"
        assert sheet.width > sheet.height > 0
    assert {path: path.read_bytes() for path in opened.folder.glob("*/*.yaml")} == before


def test_two_texts_show_the_passage_that_they_share_and_cannot_be_drawn(tmp_path: Path) -> None:
    book = a_text(tmp_path / "in" / "book.txt", PARAGRAPH)
    opened, names = taken_in(tmp_path, book, a_text(tmp_path / "in" / "round.txt", ROUND.format(PARAGRAPH)))

    shown = show_pair(opened, names)
    with pytest.raises(UsageRefusedError, match="nothing to draw") as refused:
        show_pair(opened, names, output=tmp_path / "side.png")

    assert shown.text is not None
    assert all("steel conduit which runs along the cantrail" in passage for passage in shown.passages)
    assert "Subscriptions" not in "".join(shown.passages)
    assert ".txt" in refused.value.mend
    assert not (tmp_path / "side.png").exists()


def test_what_nobody_has_read_yet_is_counted_and_a_withdrawn_source_is_not_compared(tmp_path: Path) -> None:
    opened = a_team_archive(tmp_path)
    sources = opened.archive.sources
    withdrawn = {**sources, "handbook": replace(sources["handbook"], withdrawn=a_withdrawal("a hoax"))}

    shown = show_pair(opened, ("handbook", "photograph"))
    with pytest.raises(UsageRefusedError, match="handbook is withdrawn, so that it is not compared: a hoax"):
        show_pair(replace(opened, archive=replace(opened.archive, sources=withdrawn)), ("handbook", "photograph"))

    assert (shown.picture, shown.text, shown.unread, shown.pair) == (None, None, 1, None)


@pytest.mark.parametrize(("name", "what"), [("side.jpg", "`.png` or `.txt`"), ("none/side.png", "is not there")])
def test_a_file_that_cannot_be_written_is_refused_before_anything_is_compared(
    tmp_path: Path, name: str, what: str
) -> None:
    opened = a_team_archive(tmp_path)

    with pytest.raises(UsageRefusedError) as refused:
        show_pair(opened, ("handbook", "photograph"), output=tmp_path / name)

    assert what in f"{refused.value}"
    assert not (opened.folder / ".derived" / "likeness").exists()
