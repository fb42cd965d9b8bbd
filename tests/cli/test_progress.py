"""How far a long job is: shown at a terminal, and nowhere else."""

from pathlib import Path

from cli.command_line import SOUND, a_copy_of, run_really
from cli.terminal import Terminal

from provenance.cli.progress import ProgressLines


def test_at_a_terminal_every_step_has_a_bar_and_reading_its_pace(tmp_path: Path) -> None:
    with Terminal("--archive", a_copy_of(SOUND, tmp_path), "rebuild", "--workers", "1") as terminal:
        code = terminal.finish()

    assert code == 0, terminal.shown
    assert "Reading pages" in terminal.shown
    assert "pages a minute" in terminal.shown
    assert "Indexing" in terminal.shown
    assert "100%" in terminal.shown


def test_a_pipe_is_given_no_bar(tmp_path: Path) -> None:
    done = run_really("--archive", a_copy_of(SOUND, tmp_path), "rebuild", "--workers", "1")

    assert done.returncode == 0
    assert done.stderr == ""
    assert done.stdout == "One page read now; the new index holds 4 entries.\n"


def test_steps_follow_one_another_and_the_last_bar_is_ended() -> None:
    """Where there is no terminal the bars count all the same, unseen."""
    with ProgressLines() as progress:
        for step, total in (("registering", 2), ("reading", 3), ("a step without a label", 1)):
            for done in range(1, total + 1):
                progress(step, done, total)
                assert progress._bar.pos == done
        last = progress._bar

    assert last.finished
    assert progress._bar is None


def test_a_job_without_a_step_has_no_bar() -> None:
    with ProgressLines() as progress:
        pass

    assert progress._bar is None
