"""What is awaited of a page that is being cut into tiles: by those who look at it, of the one who cuts it."""

import threading
import time
from dataclasses import dataclass
from pathlib import Path

from provenance.errors import ProvenanceError
from provenance.pages.tile_files import TileFile


@dataclass(frozen=True, slots=True)
class PagePlace:
    """A page of a file."""

    path: Path
    media_type: str
    sha256: str
    page: int


class AwaitedTiles:
    """The tiles of one page that is being cut, or could not be.

    Attributes:
        changed: told whenever a part is there, or nothing more comes; it guards the rest.
        asked: the parts that somebody waits for, the last asked for at the end.
        files: what came.
        is_over: nothing more comes.
        why: what is wrong with the page, in words that end a sentence; empty for nothing.
        tried_again: from when on a page that failed is tried again, by the clock of the machine; None for at once.
        error: what stopped the work, which may be tried again at once.
    """

    def __init__(self) -> None:
        """Await nothing yet."""
        self.changed = threading.Condition()
        self.asked: list[str] = []
        self.files: dict[str, TileFile] = {}
        self.is_over = False
        self.why = ""
        self.tried_again: float | None = None
        self.error: ProvenanceError | None = None

    @property
    def is_to_be_tried(self) -> bool:
        """Whether a page that failed is to be tried again."""
        return self.is_over and (self.tried_again is None or time.monotonic() >= self.tried_again)

    def wait_for(self, part: str) -> TileFile | None:
        """Ask for a part, and wait until it is there; None where nothing more comes."""
        with self.changed:
            self.asked.append(part)
            self.changed.wait_for(lambda: part in self.files or self.is_over)
            return self.files.get(part)

    def give(self, part: str, file: TileFile) -> None:
        """Have a part for all who wait for it."""
        with self.changed:
            self.files[part] = file
            self.asked = [each for each in self.asked if each != part]
            self.changed.notify_all()

    def lose(self, part: str) -> None:
        """Have a part no more, which turned out to be damaged."""
        with self.changed:
            self.files.pop(part, None)

    def end(self) -> None:
        """Leave nobody waiting."""
        with self.changed:
            self.is_over = True
            self.changed.notify_all()
