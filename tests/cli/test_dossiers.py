"""The dossier as `evidence --output` writes it."""

import json
from pathlib import Path

import pytest
from cli.command_line import SOUND, a_copy_of, run
from unpacked import words_in

START = {"html": b"<!DOCTYPE html>", "pdf": b"%PDF-", "docx": b"PK"}


@pytest.fixture
def archive(tmp_path: Path) -> Path:
    return a_copy_of(SOUND, tmp_path)


@pytest.mark.parametrize("ending", ["html", "pdf", "docx"])
@pytest.mark.parametrize("audience", ["team", "workshop"])
def test_the_dossier_is_written_as_the_name_of_the_file_asks(
    archive: Path, tmp_path: Path, ending: str, audience: str
) -> None:
    output = tmp_path / f"headlamp.{ending}"

    said = run(archive, "evidence", "headlamp", "--for", audience, "--output", str(output))

    assert said.exit_code == 0
    assert said.stdout.startswith(f"written: {output}\n")
    assert output.read_bytes().startswith(START[ending])
    assert "Kind of lamp" in words_in(output.read_bytes())


def test_of_which_places_there_is_no_picture_is_told(archive: Path, tmp_path: Path) -> None:
    said = run(archive, "evidence", "headlamp", "--output", str(tmp_path / "headlamp.html"))

    assert "No picture of “Working instructions”: it is a text, of which there is no picture.\n" in said.stdout


def test_the_answer_is_given_in_json_beside_the_dossier(archive: Path, tmp_path: Path) -> None:
    output = tmp_path / "headlamp.html"

    said = run(archive, "evidence", "headlamp", "--output", str(output), "--json")

    assert json.loads(said.stdout)["answer"] == "evidence"
    assert output.read_bytes().startswith(START["html"])


def test_a_dossier_in_a_format_that_is_not_made_is_a_usage_error(archive: Path, tmp_path: Path) -> None:
    refused = run(archive, "evidence", "headlamp", "--output", str(tmp_path / "headlamp.odt"))

    assert refused.exit_code == 2
    assert "let it end in `.html` or `.pdf` or `.docx` or `.txt` or `.json`" in refused.stderr


def test_a_letter_that_no_typeface_has_is_named_with_the_record_and_the_mend(archive: Path, tmp_path: Path) -> None:
    source = archive / "sources/handbook.yaml"
    source.write_text(source.read_text(encoding="utf-8").replace("Working", "Working \U00012000"), encoding="utf-8")
    output = tmp_path / "headlamp.pdf"

    refused = run(archive, "evidence", "headlamp", "--output", str(output))

    assert refused.exit_code == 4
    assert "U+12000" in refused.stderr
    assert "sources/handbook.yaml" in refused.stderr
    assert "the archive's folder `fonts`" in refused.stderr
    assert not output.exists()
