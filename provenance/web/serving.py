"""The pages given to browsers, until they are stopped."""

import errno
import platform
import secrets
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from flask import Flask
from waitress import create_server

from provenance.errors import UsageRefusedError
from provenance.web import received_files
from provenance.web.app import LOCAL, create_app
from provenance.web.large_requests import MOST_BYTES_THROWN_AWAY, allowance, take_large
from provenance.web.own_addresses import EVERY, own_addresses
from provenance.web.safety import COOKIE

THREADS = 8
"""How many browsers are answered at a time; one that waits for a large page to be opened holds up no other."""

_ITSELF = LOCAL[0], "::1"
_TOKEN_BYTES = 18


@dataclass(frozen=True, slots=True, kw_only=True)
class Serving:
    """A server that listens.

    Attributes:
        address: to be opened in a browser; with the token in it where one is needed.
        run: answers until Ctrl-C is pressed, and lets go of the port.
    """

    address: str
    run: Callable[[], None]


def listen(folder: Path, *, host: str, port: int) -> Serving:
    """Begin to listen; nobody is answered before `run`.

    Args:
        folder: the archive's, or one inside it.
        host: the name or number of this machine by which it is reached; on any but this machine's own to itself,
            `127.0.0.1` and `localhost`, whoever asks has to show a token. `0.0.0.0` (or `::`) is every number that
            the machine has now.
        port: 0 for any that is free.

    Raises:
        ArchiveError: the archive cannot be read.
        UsageRefusedError: the port is in use, or this machine has no such host.
    """
    is_local = host in LOCAL
    token = None if is_local else secrets.token_urlsafe(_TOKEN_BYTES)
    reached = own_addresses(is_six=":" in host) if host in EVERY else (host.lower(),)
    names = (
        LOCAL if is_local else (*reached, platform.node().lower(), *((*LOCAL, _ITSELF[True]) if host in EVERY else ()))
    )
    app = create_app(folder, names=names, token=token)
    try:
        server = create_server(
            app,
            host=LOCAL[0] if is_local else host,
            port=port,
            ipv4=":" not in host,
            ipv6=":" in host,
            threads=THREADS,
            ident=None,
            max_request_body_size=MOST_BYTES_THROWN_AWAY,
        )
    except (OSError, ValueError, OverflowError) as error:
        raise _refusal(error, host, port) from error
    arrivals = received_files.arrivals_of(app)
    take_large(server, arrivals.home, allowance(arrivals.folder, token=token, cookie=COOKIE))
    told = next(iter(reached), _ITSELF[":" in host])  # without a network it is reached from this machine alone
    shown = f"[{told}]" if ":" in told else told
    address = f"http://{shown}:{server.effective_port}/{'' if token is None else f'?token={token}'}"
    return Serving(address=address, run=lambda: _run(server, app))


def _run(server: Any, app: Flask) -> None:
    try:
        server.run()  # Ctrl-C ends it; what is being answered is finished within seconds
    finally:
        server.close()
        received_files.end(app)


def _refusal(error: Exception, host: str, port: int) -> UsageRefusedError:
    number = getattr(error, "errno", None)
    if number == errno.EADDRINUSE:
        return UsageRefusedError(
            f"port {port} is in use by another program",
            "name another with `--port`, or `--port 0` for any that is free",
        )
    if number == errno.EACCES:
        return UsageRefusedError(f"port {port} may not be used by you", "name one above 1023 with `--port`")
    return UsageRefusedError(
        f"this machine cannot be reached as {host}",
        "leave `--host` away, or name the number that this machine has in its network, such as 192.168.1.20",
    )
