"""How much a browser may send, and where the server keeps it until all of it is there.

The server takes a whole request in before a page sees any of it. What is large lies meanwhile in a nameless file on
the disk of the archive, not among the system's temporary files, which may be kept in memory. More than an address
takes is read and thrown away, so that the browser is still there to be told by a page that it was too much.
"""

import hmac
import shutil
from collections.abc import Callable, Mapping
from http.cookies import CookieError, SimpleCookie
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryFile
from typing import Any

from waitress.buffers import OverflowableBuffer, TempfileBasedBuffer
from waitress.channel import HTTPChannel
from waitress.parser import HTTPRequestParser
from waitress.receiver import FixedStreamReceiver
from waitress.server import BaseWSGIServer
from waitress.utilities import RequestEntityTooLarge

from provenance.tasks.arriving import MOST_BYTES

MOST_BYTES_TYPED = 2_000_000
"""So much may be sent to an address that takes no files; beyond it the pages refuse by themselves."""

MOST_BYTES_SENT = MOST_BYTES + MOST_BYTES_TYPED
"""So much to one that takes files: these, and what is typed beside them."""

MOST_BYTES_THROWN_AWAY = 20 * MOST_BYTES
"""Whoever sends more than this is cut off without a page."""

Allowed = Callable[[str, Mapping[str, str]], int]
"""How many bytes may be sent: told the path, and the header fields by their names in capitals with `_` for `-`."""


def allowance(home: Path, *, token: str | None, cookie: str) -> Allowed:
    """How much may be sent to each address: files only to those that take files, by whoever has shown the token.

    Args:
        home: the archive's folder; where its disk is full, nothing large is taken.
        token: what a browser has to show; None where it need not.
        cookie: in which it keeps the token.
    """

    def most(path: str, headers: Mapping[str, str]) -> int:
        takes_files = path == "/receive" or path.startswith("/receive/") or path.endswith("/made")
        if not takes_files or not _is_let_in(headers.get("COOKIE", ""), cookie, token):
            return MOST_BYTES_TYPED
        return min(MOST_BYTES_SENT, max(MOST_BYTES_TYPED, shutil.disk_usage(home).free))

    return most


def take_large(server: Any, folder: Path, most: Allowed) -> None:
    """Have a server take requests in as this module says; before it runs.

    Args:
        server: of waitress, at one number of the machine or at several.
        folder: where what is large lies until all of it is there; made when it is first needed.
        most: how much may be sent.
    """

    class Parser(_Parser):
        home = folder
        allowed = staticmethod(most)

    class Channel(HTTPChannel):  # type: ignore[misc]  # the library tells no types
        parser_class = Parser

    for each in (server, *(getattr(server, "map", None) or {}).values()):
        if isinstance(each, BaseWSGIServer):
            each.channel_class = Channel


def _is_let_in(cookies: str, name: str, token: str | None) -> bool:
    if token is None:
        return True
    try:
        kept = SimpleCookie(cookies).get(name)
    except CookieError:
        return False
    return kept is not None and hmac.compare_digest(kept.value.encode(), token.encode())


class _Parser(HTTPRequestParser):  # type: ignore[misc]  # the library tells no types
    """Takes one request in."""

    home: Path
    allowed: Allowed
    body_rcv: Any

    def received(self, data: bytes) -> int:
        """Take in a piece; how much of it belonged to this request."""
        consumed: int = super().received(data)
        if self.chunked and self.body_bytes_received > MOST_BYTES_TYPED:  # of an unsaid length: no browser sends so
            self.error = RequestEntityTooLarge(f"exceeds {MOST_BYTES_TYPED} bytes")
            self.completed = True
        return consumed

    def parse_header(self, header_plus: bytes) -> None:
        """Read the header, and make ready for what follows it."""
        super().parse_header(header_plus)
        if self.chunked or self.body_rcv is None:
            return
        if self.content_length > self.allowed(self.path, self.headers):
            self.body_rcv = _ThrownAway(self.content_length)
        elif self.content_length >= self.adj.inbuf_overflow:
            self.body_rcv = FixedStreamReceiver(self.content_length, _OnDisk(self.adj.inbuf_overflow, self.home))


class _OnDisk(OverflowableBuffer):  # type: ignore[misc]  # the library tells no types
    """What is sent, on the disk of the archive once it is large."""

    buf: Any

    def __init__(self, overflow: int, home: Path) -> None:
        super().__init__(overflow)
        self._home = home

    def _set_large_buffer(self) -> None:
        before, home = self.buf, self._home

        class Nameless(TempfileBasedBuffer):  # type: ignore[misc]  # the library tells no types
            def newfile(self) -> Any:
                home.mkdir(parents=True, exist_ok=True)
                return TemporaryFile("w+b", dir=home)

        self.buf = Nameless(before)
        if before is not None:
            before.close()
        self.overflowed = True


class _ThrownAway:
    """What is too much: counted, and not kept."""

    error = None

    def __init__(self, size: int) -> None:
        self._remain = size
        self.completed = False

    def __len__(self) -> int:
        return 0

    def received(self, data: bytes) -> int:
        """Throw a piece away; how much of it belonged to this request."""
        taken = min(len(data), self._remain)
        self._remain -= taken
        self.completed = self._remain == 0
        return taken

    def getfile(self) -> BytesIO:
        """Give what was kept: nothing."""
        return BytesIO()

    def getbuf(self) -> BytesIO:
        """Give where it was kept: nowhere."""
        return BytesIO()
