"""Bring an archive of an earlier format up to today's."""

from pathlib import Path

from provenance.reports.kept import Upgraded
from provenance.reports.standing import Standing
from provenance.store.loading import find_archive, load
from provenance.store.locking import archive_lock
from provenance.store.upgrading import upgrade


def upgrade_folder(start: Path) -> Upgraded:
    """Rewrite an archive of an earlier format, step by step; one of today's is left as it is.

    Raises:
        ArchiveNotFoundError: there is no archive.yaml here or in any folder above.
        NewerFormatError: a later version of this tool wrote the archive.
        WriteRefusedError: the archive cannot be written.
    """
    folder = find_archive(start)
    with archive_lock(folder):
        result = upgrade(folder)
    title = load(folder, unsound=True).archive.title
    return Upgraded(standing=Standing(archive=title), before=result.before, after=result.after, written=result.written)
