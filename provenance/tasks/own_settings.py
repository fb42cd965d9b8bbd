"""What one person set for this archive on this machine."""

from pathlib import Path

from provenance.store.loading import find_archive
from provenance.store.local_settings import read_local_settings


def writes_here(start: Path) -> str | None:
    """Name who writes by the local settings of the archive that a folder lies in; None where they do not say.

    Raises:
        ArchiveNotFoundError: there is no archive.yaml here or in any folder above.
        UsageRefusedError: the settings are no sound YAML.
    """
    return read_local_settings(find_archive(start)).get("by")
