"""Files that a form brings: written on the disk of the archive as they come, and nowhere else."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import IO, cast

from flask import Flask, Request, current_app, request

from provenance.errors import UsageRefusedError
from provenance.tasks.arriving import (
    Arrivals,
    ArrivedFile,
    ArrivingFile,
    NoRoomError,
    TooMuchError,
    Tray,
    require_room,
    too_much,
)
from provenance.tasks.living import Living
from provenance.tasks.receiving_jobs import ReceivingJobs
from provenance.web.asking import LIVING, failed
from provenance.web.large_requests import MOST_BYTES_SENT

_ARRIVALS = "arrivals"
_JOBS = "receiving"
_FOLDERS = "takes folders"
_SECONDS_TO_END = 10.0
_MOST_FILES = 2000


class FilesRequest(Request):
    """A request that may bring files.

    Attributes:
        tray: where they are written; None where the page takes none.
    """

    tray: Tray | None = None

    def _get_file_stream(
        self,
        total_content_length: int | None,
        content_type: str | None,
        filename: str | None = None,
        content_length: int | None = None,
    ) -> IO[bytes]:
        if self.tray is None:
            return super()._get_file_stream(total_content_length, content_type, filename, content_length)
        return self.tray.begin(filename or "")


def prepare(app: Flask, *, takes_folders: bool) -> None:
    """Give the pages what they need to take files in; what a stopped server left behind is taken away.

    Args:
        app: the pages.
        takes_folders: whether somebody may name a folder of this machine to be taken in. That would let whoever can
            write in the pages read any file that the server can, so it is for pages that this machine alone can reach.
    """
    living: Living = app.extensions[LIVING]
    app.request_class = FilesRequest
    app.extensions[_ARRIVALS] = Arrivals(living.folder)
    app.extensions[_JOBS] = ReceivingJobs(living.folder)
    app.extensions[_FOLDERS] = takes_folders
    app.register_error_handler(UsageRefusedError, lambda error: failed(error.what, error.mend, 400))
    app.register_error_handler(TooMuchError, lambda error: failed(error.what, error.mend, 413))
    app.register_error_handler(NoRoomError, lambda error: failed(error.what, error.mend, 507))


def arrivals() -> Arrivals:
    """What has arrived for receipts that nobody has sent off yet."""
    return arrivals_of(current_app)


def jobs() -> ReceivingJobs:
    """The works by which files are taken in."""
    kept: ReceivingJobs = current_app.extensions[_JOBS]
    return kept


def takes_folders() -> bool:
    """Whether somebody may name a folder of this machine to be taken in."""
    return bool(current_app.extensions[_FOLDERS])


def arrivals_of(app: Flask) -> Arrivals:
    """The same of an app that answers nobody at the moment."""
    waiting: Arrivals = app.extensions[_ARRIVALS]
    return waiting


def end(app: Flask) -> None:
    """End what is being taken in, and take away what was sent for it; for a server that is being stopped."""
    ending: ReceivingJobs = app.extensions[_JOBS]
    ending.end(patience=_SECONDS_TO_END)
    arrivals_of(app).close()


@contextmanager
def received_file(field: str) -> Iterator[ArrivedFile | None]:
    """One file of a form; None where none was chosen. It is gone when the block ends.

    To be asked for before anything of the form is read.

    Args:
        field: the name of the form's field.

    Raises:
        TooMuchError: more was sent than is taken at a time.
        NoRoomError: the disk of the archive is full.
        UsageRefusedError: the file has no name.
    """
    with Tray(arrivals().folder) as tray:
        receive_into(tray)
        yield next(iter(keep_files(tray, field)), None)


def receive_into(tray: Tray) -> None:
    """Have the files of this request written into a tray; before anything of its form is read.

    Raises:
        TooMuchError: more is sent than is taken at a time.
        NoRoomError: the disk of the archive has no room for it.
    """
    size = request.content_length or 0
    if size > MOST_BYTES_SENT:
        raise too_much()
    require_room(tray.path, size)
    request.max_content_length = MOST_BYTES_SENT
    request.max_form_parts = _MOST_FILES
    cast("FilesRequest", request).tray = tray


def keep_files(tray: Tray, field: str) -> tuple[ArrivedFile, ...]:
    """Count the files of a field among those that are here, in the order in which they were chosen.

    Raises:
        UsageRefusedError: one has no name.
    """
    sent = [each.stream for each in request.files.getlist(field)]
    return tuple(tray.keep(file) for file in sent if isinstance(file, ArrivingFile) and file.came_as)
