"""The first page: what the archive is about, how it stands, and where to ask."""

from flask import Blueprint

from provenance.reports.mark_patterns import bar, swatch
from provenance.reports.overview import Overview, compose_overview
from provenance.tasks.living import Current
from provenance.web.asking import current, shown
from provenance.web.judgeable import why_not_judged

pages = Blueprint("first_page", __name__)

LONGEST = 12
"""How many of each list the first page names; how many more there are is said."""


@pages.get("/")
def first_page() -> str:
    """Say how the archive stands."""
    now = current()
    unjudged = why_not_judged(now)
    overview = now.remembered("overview", lambda: _overview(now, is_judged=not unjudged))
    surest_first = {grade.value: number for grade, number in overview.grades}
    return shown(
        "first.html",
        unjudged=unjudged,
        overview=overview,
        grades_bar=bar("grades", surest_first),
        legend=[(name, number, swatch(f"grades-{name}", name)) for name, number in surest_first.items()],
        most=LONGEST,
    )


def _overview(now: Current, *, is_judged: bool) -> Overview:
    verdicts, flagged = (now.verdicts, now.flagged) if is_judged else ({}, None)
    return compose_overview(now.archive, now.opened.standing, verdicts, flagged)
