"""The files that are handed in, digested one by one as they are taken up."""

from collections.abc import Callable, Collection, Container, Iterator, Sequence
from contextlib import suppress
from pathlib import Path
from time import monotonic

from provenance.errors import WriteRefusedError
from provenance.store.derived_leftovers import DERIVED, clean_derived
from provenance.store.fixity import SeenFiles, sha256_of
from provenance.store.locking import archive_lock, is_unfinished

_SECONDS_BETWEEN_SAVES = 30.0


class Incoming:
    """The files of one call, in order, and what is known of each so far.

    What was digested is remembered as it goes: somebody who stops a long call does not wait for it again.

    Attributes:
        files: all of them, in the order in which they are taken up.
        digests: of those that could be read so far, in that order.
        refused: why those that could not be read, or copied in, were left alone.
        new: the file that first came with bytes that the archive does not hold, by their digest.
    """

    def __init__(self, folder: Path, files: Sequence[Path], *, passing: Collection[Path] = ()) -> None:
        """Begin with files of which nothing is known yet.

        Args:
            folder: the archive's folder.
            files: in the order in which they are taken up.
            passing: those that are gone when the call ends: there is no use in remembering them.
        """
        _tidy(folder)
        self.files = files
        self.digests: dict[Path, str] = {}
        self.refused: dict[Path, str] = {}
        self.new: dict[str, Path] = {}
        self._seen = SeenFiles(folder)
        self._passing = passing
        self._next_save = monotonic() + _SECONDS_BETWEEN_SAVES

    def digest_all(self, on_progress: Callable[[str, int, int], None]) -> None:
        """Digest every file before the first is taken up."""
        for done, path in enumerate(self.files, start=1):
            self._digest(path)
            on_progress("comparing", done, len(self.files))

    def take(self, held: Container[str], on_passed_over: Callable[[], None]) -> Iterator[Path]:
        """Take the files up in order, and give each that is the first with its bytes; of the others it is only told.

        Args:
            held: the digests that the archive holds already.
            on_passed_over: told of each file that is not given.
        """
        for path in self.files:
            digest = self.digests.get(path) or self._digest(path)
            if digest and digest not in held and digest not in self.new:
                self.new[digest] = path
                yield path
            else:
                on_passed_over()

    def close(self) -> None:
        """Write down what was digested; where that cannot be, the next call digests again."""
        with suppress(WriteRefusedError):
            self._seen.save()

    def _digest(self, path: Path) -> str:
        """The digest of a file; empty where it cannot be read, and why is noted."""
        if path in self.refused:
            return ""
        try:
            self.digests[path] = sha256_of(path) if path in self._passing else self._seen.digest_of(path)
        except OSError as error:
            self.refused[path] = f"it cannot be read here: {(error.strerror or 'unknown reason').lower()}"
            return ""
        if monotonic() > self._next_save:
            self.close()
            self._next_save = monotonic() + _SECONDS_BETWEEN_SAVES
        return self.digests[path]


def _tidy(folder: Path) -> None:
    """Remove what a call that was killed left behind, also where there is nothing more to register."""
    clean_derived(folder / DERIVED)
    if is_unfinished(folder):
        with suppress(WriteRefusedError), archive_lock(folder):  # another who writes will have removed it
            pass
