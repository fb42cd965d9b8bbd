"""What people trip over in YAML, told from the line where its reading stopped, and what to write instead."""

import re

_NAME = r"[^\s\"'#\[{:][^:]*:\s+"
_FIELD = rf"\s*(?:- )?(?:{_NAME})?"

# (how the line begins, what to write); the first form that fits decides. The reading did stop at the line.
_LINE_FORMS = tuple(
    (re.compile(form), mend)
    for form, mend in (
        (r"%", "delete this line: a record needs no directive of YAML"),
        (r" *\t|[^:]*: *\t", "indent with spaces: a tab stands in this line"),
        (_FIELD + "[\"']", "let the closing quotation mark end the value; inside single quotes write it twice: ''"),
        (
            _FIELD + r"[\[{]",
            "close the bracket, or put the value in double quotes: one that begins with [ or { is a list, or fields",
        ),
        (_FIELD + r"[@`%&*!|>-]", "put the value in double quotes: its first sign means something else to YAML"),
        (
            rf"\s*(?:- )?{_NAME}[^:\s].*:(?:\s|$)",
            "put the value in double quotes: its colon and space look like a field",
        ),
        (r".*", "begin the fields of one part in the same column, and what belongs to a field further in"),
    )
)
_NAMED = re.compile(r".*:(?:\s|$)")
_BARE = "write a field as `name: value`, with a space after the colon; a value's second line stands further in"


def mend_syntax(lines: list[str], stopped: int, opened: int, sign: str) -> tuple[int, str]:
    """Say where to look and what to write where the reading of YAML stopped.

    Args:
        lines: the whole text, line by line.
        stopped: the line where the reading stopped, from 1.
        opened: the line where the part begins that was being read, from 1; that of `stopped` where it is not known.
        sign: the character with which that part begins; empty where it is not known.

    Returns:
        The line to look at, from 1, and the mend.
    """
    if sign and sign in "\"'":
        if opened < stopped:
            return opened, "close the quotation mark that is opened in this line"
        return opened, "use single quotes, or write the backslash twice: inside double quotes it begins a sign"
    if sign and sign in "[{":
        return opened, "close the bracket that is opened in this line, and put a comma between the parts inside"
    if opened < stopped and not _NAMED.match(lines[opened - 1]):
        return opened, _BARE
    return stopped, next(mend for form, mend in _LINE_FORMS if form.match(lines[stopped - 1]))


def mend_empty(name: str, line: str) -> str:
    """Say what to write where a field has no value, given its name and its line."""
    if not name.endswith("]") and not re.search(re.escape(name) + r"[\"']?\s*:", line):
        return "put a text with a comma in double quotes: inside { } a comma begins a field of its own, `name: value`"
    if re.search(r":\s+#", line):
        return "put the value in double quotes if it begins with #, which makes it a remark; else delete the line"
    return "write a value, or delete the line: a field that says nothing is left out"


def mend_sign(rule: str) -> str:
    """Say what to write instead of an alias, an anchor or a tag, by the name of the rule against it."""
    if rule == "yaml/alias":
        return "write the value out here; a text that begins with * goes in double quotes"
    if rule == "yaml/anchor":
        return "delete the name; a text that begins with & goes in double quotes"
    return "delete the tag; a text that begins with ! goes in double quotes"
