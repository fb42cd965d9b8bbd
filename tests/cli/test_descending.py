"""The command that shows what was made from what."""

import json
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from answers import faults_of
from cli.command_line import SOUND, a_copy_of, ask, run
from click.testing import CliRunner
from tasks.team import a_text

from provenance.cli import main

LETTER = "title: A letter\nkind: letter\nderives_from: [{source: handbook, how: cites}]\nby: mh\ndate: 2026-01-10\n"


@pytest.fixture
def archive(tmp_path: Path) -> Path:
    """The sound archive with a letter that cites the handbook."""
    folder = a_copy_of(SOUND, tmp_path)
    a_text(folder / "sources" / "letter.yaml", LETTER)
    return folder


def test_a_source_is_shown_with_what_was_made_from_it(archive: Path) -> None:
    page = run(archive, "descent", "handbook")
    answer = ask(archive, "descent", "handbook")

    assert page.exit_code == 0
    assert "  - takes what it says from it: “A letter” (letter)" in page.stdout
    assert answer["edges"][0]["from"] == "letter"
    assert answer["edges"][0]["to"] == "handbook"


def test_a_feature_is_shown_with_its_bottleneck(archive: Path) -> None:
    page = " ".join(run(archive, "descent", "headlamp/kind").stdout.split())

    assert "Everything hangs on “Working instructions” (handbook): nothing else speaks for this value." in page
    assert ask(archive, "descent", "headlamp/kind")["evidence"]["bottleneck"] == ["handbook"]


def test_it_is_written_to_a_file_as_a_drawing_a_page_or_for_programs(archive: Path, tmp_path: Path) -> None:
    for ending in ("svg", "txt", "json"):
        output = tmp_path / f"descent.{ending}"
        assert run(archive, "descent", "handbook", "--output", str(output)).stdout == f"written: {output}\n"

    drawing = ET.fromstring((tmp_path / "descent.svg").read_text(encoding="utf-8"))
    assert drawing[0].text == "Descent of “Working instructions” (handbook)"
    assert (tmp_path / "descent.txt").read_text(encoding="utf-8") == run(archive, "descent", "handbook").stdout
    told = json.loads((tmp_path / "descent.json").read_text(encoding="utf-8"))
    assert faults_of(told) == []
    assert told == ask(archive, "descent", "handbook", "--output", str(tmp_path / "again.svg"))


@pytest.mark.parametrize("name", ["descent.pdf", "nowhere/descent.svg", "archive/sources/descent.svg"])
def test_a_place_where_it_cannot_be_written_is_a_usage_error(archive: Path, tmp_path: Path, name: str) -> None:
    refusal = run(archive, "descent", "handbook", "--output", str(tmp_path / name))

    assert refusal.exit_code == 2
    assert not (tmp_path / name).exists()


def test_an_unknown_source_is_refused_with_the_nearest(archive: Path) -> None:
    refusal = ask(archive, "descent", "handbok", code=3)

    assert refusal["what"] == "there is no source `handbok`"
    assert "`handbook`" in refusal["mend"]


def test_the_tab_key_offers_sources_and_features(archive: Path) -> None:
    def offered(typed: str) -> list[str]:
        words = f"provenance --archive {archive} descent {typed}"
        asked = {"_PROVENANCE_COMPLETE": "bash_complete", "COMP_WORDS": words, "COMP_CWORD": "4"}
        shown = CliRunner().invoke(main, prog_name="provenance", env=asked).output
        return [line.partition(",")[2] for line in shown.splitlines()]

    assert offered("h") == ["handbook", "headlamp/"]
    assert offered("headlamp/k") == ["headlamp/kind"]
