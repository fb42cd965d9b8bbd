import signal
import threading
import time
from contextlib import suppress

import pytest

from provenance.pages.time_limit import OutOfTimeError, at_most


def work_on() -> None:
    while True:
        pass


def work_on_whatever_happens() -> None:
    """As a library does that takes any fault of a file in its stride."""
    while True:
        with suppress(Exception):
            work_on()


def test_what_takes_too_long_is_stopped() -> None:
    begun = time.process_time()

    with pytest.raises(OutOfTimeError), at_most(0.1):
        work_on()

    assert time.process_time() - begun < 5


def test_a_library_that_goes_on_after_any_fault_is_stopped_too() -> None:
    with pytest.raises(OutOfTimeError), at_most(0.1):
        work_on_whatever_happens()


def swallow_one_and_work_on() -> None:
    with suppress(OutOfTimeError):
        work_on()
    work_on()


def test_the_limit_is_asked_again_where_the_first_was_swallowed() -> None:
    with pytest.raises(OutOfTimeError), at_most(0.1):
        swallow_one_and_work_on()


def test_what_is_done_in_time_is_left_alone_and_so_is_what_comes_after() -> None:
    before = signal.getsignal(signal.SIGPROF)

    with at_most(0.2):
        pass
    end = time.process_time() + 0.4
    while time.process_time() < end:
        pass

    assert signal.getsignal(signal.SIGPROF) == before


def test_outside_the_main_thread_there_is_no_limit() -> None:
    done = []

    def work() -> None:
        with at_most(0.01):
            end = time.process_time() + 0.1
            while time.process_time() < end:
                pass
        done.append(True)

    thread = threading.Thread(target=work)
    thread.start()
    thread.join()

    assert done == [True]
