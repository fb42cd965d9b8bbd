"""The child's side: take a job, run it, send back what became of it."""

import pickle
import sys
import traceback
from collections.abc import Callable
from dataclasses import dataclass
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

from provenance.errors import ProvenanceError
from provenance.workers.limits import die_with_parent, limit_memory, limit_processor_time
from provenance.workers.outcomes import Fault, FaultKind

BOOTSTRAP = "import sys, json; sys.path[:] = json.loads(sys.argv[1]); from provenance.workers.child import main; main()"
"""Program of a child: it looks for modules where its parent does."""


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
    die_with_parent(lifeline, Path(sys.argv[4]))
    limit_memory(connection.recv())  # before the orders: reading those imports what the jobs need
    serve(connection)


def serve(connection: "Connection[Any, Any]") -> None:
    """Take orders, say that we are ready, then answer job after job until the parent hangs up."""
    orders: Orders = connection.recv()
    connection.send(Reply())
    while True:
        try:
            packed = connection.recv_bytes()
        except EOFError:
            return
        limit_processor_time(orders.seconds_each)
        connection.send_bytes(_answer(orders.function, packed))


def _answer(function: Callable[[Any], Any], packed: bytes) -> bytes:
    """Run one job; whatever it raises becomes a fault."""
    try:
        return pickle.dumps(Reply(value=function(pickle.loads(packed))))  # noqa: S301  # packed by our own parent
    except ProvenanceError as error:
        return pickle.dumps(Reply(fault=Fault(kind=FaultKind.REFUSED, what=error.what, error=error)))
    except MemoryError:
        return pickle.dumps(
            Reply(fault=Fault(kind=FaultKind.MEMORY, what="it needs more memory than one job may have"))
        )
    except Exception as error:  # noqa: BLE001  # a fault of any kind costs its own job only
        what = f"{type(error).__name__}: {error}"
        return pickle.dumps(Reply(fault=Fault(kind=FaultKind.BUG, what=what, detail=traceback.format_exc())))
