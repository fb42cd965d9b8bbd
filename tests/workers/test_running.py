import os
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import pytest
from workers.worker_jobs import (
    NeverArrives,
    double,
    misbehave,
    process_number,
    processor_limit,
    seconds_left,
    slow_echo,
)

from provenance.errors import ProvenanceError, ToolMissingError, UnreadableOriginalError, WriteRefusedError
from provenance.workers.limits import usable_cores
from provenance.workers.outcomes import Fault, FaultKind, Outcome
from provenance.workers.running import run_in_workers

MEMORY = 600_000_000
MARK = 1_000_000 + os.getpid()
"""How long a program sleeps that must not outlive its page: no other run of these tests has the same."""


def run(*jobs: tuple[str, str], seconds: float = 20, workers: int = 1) -> list[Outcome[tuple[str, str], str]]:
    return list(run_in_workers(misbehave, jobs, workers=workers, seconds_each=seconds, memory_bytes=MEMORY))


def fault_of(outcomes: list[Outcome[tuple[str, str], str]], how: str) -> Fault:
    fault = next(outcome.fault for outcome in outcomes if outcome.job[0] == how)
    assert fault is not None
    return fault


def values(outcomes: list[Outcome[tuple[str, str], str]]) -> list[str]:
    return [outcome.value for outcome in outcomes if outcome.value is not None]


def is_running(program: str) -> bool:
    return subprocess.run(["pgrep", "-f", program], capture_output=True, check=False).returncode == 0


def comes_true(condition: Callable[[], bool], seconds: float = 10) -> bool:
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if condition():
            return True
        time.sleep(0.05)
    return False


def wait_until_gone(program: str) -> bool:
    return comes_true(lambda: not is_running(program))


def test_each_page_gets_its_own_outcome_and_names_its_job() -> None:
    jobs = range(20)

    outcomes = list(run_in_workers(double, jobs, workers=2, seconds_each=20))

    assert {outcome.job: outcome.value for outcome in outcomes} == {job: job * 2 for job in jobs}
    assert all(outcome.fault is None for outcome in outcomes)


def test_progress_counts_every_job_whatever_became_of_it() -> None:
    told: list[tuple[int, int]] = []

    outcomes = run_in_workers(
        misbehave,
        [("echo", "a"), ("die", ""), ("bug", ""), ("echo", "b")],
        workers=1,
        seconds_each=20,
        on_progress=lambda done, total: told.append((done, total)),
    )

    assert len(list(outcomes)) == 4
    assert told == [(1, 4), (2, 4), (3, 4), (4, 4)]


def test_no_jobs_start_no_worker() -> None:
    begun = time.monotonic()
    jobs: list[int] = []

    outcomes = list(run_in_workers(double, jobs, seconds_each=20))

    assert outcomes == []
    assert time.monotonic() - begun < 0.05


def test_workers_stay_from_one_job_to_the_next() -> None:
    jobs = range(10)

    outcomes = list(run_in_workers(process_number, jobs, workers=2, seconds_each=20))

    assert len({outcome.value for outcome in outcomes}) == 2
    assert os.getpid() not in {outcome.value for outcome in outcomes}


def test_a_slow_page_does_not_hold_up_the_others() -> None:
    jobs = [1.5, 0.0, 0.0, 0.0]

    outcomes = list(run_in_workers(slow_echo, jobs, workers=2, seconds_each=20))

    assert [outcome.value for outcome in outcomes] == [0.0, 0.0, 0.0, 1.5]


def children() -> set[str]:
    """The processes that this one started; another test may have left its browser open."""
    told = subprocess.run(["pgrep", "-P", str(os.getpid())], capture_output=True, check=False, text=True)
    return set(told.stdout.split())


def test_whoever_waits_for_a_slow_page_is_told_so_and_may_end_it() -> None:
    told: list[None] = []
    before = children()

    def give_up_the_second_time() -> None:
        told.append(None)
        if len(told) == 2:
            raise EOFError

    outcomes = run_in_workers(misbehave, [("hang", "")], workers=1, seconds_each=60, on_wait=give_up_the_second_time)
    with pytest.raises(EOFError):
        next(outcomes)

    assert list(outcomes) == []
    assert children() <= before


def test_a_page_that_hangs_costs_its_own_time_and_no_other_page() -> None:
    begun = time.monotonic()

    outcomes = run(("hang", ""), ("echo", "next"), seconds=1)

    assert fault_of(outcomes, "hang") == Fault(kind=FaultKind.TIME, what="it was stopped after 1 seconds")
    assert values(outcomes) == ["next"]
    assert time.monotonic() - begun < 10


