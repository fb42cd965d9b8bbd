"""What every page needs: the archive as it stands, and the frame that its words stand in."""

from typing import Any

from flask import Response, current_app, g, make_response, render_template, request
from werkzeug.exceptions import HTTPException

from provenance.errors import ProvenanceError
from provenance.tasks.living import Current, Living

LIVING = "living"
"""Under which name the app keeps the archive."""

PLACES = (
    ("/", "Overview"),
    ("/search", "Search"),
    ("/machine", "The machine"),
    ("/fittings", "Fittings"),
    ("/sources", "Sources"),
    ("/flags", "Flags"),
    ("/next", "What to look for"),
    ("/copies", "Seen before?"),
    ("/panels", "Panels"),
)
"""What stands at the head of every page: address and words."""

WORK = (
    ("/receive", "Receive finds"),
    ("/look", "Look at photographs"),
    ("/queries", "Queries"),
    ("/add", "Add to the records"),
)
"""Beside it: where the records grow."""


def current() -> Current:
    """The archive as it stands for this request, the same one throughout.

    Raises:
        ArchiveError: it cannot be read any more.
    """
    if "archive" not in g:
        living: Living = current_app.extensions[LIVING]
        g.archive = living.now()
    standing: Current = g.archive
    return standing


def current_now() -> Current:
    """The archive with all that was written until this moment, for whoever is about to change a record.

    Raises:
        ArchiveError: it cannot be read any more.
    """
    living: Living = current_app.extensions[LIVING]
    living.look_again()
    g.archive = living.now()
    standing: Current = g.archive
    return standing


def shown(template: str, **values: Any) -> str:
    """A page with its frame: which archive it is of, what takes no part in it, where else one can go."""
    now = current()
    return render_template(
        template,
        archive=now.archive,
        standing=now.opened.standing,
        places=PLACES,
        work=WORK,
        here=request.path,
        **values,
    )


def failed(what: str, mend: str, code: int) -> Response:
    """A page that says what is wrong, and what can be done; with all that was typed, to be sent again."""
    return make_response(
        render_template("failed.html", what=what, mend=mend, places=PLACES, work=WORK, typed=_typed()), code
    )


def _typed() -> list[tuple[str, str]]:
    """The fields of a form of these pages that was sent, with what stood in them; empty where none was."""
    try:
        return list(request.form.items(multi=True)) if request.form.get("token") else []
    except (HTTPException, ProvenanceError, OSError):  # more was sent than is taken, or than there is room for
        return []


def not_found(what: str, mend: str) -> Response:
    """The page that is shown where there is nothing of that name."""
    return failed(what, mend, 404)
