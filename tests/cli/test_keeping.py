"""The commands that keep an archive: new, ingest, check, rebuild, upgrade."""

import os
import signal
import subprocess
import time
import uuid
from collections.abc import Iterator
from pathlib import Path

import pytest
from cli.command_line import PROGRAM, SOUND, a_copy_of, ask, read_answer, run, run_really
from tasks.team import a_scan, a_text

from provenance.store.loading import load

PAGES = 14
PATIENCE = 90.0


@pytest.fixture
def archive(tmp_path: Path) -> Path:
    return a_copy_of(SOUND, tmp_path)


def readings_of(archive: Path) -> list[Path]:
    return sorted((archive / ".derived" / "readings").rglob("p*.json"))


def test_an_archive_is_begun(tmp_path: Path) -> None:
    page = run(None, "new", str(tmp_path / "ours"), "--title", "Railcar No. 9", "--by", "mh", "--name", "M. Hollin")
    answer = ask(None, "new", str(tmp_path / "other"), "--by", "mh")

    assert page.exit_code == 0
    assert " ".join(page.stdout.split()).startswith("A new archive, “Railcar No. 9”, in ")
    assert (load(tmp_path / "ours").archive.title, answer["archive"]) == ("Railcar No. 9", "other")
    assert answer["written"] == [".gitattributes", ".gitignore", "archive.yaml"]


def test_a_new_archive_is_never_written_over_another(archive: Path) -> None:
    before = (archive / "archive.yaml").read_bytes()

    result = run(None, "new", str(archive), "--by", "mh")

    assert (result.exit_code, result.stdout) == (4, "")
    assert "is an archive already" in result.stderr
    assert ask(None, "new", str(archive), "--by", "mh", code=4)["answer"] == "error"
    assert (archive / "archive.yaml").read_bytes() == before


def test_nobody_is_given_an_id_that_no_record_can_name(tmp_path: Path) -> None:
    result = run(None, "new", str(tmp_path / "ours"), "--by", "M. Hollin")

    assert result.exit_code == 2
    assert "such as the initials: `mh`" in result.stderr
    assert not (tmp_path / "ours").exists()


def test_a_new_archive_names_its_gaps(tmp_path: Path) -> None:
    run(None, "new", str(tmp_path / "ours"), "--by", "mh")

    answer = ask(tmp_path / "ours", "check", code=1)

    assert {problem["rule"] for problem in answer["problems"]} == {"archive-gap"}


def test_a_scan_is_taken_in_read_and_found(archive: Path, tmp_path: Path) -> None:
    a_scan(tmp_path / "scans" / "p1.png")

    page = run(archive, "ingest", str(tmp_path / "scans"), "--by", "mh", "--workers", "1", "--date", "2026-02-01")

    assert page.exit_code == 0, page.output
    assert page.stdout.split("\n")[-2] == "One file: 1 new; one page read now."
    assert page.stderr == ""
    (source,) = (record for key, record in load(archive).archive.sources.items() if key.startswith("p1-"))
    assert str(source.date) == "2026-02-01"
    assert [hit["source"] for hit in ask(archive, "search", "bracket")["hits"]] == [source.id]


def test_what_became_of_each_file_is_told_to_programs(archive: Path, tmp_path: Path) -> None:
    a_text(tmp_path / "in" / "a.txt", "The bracket is of steel.\n")
    (tmp_path / "in" / "link.txt").symlink_to(tmp_path / "in" / "a.txt")
    (tmp_path / "in" / "empty.jpg").write_bytes(b"")

    answer = ask(archive, "ingest", str(tmp_path / "in"), "--by", "mh", "--workers", "1", code=1)

    assert {Path(file["path"]).name: file["state"] for file in answer["files"]} == {
        "a.txt": "registered",
        "link.txt": "refused",
        "empty.jpg": "unread",
    }
    assert answer["pages_read"] == 1


def test_a_date_that_is_none_is_refused_before_anything_is_written(archive: Path, tmp_path: Path) -> None:
    letter = a_text(tmp_path / "letter.txt", "The bracket is of steel.\n")

    answer = ask(archive, "ingest", str(letter), "--by", "mh", "--date", "tomorrow", code=2)

    assert "`tomorrow`" in answer["what"]
    assert set(load(archive).archive.sources) == {"handbook", "photograph"}


def test_without_the_recogniser_a_scan_is_kept_and_read_by_the_next_call(archive: Path, tmp_path: Path) -> None:
    """With an empty PATH Tesseract is really not to be found."""
    scan = a_scan(tmp_path / "p1.png")
    words = ["--archive", str(archive), "ingest", str(scan), "--by", "mh", "--workers", "1"]

    told = run_really(*words, env={"PATH": ""})
    answered = run_really(*words, "--json", env={"PATH": ""})
    registered = set(load(archive).archive.sources)
    afterwards = run_really(*words)

    assert (told.returncode, answered.returncode, afterwards.returncode) == (5, 5, 0)
    assert "tesseract" in told.stderr.lower()
    assert "  mend: " in told.stderr
    assert read_answer(answered.stdout)["answer"] == "error"
    assert any(source.startswith("p1-") for source in registered)
    assert "one page read now" in afterwards.stdout


def test_faults_are_named_and_end_with_1(archive: Path) -> None:
    claim = archive / "claims" / "headlamp-kind-acetylene.yaml"
    a_text(claim, claim.read_text(encoding="utf-8").replace("source: handbook", "source: handbok"))

    page = run(archive, "check")
    answer = ask(archive, "check", code=1)

    assert page.exit_code == 1
    assert page.stdout.startswith("claims/headlamp-kind-acetylene.yaml:5: evidence[0].source: error: ")
    assert [problem["rule"] for problem in answer["problems"]] == ["unknown-id"]


