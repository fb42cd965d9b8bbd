"""Who may ask for the pages, and what a browser may do with them.

The pages are the team's: they show what is withheld from the public. So they are given to this machine alone, or to
whoever shows the token; to a browser that asks for them by one of this machine's own names (another name that leads
here is a way for a page elsewhere to read these, which is called DNS rebinding); and never to another page.
"""

import hmac
from collections.abc import Collection
from urllib.parse import urlsplit

from flask import Flask, Response, abort, redirect, request

COOKIE = "provenance-token"
_READING = frozenset({"GET", "HEAD", "OPTIONS"})
_YEAR = 365 * 24 * 3600
_HEADERS = {
    "Content-Security-Policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; media-src 'self'; "
        "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    # With `no-referrer` a browser would send a form without its origin too (Fetch, 3.2.5), and none could be checked.
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}


def guard(app: Flask, names: Collection[str], token: str | None) -> None:
    """Put the guards before every page, and their headers on every answer.

    Args:
        app: the pages.
        names: by which a browser may ask for them, without a port.
        token: what it has to show first; None where it need not.
    """

    @app.before_request
    def _ask() -> Response | None:
        if (_host(request.host) or "") not in names:
            abort(Response("This name does not lead to these pages.\n", 421, content_type="text/plain; charset=utf-8"))
        if _comes_from_elsewhere(names):
            abort(Response("Another page may not ask for this.\n", 403, content_type="text/plain; charset=utf-8"))
        return _let_in(token) if token is not None else None

    @app.after_request
    def _label(answer: Response) -> Response:
        for name, value in _HEADERS.items():
            answer.headers.setdefault(name, value)
        answer.headers.setdefault("Cache-Control", "no-store")
        return answer


def _host(named: str) -> str | None:
    try:
        return urlsplit(f"//{named}").hostname
    except ValueError:
        return None


def _comes_from_elsewhere(names: Collection[str]) -> bool:
    """Whether a page of another origin asks; going to a page by a link from anywhere is no asking.

    What may change something has to say from where it comes, as every browser does.
    """
    origin = request.headers.get("Origin")
    if origin is None and request.method not in _READING:
        return True
    if origin is not None and (urlsplit(origin).netloc != request.host or _host(request.host) not in names):
        return True
    is_going = request.headers.get("Sec-Fetch-Mode") == "navigate" and request.method == "GET"
    return request.headers.get("Sec-Fetch-Site") in {"cross-site", "same-site"} and not is_going


def _let_in(token: str) -> Response | None:
    """Let in whoever has shown the token; whoever shows it now in the address keeps it in a cookie of the pages."""
    given = request.args.get("token")
    if given is not None and hmac.compare_digest(given.encode(), token.encode()):
        answer = redirect(request.path)
        answer.set_cookie(COOKIE, token, max_age=_YEAR, httponly=True, samesite="Strict")
        return answer  # type: ignore[return-value]  # werkzeug's and flask's are one here
    kept = request.cookies.get(COOKIE, "")
    if not hmac.compare_digest(kept.encode(), token.encode()):
        abort(
            Response(
                "These pages are opened with the address that `provenance serve` prints.\n",
                403,
                content_type="text/plain; charset=utf-8",
            )
        )
    return None
