"""The child's side: take a job, run it, send back what became of it."""

import errno
import pickle
import sys
import tempfile
import traceback
from collections.abc import Callable
from dataclasses import dataclass
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

from provenance.errors import ProvenanceError
from provenance.workers.limits import die_with_parent, limit_memory, limit_output, limited_time
from provenance.workers.messages import MOST_BYTES, send
from provenance.workers.outcomes import Fault, FaultKind

BOOTSTRAP = "import sys, json; sys.path[:] = json.loads(sys.argv[1]); from provenance.workers.child import main; main()"
"""Program of a child: it looks for modules where its parent does."""

_MOST_WORDS = 500
_LAST_LETTERS = 4000
_FULL = frozenset({errno.ENOSPC, errno.EDQUOT})


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """What one job may take.

    Attributes:
        seconds: by the clock on the wall.
        memory_bytes: private memory of the process, and of each program that it starts; None for no limit.
        output_bytes: each file that is written, and all that lies in the folder for temporary files or is written to
            the error output at any one time; None for no limit.
    """

    seconds: float
    memory_bytes: int | None = None
    output_bytes: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Orders:
    """What a child is told before its first job.

    Attributes:
        function: what to call with each job.
        seconds_each: limit of a job.
    """

    function: Callable[[Any], Any]
    seconds_each: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Reply:
    """What a child sends back for one job."""

    value: Any = None
    fault: Fault | None = None


def main() -> None:
    """Run a child process: the descriptors of its two pipes and its temporary folder are its arguments."""
    connection, lifeline = Connection(int(sys.argv[2])), int(sys.argv[3])
    watch = die_with_parent(lifeline, Path(sys.argv[4]))
    try:
        limits: Limits = connection.recv()  # before the orders: reading those imports what the jobs need
        limit_memory(limits.memory_bytes)
        limit_output(limits.output_bytes)
        serve(connection)
    except (EOFError, ConnectionResetError, BrokenPipeError):  # the parent is gone, at another moment than between jobs
        pass
    watch.join()  # ending sooner would leave the temporary files behind


def serve(connection: "Connection[Any, Any]") -> None:
    """Take orders, say that we are ready, then answer job after job until the parent hangs up."""
    orders: Orders = connection.recv()
    send(connection.fileno(), pickle.dumps(Reply()))
    while True:
        try:
            packed = connection.recv_bytes()
        except EOFError:
            return
        with limited_time(orders.seconds_each):
            answer = _answer(orders.function, packed)
            send(connection.fileno(), answer)


def _answer(function: Callable[[Any], Any], packed: bytes) -> bytes:
    """Run one job; whatever it raises becomes a fault."""
    try:
        answer = pickle.dumps(Reply(value=function(pickle.loads(packed))))  # noqa: S301  # packed by our own parent
    except ProvenanceError as error:
        return _with_fault(FaultKind.REFUSED, error.what, error=error)
    except MemoryError:
        return _with_fault(FaultKind.MEMORY, "it needs more memory than one job may have")
    except Exception as error:  # noqa: BLE001  # a fault of any kind costs its own job only
        return _of_any_kind(error)
    if len(answer) > MOST_BYTES:
        what = f"its reading is {len(answer) // 10**6} million bytes long, and {MOST_BYTES // 10**6} million are taken"
        return _with_fault(FaultKind.OUTPUT, what)
    return answer


def _of_any_kind(error: Exception) -> bytes:
    if isinstance(error, OSError) and error.errno in _FULL:
        where = tempfile.gettempdir()
        return _with_fault(FaultKind.NO_ROOM, f"the disk of the temporary files is full ({where}): make room on it")
    if isinstance(error, OSError) and error.errno == errno.EFBIG:
        return _with_fault(FaultKind.OUTPUT, "it writes a larger temporary file than one job may")
    what = f"{type(error).__name__}: {error}"[:_MOST_WORDS]
    return _with_fault(FaultKind.BUG, what, detail=traceback.format_exc()[-_LAST_LETTERS:])


def _with_fault(kind: FaultKind, what: str, *, error: ProvenanceError | None = None, detail: str = "") -> bytes:
    return pickle.dumps(Reply(fault=Fault(kind=kind, what=what, error=error, detail=detail)))
