import hashlib
import os
import subprocess
import sys
from pathlib import Path

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


def ask_with_path(path: str) -> subprocess.CompletedProcess[str]:
    program = "from provenance.reading.engine import recogniser; recogniser()"
    return subprocess.run(
        [sys.executable, "-c", program], capture_output=True, check=False, text=True, env={**os.environ, "PATH": path}
    )


def test_a_machine_without_the_recogniser_is_told_how_to_get_it(tmp_path: Path) -> None:
    asked = ask_with_path(str(tmp_path))

    assert "ToolMissingError: Tesseract, which recognises the words of pictures, is not installed" in asked.stderr
    assert "apt-get install tesseract-ocr" in asked.stderr


def test_a_recogniser_that_does_not_run_is_told_as_missing(tmp_path: Path) -> None:
    broken = tmp_path / "tesseract"
    broken.write_text("#!/bin/sh\nexit 3\n", encoding="utf-8")
    broken.chmod(0o755)

    asked = ask_with_path(f"{tmp_path}:{os.environ['PATH']}")

    assert "ToolMissingError: Tesseract does not run" in asked.stderr


def test_a_recogniser_that_says_nothing_is_told_as_missing(tmp_path: Path) -> None:
    silent = tmp_path / "tesseract"
    silent.write_text("#!/bin/sh\nexit 0\n", encoding="utf-8")
    silent.chmod(0o755)

    asked = ask_with_path(f"{tmp_path}:{os.environ['PATH']}")

    assert "ToolMissingError: Tesseract is installed and does not say what it is" in asked.stderr