def test_a_note_alone_is_no_fault(archive: Path) -> None:
    (archive / "originals" / "handbook" / "handbook.txt").unlink()

    answer = ask(archive, "check", "--fixity")

    assert [(problem["rule"], problem["severity"]) for problem in answer["problems"]] == [("not-here", "note")]


def test_an_original_that_was_changed_is_found_where_it_is_read(archive: Path) -> None:
    handbook = archive / "originals" / "handbook" / "handbook.txt"
    a_text(handbook, handbook.read_text(encoding="utf-8").replace("acetylene", "acetylenx"))

    answer = ask(archive, "check", "--fixity", code=1)

    assert [problem["rule"] for problem in answer["problems"]] == ["fixity-broken"]
    assert answer["digests_compared"] is True


def test_what_is_derived_is_made_anew(archive: Path) -> None:
    answer = ask(archive, "rebuild", "--prune", "--workers", "1")

    assert (answer["pages_read"], answer["indexed"], answer["pruned"], answer["unread"]) == (1, 4, 0, [])
    assert run(archive, "rebuild").stdout == "No pages read now; the new index holds 4 entries.\n"


def test_rebuilding_ends_with_1_where_a_page_cannot_be_read(archive: Path, tmp_path: Path) -> None:
    run(archive, "ingest", str(a_scan(tmp_path / "p1.png")), "--by", "mh", "--workers", "1")
    (source,) = (record for key, record in load(archive).archive.sources.items() if key.startswith("p1-"))
    (archive / source.files[0].path).write_bytes(b"spoilt")
    for reading in readings_of(archive):
        reading.unlink()

    answer = ask(archive, "rebuild", "--workers", "1", code=1)

    assert [(page["source"], page["page"]) for page in answer["unread"]] == [(source.id, 1)]
    assert "not read" in run(archive, "rebuild", "--workers", "1").stdout


def test_an_archive_of_todays_format_is_left_alone(archive: Path) -> None:
    page = run(archive, "upgrade")

    assert (page.exit_code, page.stdout) == (0, "The archive has format 1, which is today's; nothing was changed.\n")
    assert ask(archive, "upgrade")["written"] == []


def test_an_older_archive_is_brought_up_to_date_and_a_newer_one_refused(archive: Path) -> None:
    head = (archive / "archive.yaml").read_text(encoding="utf-8")
    a_text(archive / "archive.yaml", head.replace("format: 1\n", ""))

    upgraded = ask(archive, "upgrade")
    a_text(archive / "archive.yaml", head.replace("format: 1\n", "format: 2\n"))

    assert (upgraded["before"], upgraded["after"], upgraded["written"]) == (0, 1, ["archive.yaml"])
    assert run(archive, "upgrade").exit_code == 3
    assert ask(archive, "evidence", "headlamp", code=3)["answer"] == "error"
    assert run(archive, "check").exit_code == 1


GOES_ON = (
    "what was taken in and read is kept; the same command goes on with the rest, and `provenance rebuild` reads "
    "the pages that are still missing"
)


class _Stopped:
    """A command that was begun in a process of its own and stopped with Ctrl-C once it had read some pages."""

    def __init__(self, archive: Path, *words: str) -> None:
        self.mark = uuid.uuid4().hex
        command = [str(PROGRAM), "--archive", str(archive), *words]
        process = subprocess.Popen(
            command,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            env={**os.environ, "STOPPED_TEST": self.mark},
            start_new_session=True,
        )
        try:
            self._wait_for_readings(archive, process)
            os.killpg(process.pid, signal.SIGINT)  # as a terminal does: to all that was started from it
            self.told, self.complained = process.communicate(timeout=PATIENCE)
        finally:
            process.kill()
        self.code = process.returncode

    def _wait_for_readings(self, archive: Path, process: "subprocess.Popen[str]") -> None:
        before, deadline = len(readings_of(archive)), time.monotonic() + PATIENCE
        while len(readings_of(archive)) < before + 2:
            assert process.poll() is None, process.communicate()
            assert time.monotonic() < deadline
            time.sleep(0.02)

    def left_behind(self) -> list[str]:
        """The processes that are still there of those that the command began."""
        return list(self._marked())

    def _marked(self) -> Iterator[str]:
        for environment in Path("/proc").glob("[0-9]*/environ"):
            try:
                if f"STOPPED_TEST={self.mark}".encode() in environment.read_bytes():
                    yield environment.parent.name
            except OSError:  # it has just ended
                continue


def test_ctrl_c_keeps_what_was_read_and_the_next_call_goes_on_with_the_rest(archive: Path, tmp_path: Path) -> None:
    for number in range(PAGES):
        a_scan(tmp_path / "scans" / f"{number}.png", (f"Page {number}", "of the working instructions."))
    words = ["ingest", str(tmp_path / "scans"), "--by", "mh", "--workers", "2"]

    stopped = _Stopped(archive, *words)
    kept = readings_of(archive)
    again = _Stopped(archive, *words, "--json")
    kept_then = readings_of(archive)
    finished = ask(archive, *words)

    assert (stopped.code, stopped.told) == (130, "")
    assert stopped.complained == f"\nstopped; {GOES_ON}\n"
    assert stopped.left_behind() == again.left_behind() == []
    assert 2 <= len(kept) < len(kept_then) < PAGES
    assert (again.code, again.complained) == (130, "")
    assert read_answer(again.told) == {
        "answer": "error",
        "what": "it was stopped",
        "mend": GOES_ON,
    }
    assert finished["pages_read"] == PAGES - len(kept_then)
    assert [file["state"] for file in finished["files"]] == ["known"] * PAGES
    assert ask(archive, "search", "working instructions", "--limit", "50")["total"] >= PAGES
    assert run(archive, "check", "--fixity").exit_code == 0
