"""Fields of a page put together as an option of a command takes them."""

import pytest

from provenance.errors import UsageRefusedError
from provenance.tasks.given_values import SHOWS, given_pairs
from provenance.tasks.typed_pairs import typed_pairs


def test_filled_fields_are_put_together_and_read_back_as_typed() -> None:
    fields = {"example": " 9 ", "when": "about June 1934", "known_by": "", "component": None, "note": "a, b; c = d"}

    given = typed_pairs("--shows", fields)

    assert given == "example=9,when=about June 1934,note=a, b; c = d"
    assert given_pairs(given, "--shows", SHOWS) == {"example": "9", "when": "1934-06~", "note": "a, b; c = d"}


def test_nothing_typed_is_nothing() -> None:
    assert typed_pairs("--shows", {"example": "  ", "when": None}) is None


def test_what_would_be_read_as_another_field_is_refused() -> None:
    with pytest.raises(UsageRefusedError, match="note"):
        typed_pairs("--shows", {"example": "9", "note": "seen, when=1950"})
