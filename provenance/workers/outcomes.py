"""What became of a job that was handed to a child process."""

from dataclasses import dataclass
from enum import StrEnum
from typing import Generic, TypeVar

from provenance.errors import ProvenanceError

Job = TypeVar("Job")
Value = TypeVar("Value")


class FaultKind(StrEnum):
    """Why a job gave no value."""

    TIME = "time"
    MEMORY = "memory"
    OUTPUT = "output"
    DIED = "died"
    ENDED = "ended"
    NO_ROOM = "no-room"
    REFUSED = "refused"
    BUG = "bug"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """A job that gave no value; no other job suffers by it.

    Attributes:
        kind: TIME over its time; MEMORY over its memory; OUTPUT it wrote, or would have answered, more than one job
            may; DIED the process broke down under it (a crash or an abort in a library, an exit); ENDED the process
            was ended from outside, by somebody or by a system that ran out of memory; NO_ROOM the disk of the
            temporary files is full; REFUSED the job raised one of our own exceptions; BUG it raised any other.
        what: one sentence for people.
        error: the exception itself where `kind` is REFUSED, with its mend and exit code; None otherwise.
        detail: for developers: the traceback, or the last lines that the process wrote; empty for nothing.
    """

    kind: FaultKind
    what: str
    error: ProvenanceError | None = None
    detail: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome(Generic[Job, Value]):
    """What became of one job.

    Attributes:
        job: the job as it was handed in.
        value: what the function returned; None where there is a fault (and where the function returned None).
        fault: None where the function returned.
    """

    job: Job
    value: Value | None = None
    fault: Fault | None = None
