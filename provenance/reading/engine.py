"""The recogniser that is installed: which version, with data for which languages."""

import hashlib
import os
import re
import shutil
import subprocess
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from provenance.errors import ToolMissingError

_PROGRAM = "tesseract"
_SECONDS = 30
_FOLDER = re.compile(r'"(.+)"')


@dataclass(frozen=True, slots=True, kw_only=True)
class Recogniser:
    """An installed Tesseract.

    Attributes:
        version: such as `5.3.0`.
        languages: names of its data, sorted, such as `eng`.
        data_folder: where the data lie; None where it does not say.
    """

    version: str
    languages: tuple[str, ...]
    data_folder: Path | None

    @property
    def name(self) -> str:
        """Name and version, as a reading carries them."""
        return f"{_PROGRAM} {self.version}"


@lru_cache(maxsize=1)
def recogniser() -> Recogniser:
    """Ask the installed recogniser, once in a process, what it is.

    Raises:
        ToolMissingError: none is installed, or it does not answer.
    """
    if shutil.which(_PROGRAM) is None:
        raise _missing("Tesseract, which recognises the words of pictures, is not installed")
    version = _ask("--version").split()
    listed = _ask("--list-langs").splitlines()
    if len(version) < 2 or not listed:
        raise _missing("Tesseract is installed and does not say what it is")
    return Recogniser(
        version=version[1].removeprefix("v"), languages=tuple(sorted(listed[1:])), data_folder=_data_folder(listed[0])
    )


def engine_name() -> str:
    """Name and version of the recogniser that is installed; empty where none is, or it does not answer."""
    try:
        return recogniser().name
    except ToolMissingError:
        return ""


@lru_cache(maxsize=64)
def data_digest(names: tuple[str, ...]) -> str:
    """Digest the recogniser's data for some languages: other data read a page otherwise.

    Args:
        names: of data, such as `eng`.

    Returns:
        SHA-256 in hexadecimal over the data files in that order; data whose file is not found count by their name.
    """
    folder = recogniser().data_folder
    digest = hashlib.sha256()
    for name in names:
        file = None if folder is None else folder / f"{name}.traineddata"
        digest.update(hashlib.sha256(file.read_bytes() if file and file.is_file() else name.encode()).digest())
    return digest.hexdigest()


def _ask(option: str) -> str:
    """Run the recogniser with one option and give what it says (older versions say it on the error stream)."""
    try:
        answer = subprocess.run(  # noqa: S603  # a fixed program with a fixed option
            [_PROGRAM, option], capture_output=True, check=True, timeout=_SECONDS, text=True, errors="replace"
        )
    except (OSError, subprocess.SubprocessError) as error:
        raise _missing(f"Tesseract does not run ({type(error).__name__})") from error
    return answer.stdout or answer.stderr


def _data_folder(headline: str) -> Path | None:
    """Find the folder in the headline of the list of languages; older versions do not say it there."""
    found = _FOLDER.search(headline)
    stated = found.group(1) if found else os.environ.get("TESSDATA_PREFIX")
    return Path(stated) if stated else None


def _missing(what: str) -> ToolMissingError:
    return ToolMissingError(
        what,
        "Debian, Ubuntu: apt-get install tesseract-ocr; Fedora: dnf install tesseract; macOS: brew install tesseract",
    )
