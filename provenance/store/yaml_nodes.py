"""The nodes of one YAML text, taken from a parser's events one after the other: plain text, lists and fields.

Nothing is ever expanded and nothing of the parser is kept, so a hostile text costs no more than its length.
"""

import re
from functools import cached_property
from typing import Any, Protocol

import yaml

from provenance.errors import Place, Problem
from provenance.records.wording import quote
from provenance.store.document import Value
from provenance.store.yaml_mends import mend_empty, mend_sign

DEEPEST_NESTING = 40
LONGEST_NAME = 64
MOST_VALUES = 50_000
MOST_FAULTS = 100

# YAML itself breaks lines at U+0085, U+2028 and U+2029, editors do not: values and line numbers would go astray.
UNSEEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff\ud800-\udfff]")

_DEPTHS: dict[type, int] = {
    yaml.MappingStartEvent: 1,
    yaml.SequenceStartEvent: 1,
    yaml.MappingEndEvent: -1,
    yaml.SequenceEndEvent: -1,
}


class Parser(Protocol):
    """What is asked of a parser of YAML: its events, one after the other, and None at the end."""

    def __init__(self, stream: str) -> None:
        """Begin with a text."""

    def get_event(self) -> Any:
        """The next event."""


def line_of_event(event: Any) -> int:
    """The line in which an event begins, from 1."""
    line: int = event.start_mark.line
    return line + 1


class NodeReader:
    """One reading of one text.

    Attributes:
        lines: the line of each field by its path, such as `evidence[0].at.page`.
        faults: what is wrong, in the order found; of very many the first hundred.
        is_full: whether there is more than a record may hold, so that the rest was passed over.
    """

    def __init__(self, file: str, text: str, parser: Parser) -> None:
        """Begin to read the text of a file."""
        self._file = file
        self._text = text
        self._take = parser.get_event
        self.lines: dict[str, int] = {}
        self.faults: list[Problem] = []
        self.is_full = False

    @cached_property
    def _text_lines(self) -> list[str]:
        return self._text.splitlines()

    def read_root(self, event: Any) -> dict[str, Value]:
        """Read the fields of the whole text, given the event that they begin with."""
        self._refuse_signs(event, "")
        self.lines[""] = line_of_event(event)
        return self._mapping("", 1)

    def _mapping(self, field: str, depth: int) -> dict[str, Value]:
        taken: dict[str, Value] = {}
        prefix = f"{field}." if field else ""
        while type(event := self._take()) is not yaml.MappingEndEvent:
            name = self._name(event, field)
            if name is None:
                self._skip(self._take())
                continue
            inner = prefix + name
            if name in taken:
                what = f"`{name}` stands here twice; the first is in line {self.lines[inner]}"
                self._fault(event, inner, "yaml/duplicate-key", what, "keep one of the two, and delete the other")
            self.lines.setdefault(inner, line_of_event(event))
            taken.setdefault(name, self._node(self._take(), inner, depth))
        return taken

    def _name(self, event: Any, field: str) -> str | None:
        """The name of a field; None where there is none that can be taken."""
        if len(self.lines) >= MOST_VALUES:
            self._too_many(event, field)
        elif type(event) is not yaml.ScalarEvent or not event.value:
            mend = "write the field's name as plain text before the colon"
            self._fault(event, field, "yaml/key", "this is no name of a field", mend)
        elif len(event.value) > LONGEST_NAME or UNSEEN.search(event.value):
            mend = f"write a name of plain letters, {LONGEST_NAME} at most"
            self._fault(event, field, "yaml/key", f"{quote(event.value)} cannot be the name of a field", mend)
        else:
            name: str = event.value
            self._refuse_signs(event, f"{field}.{name}" if field else name)
            return name
        self._skip(event)
        return None

    def _sequence(self, field: str, depth: int) -> list[Value]:
        taken: list[Value] = []
        while type(event := self._take()) is not yaml.SequenceEndEvent:
            if len(self.lines) >= MOST_VALUES:
                self._too_many(event, field)
                self._skip(event)
                continue
            inner = f"{field}[{len(taken)}]"
            self.lines[inner] = line_of_event(event)
            taken.append(self._node(event, inner, depth))
        return taken

    def _node(self, event: Any, field: str, depth: int) -> Value:
        form = type(event)
        if form is yaml.ScalarEvent:
            return self._scalar(event, field)
        if form is yaml.AliasEvent:
            what = f"{quote('*' + event.anchor)} stands for another part of the file"
            self._fault(event, field, "yaml/alias", what, mend_sign("yaml/alias"))
            return ""
        self._refuse_signs(event, field)
        if depth >= DEEPEST_NESTING:
            what = f"this is nested deeper than {DEEPEST_NESTING} levels"
            self._fault(event, field, "yaml/too-deep", what, "write it flatter: no field of a record lies so deep")
            self._skip(event)
            return ""
        return self._mapping(field, depth + 1) if form is yaml.MappingStartEvent else self._sequence(field, depth + 1)

    def _scalar(self, event: Any, field: str) -> str:
        text: str = event.value
        style = event.style
        if event.anchor is not None or event.tag is not None:
            self._refuse_signs(event, field)
            return ""
        if style == "|" or style == ">":  # noqa: PLR1714  four times as fast as a set, for every value of an archive
            text = text.rstrip("\n")
        if (text == "~" and not style) or not text or text.isspace():
            self._empty(event, field)
            return ""
        if style == '"' and (unseen := UNSEEN.search(text)) is not None:
            what = f"the value holds a character that cannot be seen, U+{ord(unseen[0]):04X}"
            self._fault(event, field, "yaml/control-character", what, "leave the character out")
            return ""
        return text

    def _skip(self, event: Any) -> None:
        """Pass over a node that is not taken, however deep."""
        depth = _DEPTHS.get(type(event), 0)
        while depth:
            depth += _DEPTHS.get(type(self._take()), 0)

    def _empty(self, event: Any, field: str) -> None:
        if len(self.faults) >= MOST_FAULTS:
            return
        name = field.rpartition(".")[2]
        line = "".join(self._text_lines[line_of_event(event) - 1 : line_of_event(event)])
        self._fault(event, field, "yaml/empty-value", f"`{name}` has no value", mend_empty(name, line))

    def _too_many(self, event: Any, field: str) -> None:
        if not self.is_full:
            self.is_full = True
            what = f"the file has more than {MOST_VALUES:,} fields and values"
            self._fault(event, field, "yaml/too-large", what, "divide what it says among several records")

    def _refuse_signs(self, event: Any, field: str) -> None:
        if event.anchor is not None:
            what = f"{quote('&' + event.anchor)} names a part of the file for later use"
            self._fault(event, field, "yaml/anchor", what, mend_sign("yaml/anchor"))
        if event.tag is not None:
            what = f"{quote(event.tag)} is a tag of YAML"
            self._fault(event, field, "yaml/tag", what, mend_sign("yaml/tag"))

    def _fault(self, event: Any, field: str, rule: str, what: str, mend: str) -> None:
        if len(self.faults) < MOST_FAULTS:
            place = Place(file=self._file, line=line_of_event(event), field=field)
            self.faults.append(Problem(place=place, rule=rule, what=what, mend=mend))
