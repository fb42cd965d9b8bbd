"""Where in a text a value stands, and how a piece of text is put in there without touching the rest."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import yaml

# What may stand before the first key: a byte order mark, directives and comments, and the mark of a document's start.
_BEFORE_FIRST_KEY = re.compile(r"\ufeff?(?:(?:[%#][^\n]*|[ \t\r]*)\n)*---[ \t]*(?:#[^\n]*)?\r?\n|\ufeff?")
_BLOCK_HEADER = re.compile(r"[|>][0-9+-]*[ \t]*(#[^\r\n]*)?")
_BLOCK_STYLES = frozenset("|>")


class NoPlaceError(Exception):
    """A text has no place for a change; the message says why, in half a sentence."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """A value in a text.

    Attributes:
        node: the value as composed, with where it begins and ends.
        indent: the column of the entries of the mapping or list round it, counted from 0.
        in_flow: whether it stands inside `[...]` or `{...}`.
    """

    node: yaml.Node
    indent: int
    in_flow: bool


def compose(text: str) -> yaml.Node:
    """Read a text as nodes that know their places.

    Raises:
        NoPlaceError: it is no YAML, or has no content.
    """
    try:
        node: yaml.Node | None = yaml.compose(text, Loader=yaml.SafeLoader)
    except (yaml.YAMLError, RecursionError) as error:
        raise NoPlaceError("the file as it stands is no sound YAML") from error
    if node is None:
        raise NoPlaceError("the file is empty")
    return node


def content_of(root: yaml.Node) -> Any:
    """What a text says: mappings, lists, and every scalar as text.

    Raises:
        NoPlaceError: it says something twice (a key, or an alias), so that it is not clear which is meant.
    """
    return _content_of(root, set())


def find(root: yaml.Node, path: Sequence[str | int]) -> Found:
    """Find a value by the keys, and the positions counted from 0, on the way down.

    Raises:
        NoPlaceError: there is none.
    """
    found = Found(node=root, indent=0, in_flow=False)
    for step in path:
        node = found.node
        in_flow = found.in_flow or bool(getattr(node, "flow_style", False))
        found = Found(node=_step_down(node, step), indent=node.start_mark.column, in_flow=in_flow)
    return found


def end_of(text: str, node: yaml.Node) -> int:
    """Where a value ends, counted from 0; comments and blank lines after it do not belong to it."""
    if isinstance(node, yaml.CollectionNode) and node.value and not node.flow_style:
        last = node.value[-1]
        return end_of(text, last[1] if isinstance(last, tuple) else last)
    start, end = node.start_mark.index, node.end_mark.index
    if _is_block_scalar(node) and not _keeps_blank_lines(text, node):
        return start + len(text[start:end].rstrip())
    return int(end)


def replace_scalar(text: str, found: Found, lines: Sequence[str]) -> str:
    """Put another scalar in the place of one; a comment behind the header of a literal block stays.

    Args:
        text: of the whole file.
        found: the scalar that is there.
        lines: the new scalar: one line, or a literal block with its header first.
    """
    start, end = found.node.start_mark.index, end_of(text, found.node)
    old = text[start:end]
    header = _BLOCK_HEADER.match(old) if _is_block_scalar(found.node) else None
    comment = f"  {header[1]}" if header and header[1] else ""
    first, *rest = lines
    gap = " " if text[start - 1 : start] == ":" else ""
    tail = line_end(text) if old.endswith("\n") else ""
    return (
        text[:start] + gap + line_end(text).join([first + comment, *_indented(rest, found.indent)]) + tail + text[end:]
    )


def insert_lines(text: str, after: int, lines: Sequence[str], indent: int) -> str:
    """Put lines in after the line on which something ends."""
    at = after if text[after - 1 : after] == "\n" else text.find("\n", after) + 1
    block = "".join(line + line_end(text) for line in _indented(lines, indent))
    return text[:at] + block + text[at:] if at else text + line_end(text) + block


def insert_first(text: str, lines: Sequence[str], indent: int) -> str:
    """Put lines in before everything else that a file says, and before the comments on it."""
    before = _BEFORE_FIRST_KEY.match(text)
    at = before.end() if before else 0
    return text[:at] + "".join(line + line_end(text) for line in _indented(lines, indent)) + text[at:]


def insert_in_flow(text: str, node: yaml.CollectionNode, piece: str) -> str:
    """Put one more entry into a `[...]` or `{...}`, after the last."""
    if not node.value:
        at = node.start_mark.index + 1
        return text[:at] + piece + text[at:]
    last = node.value[-1]
    at = end_of(text, last[1] if isinstance(last, tuple) else last)
    comma = re.match(r"(?:[^,#]|#[^\n]*+)*+,", text[at : node.end_mark.index])
    if comma is None:
        return f"{text[:at]}, {piece}{text[at:]}"
    at += comma.end()
    return f"{text[:at]} {piece}{text[at:]}"


def line_end(text: str) -> str:
    """How the lines of a text end: as its first one does."""
    return "\r\n" if text.partition("\n")[0].endswith("\r") else "\n"


def _indented(lines: Iterable[str], indent: int) -> list[str]:
    return [" " * indent + line if line else line for line in lines]


def _is_block_scalar(node: yaml.Node) -> bool:
    return isinstance(node, yaml.ScalarNode) and node.style in _BLOCK_STYLES


def _keeps_blank_lines(text: str, node: yaml.Node) -> bool:
    header = _BLOCK_HEADER.match(text, node.start_mark.index)
    return header is not None and "+" in header[0].partition("#")[0]


def _step_down(node: yaml.Node, step: str | int) -> yaml.Node:
    if isinstance(node, yaml.MappingNode):
        values = [value for key, value in node.value if key.value == step]
    else:
        values = node.value[step : step + 1] if isinstance(node, yaml.SequenceNode) and isinstance(step, int) else []
    if len(values) != 1:
        raise NoPlaceError(f"there is no {step} there" if not values else f"{step} stands there twice")
    found: yaml.Node = values[0]
    return found


def _content_of(node: yaml.Node, seen: set[int]) -> Any:
    if id(node) in seen:
        raise NoPlaceError("the file has an alias")
    seen.add(id(node))
    if isinstance(node, yaml.MappingNode):
        content = {}
        for key, value in node.value:
            if not isinstance(key, yaml.ScalarNode):
                raise NoPlaceError("a key is not plain text")
            if key.value in content:
                raise NoPlaceError(f"the key {key.value} stands there twice")
            content[key.value] = _content_of(value, seen)
        return content
    if isinstance(node, yaml.SequenceNode):
        return [_content_of(item, seen) for item in node.value]
    return node.value
