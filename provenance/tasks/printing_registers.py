"""Print the register of sources, or of features, as the public may read it; no record is changed by that."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from provenance.errors import ArchiveError
from provenance.records.dates import Day, parse_edtf
from provenance.records.kinds import Access
from provenance.reports.registered import Registered, askings
from provenance.reports.registers import Occasion, Register
from provenance.reports.registers_document import register_document
from provenance.reports.registers_features import compose_feature_register
from provenance.reports.registers_sheets import register_csv
from provenance.reports.registers_sources import compose_source_register
from provenance.reports.registers_workbook import register_workbook
from provenance.rules.clearance import access_on
from provenance.rules.public_values import PublicArchive
from provenance.tasks.going_public import day_of, through_the_door
from provenance.tasks.opening import Opened, open_folder
from provenance.tasks.output_files import format_of, require_place, write_output
from provenance.tasks.printing_documents import printed

SOURCES, FEATURES = "sources", "features"
WHICH = (SOURCES, FEATURES)
FORMATS = ("html", "pdf", "csv", "xlsx")

Progress = Callable[[str, int, int], None]


def _not_told(_what: str, _done: int, _all: int) -> None:
    """Nobody is told how far it is."""


def print_register(
    folder: Path,
    which: str,
    output: Path,
    *,
    day: str,
    draft: bool,
    on_progress: Progress = _not_told,
) -> Registered:
    """Write a register to a file.

    Rights that are not cleared do not stop it, since it shows nothing of a source; the answer says whom to ask.

    Args:
        folder: the archive's folder, or one inside it.
        which: `sources` or `features`.
        output: a file that ends in one of the formats; an earlier one of that name is replaced.
        day: the day that it carries, on which closures and permissions are looked at.
        draft: whether it is marked as a draft; then it may be of an archive that is not whole.
        on_progress: told what is being done, how much of it is done, and of how much.

    Raises:
        ArchiveError: features were asked for, and the archive does not say what it represents.
        UsageRefusedError: no such format, no single day, or a place where nothing may be written.
        WriteRefusedError: the archive is not whole, or the disk refuses.
    """
    wanted = format_of(output, FORMATS)
    _ = day_of(day)
    opened = open_folder(folder)
    require_place(output, opened.folder)
    data, registered = make_register(opened, which, wanted, day=day, draft=draft, on_progress=on_progress)
    write_output(output, data)
    return replace(registered, output=str(output))


def make_register(
    opened: Opened, which: str, wanted: str, *, day: str, draft: bool, on_progress: Progress = _not_told
) -> tuple[bytes, Registered]:
    """Make a register, and write it nowhere.

    Args:
        opened: the archive.
        which: `sources` or `features`.
        wanted: one of the formats.
        day: as of `print_register`, and so are the next two.
        draft: whether it is marked as a draft.
        on_progress: told how far it is.

    Returns:
        The bytes of the file, and the answer without a name of a file.

    Raises:
        ArchiveError: features were asked for, and the archive does not say what it represents.
        UsageRefusedError: no single day.
        WriteRefusedError: the archive is not whole.
    """
    when = day_of(day)
    judged = which == FEATURES or _can_be_judged(opened)
    view = through_the_door(opened, when, draft=draft, judged=judged)
    occasion = Occasion(
        printed=parse_edtf(day),
        draft=draft,
        held_privately=_held_privately(opened, when),
        left_out=len(opened.left_out),
    )
    register = _composed(view, which, occasion, judged=judged)
    data, cut = _written(opened, register, wanted, on_progress)
    return data, Registered(
        standing=opened.standing,
        which=which,
        output="",
        rows=len(register.rows),
        held_privately=occasion.held_privately,
        draft=draft,
        askings=askings(view.not_cleared.values()) if which == SOURCES else (),
        said=_said(cut),
    )


def _can_be_judged(opened: Opened) -> bool:
    try:
        _ = opened.target
    except ArchiveError:
        return False
    return True


def _held_privately(opened: Opened, day: Day) -> int:
    """How many sources are the team's on a day; of what is closed or was withdrawn not even the number is told."""
    sources = opened.archive.sources.values()
    return sum(each.withdrawn is None and access_on(each, day) is Access.TEAM for each in sources)


def _composed(view: PublicArchive, which: str, occasion: Occasion, *, judged: bool) -> Register:
    if which == FEATURES:
        return compose_feature_register(view, occasion)
    return compose_source_register(view, occasion, judged=judged)


def _written(opened: Opened, register: Register, wanted: str, on_progress: Progress) -> tuple[bytes, int]:
    """The bytes of the file, and how many cells had to be cut."""
    if wanted == "csv":
        return register_csv(register).encode(), 0
    if wanted == "xlsx":
        workbook = register_workbook(register)
        return workbook.data, workbook.cut
    return printed(opened, register_document(register), wanted, on_progress=on_progress), 0


def _said(cut: int) -> tuple[str, ...]:
    if not cut:
        return ()
    cells = "One cell was" if cut == 1 else f"{cut} cells were"
    return (f"{cells} too long for a workbook and cut there, which is said in it; a `.csv` holds it whole.",)
