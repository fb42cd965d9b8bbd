"""A sheet of rows, read in a worker: a file made to do harm ends the worker and nothing else."""

from contextlib import closing
from pathlib import Path

from provenance.errors import UsageRefusedError
from provenance.records.wording import quote
from provenance.store.sheets import Sheet, read_sheet
from provenance.workers.running import run_in_workers

READ_SECONDS = 60.0
READ_BYTES = 2 * 1024**3


def read_sheet_apart(path: Path) -> Sheet:
    """Read a sheet in a worker, within limits of time and memory.

    Raises:
        UsageRefusedError: it cannot be read, with the place and the mend.
    """
    read = run_in_workers(read_sheet, [path], workers=1, seconds_each=READ_SECONDS, memory_bytes=READ_BYTES)
    with closing(read) as outcomes:
        outcome = next(outcomes)
    if outcome.value is not None:
        return outcome.value
    fault = outcome.fault
    if fault is not None and fault.error is not None:
        raise fault.error
    why = f": {fault.what}" if fault is not None else ""
    raise UsageRefusedError(f"{quote(path.name)} cannot be read{why}", "save it as a plain CSV file, and give that")
