"""The pages put together: where each stands, what guards them, and what is said where there is none."""

from collections.abc import Collection
from pathlib import Path

from flask import Flask
from jinja2 import StrictUndefined

from provenance.errors import ProvenanceError, UnknownRecordError
from provenance.tasks.living import Living
from provenance.web import (
    copies_pages,
    first_page,
    fitting_pages,
    machine_pages,
    panel_pages,
    search_page,
    source_pages,
    tiles,
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
)


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
    guard(app, names, token)
    for module in _PAGES:
        app.register_blueprint(module.pages)
    app.register_error_handler(404, lambda _: failed("There is no such page", "look for it by searching", 404))
    app.register_error_handler(405, lambda _: failed("That cannot be done here", "go back to the page before", 405))
    app.register_error_handler(UnknownRecordError, lambda error: failed(error.what, error.mend, 404))
    app.register_error_handler(ProvenanceError, lambda error: failed(error.what, error.mend, 500))
    return app
