import pickle
import threading
from multiprocessing.connection import Pipe

from workers.worker_jobs import double, misbehave

from provenance.workers.child import Orders, Reply, serve
from provenance.workers.outcomes import FaultKind


def answers(orders: Orders, *jobs: object) -> list[Reply]:
    """Serve in a thread of this process; the first reply says that the child is ready."""
    ours, theirs = Pipe()
    server = threading.Thread(target=serve, args=(theirs,))
    server.start()
    ours.send(orders)
    replies = [ours.recv()]
    for job in jobs:
        ours.send_bytes(pickle.dumps(job))
        replies.append(ours.recv())
    ours.close()
    server.join(10)
    assert not server.is_alive()
    theirs.close()
    return replies


def test_a_worker_says_that_it_is_ready_answers_job_after_job_and_stops_when_the_parent_hangs_up() -> None:
    orders = Orders(function=double, seconds_each=1000)

    replies = answers(orders, 4, 5)

    assert replies == [Reply(), Reply(value=8), Reply(value=10)]


def test_whatever_a_job_raises_becomes_a_fault_and_the_worker_goes_on() -> None:
    orders = Orders(function=misbehave, seconds_each=1000)

    _, refused, bug, sound = answers(orders, ("unreadable", "a"), ("bug", "b"), ("echo", "c"))

    assert refused.fault is not None
    assert refused.fault.kind is FaultKind.REFUSED
    assert bug.fault is not None
    assert bug.fault.kind is FaultKind.BUG
    assert sound.value == "c"
