"""Name every fault of an archive in one run."""

from collections.abc import Callable
from pathlib import Path

from provenance.errors import Place, Problem, Severity, sort_problems
from provenance.reports.checked import Checked
from provenance.reports.standing import LeftOut, Standing
from provenance.rules.checks import check_records
from provenance.store.fixity import FixityFinding, FixityState, check_fixity
from provenance.store.loading import find_archive, load, locate_all
from provenance.store.record_kinds import RecordKind
from provenance.store.transcripts import check_transcripts
from provenance.tasks.recordings import check_recordings

_RESTORE = "bring back the original from a copy; never record a new digest for a damaged file"
_RULES = {
    FixityState.CHANGED: "fixity-broken",
    FixityState.WRONG_SIZE: "fixity-broken",
    FixityState.UNREADABLE: "fixity-broken",
    FixityState.NOT_HERE: "not-here",
}
_MENDS = {
    FixityState.CHANGED: _RESTORE,
    FixityState.WRONG_SIZE: _RESTORE,
    FixityState.UNREADABLE: "see who may read the file, and whether the disk is well",
    FixityState.NOT_HERE: "fetch it when it is to be read; all else works without it",
}


def check_folder(
    start: Path, *, fixity: bool = False, on_progress: Callable[[int, int], None] | None = None
) -> Checked:
    """Check every record, every reference from one to another, and the originals.

    Args:
        start: a folder in the archive.
        fixity: read every original and compare its digest; without it they are only looked for.
        on_progress: told how many originals are done, and of how many.

    Raises:
        ArchiveNotFoundError: there is no archive.yaml here or in any folder above.
    """
    folder = find_archive(start)
    loaded = load(folder, unsound=True)
    sources = loaded.archive.sources
    originals = check_fixity(folder, sources.values(), read=fixity, on_progress=on_progress)
    problems = [*loaded.problems, *(_as_problem(finding) for finding in originals if finding.state in _RULES)]
    if loaded.archive_is_sound:
        problems += check_records(loaded.archive, unreadable=frozenset(loaded.left_out))
        problems += check_transcripts(folder, sources)
        problems += check_recordings(folder, sources)
    left_out = tuple(LeftOut(file=file, why="it cannot be read") for file in loaded.left_out)
    return Checked(
        standing=Standing(archive=loaded.archive.title, left_out=left_out),
        problems=sort_problems(locate_all(folder, tuple(problems))),
        records=loaded.records,
        files_checked=loaded.files_checked + len(originals),
        digests_compared=fixity,
    )


def _as_problem(finding: FixityFinding) -> Problem:
    return Problem(
        place=Place(file=RecordKind.SOURCE.file_of(finding.source), field="files"),
        rule=_RULES[finding.state],
        what=f"{finding.path}: {finding.why}",
        mend=_MENDS[finding.state],
        severity=Severity.NOTE if finding.state is FixityState.NOT_HERE else Severity.ERROR,
    )
