"""What somebody typed into a form, and a look at what it would do before any of it is written."""

from collections.abc import Callable

from flask import Response, make_response, request

from provenance.reports.tried import Tried
from provenance.web.asking import current_now
from provenance.web.writing import Refused, Writer, look_ahead

LOOK = "look"
"""The name of the button that asks what would be, and writes nothing."""


def typed(name: str) -> str:
    """What stands in a field, without blanks round it; lines end as in the records. Empty for nothing."""
    return request.form.get(name, "").replace("\r\n", "\n").strip()


def is_look() -> bool:
    """Whether the form was sent to see what it would do."""
    return LOOK in request.form


def look_first(
    attempt: Callable[[Writer], Tried], page: Callable[[Refused | None, Tried | None], str | Response]
) -> Response:
    """Show a form again with what it would do, or with why that would be refused.

    Args:
        attempt: calls the task that only looks.
        page: makes the page anew.
    """
    current_now()
    tried, refused = look_ahead(attempt)
    return make_response(page(refused, tried), refused.code if refused else 200)
