"""Changing people's own files: a line here and there, and nothing else.

Four changes are made: a scalar is set or replaced, a key is added, an item is appended to a list in block style or in
flow style. Comments, order, spacing, quotes and line ends of everything else stay as they are, byte for byte. After
each change the text is read again and must say what it said before plus the change, exactly; else the change is refused
with the lines to paste by hand.
"""

import hashlib
import os
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeAlias

import yaml

from provenance.errors import WriteRefusedError
from provenance.store.edit_places import (
    NoPlaceError,
    compose,
    content_of,
    end_of,
    find,
    insert_first,
    insert_in_flow,
    insert_lines,
    replace_scalar,
)
from provenance.store.fixity import open_regular
from provenance.store.record_kinds import kind_of_file
from provenance.store.safe_writing import replace
from provenance.store.staging import refused_cleanly
from provenance.store.yaml_writing import (
    as_read,
    entry_lines,
    flow_text,
    is_nothing,
    item_lines,
    scalar_lines,
    scalar_text,
)

FieldPath: TypeAlias = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class SetScalar:
    """Replace a scalar that is there.

    Attributes:
        path: keys, and positions in lists counted from 0, on the way to it.
        value: text, a whole number, a decimal or a truth value.
    """

    path: FieldPath
    value: object


@dataclass(frozen=True, slots=True)
class AddKey:
    """Add a key that is not there yet, after the last one of its mapping.

    Attributes:
        path: keys and positions on the way to the mapping; empty for the record itself.
        value: anything that a record holds.
        first: whether it becomes the first line of the file instead; for the record itself only.
    """

    path: FieldPath
    key: str
    value: object
    first: bool = False


@dataclass(frozen=True, slots=True)
class Append:
    """Append an item to a list; where its key is not there yet, the key is added with a list of one.

    Attributes:
        path: keys and positions on the way to the list.
        value: anything that a record holds.
    """

    path: FieldPath
    value: object


Change: TypeAlias = SetScalar | AddKey | Append


def edit(text: str, file: str, change: Change) -> str:
    """Make one change to the text of a record.

    Args:
        text: of the whole file.
        file: the file relative to the archive, with `/`; for messages, and for the order of keys.
        change: what to change.

    Raises:
        WriteRefusedError: it cannot be made without touching the rest; with the lines to paste by hand.
    """
    if is_nothing(change.value):
        raise WriteRefusedError(f"{file}: there is no value for {_words(change)}", "give one, or leave it as it is")
    try:
        root = compose(text)
        content = content_of(root)
        settled = _settled(change, content)
        texts = _texts_after(text, root, settled, _place(file, settled))
        wanted = _content_after(content, settled)
    except NoPlaceError as error:
        raise _refusal(file, change, str(error)) from error
    for after in texts:
        if _says(after, wanted):
            return after
    raise _refusal(file, change, "more than that would change")


def edit_file(path: Path, changes: Sequence[Change], *, expected_sha256: str, within: Path) -> str:
    """Make changes to a file, all of them or none, and give the digest of what then stands there.

    Args:
        path: which file, inside `within`.
        changes: in order; each finds the text as the one before left it.
        expected_sha256: of the bytes that the changes were worked out from.
        within: the archive's folder.

    Raises:
        WriteRefusedError: a change cannot be made, the file has changed since it was read, or the disk refuses.
    """
    with refused_cleanly(path), os.fdopen(open_regular(path), "rb") as file:
        written = file.read()
    if hashlib.sha256(written).hexdigest() != expected_sha256:
        raise WriteRefusedError(
            f"{path} has changed since it was read; nothing was written", "run the command again on what is there now"
        )
    try:
        text = written.decode("utf-8")
    except UnicodeDecodeError as error:
        raise WriteRefusedError(f"{path} is not UTF-8", "save it as UTF-8, then run the command again") from error
    name = path.absolute().relative_to(within.absolute()).as_posix()
    for change in changes:
        text = edit(text, name, change)
    new = text.encode("utf-8")
    if new != written:
        replace(path, new, expected_sha256=expected_sha256, within=within)
    return hashlib.sha256(new).hexdigest()


