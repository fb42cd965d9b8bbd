"""What files are, found out in workers: a file made to do harm ends a worker and nothing else."""

from collections.abc import Callable, Generator, Iterable
from contextlib import closing
from pathlib import Path

from provenance.pages.identifying import OriginalFacts, identify
from provenance.workers.outcomes import FaultKind, Outcome
from provenance.workers.running import run_in_workers

IDENTIFY_SECONDS = 60.0
IDENTIFY_BYTES = 2 * 1024**3

Identified = Outcome[Path, OriginalFacts]


def identified(
    paths: Iterable[Path], *, on_wait: Callable[[], None] | None = None
) -> Generator[Identified, None, None]:
    """What each file is; one whose worker was ended from outside, by no fault of the file, is looked at once more.

    Args:
        paths: of the files.
        on_wait: called about once a second while none is done; what it raises ends the work.
    """
    again = []
    with closing(_identify(paths, on_wait)) as outcomes:
        for outcome in outcomes:
            if outcome.fault is not None and outcome.fault.kind in {FaultKind.ENDED, FaultKind.NO_ROOM}:
                again.append(outcome.job)
            else:
                yield outcome
    with closing(_identify(again, on_wait)) as outcomes:
        yield from outcomes


def _identify(paths: Iterable[Path], on_wait: Callable[[], None] | None) -> Generator[Identified, None, None]:
    return run_in_workers(identify, paths, seconds_each=IDENTIFY_SECONDS, memory_bytes=IDENTIFY_BYTES, on_wait=on_wait)
