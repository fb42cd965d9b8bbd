"""The columns of a parts tree, by the names that the trade gives them."""

import re
from collections.abc import Mapping, Sequence
from difflib import get_close_matches

from provenance.errors import UsageRefusedError
from provenance.records.wording import quote

# Common practice of works' parts lists, no source.
COLUMNS: Mapping[str, tuple[str, ...]] = {
    "number": (
        *("number", "part number", "part no", "item number", "item no", "stores number", "stores no"),
        *("drawing number", "drawing no", "drg no", "dwg no", "catalogue number", "cat no", "reference", "ref", "no"),
    ),
    "name": ("name", "part name", "description", "designation", "part", "component", "title", "article"),
    "part of": (
        *("part of", "belongs to", "assembly", "main assembly", "next assembly", "sub assembly of", "parent"),
        *("group", "used on"),
    ),
    "quantity": ("quantity", "qty", "number off", "no off", "off", "per car", "number required", "no required"),
    "examples": ("examples", "example", "cars", "car", "car nos", "fitted to", "applies to", "numbers fitted"),
}
_FIELDS = {_name: field for field, names in COLUMNS.items() for _name in names}


def find_columns(headings: Sequence[str]) -> dict[str, int]:
    """Say in which column, counted from 0, each field of `COLUMNS` stands; columns without a heading are passed over.

    Raises:
        UsageRefusedError: a heading is none of the trade's, two say the same, or there is no name.
    """
    found: dict[str, int] = {}
    for column, heading in enumerate(headings):
        if not heading:
            continue
        field = _FIELDS.get(_folded(heading))
        if field is None:
            raise _unknown(heading)
        if field in found:
            raise UsageRefusedError(
                f"the columns {quote(headings[found[field]])} and {quote(heading)} both say the {field}",
                "leave one of them away",
            )
        found[field] = column
    if "name" not in found:
        raise UsageRefusedError(
            "no column says what the parts are called", f"head one of them {' or '.join(COLUMNS['name'][:3])}"
        )
    return found


def _folded(heading: str) -> str:
    return " ".join(re.findall(r"[^\W_]+", heading.casefold()))


def _unknown(heading: str) -> UsageRefusedError:
    near = get_close_matches(_folded(heading), list(_FIELDS), n=1, cutoff=0.6)
    known = "; ".join(f"{field}: {', '.join(names[:4])}" for field, names in COLUMNS.items())
    mend = f"did you mean `{near[0]}`?" if near else f"the columns are {known}; clear the heading of any other"
    return UsageRefusedError(f"there is no column {quote(heading)} in a parts tree", mend)
