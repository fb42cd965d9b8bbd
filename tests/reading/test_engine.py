import hashlib
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from provenance.errors import ToolMissingError
from provenance.reading.engine import data_digest, recogniser


def test_the_recogniser_says_its_version_and_its_languages() -> None:
    told = subprocess.run(["tesseract", "--version"], capture_output=True, check=True, text=True).stdout

    engine = recogniser()

    assert told.startswith(f"tesseract {engine.version}\n")
    assert engine.name == f"tesseract {engine.version}"
    assert "eng" in engine.languages


def test_the_digest_is_that_of_the_data_files_themselves() -> None:
    folder = recogniser().data_folder
    assert folder is not None
    each = [hashlib.sha256((folder / f"{name}.traineddata").read_bytes()).digest() for name in ("eng", "osd")]

    assert data_digest(("eng",)) == hashlib.sha256(each[0]).hexdigest()
    assert data_digest(("eng", "osd")) == hashlib.sha256(each[0] + each[1]).hexdigest()
    assert data_digest(("osd", "eng")) != data_digest(("eng", "osd"))


def test_other_data_that_cannot_be_found_still_differ_by_name() -> None:
    assert data_digest(("nowhere",)) != data_digest(("elsewhere",))


@pytest.fixture
def programs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A machine on which no program is found but those put into this folder."""
    monkeypatch.setenv("PATH", str(tmp_path))
    recogniser.cache_clear()
    yield tmp_path
    recogniser.cache_clear()


def put_tesseract(folder: Path, script: str) -> None:
    program = folder / "tesseract"
    program.write_text(f"#!/bin/sh\n{script}\n", encoding="utf-8")
    program.chmod(0o755)


@pytest.mark.usefixtures("programs")
def test_a_machine_without_the_recogniser_is_told_how_to_get_it() -> None:
    with pytest.raises(ToolMissingError, match="is not installed") as caught:
        recogniser()

    assert "apt-get install tesseract-ocr" in caught.value.mend


@pytest.mark.parametrize(
    ("script", "what"),
    [
        ("exit 3", "does not run \\(CalledProcessError\\)"),
        ("exit 0", "does not say what it is"),
        ("echo tesseract", "does not say what it is"),
    ],
)
def test_a_recogniser_that_does_not_answer_is_told_as_missing(programs: Path, script: str, what: str) -> None:
    put_tesseract(programs, script)

    with pytest.raises(ToolMissingError, match=what):
        recogniser()


def test_an_older_recogniser_that_answers_on_the_other_stream_and_keeps_its_folder_to_itself_is_known(
    programs: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Source: Tesseract 3 and 4.0 wrote both answers to the error stream (from memory)."""
    put_tesseract(
        programs,
        'case $1 in --version) echo "tesseract v4.0.0";; *) echo "List of available languages (1):\neng";; esac >&2',
    )

    plain = recogniser()
    recogniser.cache_clear()
    monkeypatch.setenv("TESSDATA_PREFIX", "/data")
    stated = recogniser()

    assert (plain.version, plain.languages, plain.data_folder) == ("4.0.0", ("eng",), None)
    assert stated.data_folder == Path("/data")
