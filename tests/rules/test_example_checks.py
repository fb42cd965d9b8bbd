import pytest
from builders import (
    PRODUCTION,
    a_claim,
    a_component,
    a_date,
    a_source,
    an_archive,
    an_event,
    an_item,
    applies,
    common_over,
    seen_on,
    shows,
)

from provenance.records.archive import Archive, Target
from provenance.records.claims import AppliesTo
from provenance.records.production import Production
from provenance.rules.example_checks import unknown_examples


def told(archive: Archive) -> list[tuple[str, str, str]]:
    return [(each.place.file, each.place.field, each.rule) for each in unknown_examples(archive)]


def test_every_machine_that_was_built_may_be_named_everywhere() -> None:
    archive = an_archive(
        a_claim("oil", an_item("photo", seen=seen_on("11"), applies_to=applies("2..9")), to=["1", "5..8"]),
        a_claim("electric", "drawing", to=applies(None, batch="third")),
        a_claim("acetylene", "drawing", to=applies(None, related="Velling trailer")),
        a_source("photo", shows=(shows("1"), shows(None), shows("Velling trailer"))),
        a_component(common_to=(common_over("all", "drawing"),)),
        related=["Velling trailer"],
        events=(an_event("1932", example="6"),),
    )

    assert told(archive) == []


def test_a_machine_that_was_never_built_is_told_wherever_it_is_named() -> None:
    archive = an_archive(
        a_claim("oil", an_item("photo", seen=seen_on("12"), applies_to=applies("0")), to="13", claim_id="one"),
        a_source("photo", shows=(shows("9"), shows("14"))),
        a_component(common_to=(common_over("9", "photo"), common_over("5..15", "photo"))),
        target=Target(example="16", as_at=a_date("1934")),
        events=(an_event("1932", example="6"), an_event("1932", example="17")),
    )

    assert told(archive) == [
        ("archive.yaml", "target.example", "unknown-example"),
        ("archive.yaml", "events[1].example", "unknown-example"),
        ("claims/one.yaml", "applies_to.examples", "unknown-example"),
        ("claims/one.yaml", "evidence[0].applies_to.examples", "unknown-example"),
        ("claims/one.yaml", "evidence[0].seen.example", "unknown-example"),
        ("components/headlamp.yaml", "common_to[1].examples", "unknown-example"),
        ("sources/photo.yaml", "shows[1].example", "unknown-example"),
    ]


def test_the_mend_names_the_production_sequence() -> None:
    archive = an_archive(events=(an_event("1932", example="12"),))

    (problem,) = unknown_examples(archive)

    assert problem.what == "there is no example `12`"
    assert "(1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11)" in problem.mend


def test_a_run_against_the_order_of_building_is_turned_round_in_the_mend() -> None:
    """Nos. 9 to 11 are of the third batch: by number 10..9 looks forwards to nobody, by building it is backwards."""
    archive = an_archive(a_claim("oil", "drawing", to="10..9", claim_id="one"))

    (problem,) = unknown_examples(archive)

    assert problem.rule == "backwards-range"
    assert "9..10" in problem.mend


def test_the_order_is_that_of_building_not_of_the_numbers() -> None:
    third_first = Production(batches=PRODUCTION.batches[::-1])
    archive = an_archive(a_claim("oil", "drawing", to="9..1"), production=third_first)

    assert told(archive) == []


@pytest.mark.parametrize(
    ("covers", "field", "rule", "words"),
    [
        (applies(None, batch="fourth"), "applies_to.batch", "unknown-batch", "first, second, third"),
        (applies(None, related="Tollan car"), "applies_to.related", "unknown-type", "under `related`"),
    ],
)
def test_a_batch_or_type_that_is_not_listed_is_told(covers: AppliesTo, field: str, rule: str, words: str) -> None:
    archive = an_archive(a_claim("oil", "drawing", to=covers, claim_id="one"))

    (problem,) = unknown_examples(archive)

    assert (problem.place.field, problem.rule) == (field, rule)
    assert words in problem.mend


def test_where_no_machine_is_listed_yet_that_is_said() -> None:
    archive = an_archive(
        a_claim("oil", "drawing", to=applies(None, batch="first")), production=Production(), events=(an_event("1932"),)
    )

    mends = [problem.mend for problem in unknown_examples(archive)]

    assert all("none is listed yet" in mend for mend in mends)
    assert len(mends) == 3  # of the target, the event and the batch
