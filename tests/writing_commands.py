"""Every command that writes, each with the files that it must write, and an archive in which all of them have work."""

import hashlib
import os
import shutil
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import TypeAlias

from click.testing import CliRunner

from provenance.cli import main
from provenance.store.staging import is_leftover
from provenance.tasks.checking import check_folder

Files: TypeAlias = dict[str, bytes]
"""Files by their path, with their bytes."""

ROOT = Path(__file__).parent
SOUND = ROOT / "archives" / "sound"
PROGRAM = Path(sys.executable).with_name("provenance")
DAY = ("--date", "2026-02-01")
WRITTEN = "by: mh\ndate: 2026-01-10\n"
NOTES = "Notes of the fitters.\nThe conduit runs along the cantrail.\n"
LETTER = "Dear Sir,\nthe hood of the headlamp was of brass.\n"

RECORDS = {
    "components/bracket.yaml": (
        "name: Bracket of the lamp  # as drawn\nneeded_by: 2027-05\nfeatures:\n"
        "  - id: bore\n    name: Bore\n    aspect: dimension\n    kind: quantity\n    unit: mm\n    datum: the axis\n"
        f"    mates: [{{with: stem/width, rule: clears}}]\n{WRITTEN}"
    ),
    "components/stem.yaml": (
        "name: Stem\nfeatures:\n  - id: width\n    name: Width\n    aspect: dimension\n    kind: quantity\n"
        f"    unit: mm\n    datum: the axis\n{WRITTEN}"
    ),
    "claims/bracket-bore.yaml": (
        "about: bracket/bore\nvalue: 32 mm\napplies_to: {examples: all}\nevidence:\n"
        f"  - {{source: handbook, at: {{page: 1}}, stance: supports, how: states}}\n{WRITTEN}"
    ),
    "claims/stem-width.yaml": (
        "about: stem/width\nvalue: 31 mm\napplies_to: {examples: all}\nevidence:\n"
        f"  - {{source: handbook, at: {{page: 1}}, stance: supports, how: states}}\n{WRITTEN}"
    ),
    "decisions/bore.yaml": (
        "about: bracket/bore\nstatus: released\nbuild: 32 mm\n# rests on one book\nbasis: [bracket-bore]\n"
        f"why: as the handbook says; conjecture\n{WRITTEN}"
    ),
    "decisions/lamp.yaml": (
        "about: headlamp/kind\nstatus: proposed\nbuild: acetylene\nbasis: [headlamp-kind-acetylene]\n"
        f"why: as the handbook says; conjecture\n{WRITTEN}"
    ),
    "queries/misfit.yaml": f"about: bracket/bore\ngrounds: it does not fit\n{WRITTEN}",
    "panels/light.yaml": (
        "title: Light\ncomponents: [headlamp]\n"
        f"statements: [{{text: Lit by gas., features: [headlamp/kind]}}]\n{WRITTEN}"
    ),
    "copies/handbook--photograph.yaml": f"between: [handbook, photograph]  # in order\nruling: open\n{WRITTEN}",
    "sources/notes.yaml": (
        "title: Notes of the fitters\nkind: notes\norigin: unstated\nfiles:\n  - path: originals/notes/notes.txt\n"
        f"    sha256: {hashlib.sha256(NOTES.encode()).hexdigest()}\n    bytes: {len(NOTES)}\n"
        f"    media_type: text/plain\n    pages: 1\n{WRITTEN}"
    ),
    "originals/notes/notes.txt": NOTES,
    "transcripts/handbook/p0001.txt": f"{WRITTEN}\nThe headlamp is of the acetylene pattern.\n",
}
"""Laid over the sound archive, so that every command finds something to do."""