def _settled(change: Change, content: Any) -> Change:
    """Turn an item for a list that is not there into the key with that list."""
    if not (isinstance(change, Append) and change.path and isinstance(change.path[-1], str)):
        return change
    outer = _value_at(content, change.path[:-1])
    if isinstance(outer, dict) and change.path[-1] not in outer:
        return AddKey(change.path[:-1], change.path[-1], [change.value])
    return change


def _texts_after(text: str, root: yaml.Node, change: Change, place: str) -> list[str]:
    """The text with the change made, in the ways that may do, the best first.

    A literal block, or what ends in one, would swallow a comment that is set in behind it; one line never does.
    """
    found = find(root, change.path)
    node, value = found.node, change.value
    flow = node if isinstance(node, yaml.CollectionNode) and node.flow_style else None
    if isinstance(change, SetScalar):
        key = next((step for step in reversed(change.path) if isinstance(step, str)), "")
        on_one_line = [scalar_text(value, key=key, in_flow=found.in_flow)]
        ways = [on_one_line] if found.in_flow else [scalar_lines(value, key), on_one_line]
        return [replace_scalar(text, found, lines) for lines in ways]
    if isinstance(change, AddKey):
        piece = f"{scalar_text(change.key, in_flow=True)}: {flow_text(value, key=change.key, place=place)}"
        ways = [entry_lines(change.key, value, place=place), [piece]]
        if change.first and flow is None:
            return [insert_first(text, lines, node.start_mark.column) for lines in ways]
    else:
        piece = flow_text(value, place=place)
        ways = [item_lines(value, place=place), [f"- {piece}"]]
    if flow is not None:
        return [insert_in_flow(text, flow, piece)]
    return [insert_lines(text, end_of(text, node), lines, node.start_mark.column) for lines in ways]


def _content_after(content: Any, change: Change) -> Any:
    """What the record must say afterwards; the content given is used up."""
    value = as_read(change.value)
    match change:
        case SetScalar(path):
            if not path or not isinstance(_value_at(content, path), str):
                raise NoPlaceError("what stands there is not a single value")
            _value_at(content, path[:-1])[path[-1]] = value
        case AddKey(path, key):
            mapping = _value_at(content, path)
            if not isinstance(mapping, dict) or key in mapping:
                raise NoPlaceError("it is there already" if isinstance(mapping, dict) else "that part has no keys")
            mapping[key] = value
        case _:
            items = _value_at(content, change.path)
            if not isinstance(items, list):
                raise NoPlaceError("what stands there is not a list")
            items.append(value)
    return content


def _says(text: str, content: Any) -> bool:
    try:
        return bool(content_of(compose(text)) == content)
    except NoPlaceError:
        return False


def _value_at(content: Any, path: Sequence[str | int]) -> Any:
    for step in path:
        try:
            content = content[step]
        except (KeyError, IndexError, TypeError) as error:
            raise NoPlaceError(f"there is no {step} there") from error
    return content


def _place(file: str, change: Change) -> str:
    """Where the new value stands, for the order of its keys."""
    kind = kind_of_file(file)
    keys = [*change.path, change.key] if isinstance(change, AddKey) else change.path
    return ".".join([str(kind or ""), *(step for step in keys if isinstance(step, str))])


def _words(change: Change) -> str:
    """Name what a change is about as people find it: `evidence[0].at.page`."""
    steps = (*change.path, change.key) if isinstance(change, AddKey) else change.path
    return "".join(f"[{step}]" if isinstance(step, int) else f".{step}" for step in steps).lstrip(".") or "the record"


def _refusal(file: str, change: Change, why: str) -> WriteRefusedError:
    match change:
        case SetScalar(_, value):
            mend = f"write it there yourself: {scalar_text(value)}"
        case AddKey(path, key, value):
            mend = _paste(entry_lines(key, value, place=_place(file, change)), file, SetScalar(path, value))
        case _:
            mend = _paste(item_lines(change.value, place=_place(file, change)), file, change)
    return WriteRefusedError(f"{file}: {_words(change)} cannot be written: {why}", mend)


def _paste(lines: Iterable[str], file: str, under: Change) -> str:
    return "\n    ".join([f"paste these lines into {file} yourself, under {_words(under)}:", *lines])
