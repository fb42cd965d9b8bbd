import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
from workers.worker_jobs import NeverArrives, double, misbehave, process_number, processor_limit, slow_echo

from provenance.errors import ProvenanceError, ToolMissingError, UnreadableOriginalError
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


def comes_true(condition: Callable[[], bool]) -> bool:
    end = time.monotonic() + 10
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

    assert [fault_of(outcomes, how).kind for how in ("die", "abort", "leave")] == [FaultKind.DIED] * 3
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


def start_parent(mark: str, scratch: Path) -> subprocess.Popen[str]:
    program = PARENT.format(path=sys.path, mark=mark)
    parent = subprocess.Popen(
        [sys.executable, "-c", program],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "TMPDIR": str(scratch)},
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


def test_a_worker_that_cannot_start_stops_the_run_and_says_why() -> None:
    function = NeverArrives()

    with pytest.raises(RuntimeError, match=r"no worker could be started.*exit code 3") as caught:
        list(run_in_workers(function, [1], workers=1, seconds_each=5))

    assert not isinstance(caught.value, ProvenanceError)


def test_as_many_workers_as_usable_cores_and_at_least_one() -> None:
    assert usable_cores() >= 1
    if hasattr(os, "sched_getaffinity"):
        assert usable_cores() == len(os.sched_getaffinity(0))
