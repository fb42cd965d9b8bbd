"""Taking a source, a claim, one item of its evidence or a decision out of judgement; not out of sight."""

from flask import Blueprint, Response, request, url_for

from provenance.reports.to_withdraw import compose_to_withdraw
from provenance.reports.tried import Tried, change_sentences
from provenance.tasks.living import Current
from provenance.tasks.withdrawing import try_withdraw, withdraw
from provenance.web.asking import not_found, shown
from provenance.web.typed import typed
from provenance.web.writing import Refused, before_them, carry_out, look_ahead

pages = Blueprint("withdrawing_pages", __name__)

KINDS = ("sources", "claims", "decisions")
"""The folders of the records that may be withdrawn."""


@pages.get("/withdraw/<any(sources, claims, decisions):folder>/<record_id>")
def show_withdrawal(folder: str, record_id: str) -> str | Response:
    """Show what would change, and a form that asks why."""
    return _page(folder, record_id, None)


@pages.post("/withdraw/<any(sources, claims, decisions):folder>/<record_id>")
def write_withdrawal(folder: str, record_id: str) -> Response:
    """Withdraw a record or an item of it."""
    return carry_out(
        lambda writer: withdraw(
            writer.opened,
            _name(folder, record_id),
            why=typed("why"),
            by=writer.by,
            today=writer.today,
        ),
        again=lambda refused: _page(folder, record_id, refused),
        to=lambda _: url_for(".show_withdrawal", folder=folder, record_id=record_id, item=_item() or None),
    )


def _page(folder: str, record_id: str, refused: Refused | None) -> str | Response:
    before, now = before_them([f"{folder}/{record_id}.yaml"])
    if record_id not in getattr(now.archive, folder):
        return not_found(f"There is no record {folder}/{record_id}", "look for it by searching")
    number = _item()
    told = compose_to_withdraw(now.archive, folder, record_id, int(number) if number else None)
    if told is None:
        return not_found(f"{record_id} has no item of evidence {number}", "look at the claim itself")
    tried, not_tried = _tried(now, folder, record_id)
    return shown(
        "withdraw.html",
        told=told,
        before=before,
        refused=refused,
        tried=tried,
        not_tried=not_tried,
        change_sentences=change_sentences,
        action=url_for(".write_withdrawal", folder=folder, record_id=record_id, item=number or None),
    )


def _tried(now: Current, folder: str, record_id: str) -> tuple[Tried | None, str]:
    """What it would change, or why that could not be looked at."""
    tried, refused = look_ahead(
        lambda writer: try_withdraw(
            writer.opened,
            _name(folder, record_id),
            by=writer.by,
            today=writer.today,
            verdicts=now.verdicts if now.archive.target else None,
        )
    )
    return tried, f"{refused.what}: {refused.mend}" if refused else ""


def _name(folder: str, record_id: str) -> str:
    number = _item()
    return f"{folder}/{record_id}#{number}" if number else f"{folder}/{record_id}"


def _item() -> str:
    """The number of an item of evidence, from 1; empty for the whole record."""
    number = request.args.get("item", "")
    return number if number.isdecimal() and number.isascii() and len(number) < 6 else ""