FINDS = {
    "letter.txt": LETTER,
    "read.txt": "Notes of the fitters, read anew.\n",
    "parts.csv": "number,name,part of\nH-1,Lamp glass,headlamp\nH-2,Burner,headlamp\n",
}
"""What lies beside the archive and is handed in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Workplace:
    """An archive, and the folder beside it into which finds come and outputs go.

    Attributes:
        top: the folder that holds both and nothing else.
        name: of the archive's folder.
    """

    top: Path
    name: str = "archive"

    @property
    def archive(self) -> Path:
        """The archive's folder."""
        return self.top / self.name

    @property
    def beside(self) -> Path:
        """The folder for finds and outputs."""
        return self.top / "beside"

    def files(self) -> Files:
        """Every file of both but derived data, by its path below `top`, with its bytes; unfinished ones too."""
        paths = (path for path in self.top.rglob("*") if path.is_file() and not path.is_symlink())
        named = {path.relative_to(self.top).as_posix(): path for path in paths}
        return {name: path.read_bytes() for name, path in named.items() if "/.derived/" not in name}

    def leftovers(self) -> list[str]:
        """The unfinished files among them."""
        return sorted(name for name in self.files() if is_leftover(name.rpartition("/")[2]))

    def whole_files(self) -> Files:
        """The files without the unfinished ones."""
        return {name: data for name, data in self.files().items() if not is_leftover(name.rpartition("/")[2])}


def a_workplace(top: Path, *, formatted: bool = True) -> Workplace:
    """An archive in which every command has work; without its format number, so that it can be upgraded, if asked."""
    place = Workplace(top=top)
    shutil.copytree(SOUND, place.archive, ignore=shutil.ignore_patterns(".derived"))
    for files, folder in ((RECORDS, place.archive), (FINDS, place.beside)):
        for name, text in files.items():
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            (folder / name).write_text(text, encoding="utf-8")
    if not formatted:
        own = place.archive / "archive.yaml"
        own.write_text(own.read_text(encoding="utf-8").replace("format: 1\n", ""), encoding="utf-8")
    return place


@dataclass(frozen=True, slots=True, kw_only=True)
class Writing:
    """One command that writes.

    Attributes:
        name: what people would call it.
        words: what is typed; `{beside}` and `{top}` stand for these folders.
        writes: the files that it must write, below `top`.
        removes: the files that go, below `top`.
        formatted: whether the archive has its format number.
        is_elsewhere: whether it works without the archive, as `new` does.
    """

    name: str
    words: tuple[str, ...]
    writes: tuple[str, ...] = ()
    removes: tuple[str, ...] = ()
    formatted: bool = True
    is_elsewhere: bool = False

    def line(self, place: Workplace) -> list[str]:
        """The command with its arguments."""
        start = [] if self.is_elsewhere else ["--archive", str(place.archive)]
        typed = [word.format(beside=place.beside, top=place.top) for word in self.words]
        return [str(PROGRAM), *start, *typed]


LETTER_ID = f"letter-{hashlib.sha256(LETTER.encode()).hexdigest()[:8]}"
MISFIT = ("made", "bracket/bore", "--as-made", "31.5 mm", "--fits", "badly", *DAY)

