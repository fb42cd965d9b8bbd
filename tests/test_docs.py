"""What people can meet stands in the README: every command, every exit code, every rule and every flag."""

import re
from collections.abc import Iterator
from pathlib import Path

import click
import pytest
from checkout import ROOT
from rule_names import find_rule_names

from provenance import errors
from provenance.cli import main
from provenance.errors import ProvenanceError
from provenance.rules.cautions import REGISTER
from provenance.rules.flags import ALL_FLAGS

README = ROOT / "README.md"
EXIT_CODE = re.compile(r"^\W*`?(\d)`?\W", re.MULTILINE)
REPORTED = re.compile(r" \[([a-z/-]+)\]$", re.MULTILINE)


def _commands(group: click.Group, path: tuple[str, ...] = ()) -> Iterator[tuple[str, click.Command]]:
    for name, command in sorted(group.commands.items()):
        if isinstance(command, click.Group):
            yield from _commands(command, (*path, name))
        else:
            yield " ".join((*path, name)), command


COMMANDS = dict(_commands(main))


def _named_in_code(text: str) -> set[str]:
    """The words that the README sets as code, by back quotes or in blocks."""
    return set(re.findall(r"[a-z][a-z0-9/-]*", " ".join(re.findall(r"```.*?```|`[^`\n]+`", text, re.DOTALL))))


def _exit_codes() -> set[int]:
    """Fine, problems found, a usage error, and what the exceptions of the package carry."""
    kinds = [kind for kind in vars(errors).values() if isinstance(kind, type) and issubclass(kind, ProvenanceError)]
    return {0, 1, 2} | {kind.exit_code for kind in kinds}


def test_the_readme_names_every_command() -> None:
    text = README.read_text(encoding="utf-8")

    missing = {name for name in COMMANDS if f"provenance {name}" not in text and f"`{name}`" not in text}

    assert COMMANDS
    assert missing == set()


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_a_help_text_with_an_example_of_itself(name: str) -> None:
    command = COMMANDS[name]

    text = command.get_help(click.Context(command, info_name=name))

    assert command.help
    assert re.search(rf"^ *Example:\n+ *provenance (--archive \S+ )?{name}\b", text, re.MULTILINE)


@pytest.mark.parametrize("name", COMMANDS)
def test_every_option_of_a_command_is_a_word_and_is_explained(name: str) -> None:
    options = [option for option in COMMANDS[name].params if isinstance(option, click.Option)]

    for option in options:
        assert option.help, option.name
        assert any(re.fullmatch(r"--[a-z]+(-[a-z]+)*", written) for written in option.opts), option.opts


def test_the_readme_names_every_exit_code_under_its_heading() -> None:
    _, _, after = README.read_text(encoding="utf-8").partition("Exit codes\n")
    section = re.split(r"^#", after, maxsplit=1, flags=re.MULTILINE)[0]

    named = {int(code) for code in EXIT_CODE.findall(section)}

    assert named == _exit_codes()


def test_the_readme_names_every_flag() -> None:
    named = _named_in_code(README.read_text(encoding="utf-8"))

    assert set(ALL_FLAGS) - named == set()


def test_the_readme_names_every_hazard_that_has_a_caution() -> None:
    named = _named_in_code(README.read_text(encoding="utf-8"))

    assert {caution.hazard for caution in REGISTER} - named == set()


def test_the_readme_names_every_rule_that_a_record_can_break() -> None:
    named = _named_in_code(README.read_text(encoding="utf-8"))

    assert find_rule_names(ROOT / "provenance") - named == set()


def test_every_rule_that_the_faulty_archives_break_is_among_those_read_from_the_source() -> None:
    expected = sorted((ROOT / "tests" / "archives" / "faulty").glob("*/expected.txt"))

    reported = {rule for path in expected for rule in REPORTED.findall(path.read_text(encoding="utf-8"))}

    assert len(reported) >= 20
    assert reported - find_rule_names(ROOT / "provenance") == set()


@pytest.mark.parametrize(
    ("source", "names"),
    [
        ('def f():\n    return Problem(rule="a-b")\n', {"a-b"}),
        ('NAME = "a"\ndef f():\n    return Problem(rule=NAME)\n', {"a"}),
        ('def f(x):\n    rule = "a" if x else "b"\n    return Problem(rule=rule)\n', {"a", "b"}),
        ('T = {1: "a", 2: "b"}\ndef f(x):\n    return Problem(rule=T[x])\n', {"a", "b"}),
        (
            'def f(n: int, rule: str):\n    return Problem(rule=rule)\ndef g():\n    f(1, "a")\n    f(2, rule="b")\n',
            {"a", "b"},
        ),
        ('TABLE = {"type": ("schema/type", None)}\n', {"schema/type"}),
    ],
)
def test_a_rule_is_found_wherever_it_is_written_down(tmp_path: Path, source: str, names: set[str]) -> None:
    (tmp_path / "small").mkdir()
    (tmp_path / "small" / "checks.py").write_text(source, encoding="utf-8")

    assert find_rule_names(tmp_path / "small") == names


def test_a_rule_whose_name_is_put_together_at_run_time_is_refused(tmp_path: Path) -> None:
    (tmp_path / "checks.py").write_text('def f(x):\n    return Problem(rule=f"a-{x}")\n', encoding="utf-8")

    with pytest.raises(ValueError, match="a rule handed over as"):
        find_rule_names(tmp_path)
