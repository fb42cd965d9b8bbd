"""Where records stand, and how they are named.

The names of devices are those of Microsoft, "Naming Files, Paths, and Namespaces" (from memory).
"""

import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from provenance.store.record_kinds import (
    RECORD_FOLDERS,
    RecordKind,
    is_file_stem,
    is_record_id,
    kind_of_file,
    kind_of_folder,
)
from provenance.store.schema_files import read_schema


@pytest.mark.parametrize(
    ("file", "kind"),
    [
        ("archive.yaml", RecordKind.ARCHIVE),
        ("claims/lamp-1.yaml", RecordKind.CLAIM),
        ("copies/a--b.yaml", RecordKind.COPY),
        ("leads/attic.yaml", RecordKind.LEAD),
        ("claims/lamp-1.yml", None),
        ("claims/old/lamp-1.yaml", None),
        ("originals/lamp.yaml", None),
        ("lamp.yaml", None),
    ],
)
def test_a_file_is_a_record_by_where_it_stands(file: str, kind: RecordKind | None) -> None:
    assert kind_of_file(file) == kind


@pytest.mark.parametrize("kind", list(RecordKind))
def test_each_kind_finds_its_own_files_again(kind: RecordKind) -> None:
    file = kind.file_of("lamp-1")

    assert kind_of_file(file) is kind
    assert kind_of_folder(kind.folder) is (None if kind is RecordKind.ARCHIVE else kind)


def test_eight_folders_hold_records() -> None:
    expected = {"components", "sources", "claims", "copies", "decisions", "queries", "panels", "leads"}

    assert set(RECORD_FOLDERS) == expected


@pytest.mark.parametrize("text", ["a", "9", "works-drawing-4471", "a" * 64, "con-1", "com", "com10", "a-con"])
def test_an_id_is_small_letters_digits_and_single_hyphens(text: str) -> None:
    assert is_record_id(text)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "A",
        "a--b",
        "-a",
        "a-",
        "a b",
        "a_b",
        "a.b",
        "ä",
        "a" * 65,
        "con",
        "nul",
        "prn",
        "aux",
        "com1",
        "lpt9",
        "a\n",
    ],
)
def test_anything_else_is_no_id(text: str) -> None:
    assert not is_record_id(text)


@pytest.mark.parametrize(
    ("kind", "stem", "fits"),
    [
        (RecordKind.COPY, "a--b", True),
        (RecordKind.COPY, f"{'a' * 64}--{'b' * 64}", True),
        (RecordKind.COPY, "a", False),
        (RecordKind.COPY, "a--b--c", False),
        (RecordKind.COPY, "a--con", False),
        (RecordKind.CLAIM, "a--b", False),
        (RecordKind.CLAIM, "a-b", True),
    ],
)
def test_a_pair_of_copies_is_named_by_both_its_sources(kind: RecordKind, stem: str, *, fits: bool) -> None:
    assert is_file_stem(kind, stem) is fits


@given(st.text("abcon1-ulz_A", max_size=70))
def test_the_schema_knows_the_same_ids(text: str) -> None:
    rule: dict[str, Any] = read_schema("claim")["$defs"]["record-id"]

    by_schema = re.search(rule["pattern"], text) is not None and len(text) <= rule["maxLength"]

    assert is_record_id(text) == by_schema
