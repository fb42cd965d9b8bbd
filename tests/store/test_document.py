"""Where a field stands."""

import pytest

from provenance.store.document import Document, outer_field

DOCUMENT = Document(
    file="claims/one.yaml",
    content={},
    lines={"": 1, "evidence": 4, "evidence[0]": 5, "evidence[0].at": 6},
)


@pytest.mark.parametrize(
    ("field", "line"),
    [
        ("evidence", 4),
        ("evidence[0].at", 6),
        ("evidence[0].at.page", 6),
        ("evidence[1].source", 4),
        ("title", None),
        ("", None),
    ],
)
def test_a_missing_field_is_looked_for_in_the_nearest_part_that_is_there(field: str, line: int | None) -> None:
    found = DOCUMENT.line_of(field)

    assert found == line


@pytest.mark.parametrize(
    ("field", "outer"),
    [
        ("evidence[0].at.page", "evidence[0].at"),
        ("evidence[0].at", "evidence[0]"),
        ("evidence[0]", "evidence"),
        ("title", ""),
    ],
)
def test_a_part_lies_in_what_is_round_it(field: str, outer: str) -> None:
    assert outer_field(field) == outer
