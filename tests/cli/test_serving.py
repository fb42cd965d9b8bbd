"""The server as people start and stop it: a process of its own, asked over the network of this machine."""

import http.client
import platform
import signal
import subprocess
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from cli.command_line import SOUND, a_copy_of, run, run_really
from web.browsing import Served, serving


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with serving(a_copy_of(SOUND, tmp_path_factory.mktemp("served"))) as server:
        yield server


def asked(served: Served, path: str = "/", **fields: str) -> tuple[int, dict[str, str], str]:
    """Ask for a page with these fields in place of the usual ones; redirects are not followed."""
    where = urlsplit(served.address)
    connection = http.client.HTTPConnection(where.hostname or "", where.port or 0, timeout=30)
    try:
        connection.request("GET", path, headers={name.replace("_", "-"): value for name, value in fields.items()})
        answer = connection.getresponse()
        return answer.status, dict(answer.getheaders()), answer.read().decode()
    finally:
        connection.close()


def children_of(process: "subprocess.Popen[str]") -> list[str]:
    return subprocess.run(["pgrep", "-P", str(process.pid)], capture_output=True, text=True, check=False).stdout.split()


def test_the_address_that_is_printed_can_be_opened(served: Served) -> None:
    with urllib.request.urlopen(served.address, timeout=30) as answer:
        page = answer.read().decode()

    assert urlsplit(served.address).hostname == "127.0.0.1"
    assert "<title>" in page
    assert answer.headers["Content-Type"] == "text/html; charset=utf-8"
    assert "Server" not in answer.headers


def test_another_name_and_another_page_are_turned_away(served: Served) -> None:
    assert asked(served)[0] == 200
    assert asked(served, Host="example.org")[0] == 421
    assert asked(served, Sec_Fetch_Site="cross-site", Sec_Fetch_Mode="no-cors")[0] == 403
    assert asked(served, Origin="http://example.org")[0] == 403


def test_what_is_not_there_is_said_in_words(served: Served) -> None:
    with pytest.raises(urllib.error.HTTPError) as refused:
        urllib.request.urlopen(f"{served.address}nosuch", timeout=30)
    refused.value.close()

    assert refused.value.code == 404


def test_a_port_in_use_is_told_and_ends_with_2(served: Served) -> None:
    port = urlsplit(served.address).port

    result = run_really("--archive", SOUND, "serve", "--port", str(port))

    assert (result.returncode, result.stdout) == (2, "")
    assert result.stderr.startswith(f"error: port {port} is in use by another program\n  mend: ")


@pytest.mark.parametrize("host", ["nosuch.invalid", "203.0.113.7", "a b"])
def test_a_host_that_is_not_this_machine_is_told_and_ends_with_2(host: str) -> None:
    """`.invalid` never resolves (RFC 6761), and 203.0.113.0/24 is nobody's (RFC 5737)."""
    result = run_really("--archive", SOUND, "serve", "--port", "0", "--host", host)

    assert (result.returncode, result.stdout) == (2, "")
    assert result.stderr.startswith(f"error: this machine cannot be reached as {host}\n  mend: ")


def test_a_folder_that_is_no_archive_is_not_served(tmp_path: Path) -> None:
    result = run(tmp_path, "serve", "--port", "0")

    assert (result.exit_code, result.stdout) == (3, "")


def test_nothing_is_answered_in_json() -> None:
    assert run(SOUND, "serve", "--json").exit_code == 2


def test_other_machines_need_the_token_that_is_in_the_address(tmp_path: Path) -> None:
    # 127.0.0.2 is this machine too (RFC 1122, 3.2.1.3), by a number that is not its usual one.
    with serving(a_copy_of(SOUND, tmp_path), "--host", "127.0.0.2") as server:
        where = urlsplit(server.address)
        own = f"127.0.0.2:{where.port}"

        assert where.hostname == "127.0.0.2"
        assert len(where.query.removeprefix("token=")) >= 22  # 128 bits, in letters of 6
        assert asked(server)[0] == 403
        assert asked(server, "/?token=wrong")[0] == 403
        status, fields, _ = asked(server, f"/?{where.query}", Host=own)
        assert (status, fields["Location"]) == (302, "/")
        cookie = fields["Set-Cookie"].partition(";")[0]
        assert asked(server, Cookie=cookie)[0] == 200
        assert asked(server, Cookie=cookie, Host=f"{platform.node()}:{where.port}")[0] == 200
        assert asked(server, Cookie=cookie, Host="localhost")[0] == 421


def test_each_start_has_a_token_of_its_own(tmp_path: Path) -> None:
    folder = a_copy_of(SOUND, tmp_path)
    tokens = set()
    for _ in range(2):
        with serving(folder, "--host", "127.0.0.2") as server:
            tokens.add(urlsplit(server.address).query)

    assert len(tokens) == 2


def test_ctrl_c_ends_it_and_leaves_nobody_behind(tmp_path: Path) -> None:
    with serving(a_copy_of(SOUND, tmp_path)) as server:
        assert asked(server)[0] == 200

        server.process.send_signal(signal.SIGINT)
        out, told = server.process.communicate(timeout=30)

        assert server.process.returncode == 0
        assert out == ""
        assert told.startswith("open this address in a browser; Ctrl-C ends it\n")
        assert "Traceback" not in told
        assert told.endswith("\nended\n")
        assert children_of(server.process) == []


def test_the_help_says_who_may_look() -> None:
    done = run_really("serve", "--help")

    assert done.returncode == 0
    assert "The pages are the team's" in done.stdout
