"""Records as text: YAML in block style, keys in a fixed order, every value readable as it was meant.

This tool takes every scalar as text, whatever it looks like; other people's programs do not. So text
that ordinary YAML (1.1, or the core schema of 1.2) would turn into something else is quoted: `"0047"`, `"12:30"`,
`"no"`, `"9"`. One exception: under the keys that hold dates a year or a day (`1934`, `1934-06-01`) is left plain, as
people write it by hand. Numbers and truth values that are given as such are plain. Regions (`"percent:…"`) and EDTF
sets (`"[…]"`) are always quoted. Text of several lines is a literal block; no line is ever folded.

What cannot be written so that it is read again as it was is refused: control characters, and the line and paragraph
separators of Unicode. Nothing (None, an empty text, list or mapping) is left out, since a record has no empty values.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal

import yaml

from provenance.errors import WriteRefusedError
from provenance.store.key_order import order_keys

_STEP = "  "
_DATE_KEYS = frozenset(
    {"date", "created", "built", "as_at", "when", "from", "until", "due", "returned", "needed_by", "access_until"}
    | {"ruled_date", "answered_date"}
)
_YEAR_OR_DAY = re.compile(r"[1-9][0-9]{3}(?:-[0-9]{2}-[0-9]{2})?")
_UNWRITABLE = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff\ud800-\udfff]")
_FIRST_OF_SYNTAX = frozenset("-?:,[]{}#&*!|>'\"%@`")
_SYNTAX_WITHIN = re.compile(r":\s|:$|\s#|\t")
_SYNTAX_IN_FLOW = re.compile(r"[,\[\]{}:?#]")
_REGION = re.compile(r"(?:percent|pixel):")
# What YAML 1.2 (core schema, 10.3.2) and the words of YAML 1.1 (yaml.org/type/bool.html) add to PyYAML's guesses.
_OTHER_GUESSES = re.compile(r"0o[0-7]+|[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?|[yYnN]")
_ESCAPES = str.maketrans({"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t"})


def record_text(kind: str, fields: Mapping[str, object]) -> str:
    """Write a whole record.

    Args:
        kind: of record, such as `source`; it decides the order of the keys.
        fields: text, whole numbers, decimals, truth values, and mappings and lists of them.

    Raises:
        WriteRefusedError: a text holds what cannot be written down.
    """
    return "".join(f"{line}\n" for line in block_lines(fields, place=kind))


def block_lines(value: object, *, place: str = "") -> list[str]:
    """Write a mapping or a list in block style, from the left edge, one text a line.

    Args:
        value: a mapping or a list; nothing gives no lines.
        place: where it stands, for the order of its keys: the kind of record, then keys, with dots.

    Raises:
        WriteRefusedError: a text holds what cannot be written down.
    """
    match value:
        case Mapping():
            return [
                line
                for key in order_keys(place, value)
                if not is_nothing(value[key])
                for line in entry_lines(key, value[key], place=f"{place}.{key}")
            ]
        case str() | bytes():
            raise TypeError("a scalar has no lines of its own")
        case Sequence():
            return [line for item in value if not is_nothing(item) for line in item_lines(item, place=place)]
        case _:
            raise TypeError(f"{type(value).__name__} is neither a mapping nor a list")


def entry_lines(key: str, value: object, *, place: str = "") -> list[str]:
    """Write one entry of a mapping, from the left edge; its value is not nothing."""
    head = f"{scalar_text(key, in_flow=True)}:"
    if _is_collection(value):
        return [head, *_deeper(block_lines(value, place=place))]
    first, *rest = scalar_lines(value, key)
    return [f"{head} {first}", *rest]


def item_lines(value: object, *, place: str = "") -> list[str]:
    """Write one item of a list, from the left edge; it is not nothing."""
    lines = block_lines(value, place=place) if _is_collection(value) else scalar_lines(value)
    first, *rest = lines
    return [f"- {first}", *(_deeper(rest) if _is_collection(value) else rest)]


def scalar_text(value: object, *, key: str = "", in_flow: bool = False) -> str:
    """Write a scalar on one line.

    Args:
        value: text, a whole number, a decimal or a truth value.
        key: that it is the value of; years and days stay plain under the keys that hold dates.
        in_flow: whether it stands inside `[...]` or `{...}`, or is a key.

    Raises:
        WriteRefusedError: it holds what cannot be written down.
    """
    text = as_read(value)
    if not isinstance(text, str):
        raise TypeError(f"{type(value).__name__} is no scalar")
    if not isinstance(value, str):
        return text
    if (unwritable := _UNWRITABLE.search(text)) or not text.strip():
        what = f"the character {ascii(unwritable[0])[1:-1]}" if unwritable else "nothing but white space"
        raise WriteRefusedError(f"{text!a} holds {what}, which no record can", "write it without")
    return text if _is_plain(text, key, in_flow=in_flow) else f'"{text.translate(_ESCAPES)}"'


def scalar_lines(value: object, key: str = "") -> list[str]:
    """Write a scalar as it stands behind its key or dash: one line, or a literal block with its header first.

    Raises:
        WriteRefusedError: it holds what cannot be written down.
    """
    if not (isinstance(value, str) and _fits_block(value)):
        return [scalar_text(value, key=key)]
    header = f"|{len(_STEP)}-" if value.startswith((" ", "\t", "\n")) else "|-"
    return [header, *_deeper(value.split("\n"))]


def flow_text(value: object, *, key: str = "", place: str = "") -> str:
    """Write any value on one line, inside `[...]` or `{...}`.

    Raises:
        WriteRefusedError: a text holds what cannot be written down.
    """
    match value:
        case Mapping():
            entries = (
                f"{scalar_text(name, in_flow=True)}: {flow_text(value[name], key=name, place=f'{place}.{name}')}"
                for name in order_keys(place, value)
                if not is_nothing(value[name])
            )
            return "{" + ", ".join(entries) + "}"
        case Sequence() if not isinstance(value, (str, bytes)):
            return "[" + ", ".join(flow_text(item, place=place) for item in value if not is_nothing(item)) + "]"
        case _:
            return scalar_text(value, key=key, in_flow=True)


def is_nothing(value: object) -> bool:
    """Whether a value is left out: None, an empty text, and a mapping or a list that holds nothing else."""
    match value:
        case None | "":
            return True
        case Mapping():
            return all(map(is_nothing, value.values()))
        case Sequence() if not isinstance(value, (str, bytes)):
            return all(map(is_nothing, value))
        case _:
            return False


def as_read(value: object) -> object:
    """What a value is when it is read again with every scalar as text, without what is left out.

    Raises:
        TypeError: it is of a kind that a record does not hold.
    """
    match value:
        case str():
            return str(value)
        case bool():
            return "true" if value else "false"
        case int():
            return str(value)
        case Decimal():
            return f"{value:f}"
        case Mapping():
            return {str(key): as_read(item) for key, item in value.items() if not is_nothing(item)}
        case Sequence() if not isinstance(value, bytes):
            return [as_read(item) for item in value if not is_nothing(item)]
        case _:
            raise TypeError(f"a record holds no {type(value).__name__}")


def _is_collection(value: object) -> bool:
    return isinstance(value, (Mapping, Sequence)) and not isinstance(value, (str, bytes))


def _deeper(lines: Iterable[str]) -> list[str]:
    return [_STEP + line if line else line for line in lines]


def _fits_block(text: str) -> bool:
    """Whether text goes into a literal block; the line breaks at its end would not be read again."""
    _, line_break, last = text.rpartition("\n")
    return bool(line_break and last.strip()) and not _UNWRITABLE.search(text)


def _is_plain(text: str, key: str, *, in_flow: bool) -> bool:
    if text[0] in _FIRST_OF_SYNTAX or text != text.strip() or "\n" in text or _SYNTAX_WITHIN.search(text):
        return False
    if in_flow and _SYNTAX_IN_FLOW.search(text):
        return False
    if text.startswith("...") or _REGION.match(text):
        return False
    if key in _DATE_KEYS and _YEAR_OR_DAY.fullmatch(text):
        return True
    return not (_OTHER_GUESSES.fullmatch(text) or _is_guessed(text))


def _is_guessed(text: str) -> bool:
    """Whether PyYAML, as an example of a YAML 1.1 reader, takes a plain text for something else."""
    guesses = yaml.SafeLoader.yaml_implicit_resolvers
    return any(pattern.match(text) for _, pattern in (*guesses.get(text[0], ()), *guesses.get(None, ())))