WRITINGS = (
    Writing(
        name="add component",
        words=("add", "component", "hood", "--name", "Hood", *DAY),
        writes=("archive/components/hood.yaml",),
    ),
    Writing(
        name="add feature",
        words=("add", "feature", "headlamp/rim", "--name", "Rim", "--aspect", "form", "--kind", "text"),
        writes=("archive/components/headlamp.yaml",),
    ),
    Writing(
        name="add person",
        words=("add", "person", "tw", "--name", "T. Wenlark"),
        writes=("archive/archive.yaml",),
    ),
    Writing(
        name="add lead",
        words=("add", "lead", "albums", "--what", "albums of the works", *DAY),
        writes=("archive/leads/albums.yaml",),
    ),
    Writing(
        name="add panel",
        words=("add", "panel", "lighting", "--title", "Lighting", *DAY),
        writes=("archive/panels/lighting.yaml",),
    ),
    Writing(
        name="add statement",
        words=("add", "statement", "light", "--text", "She burnt gas.", "--feature", "headlamp/kind"),
        writes=("archive/panels/light.yaml",),
    ),
    Writing(
        name="add a sheet",
        words=("add", "--sheet", "{beside}/parts.csv", *DAY),
        writes=("archive/components/lamp-glass.yaml", "archive/components/burner.yaml"),
    ),
    Writing(
        name="claim new",
        words=("claim", "headlamp/kind", "electric", "--source", "photograph", "--applies-to", "9", *DAY),
        writes=("archive/claims/headlamp-kind-electric.yaml",),
    ),
    Writing(
        name="claim once more",
        words=("claim", "headlamp/kind", "acetylene", "--source", "photograph", "--applies-to", "all", *DAY),
        writes=("archive/claims/headlamp-kind-acetylene.yaml",),
    ),
    Writing(
        name="tag",
        words=("tag", "photograph", "--creator", "the stationmaster", "--component", "headlamp"),
        writes=("archive/sources/photograph.yaml",),
    ),
    Writing(
        name="tag with a transcript",
        words=("tag", "notes", "--holder", "the works", "--transcript", "{beside}/read.txt", *DAY),
        writes=("archive/sources/notes.yaml", "archive/transcripts/notes/p0001.txt"),
    ),
    Writing(
        name="withdraw",
        words=("withdraw", "headlamp-kind-acetylene", "--why", "misread", *DAY),
        writes=("archive/claims/headlamp-kind-acetylene.yaml",),
    ),
    Writing(
        name="rename",
        words=("rename", "sources/handbook", "works-handbook"),
        writes=(
            "archive/sources/works-handbook.yaml",
            "archive/transcripts/works-handbook/p0001.txt",
            "archive/copies/photograph--works-handbook.yaml",
            "archive/claims/bracket-bore.yaml",
            "archive/claims/headlamp-kind-acetylene.yaml",
            "archive/claims/stem-width.yaml",
        ),
        removes=(
            "archive/sources/handbook.yaml",
            "archive/transcripts/handbook/p0001.txt",
            "archive/copies/handbook--photograph.yaml",
        ),
    ),
    Writing(
        name="copies confirm",
        words=("copies", "confirm", "photograph", "handbook", "--how", "extract", "--why", "its frontispiece", *DAY),
        writes=("archive/sources/photograph.yaml", "archive/copies/handbook--photograph.yaml"),
    ),
    Writing(
        name="copies rule-out",
        words=("copies", "rule-out", "notes", "photograph", "--why", "no likeness", *DAY),
        writes=("archive/copies/notes--photograph.yaml",),
    ),
    Writing(
        name="decide",
        words=("decide", "stem/width", "--build", "31 mm", "--basis", "stem-width", "--why", "it is conjecture", *DAY),
        writes=("archive/decisions/stem-width-31-mm.yaml",),
    ),
    Writing(
        name="decide: release",
        words=("decide", "lamp", "--release", *DAY),
        writes=("archive/decisions/lamp.yaml",),
    ),
    Writing(
        name="made",
        words=("made", "bracket/bore", "--as-made", "32 mm", "--fits", "well", *DAY),
        writes=("archive/decisions/bore.yaml",),
    ),
    Writing(
        name="made, a misfit",
        words=MISFIT,
        writes=(
            "archive/decisions/bore.yaml",
            "archive/queries/bracket-bore-misfit-2026-02-01.yaml",
            "archive/queries/stem-width-misfit-2026-02-01.yaml",
        ),
    ),
    Writing(
        name="query",
        words=("query", "headlamp/hood", "--why", "no picture shows it", "--id", "hood-seen", *DAY),
        writes=("archive/queries/hood-seen.yaml",),
    ),
    Writing(
        name="query answered",
        words=("query", "misfit", "--answer", "it was filed", *DAY),
        writes=("archive/queries/misfit.yaml",),
    ),
    Writing(
        name="split",
        words=("split", "notes", "--pages", "1", "--id", "first-note", *DAY),
        writes=("archive/sources/first-note.yaml",),
    ),
    Writing(
        name="ingest",
        words=("ingest", "{beside}/letter.txt", "--lot", "tin", *DAY),
        writes=(f"archive/sources/{LETTER_ID}.yaml", f"archive/originals/{LETTER_ID}/letter.txt"),
    ),
    Writing(
        name="appendix",
        words=("appendix", "light", "--output", "{beside}/light.html", *DAY),
        writes=("archive/panels/light.yaml", "beside/light.html"),
    ),
    Writing(
        name="evidence to a file",
        words=("evidence", "headlamp", "--output", "{beside}/lamp.txt"),
        writes=("beside/lamp.txt",),
    ),
    Writing(
        name="register to a file",
        words=("register", "sources", "--output", "{beside}/sources.xlsx", *DAY),
        writes=("beside/sources.xlsx",),
    ),
    Writing(
        name="descent to a file",
        words=("descent", "handbook", "--output", "{beside}/descent.svg"),
        writes=("beside/descent.svg",),
    ),
    Writing(
        name="copies shown to a file",
        words=("copies", "show", "handbook", "photograph", "--output", "{beside}/pair.txt"),
        writes=("beside/pair.txt",),
    ),
    Writing(
        name="new",
        words=("new", "{top}/fresh", "--title", "Another"),
        writes=("fresh/archive.yaml", "fresh/.gitattributes", "fresh/.gitignore"),
        is_elsewhere=True,
    ),
    Writing(name="upgrade", words=("upgrade",), writes=("archive/archive.yaml",), formatted=False),
    Writing(name="rebuild", words=("rebuild",)),
)

