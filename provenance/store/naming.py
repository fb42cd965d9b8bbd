"""Names that are safe everywhere: ids of sources, and the names under which originals are stored.

What Windows reserves follows Microsoft, "Naming Files, Paths, and Namespaces" (Win32 documentation), "Naming
conventions"; 255 bytes is what most file systems take for one name (common practice, no source).
"""

import re
import unicodedata
from collections.abc import Iterable
from pathlib import PurePosixPath

LONGEST_NAME = 255
_LONGEST_SLUG = 40
_DIGEST_IN_ID = 8
_LONGEST_EXTENSION = 32
# Letters that Unicode does not take apart into a plain letter and a mark.
_LETTERS = str.maketrans({"æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "\u0131": "i"})
_NOT_IN_SLUG = re.compile(r"[^a-z0-9]+")
_RESERVED_CHARACTERS = frozenset('<>:"/\\|?*')
# Characters of other categories that turn the reading direction or break the line: a name must show as it is.
_UNSHOWABLE = frozenset("\u200e\u200f\u061c\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\ufeff")
_UNSHOWABLE_CATEGORIES = frozenset({"Cc", "Cs", "Zl", "Zp"})
_DEVICES = frozenset(
    {"con", "prn", "aux", "nul", "conin$", "conout$"}
    | {f"{port}{n}" for port in ("com", "lpt") for n in "0123456789¹²³"}
)
_DIGITS = re.compile(r"([0-9]+)")


def slug(text: str, *, longest: int = _LONGEST_SLUG) -> str:
    """Make an id of any text: plain small letters and digits with single hyphens between.

    Accents are dropped and a few letters spelt out (`Höhe` gives `hohe`); text without any letter or digit of the
    Latin alphabet gives `file`, and the name of a Windows device gets a `file-` before it.
    """
    small = unicodedata.normalize("NFKD", unicodedata.normalize("NFKC", text).casefold().translate(_LETTERS))
    plain = "".join(letter for letter in small if not unicodedata.combining(letter))
    made = _NOT_IN_SLUG.sub("-", plain).strip("-")[:longest].rstrip("-")
    return f"file-{made}" if made in _DEVICES else made or "file"


def source_id(name: str, sha256: str) -> str:
    """The id of the source that a received file becomes: the slug of its stem and 8 digits of its SHA-256."""
    return f"{slug(PurePosixPath(name).stem)}-{sha256[:_DIGEST_IN_ID]}"


def received_name(name: str) -> str:
    r"""Write down a name as it was received; what cannot be shown stands as an escape such as `\xe9` or `\u202e`."""
    known = name.encode("utf-8", "surrogateescape").decode("utf-8", "backslashreplace")
    return "".join(ascii(letter)[1:-1] if _cannot_be_shown(letter) else letter for letter in known)


def stored_name(name: str, *, taken: Iterable[str] = ()) -> str:
    """The name under which an original is stored, safe on every file system.

    NFC; reserved and control characters become `_`, as do dots and spaces at the end and a dot at the beginning; the
    name of a Windows device gets a `_` before it; at most 255 bytes.

    Args:
        name: as received, without folders.
        taken: names that are there already; `-2`, `-3` and so on tell apart what would differ from one only by case.
    """
    composed = unicodedata.normalize("NFC", name)
    shown = "".join(
        "_" if letter in _RESERVED_CHARACTERS or _cannot_be_shown(letter) else letter for letter in composed
    )
    tail = len(shown) - len(shown.rstrip(". "))
    shown = shown[: len(shown) - tail] + "_" * tail
    if shown.startswith(".") or not shown:
        shown = f"_{shown[1:]}"
    if shown.split(".")[0].rstrip(" ").lower() in _DEVICES:
        shown = f"_{shown}"
    return _untaken(shown, frozenset(map(_without_case, taken)))


def natural_key(name: str) -> tuple[tuple[tuple[int, int, str], ...], str]:
    """A sorting key under which `scan2` comes before `scan10`; equal but for case, they come by code point."""
    pieces = _DIGITS.split(name.casefold())
    return tuple(
        (0, int(piece), "") if piece.isdecimal() and piece.isascii() else (1, 0, piece) for piece in pieces
    ), name


def _cannot_be_shown(letter: str) -> bool:
    return unicodedata.category(letter) in _UNSHOWABLE_CATEGORIES or letter in _UNSHOWABLE


def _without_case(name: str) -> str:
    return unicodedata.normalize("NFC", unicodedata.normalize("NFD", name).casefold())


def _untaken(name: str, taken: frozenset[str]) -> str:
    path = PurePosixPath(name)
    extension = path.suffix if len(path.suffix.encode()) <= _LONGEST_EXTENSION else ""
    stem = name[: len(name) - len(extension)]
    tried, number = _fitted(stem, extension), 2
    while _without_case(tried) in taken:
        tried, number = _fitted(stem, f"-{number}{extension}"), number + 1
    return tried


def _fitted(stem: str, ending: str) -> str:
    room = LONGEST_NAME - len(ending.encode())
    whole = stem.encode()
    return stem + ending if len(whole) <= room else whole[:room].decode("utf-8", "ignore").rstrip(". ") + ending
