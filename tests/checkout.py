"""This checkout as a clone of it would be: what git holds, and what it would take in."""

import os
import shutil
import subprocess
from pathlib import Path

ROOT = Path(__file__).parent.parent


def list_files() -> tuple[str, ...]:
    """The files of the checkout that git does not ignore, relative to its top level, in order of name."""
    command = ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"]
    listed = subprocess.run(command, cwd=ROOT, capture_output=True, check=True, text=True, encoding="utf-8").stdout
    return tuple(sorted({name for name in listed.split("\0") if name and (ROOT / name).is_file()}))


def copy_checkout(folder: Path, *parts: str) -> Path:
    """Copy the checkout into `folder`, or only what lies under the top-level names in `parts`."""
    for name in list_files():
        if not parts or name.split("/")[0] in parts:
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(ROOT / name, folder / name)
    return folder


def bare_environment(home: Path) -> dict[str, str]:
    """The environment of somebody who has just been given an account: an empty home and the system's programs."""
    home.mkdir(parents=True, exist_ok=True)
    return {"HOME": str(home), "PATH": "/usr/bin:/bin"} | {
        name: value for name, value in os.environ.items() if name.startswith("COVERAGE_PROCESS")
    }
