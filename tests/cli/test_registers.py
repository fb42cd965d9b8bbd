from pathlib import Path

import pytest
from cli.command_line import ask, run
from public_folders import TODAY, a_folder_that_holds_back


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return a_folder_that_holds_back(tmp_path)


@pytest.mark.parametrize("which", ["sources", "features"])
def test_a_register_is_written_and_the_answer_says_what_it_lists(folder: Path, tmp_path: Path, which: str) -> None:
    output = tmp_path / f"{which}.csv"

    answer = ask(folder, "register", which, "--output", str(output), "--date", TODAY)

    assert (answer["answer"], answer["which"], answer["output"]) == ("register", which, str(output))
    assert (answer["rows"], answer["written"], answer["draft"]) == (2, [], False)
    assert answer["held_privately"] >= 1
    assert output.exists()


def test_a_register_says_where_it_was_written(folder: Path, tmp_path: Path) -> None:
    output = tmp_path / "list.xlsx"

    said = run(folder, "register", "features", "--output", str(output), "--draft").stdout

    assert "A draft of the register of features lists 2 features." in said
    assert said.endswith(f"written: {output}\n")


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (("register", "sources"), 2),
        (("register", "people", "--output", "list.csv"), 2),
        (("register", "sources", "--output", "list.docx"), 2),
        (("register", "sources", "--output", "list.csv", "--date", "2026"), 2),
    ],
)
def test_what_cannot_be_asked_for_is_a_usage_error(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...], code: int
) -> None:
    monkeypatch.chdir(tmp_path)

    assert run(folder, *words).exit_code == code
    assert list(tmp_path.glob("list*")) == []


def test_an_archive_that_is_not_whole_is_a_refused_write(folder: Path, tmp_path: Path) -> None:
    (folder / "sources" / "broken.yaml").write_text("title: [\n", encoding="utf-8")
    output = tmp_path / "list.csv"

    assert run(folder, "register", "sources", "--output", str(output)).exit_code == 4
    assert ask(folder, "register", "sources", "--output", str(output), "--draft")["left_out"]
