"""Files taken in while the pages go on being answered: one work at a time, told as it goes, stopped when asked."""

import logging
import secrets
import threading
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from queue import SimpleQueue

from provenance.errors import ProvenanceError, UnknownRecordError, UsageRefusedError
from provenance.reports.ingested import Ingested, IngestedFile, IngestState
from provenance.reports.receipts import Fate, Receipt, ReceiptLine, ReceiptState
from provenance.store.naming import received_name
from provenance.tasks.arriving import ArrivedFile, Tray
from provenance.tasks.batches import Batch
from provenance.tasks.ingest import ingest
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.receiving import Received, ReceivedState, held_digests, require_sayable

_MOST_KEPT = 200
_FATES = {
    IngestState.REGISTERED: Fate.NEW,
    IngestState.KNOWN: Fate.KNOWN,
    IngestState.UNREAD: Fate.UNREAD,
    IngestState.REFUSED: Fate.REFUSED,
}
_BEGUN = (
    "What was handed in is here, and is being taken in. You may close this page: the work goes on, and stands under "
    "“Receive finds”."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """What is to be taken in, by whom and on which day.

    Attributes:
        arrived: files that were sent; empty where a folder is named, or sources whose reading is to go on.
        paths: what is handed to `ingest`.
        folder: of the machine, as it was named; empty for none.
        batch: what is said of all of it.
        by: an id of `people`.
        today: the date that the records carry.
    """

    paths: tuple[Path, ...]
    batch: Batch
    by: str
    today: str
    arrived: tuple[ArrivedFile, ...] = ()
    folder: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Begun:
    """A work that was begun.

    Attributes:
        receipt: by which it is asked for.
        said: sentences for whoever began it.
        written: empty: nothing is written yet.
    """

    receipt: str
    said: tuple[str, ...] = (_BEGUN,)
    written: tuple[str, ...] = ()


class _StoppedError(Exception):
    """Somebody asked for the end."""


@dataclass(slots=True, kw_only=True)
class _Job:
    """One work, as it goes."""

    order: Order
    tray: Tray | None
    receipt: Receipt
    stop: threading.Event = field(default_factory=threading.Event)


class ReceivingJobs:
    """The works of one server, one after the other in a thread of its own; what came of the last is kept in memory."""

    def __init__(self, folder: Path) -> None:
        """Begin with none.

        Args:
            folder: the archive's.
        """
        self.folder = folder
        self._jobs: dict[str, _Job] = {}
        self._waiting: SimpleQueue[_Job | None] = SimpleQueue()
        self._lock = threading.Lock()
        self._thread: threading.Thread | None = None
        self._has_ended = False

    def begin(self, opened: Opened, order: Order, tray: Tray | None = None) -> Begun:
        """Take in what is ordered as soon as what was ordered before it is done.

        Args:
            opened: the archive; what it holds already is told at once.
            order: what is to be taken in.
            tray: in which the files lie; it is taken away at the end, however that comes.

        Raises:
            UsageRefusedError: nothing is handed in, or what is said of it cannot be; the tray is left as it is.
        """
        if not order.paths:
            raise UsageRefusedError("no file was chosen", "choose files, or drop them on the page")
        require_sayable(opened, order.batch, by=order.by, today=order.today)
        job = _Job(order=order, tray=tray, receipt=_begun(opened, order))
        with self._lock:
            if self._has_ended:
                raise UsageRefusedError("the pages are being stopped", "start them again, then hand the files in")
            self._jobs[job.receipt.id] = job
            self._forget_old()
            self._waiting.put(job)
            if self._thread is None:
                # It ends with the process whatever it is at: nothing that it writes is ever half there.
                self._thread = threading.Thread(target=self._work, name="receiving", daemon=True)
                self._thread.start()
        return Begun(receipt=job.receipt.id)

    def go_on(self, opened: Opened, receipt_id: str, *, by: str, today: str) -> Begun:
        """Go on with the reading of what was registered before a work ended early.

        Raises:
            UnknownRecordError: no such work is known.
            UsageRefusedError: nothing was registered by it.
        """
        receipt = self.receipt(receipt_id)
        if receipt is None:
            raise UnknownRecordError(f"nothing is known of the receipt {receipt_id}", "begin it anew")
        sources = [opened.archive.sources[each] for each in receipt.sources if each in opened.archive.sources]
        names = {
            opened.folder / file.path: file.received_as or Path(file.path).name
            for source in sources
            for file in source.files
            if (opened.folder / file.path).is_file()
        }
        if not names:
            raise UsageRefusedError("nothing was taken in that could be read on", "hand the files in again")
        return self.begin(opened, Order(paths=tuple(names), batch=Batch(names=names), by=by, today=today))

    def receipt(self, receipt_id: str) -> Receipt | None:
        """How far a work is; None where none of that name is known, or no longer."""
        with self._lock:
            job = self._jobs.get(receipt_id)
            return self._as_it_is(job) if job is not None else None

    def receipts(self) -> tuple[Receipt, ...]:
        """All works that are known, the newest first."""
        with self._lock:
            return tuple(self._as_it_is(job) for job in reversed(self._jobs.values()))

    def stop(self, receipt_id: str) -> None:
        """Ask for the end of a work; what is registered by then stays. One that has ended, or is unknown, stays so."""
        with self._lock:
            job = self._jobs.get(receipt_id)
        if job is None:
            return
        job.stop.set()
        if self._take_up(job):
            self._end(job, {"state": ReceiptState.STOPPED})

    def end(self, *, patience: float) -> None:
        """End all work and take away what still lies in trays; for a server that is being stopped.

        Args:
            patience: how many seconds to wait for the end of what is under way; what has not ended then ends with the
                process.
        """
        with self._lock:
            self._has_ended = True
            jobs, thread = tuple(self._jobs.values()), self._thread
        for job in jobs:
            self.stop(job.receipt.id)
        if thread is not None:
            self._waiting.put(None)
            thread.join(patience)

    def _work(self) -> None:
        while (job := self._waiting.get()) is not None:
            if self._take_up(job):
                self._end(job, self._carry_out(job))

    def _take_up(self, job: _Job) -> bool:
        """Whether a work is still to be done; whoever is told so carries it out or ends it, and nobody else does."""
        with self._lock:
            is_waiting = job.receipt.state is ReceiptState.WAITING
            if is_waiting:
                job.receipt = replace(job.receipt, state=ReceiptState.AT_WORK)
            return is_waiting

    def _carry_out(self, job: _Job) -> Mapping[str, object]:
        """Take in what is ordered; how it ended comes back, as fields of its receipt."""
        try:
            done = self._taken_in(job)
        except _StoppedError:
            return {"state": ReceiptState.STOPPED}
        except ProvenanceError as error:
            return {"state": ReceiptState.FAILED, "what": error.what, "mend": error.mend}
        except Exception as error:  # the next work is carried out all the same
            logging.getLogger(__name__).exception("taking in broke off")
            what = f"it broke off by a fault of this program: {type(error).__name__}: {error}"
            mend = "what was registered stays; send the lines in the terminal of the server to whoever looks after it"
            return {"state": ReceiptState.FAILED, "what": what, "mend": mend}
        lines = tuple(_as_ended(file) for file in done.files)
        return {
            "state": ReceiptState.DONE,
            "lines": lines,
            "pages_read": done.pages_read,
            "compared": done.compared,
        }

    def _taken_in(self, job: _Job) -> Ingested:
        def tell(step: str, done: int, total: int) -> None:
            if job.stop.is_set():
                raise _StoppedError
            self._change(job, {"step": step, "done": done, "total": total})

        def hear(received: Sequence[Received]) -> None:
            self._change(job, {"lines": tuple(_as_received(each) for each in received)})

        order = job.order
        return ingest(
            open_folder(self.folder),
            order.paths,
            by=order.by,
            today=order.today,
            batch=order.batch,
            on_progress=tell,
            on_received=hear,
        )

    def _end(self, job: _Job, ended: Mapping[str, object]) -> None:
        """Take the files away that were sent, and say of each what became of it where the work ended early."""
        if job.tray is not None:
            job.tray.close()
        lines = job.receipt.lines
        if any(line.fate is Fate.COMING for line in lines):
            lines = self._left(job)
        self._change(job, {"step": "", "done": 0, "total": 0, "lines": lines, **ended})

    def _left(self, job: _Job) -> tuple[ReceiptLine, ...]:
        try:
            held = held_digests(open_folder(self.folder))
        except ProvenanceError:  # the archive itself cannot be read any more; the work has said so
            held = {}
        left = "it was not taken in: hand it in again"
        return tuple(
            replace(line, fate=Fate.NEW, source=held[file.sha256])
            if line.fate is Fate.COMING and file.sha256 in held
            else replace(line, fate=Fate.LEFT, why=left)
            if line.fate is Fate.COMING
            else line
            for line, file in zip(job.receipt.lines, job.order.arrived, strict=True)
        )

    def _change(self, job: _Job, changed: Mapping[str, object]) -> None:
        """Note how far a work is, by fields of its receipt."""
        with self._lock:
            job.receipt = replace(job.receipt, **changed)  # type: ignore[arg-type]  # the names are those of its fields

    def _as_it_is(self, job: _Job) -> Receipt:
        """How far a work is, with how many are before it."""
        jobs: Iterable[_Job] = self._jobs.values()
        before = [each for each in jobs if not each.receipt.has_ended]
        ahead = before.index(job) if job.receipt.state is ReceiptState.WAITING and job in before else 0
        is_stopping = job.stop.is_set() and not job.receipt.has_ended
        return replace(job.receipt, ahead=ahead, is_stopping=is_stopping)

    def _forget_old(self) -> None:
        ended = [job.receipt.id for job in self._jobs.values() if job.receipt.has_ended]
        for each in ended[: max(0, len(self._jobs) - _MOST_KEPT)]:
            del self._jobs[each]


def _begun(opened: Opened, order: Order) -> Receipt:
    held = held_digests(opened)
    return Receipt(
        id=secrets.token_urlsafe(9),
        state=ReceiptState.WAITING,
        by=order.by,
        lot=order.batch.lot or "",
        folder=order.folder,
        lines=tuple(_as_arrived(file, held.get(file.sha256)) for file in order.arrived),
    )


def _as_arrived(file: ArrivedFile, holder: str | None) -> ReceiptLine:
    name = received_name(file.name)
    return ReceiptLine(name=name, fate=Fate.COMING if holder is None else Fate.KNOWN, source=holder)


def _as_received(item: Received) -> ReceiptLine:
    fates = {ReceivedState.NEW: Fate.NEW, ReceivedState.KNOWN: Fate.KNOWN, ReceivedState.REFUSED: Fate.REFUSED}
    fate = Fate.UNREAD if item.unreadable else fates[item.state]
    why = "; ".join(part for part in (item.unreadable, item.why) if part)
    return ReceiptLine(name=item.path, fate=fate, source=item.source, why=why)


def _as_ended(file: IngestedFile) -> ReceiptLine:
    return ReceiptLine(
        name=file.path,
        fate=_FATES[file.state],
        source=file.source,
        why=file.why,
        pages=file.pages,
        read=file.read,
    )
