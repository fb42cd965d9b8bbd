"""Opening an index, after every byte of it was compared with its manifest."""

from bisect import bisect_right
from collections.abc import Callable, Mapping
from types import TracebackType
from typing import Any, Self

from whoosh.index import EmptyIndexError, open_dir

from provenance.errors import DerivedDataError
from provenance.search import manifest
from provenance.search.manifest import IndexPlace
from provenance.search.weighting import Collection, Weighting

_TRIES = 3


class Index:
    """An opened index; it goes on answering as it was, even when a newer one takes its place on the disk."""

    def __init__(self, found: manifest.Manifest, opened: Any) -> None:
        """Take an index that `open_verified` has compared with its manifest."""
        self._manifest = found
        self._opened = opened
        self._columns: dict[str, Callable[[int], Any]] = {}
        count = len(found.entries)
        total = sum(written.length for written in found.entries.values())
        collection = Collection(entries=count, average=total / count if total else 1.0)
        self._searcher = opened.searcher(weighting=Weighting(collection))

    @property
    def entries(self) -> Mapping[str, str]:
        """The digest of every entry, by key: what to compare with the archive to see whether the index is stale."""
        return {key: written.digest for key, written in self._manifest.entries.items()}

    @property
    def size(self) -> int:
        """How many entries it holds."""
        return len(self._manifest.entries)

    @property
    def searcher(self) -> Any:
        """Whoosh's searcher over the whole index, ranking by our own formula."""
        return self._searcher

    def column(self, name: str) -> Callable[[int], Any]:
        """Give a function from Whoosh's number of a document to the value of this column, which is opened once."""
        if name not in self._columns:
            self._columns[name] = self._open_column(name)
        return self._columns[name]

    def _open_column(self, name: str) -> Callable[[int], Any]:
        leaves = [(leaf, offset) for leaf, offset in self._searcher.reader().leaf_readers() if leaf.doc_count_all()]
        offsets = [offset for _, offset in leaves]
        readers = [leaf.column_reader(name, translate=False) for leaf, _ in leaves]

        def value(document: int) -> Any:
            leaf = bisect_right(offsets, document) - 1
            return readers[leaf][document - offsets[leaf]]

        return value

    def close(self) -> None:
        """Let go of the files."""
        self._searcher.close()
        self._opened.close()

    def __enter__(self) -> Self:
        """Give the index itself."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Let go of the files."""
        self.close()


def open_verified(place: IndexPlace) -> Index:
    """Open the index in a place.

    Where a builder puts another index in its place meanwhile, that one is opened.

    Raises:
        DerivedDataError: there is none, a file of it is not as it was written, its owner is somebody else, or it is
            of another version.
    """
    for _ in range(_TRIES):
        found = manifest.read(place)
        try:
            manifest.verify(place, found)
            return Index(found, open_dir(str(manifest.folder_of(place, found)), readonly=True))
        except (DerivedDataError, EmptyIndexError, OSError) as fault:
            if manifest.read(place) == found:
                raise DerivedDataError(_what(fault), manifest.MEND) from fault
    raise DerivedDataError("the index is being written again and again", "try again when nothing else writes")


def _what(fault: Exception) -> str:
    return fault.what if isinstance(fault, DerivedDataError) else f"the index cannot be opened ({fault})"
