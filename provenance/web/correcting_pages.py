"""Correcting what was read on a page, line by line beside its picture; kept as a transcript with a name."""

from flask import Blueprint, Response, request

from provenance.tasks.correcting import correct_reading, page_to_correct
from provenance.web.asking import shown
from provenance.web.writing import Refused, before_them, carry_out

pages = Blueprint("correcting_pages", __name__)


@pages.get("/sources/<source_id>/pages/<int:number>/correct")
def show_reading(source_id: str, number: int) -> str:
    """The reading of a page, to be corrected."""
    return _form(source_id, number, None)


@pages.post("/sources/<source_id>/pages/<int:number>/correct")
def correct(source_id: str, number: int) -> Response:
    """Keep what a person reads there."""
    return carry_out(
        lambda writer: correct_reading(
            writer.opened, source_id, number, _text_given(), by=writer.by, today=writer.today
        ),
        again=lambda refused: _form(source_id, number, refused),
        to=lambda _: f"/sources/{source_id}/pages/{number}",
    )


def _text_given() -> str:
    if "whole" in request.form:
        return request.form["whole"]
    return "\n".join(request.form.getlist("line"))


def _form(source_id: str, number: int, refused: Refused | None) -> str:
    before, now = before_them([f"transcripts/{source_id}/p{number:04}.txt", f"sources/{source_id}.yaml"])
    correcting = page_to_correct(now.opened, now.readings, source_id, number)
    typed = request.form.getlist("line")
    # Where another's reading has other lines by now, what was typed has no place among them: it is given back whole.
    is_elsewhere = bool(typed) and len(typed) != len(correcting.lines)
    is_whole = "whole" in request.args or "whole" in request.form or is_elsewhere or not correcting.lines
    return shown(
        "correct.html",
        correcting=correcting,
        told=correcting.shown,
        typed=typed or [line.text for line in correcting.lines],
        whole=request.form.get("whole") or "\n".join(typed or [line.text for line in correcting.lines]),
        is_whole=is_whole,
        before=before,
        refused=refused,
    )
