"""The numbers by which this machine is reached in its networks."""

import socket
from contextlib import suppress
from ipaddress import ip_address

EVERY = ("0.0.0.0", "::")  # noqa: S104  nothing listens here; these are what people write to say it
"""What people name who want to be reached at every number that the machine has (RFC 1122, 3.2.1.3; RFC 4291, 2.5.2)."""

# Numbers that stand in documents and belong to nobody (RFC 5737, RFC 3849): the way there is the way to anybody else.
_ELSEWHERE = {socket.AF_INET: "192.0.2.1", socket.AF_INET6: "2001:db8::1"}
_DISCARD = 9


def own_addresses(*, is_six: bool) -> tuple[str, ...]:
    """The machine's own numbers, that which it uses towards other machines first; empty where it has no network.

    Numbers that lead from the machine to itself alone are left out, and those that need the name of a plug beside
    them. They are those of now: a laptop that is carried into another network has others there.

    Args:
        is_six: numbers of IPv6; else of IPv4.
    """
    family = socket.AF_INET6 if is_six else socket.AF_INET
    found = [*_towards_others(family), *_by_name(family)]
    return tuple(dict.fromkeys(each for each in found if _is_in_a_network(each)))


def _towards_others(family: socket.AddressFamily) -> list[str]:
    with suppress(OSError), socket.socket(family, socket.SOCK_DGRAM) as one:
        # Nothing is sent: the system only says from which number it would be.
        one.connect((_ELSEWHERE[family], _DISCARD))
        return [str(one.getsockname()[0])]
    return []


def _by_name(family: socket.AddressFamily) -> list[str]:
    with suppress(OSError, UnicodeError):
        return [str(told[4][0]) for told in socket.getaddrinfo(socket.gethostname(), None, family)]
    return []


def _is_in_a_network(number: str) -> bool:
    with suppress(ValueError):
        address = ip_address(number)
        return not (address.is_loopback or address.is_link_local or address.is_unspecified)
    return False
