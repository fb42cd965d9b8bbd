"""A record's file read whole: the faults of YAML and of the schema together."""

import pytest
from store.whole_records import WHOLE, file_of

from provenance.store.document import Document
from provenance.store.record_kinds import RecordKind
from provenance.store.record_reading import read_record


@pytest.mark.parametrize("kind", list(RecordKind))
def test_a_sound_record_is_read(kind: RecordKind) -> None:
    for text in WHOLE[kind]:
        assert isinstance(read_record(text.encode(), file_of(kind)), Document)


def test_faults_of_yaml_and_of_the_schema_come_in_one_run() -> None:
    text = "titel: A\nkind: fotograph\nnote:\ncreated: 1934-13\nby: mh\nby: jk\n"

    problems = read_record(text, "sources/one.yaml")

    assert not isinstance(problems, Document)
    assert [(problem.place.line, problem.rule) for problem in problems] == [
        (None, "schema/required"),
        (None, "schema/required"),
        (1, "schema/unknown-field"),
        (2, "schema/choice"),
        (3, "yaml/empty-value"),
        (4, "schema/form"),
        (6, "yaml/duplicate-key"),
    ]


@pytest.mark.parametrize("line", ["date:", "kind: ~", "kind: &a book", "loan: {owner: *a}", "by: !x mh"])
def test_a_field_that_yaml_faults_is_not_faulted_twice(line: str) -> None:
    whole = {"title": "title: A", "by": "by: mh", "date": "date: 2026"}
    whole[line.partition(":")[0]] = line

    problems = read_record("\n".join(whole.values()), "sources/one.yaml")

    assert not isinstance(problems, Document)
    assert [problem.rule.partition("/")[0] for problem in problems] == ["yaml"]


def test_a_file_that_cannot_be_read_at_all_has_the_one_fault_that_stops_it() -> None:
    problems = read_record("<<<<<<< ours\ntitle: A\n", "sources/one.yaml")

    assert not isinstance(problems, Document)
    assert [problem.rule for problem in problems] == ["yaml/conflict-marker"]


def test_a_place_where_no_record_stands_is_a_mistake_of_the_caller() -> None:
    with pytest.raises(ValueError, match="no place of a record"):
        read_record("title: A", "originals/one.yaml")
