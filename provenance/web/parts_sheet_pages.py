"""A whole parts tree from a sheet: every row is looked over first, and written once somebody has seen it."""

import base64
import binascii
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path, PurePosixPath
from tempfile import TemporaryDirectory

from flask import Blueprint, Response, request

from provenance.errors import UsageRefusedError, WriteRefusedError
from provenance.reports.added import Added, RowState
from provenance.reports.written import Written
from provenance.tasks.parts_sheets import add_sheet, look_over_sheet
from provenance.web.asking import shown
from provenance.web.writing import Refused, Writer, carry_out, look_ahead

pages = Blueprint("parts_sheet_pages", __name__)

_LARGEST_SHEET = 1_000_000
_LONGEST_NAME = 60


@pages.get("/add/sheet")
def show_sheet_form() -> str:
    """The form for a parts tree."""
    return shown("add_sheet.html", added=None, refused=None, sheet=("", ""), row_state=RowState)


@pages.post("/add/sheet")
def add_whole_sheet() -> Response | tuple[str, int]:
    """Look a parts tree over, row by row; write it once that was looked at."""
    try:
        name, data = _sheet_given()
    except UsageRefusedError as error:
        return _looked_over(None, Refused(what=error.what, mend=error.mend, code=400), ("", "")), 400
    held = (name, base64.b64encode(data).decode("ascii"))
    if request.form.get("step") == "write":
        return carry_out(
            lambda writer: _write_sheet(writer, name, data),
            again=lambda refused: _looked_over(None, refused, held),
            to=lambda _: "/fittings",
        )
    added, refused = look_ahead(lambda writer: _look_at_sheet(writer, name, data))
    return _looked_over(added, refused, held), refused.code if refused else 200


def _looked_over(added: Added | None, refused: Refused | None, sheet: tuple[str, str]) -> str:
    return shown("add_sheet.html", added=added, refused=refused, sheet=sheet, row_state=RowState)


def _sheet_given() -> tuple[str, bytes]:
    """The sheet that was chosen just now, else the one that was looked over: its name, and its bytes.

    Raises:
        UsageRefusedError: none was chosen, or it is too large for a page.
    """
    chosen = request.files.get("sheet")
    if chosen is not None and chosen.filename:
        with chosen.stream as stream:
            data = stream.read(_LARGEST_SHEET + 1)
        if len(data) > _LARGEST_SHEET:
            raise UsageRefusedError(
                "the sheet is larger than a page takes", "give it to the command: `provenance add --sheet FILE`"
            )
        return _plain_name(chosen.filename), data
    try:
        kept = base64.b64decode(request.form.get("held", ""), validate=True)
    except binascii.Error as error:
        raise UsageRefusedError("the sheet did not arrive whole", "choose it again") from error
    if not kept:
        raise UsageRefusedError("no sheet was chosen", "choose a .csv or .xlsx file")
    return _plain_name(request.form.get("held-name", "")), kept


def _plain_name(given: str) -> str:
    """The last part of a name, which may not lead elsewhere."""
    name = PurePosixPath(given.replace("\\", "/").replace("\0", "")).name
    # No letter of UTF-8 takes more than four bytes, and no usual file system takes more than 255 of a name.
    return name[-_LONGEST_NAME:] if name not in {"", ".", ".."} else "sheet.csv"


@contextmanager
def _as_file(name: str, data: bytes) -> Iterator[Path]:
    """The sheet as a file of its own name, for as long as it is looked at."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_bytes(data)
        yield path


def _look_at_sheet(writer: Writer, name: str, data: bytes) -> Added:
    with _as_file(name, data) as path:
        return look_over_sheet(writer.opened, path, by=writer.by, today=writer.today)


def _write_sheet(writer: Writer, name: str, data: bytes) -> Written:
    with _as_file(name, data) as path:
        added = add_sheet(writer.opened, path, by=writer.by, today=writer.today)
    if added.has_refused:
        raise WriteRefusedError("a row of the sheet is refused by now", "look at the rows again")
    return added.written
