"""What the README says can be done is done here, and what it shows is what is printed.

Its blocks run in the order in which they stand, each section (`##`) in a shell of its own that begins in a checkout:

- `sh`: every command runs for real. It has to end with 0, or as its comment says: `# exits 4: …`.
- `text`: what the block of commands above it prints. A line `...` stands for any lines; all others are equal.
- `yaml`: a record that the reader writes by hand; its first line names the file.
- `python`: a program.
"""

import os
import re
import shlex
import shutil
import subprocess
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import takewhile
from pathlib import Path

import pytest
from checkout import ROOT, bare_environment

from provenance.tasks.checking import check_folder
from provenance.tasks.opening import open_folder

README = ROOT / "README.md"
BIN = Path(sys.executable).parent
LEFT_OUT = {
    "sh sample_archive/demo.sh": "it is run by itself, by whoever tries a change and by tests/bare_root.sh",
    "sh tests/run.sh": "it runs the tests, and this is one of them",
}
REPLACED = {". .venv/bin/activate": f"export PATH={shlex.quote(str(BIN))}:$PATH"}
TRIED = {"sh", "yaml", "python"}
GAP = "..."
DONE = "=== ended with"
_FENCE = re.compile(r"```(\w*)$")
_EXIT = re.compile(r"# exits (\d+)\b")
_COMMENT = re.compile(r"\s+# .*$")
_ENDED = re.compile(rf"^{DONE} (\d+)\n", re.MULTILINE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A fenced block.

    Attributes:
        line: where its text begins in the file, counted from 1.
        shown: the lines that it is said to print; None where the text shows nothing.
    """

    kind: str
    line: int
    lines: tuple[str, ...]
    shown: tuple[str, ...] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Command:
    """A command with what it is given; `ending` is the exit code that the text promises."""

    line: int
    text: str
    ending: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """A block that was run: how its commands ended, with what was printed."""

    block: Block
    endings: tuple[tuple[Command, int], ...]
    printed: tuple[str, ...]


def sections_of(text: str) -> list[list[Block]]:
    """The fenced blocks of a text, by section; what a block prints is kept with it."""
    sections: list[list[Block]] = [[]]
    numbered = enumerate(text.splitlines(), start=1)
    for number, line in numbered:
        if line.startswith("## "):
            sections.append([])
        elif fence := _FENCE.match(line):
            inside = tuple(each for _, each in takewhile(lambda pair: pair[1] != "```", numbered))
            blocks = sections[-1]
            if fence[1] == "text":
                assert blocks, f"line {number}: what is shown here was printed by nothing"
                assert blocks[-1].shown is None, f"line {number}: a second block for what one prints"
                blocks[-1] = replace(blocks[-1], shown=inside)
            else:
                blocks.append(Block(kind=fence[1], line=number + 1, lines=inside))
    return sections


def commands_of(block: Block) -> Iterator[Command]:
    """The commands of a block: in a shell's each line is one, but for lines that are continued."""
    if block.kind == "yaml":
        file = block.lines[0].removeprefix("# ")
        folder = shlex.quote(str(Path(file).parent))
        yield Command(line=block.line, text=_with_input(f"mkdir -p {folder} && cat >{shlex.quote(file)}", block.lines))
    elif block.kind == "python":
        yield Command(line=block.line, text=_with_input("python -", block.lines))
    else:
        yield from _shell_commands(block)


def _with_input(command: str, lines: Sequence[str]) -> str:
    return "\n".join((f"{command} <<'END OF BLOCK'", *lines, "END OF BLOCK"))


def _shell_commands(block: Block) -> Iterator[Command]:
    held: list[str] = []
    for number, line in enumerate(block.lines, start=block.line):
        held.append(line)
        if line.endswith("\\") or not line.strip():
            continue
        text, held = "\n".join(held).strip(), []
        bare = _COMMENT.sub("", text)
        if bare not in LEFT_OUT:
            ending = _EXIT.search(text)
            yield Command(line=number, text=REPLACED.get(bare, text), ending=int(ending[1]) if ending else 0)


def run_section(blocks: Sequence[Block], checkout: Path, home: Path) -> list[Run]:
    """Run the blocks of a section in one shell, which begins in the checkout."""
    todo = [(block, list(commands_of(block))) for block in blocks]
    script = "".join(f"{command.text}\nprintf '\\n{DONE} %s\\n' $?\n" for _, commands in todo for command in commands)
    environment = bare_environment(home) | {"PATH": f"{BIN}:{os.environ['PATH']}", "LC_ALL": "C.UTF-8"}
    ran = subprocess.run(
        ["sh", "-c", script],
        cwd=checkout,
        env=environment,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        check=False,
        encoding="utf-8",
    )
    parts = _ENDED.split(ran.stdout)
    outputs = iter(
        [(printed.removesuffix("\n"), int(code)) for printed, code in zip(parts[::2], parts[1::2], strict=False)]
    )
    return [
        _run_of(block, [(command, next(outputs, ("the shell ended before it", -1))) for command in commands])
        for block, commands in todo
    ]


def _run_of(block: Block, ran: Sequence[tuple[Command, tuple[str, int]]]) -> Run:
    return Run(
        block=block,
        endings=tuple((command, code) for command, (_, code) in ran),
        printed=tuple(line.rstrip() for _, (printed, _) in ran for line in printed.splitlines()),
    )


def wrong_endings(runs: Sequence[Run]) -> list[str]:
    """The commands that did not end as the text says, each with what was printed."""
    return [
        f"line {command.line}: `{command.text}` ended with {code}, not {command.ending}\n" + "\n".join(run.printed)
        for run in runs
        for command, code in run.endings
        if code != command.ending
    ]


def wrong_lines(runs: Sequence[Run]) -> list[str]:
    """The blocks that print something else than is shown, each with what they print."""
    return [
        f"line {run.block.line}: not printed so: “{missed}”; printed was\n" + "\n".join(run.printed)
        for run in runs
        if run.block.shown is not None and (missed := first_missed(run.block.shown, run.printed)) is not None
    ]


def first_missed(shown: Sequence[str], printed: Sequence[str]) -> str | None:
    """The first line of those shown that is not printed where it should be; None where all are."""
    chunks: list[list[str]] = [[]]
    for line in shown:
        if line == GAP:
            chunks.append([])
        else:
            chunks[-1].append(line.rstrip())
    at, last = 0, len(chunks) - 1
    for number, chunk in enumerate(chunks):
        starts = range(at, len(printed) - len(chunk) + 1)
        if number == 0:
            starts = starts[:1]
        if number == last:
            starts = range(max(at, len(printed) - len(chunk)), len(printed) - len(chunk) + 1) if number else starts
        begin = next((each for each in starts if list(printed[each : each + len(chunk)]) == chunk), None)
        if begin is None or (number == last and begin + len(chunk) != len(printed)):
            return _where_it_parts(chunk, printed[at:])
        at = begin + len(chunk)
    return None


def _where_it_parts(chunk: Sequence[str], printed: Sequence[str]) -> str:
    """The first line of a chunk that is printed nowhere; else its first, which then stands in another order."""
    return next((line for line in chunk if line not in printed), chunk[0] if chunk else "more lines than are shown")


@pytest.fixture(scope="module")
def readers_home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The home of a reader, with a checkout in it."""
    home = tmp_path_factory.mktemp("reader")
    shutil.copytree(ROOT / "sample_archive", home / "checkout" / "sample_archive")
    return home


@pytest.fixture(scope="module")
def runs(readers_home: Path) -> list[Run]:
    """All that the README tells its reader to do, done."""
    sections = sections_of(README.read_text(encoding="utf-8"))
    return [run for blocks in sections for run in run_section(blocks, readers_home / "checkout", readers_home)]


def test_every_command_of_the_readme_ends_as_it_says(runs: list[Run]) -> None:
    commands = [command for run in runs for command, _ in run.endings]

    assert len(commands) >= 30
    assert "\n\n".join(wrong_endings(runs)) == ""


def test_what_the_readme_shows_is_what_is_printed(runs: list[Run]) -> None:
    shown = [run for run in runs if run.block.shown]

    assert len(shown) >= 7
    assert "\n\n".join(wrong_lines(runs)) == ""


def test_every_record_that_the_readme_shows_is_sound_in_the_archive_that_it_builds(
    runs: list[Run], readers_home: Path
) -> None:
    folder = readers_home / "checkout" / "our-railcar"
    written = {run.block.lines[0].removeprefix("# ") for run in runs if run.block.kind == "yaml"}

    assert {"archive.yaml", "claims/headlamp-kind-electric.yaml"} <= written
    assert check_folder(folder, fixity=True).problems == ()
    for record in written - {"archive.yaml"}:
        kind, _, name = record.partition("/")
        assert name.removesuffix(".yaml") in getattr(open_folder(folder).archive, kind)


def test_every_block_of_the_readme_is_of_a_kind_that_is_tried_here() -> None:
    blocks = [block for blocks in sections_of(README.read_text(encoding="utf-8")) for block in blocks]

    assert {block.kind for block in blocks} == TRIED


def test_only_the_two_commands_that_are_run_elsewhere_are_left_out() -> None:
    lines = [_COMMENT.sub("", line) for line in README.read_text(encoding="utf-8").splitlines()]

    assert sorted(line for line in lines if line in LEFT_OUT) == sorted(LEFT_OUT)
    assert sorted({line for line in lines if line in REPLACED}) == sorted(REPLACED)


# Whether a wrong README would be noticed.


def _tried(readme: str, folder: Path) -> list[Run]:
    return [run for blocks in sections_of(readme) for run in run_section(blocks, folder, folder)]


@pytest.mark.parametrize(
    ("commands", "noticed"),
    [
        ("true", 0),
        ("false", 1),
        ("false   # exits 1: nothing is there", 0),
        ("true   # exits 1", 1),
        ("sh -c 'exit 4'   # exits 3", 1),
        ("printf '%s' \\\n    one; false", 1),
        ("exit 0\ntrue", 2),
        ("cd /nowhere-at-all", 1),
        ("provenance evidence lamp   # exits 3: there is no archive", 0),
    ],
)
def test_a_command_that_ends_otherwise_than_it_is_said_is_noticed(tmp_path: Path, commands: str, noticed: int) -> None:
    assert len(wrong_endings(_tried(f"```sh\n{commands}\n```\n", tmp_path))) == noticed


@pytest.mark.parametrize(
    ("shown", "missed"),
    [
        ("one\ntwo\nthree", None),
        ("one\n...", None),
        ("...\nthree", None),
        ("one\n...\nthree", None),
        ("...\ntwo\n...", None),
        ("...", None),
        ("one\ntwo", "one"),
        ("two\nthree", "two"),
        ("one\nthree", "one"),
        ("one\n...\nfour", "four"),
        ("...\ntwo\n...\none\n...", "one"),
        ("one\ntwo\nthree\nfour", "four"),
        ("one\n...\ntwo", "two"),
        ("", "more lines than are shown"),
    ],
)
def test_lines_that_are_not_printed_so_are_noticed(tmp_path: Path, shown: str, missed: str | None) -> None:
    lines = f"{shown}\n" if shown else ""
    readme = f"```sh\nprintf '%s\\n' one two\nprintf three\n```\n\n```text\n{lines}```\n"

    wrong = wrong_lines(_tried(readme, tmp_path))

    assert [line.partition(";")[0] for line in wrong] == ([f"line 2: not printed so: “{missed}”"] if missed else [])


def test_a_section_begins_in_the_checkout_and_a_block_goes_on_where_the_last_one_ended(tmp_path: Path) -> None:
    steps = (
        "```sh\nmkdir new\ncd new\n```\n```yaml\n# a.yaml\ntitle: new\n```\n```sh\ncat a.yaml\n```\n```text\n# a.yaml\n"
    )
    readme = f"{steps}title: new\n```\n## next\n```sh\nls\n```\n```text\nnew\n```\n"

    runs = _tried(readme, tmp_path)

    assert wrong_endings(runs) == []
    assert wrong_lines(runs) == []
