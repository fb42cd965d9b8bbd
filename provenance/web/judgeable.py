"""Whether an archive can be judged yet, for pages that say so instead of failing."""

from provenance.errors import ArchiveError
from provenance.tasks.living import Current


def why_not_judged(now: Current) -> ArchiveError | None:
    """What stops judgement, with its mend: the archive does not say which machine is represented, or names none.

    None where nothing stops it.
    """
    try:
        _ = now.opened.target
    except ArchiveError as error:
        return error
    return None