def test_a_program_that_a_hanging_page_started_is_ended_with_it() -> None:
    outcomes = run(("hang-with-grandchild", f"{MARK}.1"), ("echo", "next"), seconds=1)

    assert fault_of(outcomes, "hang-with-grandchild").kind is FaultKind.TIME
    assert wait_until_gone(f"sleep {MARK}.1")


def test_a_page_that_kills_its_worker_costs_itself_alone() -> None:
    outcomes = run(("die", ""), ("abort", ""), ("leave", ""), ("echo", "next"))

    kinds = [fault_of(outcomes, how).kind for how in ("die", "abort", "leave")]
    assert kinds == [FaultKind.ENDED, FaultKind.DIED, FaultKind.DIED]
    assert "SIGKILL" in fault_of(outcomes, "die").what
    assert "exit code 7" in fault_of(outcomes, "leave").what
    assert values(outcomes) == ["next"]


def test_the_last_words_of_a_library_that_aborts_are_kept() -> None:
    outcomes = run(("abort", ""))

    assert "SIGABRT" in fault_of(outcomes, "abort").what
    assert "the library is beside itself" in fault_of(outcomes, "abort").detail


@pytest.mark.skipif(sys.platform == "darwin", reason="macOS does not keep RLIMIT_DATA")
def test_a_page_that_wants_too_much_memory_is_stopped_by_its_limit() -> None:
    outcomes = run(("eat", str(2 * MEMORY)), ("eat", "1000000"))

    assert fault_of(outcomes, "eat").kind is FaultKind.MEMORY
    assert values(outcomes) == ["1000000"]


def test_a_refusal_comes_back_as_what_it_is() -> None:
    outcomes = run(("unreadable", "a.pdf"), ("tool", ""))

    unreadable, tool = fault_of(outcomes, "unreadable").error, fault_of(outcomes, "tool").error
    assert isinstance(unreadable, UnreadableOriginalError)
    assert (unreadable.what, unreadable.mend) == ("a.pdf is cut short", "get it again")
    assert isinstance(tool, ToolMissingError)
    assert tool.exit_code == 5


def test_a_fault_of_our_own_is_told_with_its_traceback_and_never_as_a_refusal() -> None:
    outcomes = run(("bug", "by zero"), ("unpicklable", ""), ("echo", "next"))

    assert fault_of(outcomes, "bug").kind is FaultKind.BUG
    assert fault_of(outcomes, "bug").what == "ZeroDivisionError: by zero"
    assert "worker_jobs.py" in fault_of(outcomes, "bug").detail
    assert fault_of(outcomes, "bug").error is None
    assert fault_of(outcomes, "unpicklable").kind is FaultKind.BUG
    assert values(outcomes) == ["next"]


def test_what_a_page_leaves_in_its_temporary_folder_is_removed_with_its_worker() -> None:
    (outcome,) = run(("litter", "page.tif"))

    assert outcome.value is not None
    assert not Path(outcome.value).exists()


def test_a_worker_that_is_killed_while_its_parent_is_gone_would_not_run_for_ever() -> None:
    jobs = [1]

    (outcome,) = run_in_workers(processor_limit, jobs, workers=1, seconds_each=50)

    assert outcome.value is not None
    assert 50 <= outcome.value <= 100


def test_a_worker_that_waits_for_ever_without_a_parent_has_a_clock_of_its_own() -> None:
    jobs = [1]

    (outcome,) = run_in_workers(seconds_left, jobs, workers=1, seconds_each=50)

    assert outcome.value is not None
    assert 50 <= outcome.value <= 100


def test_a_page_that_lets_nothing_else_run_is_stopped_all_the_same() -> None:
    outcomes = run(("hold", "600"), ("echo", "next"), seconds=1)

    assert fault_of(outcomes, "hold").kind is FaultKind.TIME
    assert values(outcomes) == ["next"]


def test_a_page_that_ignores_every_signal_that_can_be_ignored_is_ended_with_its_programs() -> None:
    outcomes = run(("ignore-signals", f"{MARK}.5"), ("echo", "next"), seconds=1)

    assert fault_of(outcomes, "ignore-signals").kind is FaultKind.TIME
    assert wait_until_gone(f"sleep {MARK}.5")
    assert values(outcomes) == ["next"]


def test_a_worker_that_falls_silent_in_the_middle_of_its_answer_costs_its_own_time() -> None:
    outcomes = run(("fall-silent", ""), ("echo", "next"), seconds=1)

    assert fault_of(outcomes, "fall-silent").kind is FaultKind.TIME
    assert values(outcomes) == ["next"]


def test_an_answer_of_many_pieces_comes_whole() -> None:
    outcomes = run(("long-answer", "30000000"))

    assert values(outcomes) == ["x" * 30_000_000]


