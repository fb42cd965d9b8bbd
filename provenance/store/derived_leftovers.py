"""What killed writers left among derived data.

Nobody holds a lock on an unfinished file of derived data, so a young one may be somebody's who is at work; it is told
from a leftover by its age alone.
"""

import os
import time
from contextlib import suppress
from pathlib import Path

from provenance.store.staging import is_leftover

DERIVED = ".derived"
"""Where derived data lie, relative to the archive."""

SURELY_LEFT_SECONDS = 300.0
"""Writing one file of derived data takes a moment; nobody is at it for so long."""


def clean_derived(folder: Path) -> None:
    """Remove the unfinished files in one folder that nobody can be writing any more; what cannot be removed stays."""
    limit = time.time() - SURELY_LEFT_SECONDS
    with suppress(OSError), os.scandir(folder) as entries:
        for entry in entries:
            if is_leftover(entry.name) and entry.stat(follow_symlinks=False).st_mtime < limit:
                Path(entry.path).unlink()
