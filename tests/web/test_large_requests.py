"""How much a browser may send: as much as an address takes, kept on the archive's disk; more is told by a page."""

import http.client
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from cli.command_line import SOUND, a_copy_of
from waitress.adjustments import Adjustments
from waitress.server import create_server
from web.browsing import Served, serving

from provenance.web.app import create_app
from provenance.web.large_requests import (
    MOST_BYTES_SENT,
    MOST_BYTES_THROWN_AWAY,
    MOST_BYTES_TYPED,
    allowance,
    take_large,
)

PIECE = b"x" * 100_000


def a_parser(home: Path, most: int) -> Any:
    """The server's own reader of one request."""
    server = create_server(lambda *_: [], host="127.0.0.1", port=0)
    take_large(server, home, lambda _path, _headers: most)
    server.close()
    return server.channel_class.parser_class(Adjustments(max_request_body_size=MOST_BYTES_THROWN_AWAY))


def send(parser: Any, size: int) -> None:
    parser.received(f"POST /x HTTP/1.1\r\nHost: localhost\r\nContent-Length: {size}\r\n\r\n".encode())
    for _ in range(size // len(PIECE)):
        assert parser.received(PIECE) == len(PIECE)


@pytest.mark.skipif(not Path("/proc/self/fd").exists(), reason="where open files lie is told by Linux alone")
def test_what_is_large_lies_on_the_disk_of_the_archive_and_has_no_name(tmp_path: Path) -> None:
    parser = a_parser(tmp_path / "arriving", 10_000_000)

    send(parser, 3_000_000)

    body = parser.get_body_stream()
    assert Path(f"/proc/self/fd/{body.fileno()}").readlink().is_relative_to(tmp_path / "arriving")
    assert list((tmp_path / "arriving").iterdir()) == []
    assert len(body.read()) == 3_000_000
    parser.close()


def test_what_is_too_much_is_read_to_its_end_and_not_kept(tmp_path: Path) -> None:
    parser = a_parser(tmp_path / "arriving", 1_000_000)

    send(parser, 3_000_000)

    assert parser.completed
    assert parser.error is None
    assert parser.get_body_stream().read() == b""
    assert not (tmp_path / "arriving").exists()
    parser.close()


@pytest.mark.parametrize(
    ("path", "cookies", "files"),
    [
        ("/receive", "a=1; kept=secret", True),
        ("/receive/files/abc", "kept=secret", True),
        ("/fittings/headlamp/kind/made", "kept=secret", True),
        ("/receiver", "kept=secret", False),
        ("/queries", "kept=secret", False),
        ("/receive", "", False),
        ("/receive", "kept=wrong", False),
        ("/receive", "kept=\xe9", False),
        ("/receive", "other=secret", False),
    ],
)
def test_files_are_taken_where_they_belong_from_whoever_has_shown_the_token(
    tmp_path: Path,
    path: str,
    cookies: str,
    files: bool,  # noqa: FBT001  a row of the table
) -> None:
    most = allowance(tmp_path, token="secret", cookie="kept")(path, {"COOKIE": cookies})

    assert (most > MOST_BYTES_TYPED) is files
    assert most <= MOST_BYTES_SENT


def test_on_this_machine_no_token_is_asked_for(tmp_path: Path) -> None:
    most = allowance(tmp_path, token=None, cookie="kept")

    assert most("/receive", {}) > MOST_BYTES_TYPED
    assert most("/queries", {}) == MOST_BYTES_TYPED


def test_the_pages_refuse_what_the_server_throws_away(tmp_path: Path) -> None:
    app = create_app(a_copy_of(SOUND, tmp_path))

    assert app.config["MAX_CONTENT_LENGTH"] == MOST_BYTES_TYPED


def test_a_browser_that_sends_too_much_is_still_there_to_be_told(tmp_path: Path) -> None:
    with serving(a_copy_of(SOUND, tmp_path)) as served, a_line_to(served) as line:
        line.request("POST", "/queries", body=b"grounds=" + b"x" * 20_000_000, headers=_sent_by(served))
        answer = line.getresponse()
        told = answer.read().decode()

    assert answer.status == 413
    assert "more than these pages take" in told


def test_what_comes_without_end_is_cut_off(tmp_path: Path) -> None:
    sent = []

    def without_end() -> Iterator[bytes]:
        while True:
            sent.append(len(PIECE))
            yield PIECE

    with serving(a_copy_of(SOUND, tmp_path)) as served, a_line_to(served) as line, pytest.raises(OSError):
        line.request("POST", "/queries", body=without_end(), headers=_sent_by(served), encode_chunked=True)

    assert sum(sent) > MOST_BYTES_TYPED


def a_line_to(served: Served) -> "closing[http.client.HTTPConnection]":
    own = urlsplit(served.address)
    return closing(http.client.HTTPConnection(own.hostname or "", own.port))


def _sent_by(served: Served) -> dict[str, str]:
    return {"Origin": served.address.rstrip("/"), "Content-Type": "application/x-www-form-urlencoded"}
