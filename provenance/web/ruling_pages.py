"""Ruling on two sources that look alike, on the page that shows them side by side."""

from dataclasses import replace

from flask import Blueprint, Response, request, url_for

from provenance.errors import UsageRefusedError
from provenance.reports.ruled import Ruled, changed_sentences
from provenance.reports.tried import Tried
from provenance.tasks.ruling import NEITHER, Confirmation, Signed, confirm, rule_out, try_confirm, try_rule_out
from provenance.web.asking import current, not_found
from provenance.web.copies_pages import DISTINCT, ORIGINAL, show_pair
from provenance.web.typed import is_look, look_first, typed
from provenance.web.writing import Writer, carry_out

pages = Blueprint("ruling_pages", __name__)

_UNSAID = "tried"


@pages.post("/copies/<pair_id>")
def rule(pair_id: str) -> Response:
    """Rule on a pair, or tell what that would change."""
    pair = current().archive.copies.get(pair_id)
    if pair is None:
        return not_found(f"There is no pair {pair_id}", "look for it among the pairs")
    if is_look():
        return look_first(
            lambda writer: _tried(pair.between, writer),
            lambda refused, tried: show_pair(pair_id, refused=refused, tried=tried),
        )
    return carry_out(
        lambda writer: _told(_ruled(pair.between, writer)),
        again=lambda refused: show_pair(pair_id, refused=refused),
        to=lambda _: url_for("copies_pages.pair", pair_id=pair_id),
    )


def _ruled(names: tuple[str, str], writer: Writer) -> Ruled:
    signed = Signed(by=writer.by, date=writer.today)
    if _is_distinct():
        return rule_out(writer.opened, names, typed("why"), signed)
    return confirm(writer.opened, names, _found(typed("why")), signed)


def _tried(names: tuple[str, str], writer: Writer) -> Tried:
    now, signed = current(), Signed(by=writer.by, date=writer.today)
    verdicts = now.verdicts if now.archive.target else None
    why = typed("why") or _UNSAID
    if _is_distinct():
        tried = try_rule_out(writer.opened, names, why, signed, verdicts=verdicts)
    else:
        tried = try_confirm(writer.opened, names, _found(why), signed, verdicts=verdicts)
    return replace(tried, said=tuple(each.replace("Ruled:", "It would be ruled:", 1) for each in tried.said))


def _told(ruled: Ruled) -> Ruled:
    """With which verdicts have changed, which the commands print apart from what is said."""
    return replace(ruled, said=(*ruled.said, *changed_sentences(ruled)))


def _is_distinct() -> bool:
    ruling = request.form.get("ruling", "")
    if not ruling:
        raise UsageRefusedError("it is not said how you rule", "choose one of the rulings")
    return ruling == DISTINCT


def _found(why: str) -> Confirmation:
    ruling = request.form.get("ruling", "")
    original = NEITHER if ruling == NEITHER else ruling.removeprefix(ORIGINAL)
    return Confirmation(why=why, how=typed("how") or None, original=original)
