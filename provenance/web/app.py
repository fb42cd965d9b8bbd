"""The pages put together: where each stands, what guards them, and what is said where there is none."""

from collections.abc import Collection
from pathlib import Path

from flask import Flask
from jinja2 import StrictUndefined

from provenance.errors import ProvenanceError, UnknownRecordError
from provenance.tasks.living import Living
from provenance.web import (
    adding_pages,
    claiming_pages,
    copies_pages,
    correcting_pages,
    deciding_pages,
    first_page,
    fitting_pages,
    looking_pages,
    machine_pages,
    making_pages,
    panel_pages,
    parts_sheet_pages,
    query_pages,
    received_files,
    receiving_pages,
    ruling_pages,
    search_page,
    source_pages,
    tagging_pages,
    tiles,
    withdrawing_pages,
    writing,
)
from provenance.web.asking import LIVING, failed
from provenance.web.safety import guard
from provenance.web.wording import FILTERS

LOCAL = ("127.0.0.1", "localhost")
"""The names by which a browser on this machine may ask for the pages."""

_PAGES = (
    first_page,
    search_page,
    source_pages,
    tiles,
    fitting_pages,
    machine_pages,
    copies_pages,
    panel_pages,
    query_pages,
    adding_pages,
    parts_sheet_pages,
    claiming_pages,
    correcting_pages,
    deciding_pages,
    making_pages,
    withdrawing_pages,
    ruling_pages,
    looking_pages,
    receiving_pages,
    tagging_pages,
)
_LARGE = "send fewer at a time; large files are taken in from a folder, or by `provenance ingest`"
_OURS = "look first whether it was written after all, then send it again; whoever keeps this tool should know of it"
_MOST_TYPED = 2_000_000
"""So many bytes may a form have whose page does not say otherwise: what a person types is far from it."""


def create_app(folder: Path, *, names: Collection[str] = LOCAL, token: str | None = None) -> Flask:
    """Make the pages of an archive.

    Args:
        folder: the archive's folder, or one inside it.
        names: the names of this machine by which the pages may be asked for.
        token: what a browser has to show before it is given anything; None where it need not.

    Raises:
        ArchiveError: the archive cannot be read.
    """
    app = Flask("provenance.web", static_folder="static", template_folder="templates")
    app.extensions[LIVING] = Living(folder)
    app.jinja_env.undefined = StrictUndefined
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    app.jinja_env.filters.update(FILTERS)
    app.config["MAX_CONTENT_LENGTH"] = app.config["MAX_FORM_MEMORY_SIZE"] = _MOST_TYPED
    guard(app, names, token)
    writing.prepare(app)
    received_files.prepare(app, takes_folders=token is None)
    for module in _PAGES:
        app.register_blueprint(module.pages)
    app.register_error_handler(404, lambda _: failed("There is no such page", "look for it by searching", 404))
    app.register_error_handler(413, lambda _: failed("That is more than these pages take at a time", _LARGE, 413))
    app.register_error_handler(405, lambda _: failed("That cannot be done here", "go back to the page before", 405))
    app.register_error_handler(UnknownRecordError, lambda error: failed(error.what, error.mend, 404))
    app.register_error_handler(ProvenanceError, lambda error: failed(error.what, error.mend, 500))
    app.register_error_handler(500, lambda _: failed("These pages made a mistake, not you", _OURS, 500))
    return app
