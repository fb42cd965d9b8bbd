"""The search index of whoever asks: kept in the archive under their own seal, or made for one answer alone.

Each person's index lies in a folder of its own, so that two who work on one shared folder do not take turns in building
theirs anew; one that was handed on with an archive is never opened.
"""

import hashlib
import secrets
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from provenance.errors import DerivedDataError
from provenance.search.building import Changes, bring_up_to_date
from provenance.search.manifest import IndexPlace
from provenance.search.opening import Index, open_verified
from provenance.store.own_key import own_key
from provenance.tasks.index_entries import WantedEntries

INDEX = Path(".derived") / "search"
_NO_KEY = "your own state cannot be kept on this machine; XDG_STATE_HOME may name a folder that you can write"

Progress = Callable[[int, int], None] | None


def index_place(folder: Path) -> IndexPlace | None:
    """Where the index of whoever asks lies in an archive; None where no secret of theirs can be kept."""
    key = own_key()
    if key is None:
        return None
    return IndexPlace(folder / INDEX / hashlib.sha256(b"name of an index" + key).hexdigest()[:8], key)


def refresh_own_index(folder: Path, wanted: WantedEntries, on_progress: Progress) -> Changes:
    """Bring the kept index up to date; damage is noticed, said and mended.

    Raises:
        DerivedDataError: the disk does not let it be written, or no secret can be kept.
    """
    return _refresh(_required(index_place(folder)), wanted, on_progress)


@contextmanager
def own_index(folder: Path, wanted: WantedEntries, on_progress: Progress) -> Iterator[tuple[Index, str]]:
    """Open an index that holds exactly what is wanted, and say what people should know of it (empty for nothing).

    Where none can be kept, one that is there and current is asked; failing that, one is made in a folder of its own
    for this answer, and thrown away: slower, and as right.

    Raises:
        DerivedDataError: not even that can be done.
    """
    place = index_place(folder)
    with ExitStack() as stack:
        try:
            changes = _refresh(_required(place), wanted, on_progress)
        except DerivedDataError as fault:
            current = place and _current(place, wanted)
            index, said = (current, "") if current else _for_one_answer(wanted, on_progress, fault, stack)
        else:
            index, said = open_verified(_required(place)), changes.rebuilt
        yield stack.enter_context(index), said


def _required(place: IndexPlace | None) -> IndexPlace:
    if place is None:
        raise DerivedDataError("the search index cannot be kept", _NO_KEY)
    return place


def _refresh(place: IndexPlace, wanted: WantedEntries, on_progress: Progress) -> Changes:
    try:
        return bring_up_to_date(place, wanted.digests, wanted.fetch, on_progress=on_progress)
    except OSError as error:
        raise DerivedDataError(
            f"the search index cannot be written in {place.folder}: {error.strerror or error}",
            "see who may write there and whether the disk is full; .derived may be removed while nothing runs",
        ) from error


def _current(place: IndexPlace, wanted: WantedEntries) -> Index | None:
    """The index that is there, if it is sound and holds exactly what is wanted."""
    try:
        index = open_verified(place)
    except DerivedDataError:
        return None
    if index.entries == wanted.digests:
        return index
    index.close()
    return None


def _for_one_answer(
    wanted: WantedEntries, on_progress: Progress, fault: DerivedDataError, stack: ExitStack
) -> tuple[Index, str]:
    folder = stack.enter_context(TemporaryDirectory(prefix="provenance-index-", ignore_cleanup_errors=True))
    place = IndexPlace(Path(folder), secrets.token_bytes(32))
    _refresh(place, wanted, on_progress)
    return open_verified(place), f"{fault.what}; one was made for this answer alone ({fault.mend})"
