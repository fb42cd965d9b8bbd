"""Answers on their way from a child to its parent: taken in as they come, so that no child can hold up its parent.

Each is its length (eight bytes, the most significant first) and then so many bytes.
"""

import os
import struct

MOST_BYTES = 128 * 1024 * 1024
"""The longest answer: the words of a text of 25 million letters. Over that neither side goes on."""

_LENGTH = struct.Struct(">Q")
_PIECE = 1 << 20


class TooLongError(Exception):
    """A child announces an answer that is longer than any may be."""


def send(descriptor: int, message: bytes) -> None:
    """Send one answer, waiting until it is taken in."""
    for part in (_LENGTH.pack(len(message)), message):
        rest = memoryview(part)
        while rest:
            rest = rest[os.write(descriptor, rest) :]


class Incoming:
    """What has come of an answer so far."""

    __slots__ = ("_came",)

    def __init__(self) -> None:
        """Begin with nothing."""
        self._came = bytearray()

    def take_in(self, descriptor: int) -> bytes | None:
        """Take in what is there to be read, and give the answer once it is whole; None until then.

        Raises:
            EOFError: the child has hung up.
            TooLongError: the answer would be longer than any may be.
            OSError: the line is broken.
        """
        piece = os.read(descriptor, _PIECE)
        if not piece:
            raise EOFError
        self._came += piece
        if len(self._came) < _LENGTH.size:
            return None
        (length,) = _LENGTH.unpack_from(self._came)
        if length > MOST_BYTES:
            raise TooLongError
        if len(self._came) < _LENGTH.size + length:
            return None
        whole = bytes(memoryview(self._came)[_LENGTH.size : _LENGTH.size + length])
        del self._came[: _LENGTH.size + length]
        return whole