def test_a_worker_that_announces_an_endless_answer_is_not_listened_to() -> None:
    outcomes = run(("announce", str(10**15)), ("echo", "next"))

    assert fault_of(outcomes, "announce").kind is FaultKind.OUTPUT
    assert values(outcomes) == ["next"]


def run_writing(*jobs: tuple[str, str]) -> list[Outcome[tuple[str, str], str]]:
    """Run jobs of which each may write 20 million bytes."""
    return list(run_in_workers(misbehave, jobs, workers=1, seconds_each=20, output_bytes=20_000_000))


def test_a_page_that_writes_one_endless_file_is_stopped_and_leaves_none_behind() -> None:
    outcomes = run_writing(("large-file", "40000000"), ("large-file", "10000000"))

    assert fault_of(outcomes, "large-file").kind is FaultKind.OUTPUT
    assert "larger temporary file" in fault_of(outcomes, "large-file").what
    assert values(outcomes) == ["written"]


def test_a_program_that_writes_an_endless_file_for_a_page_is_ended_by_the_system() -> None:
    outcomes = run_writing(("large-file-of-a-program", "40000000"), ("large-file-of-a-program", "10000000"))

    # whether it is ended by the signal or heeds the refusal is the program's affair; a whole file it never has
    assert [value == "0" for value in values(outcomes)] == [False, True]


def test_a_page_that_writes_endlessly_many_files_is_stopped() -> None:
    outcomes = run_writing(("many-files", "1000000"), ("echo", "next"))

    assert fault_of(outcomes, "many-files").kind is FaultKind.OUTPUT
    assert "more to the disk" in fault_of(outcomes, "many-files").what
    assert values(outcomes) == ["next"]


def test_what_a_library_says_is_kept_short_and_one_page_does_not_speak_for_another() -> None:
    spoken = [("chatter", "15000000")] * 3

    outcomes = run_writing(*spoken, ("abort", ""))

    assert values(outcomes) == ["said"] * 3
    assert fault_of(outcomes, "abort").detail.startswith("the library is beside itself")


def test_a_page_that_never_stops_talking_is_stopped() -> None:
    outcomes = run_writing(("chatter", "30000000"), ("echo", "next"))

    assert fault_of(outcomes, "chatter").kind is FaultKind.OUTPUT
    assert values(outcomes) == ["next"]


@pytest.mark.skipif(sys.platform == "darwin", reason="there is no /dev/full")
def test_a_full_disk_of_temporary_files_is_no_fault_of_the_page() -> None:
    outcomes = run(("full-disk", ""), ("echo", "next"))

    assert fault_of(outcomes, "full-disk").kind is FaultKind.NO_ROOM
    assert "make room" in fault_of(outcomes, "full-disk").what
    assert values(outcomes) == ["next"]


def test_jobs_are_made_only_as_there_are_workers_for_them() -> None:
    made: list[int] = []

    def make() -> Iterator[int]:
        for number in range(30):
            made.append(number)
            yield number

    outcomes = run_in_workers(double, make(), workers=2, seconds_each=20)

    for done, _ in enumerate(outcomes, start=1):
        assert len(made) <= done + 4  # two at work, two on their way to them
    assert len(made) == 30


def test_jobs_that_cannot_be_made_end_the_workers() -> None:
    def make() -> Iterator[tuple[str, str]]:
        yield "echo", "first"
        yield "hang-with-grandchild", f"{MARK}.6"
        raise ZeroDivisionError

    outcomes = run_in_workers(misbehave, make(), workers=2, seconds_each=60)

    with pytest.raises(ZeroDivisionError):
        list(outcomes)
    assert wait_until_gone(f"sleep {MARK}.6")


def test_leaving_the_loop_early_ends_the_workers() -> None:
    jobs = [("echo", "first"), ("hang-with-grandchild", f"{MARK}.2"), ("hang-with-grandchild", f"{MARK}.2")]

    with closing(run_in_workers(misbehave, jobs, workers=2, seconds_each=60)) as outcomes:
        first = next(outcomes)

    assert first.value == "first"
    assert wait_until_gone(f"sleep {MARK}.2")