BY_NAME = {writing.name: writing for writing in WRITINGS}

NEXT = Writing(name="next", words=("add", "lead", "afterwards", "--what", "albums", "--date", "2026-02-02"))
"""What somebody writes who comes after a command that went wrong."""


def run_here(writing: Writing, place: Workplace) -> int:
    """Run a command in this process, with nothing in its way; its exit code."""
    done = CliRunner().invoke(main, writing.line(place)[1:], env={"PROVENANCE_BY": "mh"}, catch_exceptions=False)
    return done.exit_code


def old_and_new(writing: Writing, top: Path) -> tuple[Files, Files]:
    """The files before and after the command when nothing goes wrong."""
    place = a_workplace(top, formatted=writing.formatted)
    before = place.files()
    assert run_here(writing, place) == 0, writing.name
    return before, place.files()


def neither_old_nor_new(files: Files, before: Files, after: Files) -> list[str]:
    """The files that are neither as they were nor as they were to be."""
    named = files.keys() | before.keys() | after.keys()
    return sorted(name for name in named if files.get(name) not in {before.get(name), after.get(name)})


def set_right(writing: Writing, place: Workplace, after: Files) -> None:
    """Be the next to write after a command that went wrong; all is then as it should be, and nothing lies about.

    Raises:
        AssertionError: it is not.
    """
    known = set() if writing.formatted else {"record/format"}
    assert {problem.rule for problem in check_folder(place.archive, fixity=True).problems} <= known
    writes_outside = any(not name.startswith("archive/") for name in writing.writes)
    if place.whole_files() != after or (writes_outside and not writing.is_elsewhere):
        assert run_here(writing, place) == 0
    assert place.whole_files() == after
    assert run_here(NEXT, place) == 0
    if writing.is_elsewhere:
        assert run_here(NEXT, Workplace(top=place.top, name="fresh")) == 0
    assert place.leftovers() == []


def environment(**more: str) -> dict[str, str]:
    """The environment of somebody who writes, without what measures coverage in children."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith("COVERAGE_")}
    return {**kept, "PROVENANCE_BY": "mh", "PYTHONDONTWRITEBYTECODE": "1", **more}
