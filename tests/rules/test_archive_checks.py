import pytest
from builders import PRODUCTION, a_date, an_archive

from provenance.errors import Severity
from provenance.records.archive import Archive, Person, RelatedType, Subject, Target
from provenance.records.production import Batch, Production
from provenance.rules.archive_checks import gaps, impossible_production


def test_a_new_archive_names_its_gaps_one_by_one() -> None:
    problems = list(gaps(Archive(title="Railcar No. 9")))

    assert [problem.place.field for problem in problems] == ["subject", "production", "target", "people"]
    assert {problem.severity for problem in problems} == {Severity.WARN}
    assert {problem.rule for problem in problems} == {"archive-gap"}
    assert all(problem.mend.startswith("add `") for problem in problems)


@pytest.mark.parametrize(
    ("missing", "field"),
    [
        ({"subject": Subject(name="Railcar")}, "subject.claims_to_be"),
        ({"target": Target(example="9", as_at=a_date("1934"))}, "target.why"),
        ({"people": ()}, "people"),
    ],
)
def test_what_is_said_only_in_part_is_a_gap_too(missing: dict[str, object], field: str) -> None:
    whole = {
        "subject": Subject(name="Railcar", claims_to_be="reproduction"),
        "target": Target(example="9", as_at=a_date("1934"), why="it opened the branch"),
    }

    assert list(gaps(an_archive(**whole))) == []
    assert [problem.place.field for problem in gaps(an_archive(**whole | missing))] == [field]


def test_machines_batches_people_and_types_are_named_once() -> None:
    twice = Production(
        batches=(
            *PRODUCTION.batches,
            Batch(batch="third", examples=("11", "12", "12", "11"), built=a_date("1935")),
        )
    )
    archive = an_archive(
        production=twice,
        people=(
            Person(id="mh", name="Mary Holt"),
            Person(id="mh", name="Max Hill"),
            Person(id="tw", name="T. Wenlark"),
        ),
        related=[RelatedType(name="Velling trailer"), RelatedType(name="Velling trailer", note="again")],
    )

    problems = [(problem.place.field, problem.rule, problem.what) for problem in impossible_production(archive)]

    assert problems == [
        ("production", "named-twice", "the batch `third` is named 2 times"),
        ("production", "named-twice", "the example `11` is named 3 times"),
        ("production", "named-twice", "the example `12` is named 2 times"),
        ("people", "named-twice", "the person `mh` is named 2 times"),
        ("related", "named-twice", "the related type `Velling trailer` is named 2 times"),
    ]


def test_a_sound_production_has_no_fault() -> None:
    assert list(impossible_production(an_archive())) == []
