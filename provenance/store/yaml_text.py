"""YAML as typed: every scalar stays the text that a person wrote, and every field keeps its line.

YAML's own guesses (dates, octal numbers, `no` as False) are off. What would make a file mean something else than it
seems to is refused with its place and a mend: duplicate keys, anchors, aliases, tags, empty values, characters that
cannot be seen. The line breaks that end a block of text (`|` and `>`) are YAML's, not the writer's, and are dropped.
"""

import logging
import re
from functools import cache

import yaml

from provenance.errors import Place, Problem
from provenance.records.wording import quote
from provenance.store.document import Document, Value
from provenance.store.yaml_mends import mend_syntax
from provenance.store.yaml_nodes import UNSEEN, NodeReader, Parser, line_of_event

__all__ = ["LARGEST_FILE", "Document", "Value", "read_with_faults", "read_yaml"]

LARGEST_FILE = 1_000_000
"""A record's file may have so many bytes; longer texts belong into transcripts or originals."""

_log = logging.getLogger(__name__)

_CONFLICT = re.compile(r"^(?:<<<<<<<|>>>>>>>|=======|\|\|\|\|\|\|\|)(?= |\r?$)", re.MULTILINE)
_DUE = "a record's file holds fields, each written `name: value`"


def read_yaml(written: bytes | str, file: str) -> Document | tuple[Problem, ...]:
    """Read a file's text: what it says, or everything that is wrong with it as YAML, in order of line."""
    document, problems = read_with_faults(written, file)
    return problems if document is None or problems else document


def read_with_faults(
    written: bytes | str, file: str, parser: type[Parser] | None = None
) -> tuple[Document | None, tuple[Problem, ...]]:
    """Read a file's text as far as it can be read.

    Args:
        written: the text, or its bytes in UTF-8.
        file: its path relative to the archive, with `/`.
        parser: reads the YAML; None for the fastest that is here.

    Returns:
        What it says, with an empty text at each faulty field; None where it cannot be read as fields at all.
        And its faults, in order of line.
    """
    text = _decode(written, file)
    if isinstance(text, Problem):
        return None, (text,)
    problem = _look_over(text, file)
    if problem is not None:
        return None, (problem,)
    return _read(text, file, parser or fastest_parser())


@cache
def fastest_parser() -> type[Parser]:
    """The parser of YAML: the fast one where PyYAML was built with libyaml, else the slow one, with a warning."""
    return choose_parser(getattr(yaml, "CSafeLoader", None))


def choose_parser(fast: type[Parser] | None) -> type[Parser]:
    """The fast parser, or PyYAML's own where there is none, with a warning that it takes about twelve times as long."""
    if fast is None:
        _log.warning("PyYAML has no libyaml here: records are read about twelve times slower")
        return yaml.SafeLoader
    return fast


def _decode(written: bytes | str, file: str) -> str | Problem:
    data = written.encode("utf-8", "surrogatepass") if isinstance(written, str) else written
    if len(data) > LARGEST_FILE:
        mend = "keep long texts in transcripts/ or originals/, and a record to what is said about them"
        return _problem(file, None, "yaml/too-large", f"the file is larger than {LARGEST_FILE:,} bytes", mend)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        mend = "save the file as UTF-8: your editor has a choice of encodings when saving"
        return _problem(file, line, "yaml/encoding", "the file is not UTF-8", mend)


def _look_over(text: str, file: str) -> Problem | None:
    """Find what stops the reading and can be told from the text alone."""
    conflict = _CONFLICT.search(text)
    if conflict is not None:
        what = f"git left the mark of a conflict here: {quote(conflict[0])}"
        mend = "keep one side, or both, and delete the lines that begin with <<<<<<<, ======= and >>>>>>>"
        return _problem(file, _line_at(text, conflict.start()), "yaml/conflict-marker", what, mend)
    unseen = UNSEEN.search(text)
    if unseen is not None:
        what = f"there is a character here that cannot be seen, U+{ord(unseen[0]):04X}"
        mend = "delete it; it often comes along when text is pasted"
        return _problem(file, _line_at(text, unseen.start()), "yaml/control-character", what, mend)
    return None


def _read(text: str, file: str, parser_class: type[Parser]) -> tuple[Document | None, tuple[Problem, ...]]:
    parser = parser_class(text)
    nodes = NodeReader(file, text, parser)
    try:
        content, problem = _read_stream(file, parser, nodes)
    except yaml.MarkedYAMLError as error:
        content, problem = None, _syntax(text, file, error)
    except (OverflowError, ValueError):  # what PyYAML's own parser says of "\UFFFFFFFF"
        what, mend = "an escape in double quotes names no character", "leave it out, or use single quotes"
        content, problem = None, _problem(file, None, "yaml/syntax", what, mend)
    faults = [*nodes.faults, problem] if problem is not None else nodes.faults
    document = Document(file=file, content=content, lines=nodes.lines) if content is not None else None
    return document, tuple(sorted(faults, key=lambda fault: fault.place.line or 0))


def _read_stream(file: str, parser: Parser, nodes: NodeReader) -> tuple[dict[str, Value] | None, Problem | None]:
    parser.get_event()
    if type(parser.get_event()) is not yaml.DocumentStartEvent:
        return None, _problem(file, None, "yaml/not-a-record", "the file is empty", _DUE)
    root = parser.get_event()
    if type(root) is not yaml.MappingStartEvent:
        return None, _problem(file, line_of_event(root), "yaml/not-a-record", "the file holds no fields", _DUE)
    content = nodes.read_root(root)
    parser.get_event()
    more = parser.get_event()
    if type(more) is yaml.DocumentStartEvent:
        mend = "put each record into a file of its own, and delete the line `---`"
        what = "a second document begins here"
        return None, _problem(file, line_of_event(more), "yaml/several-documents", what, mend)
    return (None if nodes.is_full else content), None


def _syntax(text: str, file: str, error: yaml.MarkedYAMLError) -> Problem:
    lines = text.splitlines()
    stopped = min(error.problem_mark.line + 1, len(lines)) if error.problem_mark else 1
    opened, sign = stopped, ""
    if error.context_mark is not None and error.context_mark.line < len(lines):
        opened = error.context_mark.line + 1
        sign = lines[opened - 1][error.context_mark.column :][:1]
    line, mend = mend_syntax(lines, stopped, opened, sign)
    return _problem(file, line, "yaml/syntax", f"this cannot be read as YAML: {error.problem}", mend)


def _line_at(text: str, position: int) -> int:
    return text.count("\n", 0, position) + 1


def _problem(file: str, line: int | None, rule: str, what: str, mend: str) -> Problem:
    return Problem(place=Place(file=file, line=line), rule=rule, what=what, mend=mend)
