"""The first page: what the archive is about, how it stands, and where to ask."""

from flask import Blueprint

from provenance.reports.overview import compose_overview
from provenance.web.asking import current, shown

pages = Blueprint("first_page", __name__)


@pages.get("/")
def first_page() -> str:
    """Say how the archive stands."""
    now = current()
    overview = now.remembered(
        "overview", lambda: compose_overview(now.archive, now.opened.standing, now.verdicts, now.flagged)
    )
    return shown("first.html", overview=overview)
