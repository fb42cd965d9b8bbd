import pickle
import threading
from multiprocessing.connection import Pipe

import pytest
from workers.worker_jobs import double, misbehave

from provenance.workers import child
from provenance.workers.child import Orders, Reply, serve
from provenance.workers.messages import Incoming
from provenance.workers.outcomes import FaultKind


def answers(orders: Orders, *jobs: object) -> list[Reply]:
    """Serve in a thread of this process; the first reply says that the child is ready."""
    ours, theirs = Pipe()
    server = threading.Thread(target=serve, args=(theirs,), daemon=True)
    server.start()
    incoming = Incoming()

    def reply() -> Reply:
        whole = None
        while whole is None:
            assert ours.poll(10)
            whole = incoming.take_in(ours.fileno())
        told: Reply = pickle.loads(whole)
        return told

    ours.send(orders)
    replies = [reply()]
    for job in jobs:
        ours.send_bytes(pickle.dumps(job))
        replies.append(reply())
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


def test_a_fault_with_a_long_tale_is_cut_short() -> None:
    orders = Orders(function=misbehave, seconds_each=1000)

    _, reply = answers(orders, ("bug", "x" * 1_000_000))

    assert reply.fault is not None
    assert len(reply.fault.what) == 500
    assert len(reply.fault.detail) == 4000


def test_an_answer_as_long_as_may_be_is_taken_and_a_longer_one_is_not(monkeypatch: pytest.MonkeyPatch) -> None:
    orders = Orders(function=misbehave, seconds_each=1000)
    whole = len(pickle.dumps(Reply(value="x" * 1_000_000)))

    monkeypatch.setattr(child, "MOST_BYTES", whole)
    _, taken, refused = answers(orders, ("echo", "x" * 1_000_000), ("echo", "x" * 1_000_001))

    assert taken.value == "x" * 1_000_000
    assert refused.fault is not None
    assert (refused.fault.kind, refused.value) == (FaultKind.OUTPUT, None)
    assert "1 million bytes long" in refused.fault.what


def test_a_lack_of_memory_and_of_room_are_told_apart_from_a_fault_of_the_page() -> None:
    orders = Orders(function=misbehave, seconds_each=1000)

    # More than any address space holds, so that the interpreter refuses it at once; /dev/full takes no byte.
    _, memory, room = answers(orders, ("eat", str(2**62)), ("full-disk", ""))

    assert memory.fault is not None
    assert memory.fault.kind is FaultKind.MEMORY
    assert room.fault is not None
    assert room.fault.kind is FaultKind.NO_ROOM
    assert "make room on it" in room.fault.what
