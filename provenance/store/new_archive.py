"""Beginning an archive: a folder with one commented record, and two files that keep git from harming it."""

from collections.abc import Iterable
from pathlib import Path

from provenance.errors import WriteRefusedError
from provenance.store.fixity import sha256_of
from provenance.store.record_kinds import ARCHIVE_FILE, FORMAT
from provenance.store.safe_writing import clean_leftovers, replace, write_new
from provenance.store.staging import make_folders, refused_cleanly
from provenance.store.yaml_writing import block_lines

ATTRIBUTES = ("originals/** -text",)
"""Keeps git from changing line ends in originals."""
IGNORED = (".derived/", ".provenance.local.yaml")
"""Keeps out of git what can be made again, and the settings of one person."""

_BEGINNING = """# What this archive is about.
# Lines that begin with # are explanations and examples: take the # away to use one.

"""
_REST = """
# The class of machine, and what the finished object claims to be: replica (by the maker, or to the maker's drawings,
# materials and methods throughout), reproduction (newly made after the evidence, departures declared), reconstruction
# (original pieces made up with new ones) or representation (the look alone).
# subject:
#   name: Light petrol railcar
#   kind: railcar
#   claims_to_be: reproduction

# The batches in order of building. This order is the production sequence; ranges such as 5..8 follow it.
# production:
#   - {batch: first, examples: ["1", "2", "3", "4"], built: 1927/1928}
#   - {batch: second, examples: ["5", "6", "7", "8"], built: 1930}

# The one example that is represented, the date as at which, and why that one then.
# target:
#   example: "7"
#   as_at: 1934-06
#   why: the state in which most of its photographs show it

# What happened to single examples, such as a rebuilding.
# events:
#   - {example: "6", date: 1932-03, what: rebuilt after collision}

# Sister types that analogies may be drawn from.
# related:
#   - {name: Heavy petrol railcar, note: same engine and controls}

# The languages of the sources, as BCP 47 tags; a source can name its own. English where nothing is said.
# languages: [en]

# Our weights: only what this team changes of the usual weights and thresholds. Reports print what they used.
# doctrine:
#   base: {letter: 6}
#   late_years: 15

# Cautions of the team's own, beside the built-in register.
# cautions:
#   - {hazard: lead-paint, text: Old paint may contain lead., consult: the safety officer, jurisdiction: England}
"""
_NOBODY = """
# The people whom records name in `by`.
# people:
#   - {id: mh, name: Martha Holm, credited_as: M. Holm}
"""


def make_archive(folder: Path, *, title: str | None, by: str | None, name: str | None = None) -> tuple[str, ...]:
    """Begin an archive in a folder that is not there yet, or holds nothing but hidden files.

    Folders for records are made when the first record is. A `.gitattributes` or `.gitignore` that is there keeps its
    lines and gets those that it lacks.

    Args:
        folder: the archive's folder.
        title: the archive's title; None leaves the gap for `check` to name.
        by: the id of the first of its people; None leaves the gap.
        name: that person's name; None takes the id.

    Returns:
        The files that were written, in order; archive.yaml is the last, so that before it there is no archive.

    Raises:
        WriteRefusedError: the folder holds something already, or the disk refuses.
    """
    with refused_cleanly(folder):
        _require_empty(folder)
        make_folders(folder)
    clean_leftovers(folder)
    written = [
        file
        for file, lines in ((".gitattributes", ATTRIBUTES), (".gitignore", IGNORED))
        if _complete(folder / file, lines, within=folder)
    ]
    write_new(folder / ARCHIVE_FILE, _archive_text(title, by, name).encode(), within=folder)
    return (*written, ARCHIVE_FILE)


def _require_empty(folder: Path) -> None:
    if (folder / ARCHIVE_FILE).exists():
        raise WriteRefusedError(f"{folder} is an archive already", "use it as it is, or choose another folder")
    if not folder.exists():
        return
    held = sorted(entry.name for entry in folder.iterdir() if not entry.name.startswith("."))
    if held:
        raise WriteRefusedError(
            f"{folder} is not empty: it holds {held[0]}",
            "choose an empty folder; finds are taken in later, by `ingest`",
        )


def _complete(file: Path, lines: Iterable[str], *, within: Path) -> bool:
    """See to it that a file has these lines; whether anything was written."""
    wanted = "".join(f"{line}\n" for line in lines)
    if not file.exists():
        write_new(file, wanted.encode(), within=within)
        return True
    with refused_cleanly(file):
        digest, there = sha256_of(file), file.read_text(encoding="utf-8", errors="surrogateescape")
    missing = [line for line in lines if line not in there.splitlines()]
    if not missing:
        return False
    gap = "" if there.endswith("\n") or not there else "\n"
    whole = there + gap + "".join(f"{line}\n" for line in missing)
    replace(file, whole.encode("utf-8", "surrogateescape"), expected_sha256=digest, within=within)
    return True


def _archive_text(title: str | None, by: str | None, name: str | None) -> str:
    head = block_lines({"format": FORMAT, "title": title}, place="archive")
    if not title:
        head.append("# title: Railcar 7 reproduced")
    people = _NOBODY
    if by:
        first = block_lines({"people": [{"id": by, "name": name or by}]}, place="archive")
        people = "\n".join(["", "# The people whom records name in `by`.", *first, ""])
    return _BEGINNING + "\n".join([*head, ""]) + people + _REST
