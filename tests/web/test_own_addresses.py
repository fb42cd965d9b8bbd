"""A machine that is reached at every number that it has: which they are, and that a tablet is let in by them."""

import http.client
import platform
import re
import socket
from collections.abc import Iterator
from ipaddress import ip_address
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from cli.command_line import SOUND, a_copy_of
from web.browsing import Served, serving

from provenance.web.own_addresses import own_addresses

TRIE = Path("/proc/net/fib_trie")


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with serving(a_copy_of(SOUND, tmp_path_factory.mktemp("served")), "--host", "0.0.0.0") as server:
        yield server


def own_by_the_kernel() -> set[str]:
    """The numbers of IPv4 that the kernel's own table of ways calls those of this machine."""
    return set(re.findall(r"\|-- ([0-9.]+)\n\s+/32 host LOCAL", TRIE.read_text(encoding="ascii")))


def answered(served: Served, host: str, path: str = "/") -> int:
    """What a browser that opens `host` is answered by this server."""
    where = urlsplit(served.address)
    connection = http.client.HTTPConnection("127.0.0.1", where.port or 0, timeout=30)
    try:
        connection.request("GET", path, headers={"Host": f"{host}:{where.port}"})
        answer = connection.getresponse()
        answer.read()
        return answer.status
    finally:
        connection.close()


@pytest.mark.skipif(not TRIE.exists(), reason=f"this system has no {TRIE}")
def test_the_numbers_of_this_machine_are_those_that_the_kernel_names() -> None:
    found = own_addresses(is_six=False)

    assert set(found) <= own_by_the_kernel()
    assert not [each for each in found if ip_address(each).is_loopback]
    others = {each for each in own_by_the_kernel() if not ip_address(each).is_loopback}
    assert bool(found) == bool(others)


def test_numbers_of_the_newer_kind_are_of_that_kind_and_need_no_plug_beside_them() -> None:
    for each in own_addresses(is_six=True):
        assert ip_address(each).version == 6
        assert "%" not in each
        assert not ip_address(each).is_link_local


def test_the_address_that_is_printed_is_one_that_a_tablet_can_open(served: Served) -> None:
    where = urlsplit(served.address)

    assert where.hostname in (own_addresses(is_six=False) or ("127.0.0.1",))
    assert where.query.startswith("token=")
    with socket.create_connection((where.hostname, where.port), timeout=30):
        pass


def test_by_each_number_of_the_machine_the_token_is_asked_for_and_lets_in(served: Served) -> None:
    token = urlsplit(served.address).query

    for host in (*own_addresses(is_six=False), platform.node(), "localhost", "127.0.0.1", "[::1]"):
        assert answered(served, host) == 403, host
        assert answered(served, host, f"/?{token}") == 302, host


@pytest.mark.parametrize(
    "host", ["0.0.0.0", "203.0.113.7", "127.0.0.2", "example.org", "192.168.1.20.example.org", "[::]"]
)
def test_every_other_name_is_turned_away_as_before(served: Served, host: str) -> None:
    assert answered(served, host, f"/?{urlsplit(served.address).query}") == 421
