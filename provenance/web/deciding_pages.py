"""Deciding what to build for a feature, and a decision with its release."""

from flask import Blueprint, Response, request, url_for

from provenance.errors import UsageRefusedError
from provenance.records.decisions import Decision
from provenance.reports.appendix_words import REASONS
from provenance.reports.decision_shown import compose_decision_shown
from provenance.reports.to_decide import ToDecide, compose_to_decide, value_words
from provenance.reports.tried import Tried
from provenance.rules.cautions import FITNESS
from provenance.tasks.deciding import Choice, decide, in_force, release, try_decide, try_release
from provenance.web.asking import current, not_found, shown
from provenance.web.fitting_asking import feature_shown
from provenance.web.typed import is_look, look_first, typed
from provenance.web.writing import Refused, before_them, carry_out, look_ahead

pages = Blueprint("deciding_pages", __name__)

DRAWINGS = 3
"""How many drawings the form has room for."""

SET_ASIDE = "set-aside:"
"""What the names of the fields begin with in which it is said why a claim is set aside; its id follows."""

OTHER = "build-other"
"""The field of what is to be built and is not offered."""

_FOLDED = (
    *("tolerance", "stamp", "modern-change", "modern-change-note"),
    *(f"{name}-{number}" for name in ("drawing", "issue") for number in range(1, DRAWINGS + 1)),
)
"""The fields that are folded away while nothing stands in them."""


@pages.get("/fittings/<component>/<feature>/decide")
def decide_on(component: str, feature: str) -> str:
    """Show what stands, and a form to decide."""
    return _page(f"{component}/{feature}", None, None)


@pages.post("/fittings/<component>/<feature>/decide")
def write_decision(component: str, feature: str) -> Response:
    """Write a decision down, or tell what would be said of it."""
    about = f"{component}/{feature}"
    if is_look():
        return look_first(
            lambda writer: try_decide(writer.opened, about, _choice(), by=writer.by, today=writer.today),
            lambda refused, tried: _page(about, refused, tried),
        )
    return carry_out(
        lambda writer: decide(writer.opened, about, _whole(_choice()), by=writer.by, today=writer.today),
        again=lambda refused: _page(about, refused, None),
        to=lambda _: url_for("fitting_pages.one_feature", component=component, feature=feature),
    )


@pages.get("/decisions/<decision_id>")
def show_decision(decision_id: str) -> str | Response:
    """Show a decision, and a form to release it where it is only proposed."""
    return _one(decision_id, None)


@pages.post("/decisions/<decision_id>/release")
def write_release(decision_id: str) -> Response:
    """Release a proposal."""
    return carry_out(
        lambda writer: release(
            writer.opened,
            decision_id,
            by=writer.by,
            today=writer.today,
            seen_in_force=request.form.get("in-force"),
        ),
        again=lambda refused: _one(decision_id, refused),
        to=lambda _: url_for(".show_decision", decision_id=decision_id),
    )


def _page(about: str, refused: Refused | None, tried: Tried | None) -> str:
    that = feature_shown(current(), about)
    before, now = before_them(compose_to_decide(current().archive, that.verdict).files)
    that = feature_shown(now, about)
    stands = compose_to_decide(now.archive, that.verdict)
    chosen = _chosen_build(stands)
    return shown(
        "decide.html",
        that=that,
        verdict=that.verdict,
        stands=stands,
        before=before,
        refused=refused,
        tried=tried,
        fitness=FITNESS,
        chosen=chosen,
        ticked=_ticked(stands, chosen),
        read_back=value_words(that.verdict.asked, build) if (build := typed(OTHER)) else "",
        unfolded={
            "against": any(typed(name) for name in request.form if name.startswith(SET_ASIDE)),
            "more": any(typed(name) for name in _FOLDED),
        },
        reasons=[(reason, words) for reason, words in REASONS.items()],
        drawings=range(1, DRAWINGS + 1),
        said_of_build=lambda decision: value_words(that.verdict.asked, decision.build),
    )


def _chosen_build(stands: ToDecide) -> str:
    """Which of the values offered is chosen: as sent, as the address asks, else what the evidence speaks for."""
    if request.method == "POST":
        return request.form.get("build", "")
    asked = request.args.get("build", "")
    is_offered = any(each.is_called(asked) for each in stands.offered)
    return asked if is_offered else next((each.build for each in stands.offered if each.is_best), "")


def _ticked(stands: ToDecide, chosen: str) -> list[str]:
    """The claims that are ticked: as sent, else those of the value that is chosen which have weight here."""
    if request.method == "POST":
        return request.form.getlist("basis")
    return [claim.id for each in stands.offered if each.is_called(chosen) for claim in each.claims if claim.has_weight]


def _choice() -> Choice:
    listed, other = typed("build"), typed(OTHER)
    if listed and other:
        raise UsageRefusedError(
            f"both “{listed}” and “{other}” are given to be built", "choose one that is listed, or “something else”"
        )
    return Choice(
        build=listed or other,
        why=typed("why") or None,
        basis=tuple(request.form.getlist("basis")),
        set_aside=tuple(
            f"{name.removeprefix(SET_ASIDE)}={why}"
            for name in request.form
            if name.startswith(SET_ASIDE) and (why := typed(name))
        ),
        modern_change=_modern_change(),
        drawings=tuple(_drawings()),
        tolerance=typed("tolerance") or None,
        stamp=typed("stamp") or None,
        is_released=request.form.get("release") == "yes",
        seen_in_force=request.form.get("in-force"),
    )


def _whole(choice: Choice) -> Choice:
    if not choice.build or not choice.why:
        what = "what to build" if not choice.build else "why"
        raise UsageRefusedError(f"it is not said {what}", "fill that in, and send it again")
    return choice


def _modern_change() -> str | None:
    reason, note = typed("modern-change"), typed("modern-change-note")
    if note and not reason:
        raise UsageRefusedError(
            "it is said how it departs from the evidence, and not for which reason of the present day",
            "choose the reason, or leave that out",
        )
    return f"{reason}:{note}" if reason else None


def _drawings() -> list[str]:
    given = [(typed(f"drawing-{number}"), typed(f"issue-{number}")) for number in range(1, DRAWINGS + 1)]
    if any(issue and not number for number, issue in given):
        raise UsageRefusedError("an issue is given without the number of its drawing", "write the number before it")
    return [f"{number}:{issue}" if issue else number for number, issue in given if number]


def _one(decision_id: str, refused: Refused | None) -> str | Response:
    before, now = before_them([f"decisions/{decision_id}.yaml"])
    decision = now.archive.decisions.get(decision_id)
    if decision is None or decision.about not in now.archive.features:
        return not_found(f"There is no decision {decision_id}", "look for it on the page of its fitting")
    told = compose_decision_shown(now.archive, decision)
    component = now.archive.components[decision.about.partition("/")[0]]
    return shown(
        "decision.html",
        told=told,
        decision=decision,
        in_force=in_force(now.archive, decision.about),
        component=component,
        fitness=FITNESS,
        before=before,
        refused=refused,
        tried=_release_tried(decision) if told.may_be_released else None,
    )


def _release_tried(decision: Decision) -> Tried | None:
    """What would be said of a release; None where it would be refused, as where nothing can be judged yet."""
    tried, _ = look_ahead(lambda writer: try_release(writer.opened, decision.id, by=writer.by, today=writer.today))
    return tried
