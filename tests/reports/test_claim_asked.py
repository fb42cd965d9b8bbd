"""A form offers names instead of codes, and what is chosen is what the command takes."""

import pytest
from builders import (
    a_claim,
    a_component,
    a_date,
    a_feature,
    a_source,
    a_withdrawal,
    an_archive,
    an_item,
    applies,
    seen_on,
    shows,
)

from provenance.records.claims import AppliesTo
from provenance.records.production import Batch, Production
from provenance.records.sources import Source
from provenance.reports.claim_asked import (
    claim_asked,
    coverage_choices,
    coverage_typed,
    feature_meant,
    feature_typed,
    features_to_choose,
    seen_choices,
    seen_last,
)

PAINT = a_feature("paint", "text", "finish", name="Paint", same=(("black", "lamp black"),))
HOOD = a_feature("hood", "presence", "presence", name="Hood")
LAMP = a_component("headlamp", a_feature(), PAINT, HOOD, references=("H-201",), name="Head lamp")
PHOTOGRAPH = a_source("photo")


def test_a_choice_is_offered_by_the_names_of_its_options() -> None:
    asked = claim_asked(an_archive(LAMP), "headlamp/type", PHOTOGRAPH)

    assert asked.values == (("acetylene", "Acetylene (gas lamp)"), ("electric", "Electric"), ("oil", "Oil"))
    assert asked.signs == (("conduit-on-cantrail", "conduit on the cantrail"),)
    assert asked.wordings == ()


def test_a_part_is_there_or_not() -> None:
    assert [value for value, _ in claim_asked(an_archive(LAMP), "headlamp/hood", PHOTOGRAPH).values] == [
        "present",
        "absent",
    ]


def test_a_text_is_offered_the_wordings_that_are_known_each_once() -> None:
    said = [
        a_claim("japan black", "a", about="headlamp/paint"),
        a_claim("grey", "b", about="headlamp/paint", withdrawn=a_withdrawal()),
        a_claim("black", "b", about="headlamp/paint"),
    ]

    asked = claim_asked(an_archive(LAMP, *said), "headlamp/paint", PHOTOGRAPH)

    assert asked.values == ()
    assert sorted(asked.wordings) == ["black", "japan black", "lamp black"]


def test_a_feature_that_is_none_leaves_everything_open() -> None:
    asked = claim_asked(an_archive(LAMP), "headlamp/colour", PHOTOGRAPH)

    assert (asked.feature, asked.component, asked.values, asked.signs) == (None, None, (), ())


def test_the_parents_of_a_source_are_named_by_their_titles() -> None:
    tracing = a_source("tracing", "drawing", of=["works", "lost"])
    archive = an_archive(LAMP, tracing, a_source("works", "drawing", title="Works drawing"))

    assert claim_asked(archive, "headlamp/type", tracing).parents == (("works", "Works drawing"), ("lost", "lost"))


@pytest.mark.parametrize(
    ("source", "seen"),
    [
        (a_source("photo", shows=(shows("5"),)), "5"),
        (a_source("photo", shows=(shows("5"), shows("6"))), None),
        (a_source("photo", shows=(shows("5", component="buffer"),)), None),
        (a_source("book", "book", shows=(shows("5"),)), None),
    ],
)
def test_the_machine_that_the_record_names_is_taken_to_have_been_seen(source: Source, seen: str | None) -> None:
    assert claim_asked(an_archive(LAMP, source), "headlamp/type", source).taken_seen == seen


def test_a_feature_is_found_by_its_name_its_part_or_the_number_of_its_part() -> None:
    archive = an_archive(LAMP)

    assert ("Head lamp: Paint", "headlamp/paint, H-201") in features_to_choose(archive)
    assert feature_typed(archive, "headlamp/paint") == "Head lamp: Paint"
    assert feature_typed(archive, "headlamp/colour") == "headlamp/colour"
    assert feature_meant(archive, "headlamp/paint") == "headlamp/paint"
    assert feature_meant(archive, "head lamp:  paint") == "headlamp/paint"
    assert feature_meant(archive, "Paint") == "Paint"


def test_two_features_of_one_name_are_not_taken_for_one_another() -> None:
    archive = an_archive(LAMP, a_component("lamp-2", PAINT, name="Head lamp"))

    assert feature_meant(archive, "Head lamp: Paint") == "Head lamp: Paint"
    assert feature_typed(archive, "headlamp/paint") == "headlamp/paint"
    assert ("lamp-2/paint", "lamp-2/paint") in features_to_choose(archive)


def test_what_a_source_covers_is_chosen_by_machine_batch_or_type_the_represented_one_first() -> None:
    archive = an_archive(related=["Velling trailer"])

    choices = coverage_choices(archive)

    assert choices[:2] == (("all", "all machines"), ("9", "No. 9, the one that is represented"))
    assert ("batch=second", "the second batch (No. 5 to 8)") in choices
    assert choices[-1] == ("related=Velling trailer", "the related type Velling trailer")
    assert [value for value, _ in seen_choices(archive)][:2] == ["9", "1"]
    assert seen_choices(archive)[-1][0] == "Velling trailer"


@pytest.mark.parametrize(
    ("covered", "typed"),
    [
        (applies("all"), "all"),
        (applies("9"), "9"),
        (applies(["2", "5..8"]), "2, 5..8"),
        (applies(None, batch="third", since="1934"), "batch=third,from=1934"),
        (applies("5..8", until="1932-03"), "examples=5..8,until=1932-03"),
        (applies(None, related="Velling trailer"), "related=Velling trailer"),
    ],
)
def test_what_a_claim_covers_is_written_as_the_command_takes_it(covered: AppliesTo, typed: str) -> None:
    assert coverage_typed(covered) == typed


def test_the_machine_of_the_last_item_from_the_source_is_kept_for_the_next() -> None:
    claim = a_claim("oil", an_item("photo", seen=seen_on("5")), an_item("photo", seen=seen_on("6")), an_item("book"))

    seen = seen_last(claim, "photo")

    assert seen is not None
    assert seen.example == "6"
    assert seen_last(claim, "book") is None
    assert seen_last(claim, "tape") is None


def test_a_new_archive_has_no_machines_yet() -> None:
    empty = an_archive(production=Production(), target=None)

    assert coverage_choices(empty) == (("all", "all machines"),)
    assert seen_choices(empty) == ()


def test_a_batch_of_one_or_of_none_is_told_too() -> None:
    batches = (
        Batch(batch="trial", examples=("1",), built=a_date("1927")),
        Batch(batch="planned", examples=(), built=a_date("1940")),
    )

    told = dict(coverage_choices(an_archive(production=Production(batches=batches), target=None)))

    assert told["batch=trial"] == "the trial batch (No. 1)"
    assert told["batch=planned"] == "the planned batch (no machine)"
