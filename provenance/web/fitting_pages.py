"""The pages of the fittings: all of them as a tree, one component, and one feature with all that it rests on."""

from flask import Blueprint, request

from provenance.records.dates import EdtfDate, EdtfError, parse_edtf
from provenance.reports.fitting import Fitting, compose_fitting
from provenance.reports.fittings import Narrowing, compose_fittings
from provenance.rules.cautions import FITNESS
from provenance.rules.grades import Grade
from provenance.tasks.evidence import features_at
from provenance.tasks.living import Current
from provenance.tasks.showing_features import judged_without
from provenance.web.asking import current, shown
from provenance.web.fitting_asking import feature_shown
from provenance.web.fitting_files import files
from provenance.web.fitting_words import FILTERS

pages = Blueprint("fitting_pages", __name__)
pages.register_blueprint(files)
for _name, _filter in FILTERS.items():
    pages.add_app_template_filter(_filter, _name)

OPEN_AT_FIRST = 8
"""How many pieces of evidence stand open on a page; those after them are unfolded by the reader."""


@pages.get("/fittings")
def all_fittings() -> str:
    """Show every component with its features, or those that are asked for."""
    now = current()
    narrowing, said = _narrowing()
    page = request.args.get("page", "1")
    fittings = compose_fittings(
        now.archive,
        now.opened.standing,
        now.verdicts,
        narrowing,
        page=int(page) if page.isdecimal() and len(page) < 9 else 1,
    )
    return shown("fittings.html", fittings=fittings, said=said, asked=narrowing)


def _narrowing() -> tuple[Narrowing, list[tuple[str, str]]]:
    """What is asked for, and what of it could not be understood: what is wrong, and what to do."""
    said = []
    grade, by = request.args.get("grade", ""), request.args.get("needed", "")
    if grade and grade not in list(Grade):
        said.append((f"there is no grade “{grade}”", f"the grades are: {', '.join(Grade)}"))
        grade = ""
    day: EdtfDate | None = None
    if by:
        try:
            day = parse_edtf(by)
        except EdtfError as error:
            said.append((error.what, "write a date such as 2027-03"))
        else:
            if day.latest is None:
                said.append((f"“{by}” has no last day", "write a date such as 2027-03"))
                day = None
    return Narrowing(grade=Grade(grade) if grade else None, text=request.args.get("text", ""), by=day), said


@pages.get("/fittings/<component>")
def one_fitting(component: str) -> str:
    """Show one component with its parts and its features."""
    now = current()
    features_at(now.archive, component)
    fitting = now.remembered(f"fitting {component}", lambda: _fitting(now, component))
    return shown("fitting.html", fitting=fitting, fitness=FITNESS)


def _fitting(now: Current, component: str) -> Fitting:
    raised = now.flagged.flags if now.archive.target else ()
    return compose_fitting(now.archive, now.opened.standing, component, now.verdicts, raised)


@pages.get("/fittings/<component>/<feature>")
def one_feature(component: str, feature: str) -> str:
    """Show one feature with all that it rests on."""
    now = current()
    that = feature_shown(now, f"{component}/{feature}")
    without = request.args.getlist("without")
    what_if = judged_without(now.archive, that.verdict, without) if without else None
    return shown(
        "fitting_feature.html",
        that=that,
        dossier=that.dossier,
        evidence=that.dossier.evidence,
        feature=that.feature,
        verdict=that.verdict,
        what_if=what_if,
        fitness=FITNESS,
        open_at_first=OPEN_AT_FIRST,
    )
