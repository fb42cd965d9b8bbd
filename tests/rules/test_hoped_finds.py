"""The kinds of find that a search may bring."""

from dataclasses import replace

import pytest
from builders import FEATURE, a_claim, a_component, a_date, a_feature, an_archive

from provenance.records.archive import Archive, Target
from provenance.records.kinds import SourceKind
from provenance.records.production import Batch, Production
from provenance.rules.hoped_finds import Bearing, HopedFind, as_records, hoped_finds, in_words
from provenance.rules.judging import judge_feature

MADE = an_archive()
TARGET = Target(example="9", as_at=a_date("1934-06"))


def with_find(archive: Archive, find: HopedFind) -> Archive:
    records = as_records(find, "found", archive.production, TARGET)
    assert records is not None
    source, item = records
    claim = a_claim("acetylene", item)
    return replace(archive, sources={**archive.sources, source.id: source}, claims={claim.id: claim})


def weight_of(find: HopedFind) -> float:
    best = judge_feature(with_find(MADE, find), FEATURE).best
    assert best is not None
    return best.weight_for


def test_the_ladder_rises_by_what_each_kind_is_worth_for_the_machine() -> None:
    """Base weights, carried over by T_q(W) = 10 log10((qL + 1-q) / ((1-q)L + q)) with L = 10^(W/10).

    Sister, q .9, W 14, L 25.12: 22.71 / 3.41 = 6.66, 8.2 points. Manual, q .98, W 11, L 12.59: 12.36 / 1.23, 10.0.
    Drawing, W 12, L 15.85: 15.55 / 1.30, 10.8. Caption, W 14: 24.64 / 1.48, 12.2. What speaks of this machine alone
    counts whole.
    """
    weights = [weight_of(find) for find in hoped_finds(a_feature())]

    assert [round(weight, 1) for weight in weights] == [8, 8.2, 9, 10, 10.8, 12.2, 14, 16]


@pytest.mark.parametrize("aspect", ["material", "finish", "dimension", "quantity", "marking"])
def test_the_ladder_rises_for_every_aspect(aspect: str) -> None:
    asked = a_feature(aspect=aspect)
    archive = an_archive(a_component("headlamp", asked))

    bests = [judge_feature(with_find(archive, find), FEATURE).best for find in hoped_finds(asked)]

    weights = [best.weight_for for best in bests if best]
    assert len(weights) == len(hoped_finds(asked))
    assert weights == sorted(weights)


def test_no_photograph_is_hoped_for_where_it_cannot_show_the_thing() -> None:
    kinds = [find.kind for find in hoped_finds(a_feature(aspect="material"))]

    assert SourceKind.PHOTOGRAPH not in kinds
    assert SourceKind.ANALYSIS in kinds


def test_a_finish_asks_for_a_photograph_in_colour_or_a_sample() -> None:
    finds = hoped_finds(a_feature(aspect="finish"))

    pictures = [find for find in finds if find.kind is SourceKind.PHOTOGRAPH]
    assert all(find.in_colour and "colour photograph" in find.words for find in pictures)
    assert SourceKind.ANALYSIS in {find.kind for find in finds}


@pytest.mark.parametrize(
    ("kind", "aspect", "value", "words"),
    [
        ("choice", "form", "Oil", "a photograph of No. 9 by its number that shows “Oil”"),
        ("choice", "form", None, "a photograph of No. 9 by its number that shows it"),
        ("choice", "finish", None, "a colour photograph of No. 9 by its number that shows it"),
        (
            "quantity",
            "dimension",
            "32 mm",
            "a photograph of No. 9 by its number on which it can be measured and comes to “32 mm”",
        ),
        ("quantity", "position", None, "a photograph of No. 9 by its number on which it can be measured"),
        (
            "text",
            "quantity",
            "four",
            "a photograph of No. 9 by its number on which it can be counted or measured and comes to “four”",
        ),
        ("text", "marking", "{it} {machine}", "a photograph of No. 9 by its number that shows “{it} {machine}”"),
    ],
)
def test_a_find_is_named_as_people_speak_of_it(kind: str, aspect: str, value: str | None, words: str) -> None:
    finds = hoped_finds(a_feature("type", kind, aspect))

    by_number = next(find for find in finds if find.kind is SourceKind.PHOTOGRAPH and find.bearing is Bearing.NUMBER)

    assert in_words(by_number, "9", value) == words


def test_the_part_itself_is_named_with_how_it_is_known() -> None:
    assert in_words(hoped_finds(a_feature())[-1], "9", None) == (
        "the part itself from No. 9, known by its number, that shows it"
    )
    assert in_words(hoped_finds(a_feature("bore", "quantity", "dimension"))[-1], "9", None) == (
        "the part itself from No. 9, known by its number, measured"
    )


def test_a_machine_built_alone_has_no_sister_to_look_at() -> None:
    alone = Production(batches=(Batch(batch="only", examples=("9",), built=a_date("1933")),))

    found = {find.bearing: as_records(find, "found", alone, TARGET) for find in hoped_finds(a_feature())}

    assert found[Bearing.SISTER] is None
    assert all(records for bearing, records in found.items() if bearing is not Bearing.SISTER)


def test_where_no_batch_is_known_a_drawing_is_one_for_all_machines_and_there_is_no_sister() -> None:
    found = {find.bearing: as_records(find, "found", Production(), TARGET) for find in hoped_finds(a_feature())}

    group = found[Bearing.GROUP]
    assert found[Bearing.SISTER] is None
    assert group is not None
    assert group[1].applies_to is not None
    assert str(group[1].applies_to.examples) == "all"
