"""What becomes of files that are received in the pages: how far it is, and what came of each."""

from dataclasses import dataclass
from enum import StrEnum

from provenance.reports.compared import Compared


class ReceiptState(StrEnum):
    """How far a receipt is."""

    WAITING = "waiting"
    AT_WORK = "at work"
    DONE = "done"
    STOPPED = "stopped"
    FAILED = "failed"


class Fate(StrEnum):
    """What became of a file that was received."""

    COMING = "coming"
    NEW = "new"
    KNOWN = "known"
    UNREAD = "unread"
    REFUSED = "refused"
    LEFT = "left"


@dataclass(frozen=True, slots=True, kw_only=True)
class ReceiptLine:
    """What became of one file.

    Attributes:
        name: that it came under.
        fate: `coming` while that is not known; `left` where the work ended before it was taken in.
        source: the source that holds its bytes; None where none does, or none yet.
        why: what the reader should know; empty where nothing was out of the ordinary.
        pages: how many it has; None where that is not known, or not yet.
        read: how many of them are read; None while the work goes on.
    """

    name: str
    fate: Fate
    source: str | None = None
    why: str = ""
    pages: int | None = None
    read: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Receipt:
    """Files that were received together, and how far the work on them is.

    Attributes:
        id: by which it is asked for.
        by: the id of whoever received them.
        lot: that they came with; empty where none was named.
        folder: of the machine, where they were named so; empty for files that were sent.
        step: what is being done, as the work names its steps; empty before the first and after the last.
        done: how much of the step is done.
        total: of how much; 0 where that is not known yet.
        ahead: how many others are to be done before this one is begun.
        is_stopping: whether somebody has asked for an end that has not come yet.
        lines: one a file, in the order in which they came; empty while the files of a folder are not known.
        pages_read: pages that were read by this work.
        compared: what looks like a copy; None before the end.
        what: why it failed, one sentence; empty where it did not.
        mend: what can be done about it.
    """

    id: str
    state: ReceiptState
    by: str
    lot: str
    folder: str
    step: str = ""
    done: int = 0
    total: int = 0
    ahead: int = 0
    is_stopping: bool = False
    lines: tuple[ReceiptLine, ...] = ()
    pages_read: int = 0
    compared: Compared | None = None
    what: str = ""
    mend: str = ""

    @property
    def has_ended(self) -> bool:
        """Whether nothing more comes of it by itself."""
        return self.state in {ReceiptState.DONE, ReceiptState.STOPPED, ReceiptState.FAILED}

    @property
    def sources(self) -> tuple[str, ...]:
        """The sources that hold what was received, each once, in the order of the files."""
        return tuple(dict.fromkeys(line.source for line in self.lines if line.source is not None))

    def count(self, fate: Fate) -> int:
        """Of how many files that became."""
        return sum(line.fate is fate for line in self.lines)