PARENT = """
import sys
sys.path[:0] = {path!r}
from workers.worker_jobs import misbehave
from provenance.workers.running import run_in_workers
jobs = [("echo", "ready"), ("hang-with-grandchild", "{mark}"), ("hang-with-grandchild", "{mark}")]
for outcome in run_in_workers(misbehave, jobs, workers=2, seconds_each=60):
    print(outcome.value, flush=True)
"""
ONE_PROCESS = """
import resource, sys
sys.path[:0] = {path!r}
from workers.worker_jobs import double
from provenance.errors import ProvenanceError
from provenance.workers.running import run_in_workers
resource.setrlimit(resource.RLIMIT_NOFILE, (8, 8))
try:
    list(run_in_workers(double, [1], workers=1, seconds_each=20))
except ProvenanceError as error:
    print(error)
    sys.exit(error.exit_code)
"""
STUCK_PARENT = """
import sys
sys.path[:0] = {path!r}
from workers.worker_jobs import misbehave
from provenance.workers.running import run_in_workers
jobs = [("echo", "ready"), ("hold", "600")]
for outcome in run_in_workers(misbehave, jobs, workers=1, seconds_each=1):
    print(outcome.value, flush=True)
"""


def environment_in(scratch: Path) -> dict[str, str]:
    return {**os.environ, "TMPDIR": str(scratch)}


def start_parent(mark: str, scratch: Path) -> subprocess.Popen[str]:
    program = PARENT.format(path=sys.path, mark=mark)
    parent = subprocess.Popen(
        [sys.executable, "-c", program],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env=environment_in(scratch),
    )
    assert parent.stdout is not None
    assert parent.stdout.readline() == "ready\n"
    assert comes_true(lambda: is_running(f"sleep {mark}"))
    return parent


def children_of(parent: subprocess.Popen[str]) -> list[int]:
    found = subprocess.run(["pgrep", "-P", str(parent.pid)], capture_output=True, check=True, text=True)
    return [int(number) for number in found.stdout.split()]


def is_alive(process: int) -> bool:
    state = subprocess.run(["ps", "-o", "stat=", "-p", str(process)], capture_output=True, check=False, text=True)
    return state.returncode == 0 and not state.stdout.startswith("Z")


def test_ctrl_c_ends_the_workers_and_every_program_that_they_started(tmp_path: Path) -> None:
    parent = start_parent(f"{MARK}.3", tmp_path)

    parent.send_signal(signal.SIGINT)
    _, said = parent.communicate(timeout=10)

    assert "KeyboardInterrupt" in said
    assert wait_until_gone(f"sleep {MARK}.3")
    assert list(tmp_path.iterdir()) == []


def test_workers_end_by_themselves_when_their_parent_is_killed_and_leave_nothing_behind(tmp_path: Path) -> None:
    parent = start_parent(f"{MARK}.4", tmp_path)
    workers = children_of(parent)

    parent.kill()
    parent.communicate(timeout=10)

    assert len(workers) == 2
    assert wait_until_gone(f"sleep {MARK}.4")
    assert comes_true(lambda: not any(is_alive(worker) for worker in workers))
    assert list(tmp_path.iterdir()) == []


@pytest.mark.long
def test_a_worker_that_is_stuck_ends_by_its_own_clock_when_its_parent_is_killed(tmp_path: Path) -> None:
    command = [sys.executable, "-c", STUCK_PARENT.format(path=sys.path)]
    parent = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=environment_in(tmp_path))
    assert parent.stdout is not None
    assert parent.stdout.readline() == "ready\n"
    time.sleep(0.5)
    (worker,) = children_of(parent)

    parent.kill()
    parent.communicate(timeout=10)

    assert is_alive(worker)
    assert comes_true(lambda: not is_alive(worker), seconds=45)


def test_a_worker_that_cannot_start_stops_the_run_and_says_why() -> None:
    function = NeverArrives()

    with pytest.raises(RuntimeError, match=r"no worker could be started.*exit code 3") as caught:
        list(run_in_workers(function, [1], workers=1, seconds_each=5))

    assert not isinstance(caught.value, ProvenanceError)


def test_no_room_for_temporary_files_is_told_with_the_mend(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    gone = tmp_path / "gone"
    monkeypatch.setattr(tempfile, "tempdir", str(gone))

    with pytest.raises(WriteRefusedError, match="no temporary files can be written") as caught:
        list(run_in_workers(double, [1], workers=1, seconds_each=5))

    assert "TMPDIR" in caught.value.mend


def test_a_system_that_starts_no_more_processes_is_told_with_the_mend(tmp_path: Path) -> None:
    program = ONE_PROCESS.format(path=sys.path)

    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=False, env=environment_in(tmp_path)
    )

    assert done.returncode == 6, done.stderr
    assert "no process can be started" in done.stdout
    assert "--workers 1" in done.stdout
    assert list(tmp_path.iterdir()) == []


def test_as_many_workers_as_usable_cores_and_at_least_one() -> None:
    assert usable_cores() >= 1
    if hasattr(os, "sched_getaffinity"):
        assert usable_cores() == len(os.sched_getaffinity(0))
