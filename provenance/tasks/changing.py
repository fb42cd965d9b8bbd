"""Change records: a plan is made, looked at as if it were done, and only then written, step by step.

Every writing command goes this way. A plan that would leave a record unsound, or one that names something that is not
there, is refused before anything is written. Steps are ordered so that every prefix of them is a sound archive. Where
somebody else changed one of the files meanwhile, the plan is made anew from what stands there now.
"""

from collections.abc import Callable, Sequence
from contextlib import nullcontext
from dataclasses import dataclass
from pathlib import Path

from provenance.errors import ProvenanceError, Severity, WriteRefusedError
from provenance.records.archive import Archive
from provenance.rules.checks import check_files, check_records
from provenance.store.fixity import sha256_of
from provenance.store.loading import find_archive
from provenance.store.locking import archive_lock
from provenance.store.safe_writing import remove_moved, write_new
from provenance.store.safe_writing import replace as replace_file
from provenance.tasks.opening import Opened, Where, opened_at
from provenance.tasks.plans import (
    ChangedMeanwhileError,
    Move,
    NewRecord,
    NewText,
    Plan,
    RecordEdit,
    ReplacedText,
    Step,
    Write,
    refusal,
)
from provenance.tasks.shown_texts import require_unchanged

__all__ = [
    "Move",
    "NewRecord",
    "NewText",
    "Planner",
    "Preview",
    "RecordEdit",
    "ReplacedText",
    "Step",
    "change",
    "preview",
]

HURRIED = 3
"""How often a plan is made without keeping others waiting; after that they wait until it is written."""
ATTEMPTS = 5

Planner = Callable[[Opened], Sequence[Step]]
"""Makes the plan from the archive as it stands; no steps when there is nothing to do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Preview:
    """A plan as if it were done.

    Attributes:
        after: the archive as it would be.
        writes: the files in the order in which they would be written.
    """

    after: Archive
    writes: tuple[Write, ...]


def preview(opened: Opened, steps: Sequence[Step]) -> Preview:
    """Look at a plan as if it were done; nothing is written.

    Raises:
        UsageRefusedError: a record would be unsound, or would name what is not there; nothing is changed.
        WriteRefusedError: a file cannot be edited without touching the rest, or was written meanwhile.
    """
    plan = Plan(opened.folder, opened.archive, {record.file for record in opened.left_out})
    for step in steps:
        plan.take(step)
    _refuse_new_faults(opened.archive, plan.after, plan.touched, everywhere=bool(plan.gone))
    return Preview(after=plan.after, writes=(*plan.writes.values(), *reversed(plan.gone)))


def change(where: Where, planner: Planner) -> tuple[str, ...]:
    """Make a plan, look at it, and write it; made anew when a file changed meanwhile.

    Args:
        where: the archive's folder, or the archive as it was opened before; what changed since is read first, so that
            a plan is always made from what stands there now.
        planner: makes the plan from the archive as it stands.

    Returns:
        The files that were written, relative to the archive, in that order; without those that were moved away.

    Raises:
        UsageRefusedError: the plan would leave the archive unsound; nothing is changed.
        ChangedUnderneathError: a record says something else than the writer was shown.
        WriteRefusedError: a file cannot be written, or keeps changing; it names what was written before it.
    """
    root = find_archive(where) if isinstance(where, Path) else where.folder
    for attempt in range(ATTEMPTS):
        with archive_lock(root) if attempt >= HURRIED else nullcontext():
            if isinstance(where, Opened):
                require_unchanged(root, where.shown)
            where = opened_at(where)
            written = _attempt(where, planner, is_held=attempt >= HURRIED)
        if written is not None:
            return written
    raise WriteRefusedError("the records kept changing while they were to be written", "try again")


def _attempt(opened: Opened, planner: Planner, *, is_held: bool) -> tuple[str, ...] | None:
    """Make a plan and write it; None where a file changed meanwhile, so that nothing was written."""
    root = opened.folder
    try:
        looked_at = preview(opened, planner(opened))
    except ChangedMeanwhileError:
        return None
    with nullcontext() if is_held else archive_lock(root):
        # Once more: somebody may have written between the first look and the reading that the plan was made from.
        require_unchanged(root, opened.shown)
        if not all(_is_current(root, write) for write in looked_at.writes):
            return None
        _write_all(root, looked_at.writes)
    return tuple(write.file for write in looked_at.writes if write.data is not None)


def _write_all(root: Path, writes: Sequence[Write]) -> None:
    for done, write in enumerate(writes):
        try:
            _write(root, write)
        except ProvenanceError as error:
            error.written = tuple(each.file for each in writes[:done] if each.data is not None)
            raise


def _refuse_new_faults(before: Archive, after: Archive, files: set[str], *, everywhere: bool) -> None:
    """Refuse a plan that brings faults into the files that it writes; old faults of others and notes stop nobody.

    Args:
        before: the archive as it is.
        after: the archive as it would be.
        files: what is written.
        everywhere: whether faults that it brings into other files count too.
    """
    faults = check_records(after) if everywhere else check_files(after, files)
    known = set(check_records(before) if everywhere else check_files(before, files)) if faults else set()
    new = [problem for problem in faults if problem not in known and problem.severity is not Severity.NOTE]
    if new:
        raise refusal(new)


def _is_current(folder: Path, write: Write) -> bool:
    path = folder / write.file
    if write.expected_sha256 is None:
        return not path.exists()
    return path.exists() and sha256_of(path) == write.expected_sha256


def _write(folder: Path, write: Write) -> None:
    path = folder / write.file
    if write.data is None:
        remove_moved(path, expected_sha256=write.expected_sha256 or "", within=folder)
    elif write.expected_sha256 is None:
        write_new(path, write.data, within=folder)
    else:
        replace_file(path, write.data, expected_sha256=write.expected_sha256, within=folder)
