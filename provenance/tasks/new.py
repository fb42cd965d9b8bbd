"""Begin an archive."""

from pathlib import Path

from provenance.errors import UsageRefusedError
from provenance.reports.kept import Begun
from provenance.reports.standing import Standing
from provenance.store.new_archive import make_archive
from provenance.store.record_kinds import is_record_id


def begin(folder: Path, *, title: str, by: str, name: str | None) -> Begun:
    """Make a new archive in a folder that does not exist yet or is empty.

    Args:
        folder: where.
        title: the archive's title.
        by: the id of the first of its people.
        name: that person's name; None to take the id.

    Raises:
        UsageRefusedError: nobody can have that id.
        WriteRefusedError: the folder holds something already, or cannot be written.
    """
    if not is_record_id(by):
        raise UsageRefusedError(
            f"`{by}` cannot be the id of a person",
            "write small letters, digits and hyphens, such as the initials: `mh`",
        )
    written = make_archive(folder, title=title, by=by, name=name)
    return Begun(standing=Standing(archive=title), folder=str(folder), written=written)
